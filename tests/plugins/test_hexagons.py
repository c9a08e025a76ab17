from __future__ import annotations

from typing import Any

import pytest

import seamproof as sp

FAMILIES = sp.families()


def draft(slug: str, **chosen: Any) -> sp.Block:
    family = FAMILIES[slug]
    return family.draft(family.parameters(**chosen), 12.0)


@pytest.mark.parametrize("rings", [1, 2, 3])
# derived: ring k has 6k hexagons, so 3k(k+1) + 1 in all, OEIS A003215; three hexagons meet at every inner corner, no
# two of whose edges are in line, and each such corner is a pivot in whatever order single seams are sewn
def test_a_rosette_has_centred_hexagonal_numbers_and_a_pivot_at_every_inner_corner(rings: int) -> None:
    block = draft("hexagon-rosette", rings=rings)
    assert len(block.patches) == 3 * rings * (rings + 1) + 1
    inner = sp.SeamMap.of(block).count("wye")
    assert inner == 6 * rings**2
    construction = sp.plan(block)
    assert (construction.technique, construction.pivots, construction.bounds.pivots) == ("set-in", inner, inner)


@pytest.mark.parametrize(("columns", "rows"), [(2, 1), (2, 2), (3, 3), (5, 4)])
# derived: beside each other two columns of r hexagons share 2r − 1 sides, the ends of all but the outer two inner
def test_a_honeycomb_has_a_pivot_at_every_inner_corner(columns: int, rows: int) -> None:
    block = draft("honeycomb", columns=columns, rows=rows)
    assert len(block.patches) == columns * rows
    inner = (columns - 1) * (2 * rows - 2)
    assert sp.SeamMap.of(block).count("wye") == inner
    assert sp.plan(block).pivots == inner


@pytest.mark.parametrize("rings", [0, 1, 2])
# derived: three diamonds to a cube, which meet in a wye in its middle
def test_tumbling_blocks_have_three_diamonds_and_a_wye_to_a_cube(rings: int) -> None:
    cubes = 3 * rings * (rings + 1) + 1
    block = draft("tumbling-blocks", rings=rings)
    assert len(block.patches) == 3 * cubes
    assert sp.SeamMap.of(block).count("wye") >= cubes
    construction = sp.plan(block)
    assert construction.technique == "set-in"
    assert construction.pivots >= cubes


@pytest.mark.parametrize("slug", ["tumbling-blocks", "diamond-rows", "honeycomb", "hexagon-rosette"])
# derived: shapes of one lattice are congruent: a rhombus is two of its triangles, a hexagon six
def test_all_patches_are_equally_large(slug: str) -> None:
    areas = [patch.outline.area for patch in draft(slug).patches]
    assert areas == pytest.approx([areas[0]] * len(areas))


@pytest.mark.parametrize("lean", ["one way", "to and fro"])
# derived: rows are parted by straight lines right across, diamonds of a row by lines right across the row
def test_diamonds_in_rows_are_sewn_with_straight_seams(lean: str) -> None:
    block = draft("diamond-rows", across=4, rows=3, lean=lean)
    assert len(block.patches) == 12
    assert sp.plan(block).technique == "straight"


@pytest.mark.parametrize("rows", range(2, 11))
# derived: the odd numbers add up to squares, the dark triangles to 1 + 2 + … + n
def test_pyramids_of_n_rows_have_n_squared_triangles(rows: int) -> None:
    block = draft("pyramids", rows=rows)
    assert len(block.patches) == rows**2
    assert sum(patch.role == "dark" for patch in block.patches) == rows * (rows + 1) // 2
    assert sp.plan(block).technique == "straight"

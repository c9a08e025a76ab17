"""What is cut and printed where a finished unit is laid on a foundation as if it were one patch."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

import seamproof as sp
from seamproof.cutting import cut_pieces, match_ticks, rough_pieces, templates, unfinished
from seamproof.cutting.units import Units
from seamproof.geometry.points import distance_to_segment, height_over
from seamproof.referee import check_template

if TYPE_CHECKING:
    from seamproof.geometry import Point
    from seamproof.sequence import Construction


def rectangle(x0: float, y0: float, x1: float, y1: float) -> list[Point]:
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


@pytest.fixture(scope="module")
def block() -> sp.Block:
    """A four-patch with a round of four logs."""
    rings = [rectangle(i, j, i + 1, j + 1) for j in (0, 1) for i in (0, 1)]
    rings += [rectangle(0, -1, 2, 0), rectangle(2, -1, 3, 2), rectangle(0, 2, 3, 3), rectangle(-1, -1, 0, 3)]
    return sp.Block.from_polygons(rings)


@pytest.fixture(scope="module")
def con(block: sp.Block) -> Construction:
    return sp.plan(block, prepieced=True)


def test_a_unit_that_is_laid_needs_no_piece(block: sp.Block, con: Construction) -> None:
    assert sorted(piece.patch for piece in rough_pieces(block, con)) == sorted(block.ids)
    assert cut_pieces(block, con) == ()


def test_a_template_shows_the_unit_laid_on_it(block: sp.Block, con: Construction) -> None:
    a, b = templates(block, con)
    (unit,) = b.laid
    assert (unit.label, a.laid) == ("A", ())
    assert con.foundation("B").order[unit.number - 1] == "A"
    assert {patch for patch, *_ in b.patches} == set(block.ids) - set(con.patches_of("A"))
    assert len(unit.seams) == len(con.patches_of("A")) - 1
    line = next(line for line in b.lines if line.patch == "A")
    assert height_over(unit.place, *line.seam) > 0


def test_both_sides_of_the_line_bear_the_same_ticks(block: sp.Block, con: Construction) -> None:
    # derived: the unit's seam and that of the half it is laid on cross the line of a four-patch at its middle, so the
    # line has three places that must meet: its two ends and its middle.
    a, b = templates(block, con)
    line = next(line for line in b.lines if line.patch == "A")
    sides = [{tick.letter: tick.place for tick in t.ticks if tick.join == "+A"} for t in (a, b)]
    assert sides[0] == sides[1]
    assert len(sides[0]) == 3
    assert all(distance_to_segment(place, *line.seam) < 1e-6 for place in sides[0].values())
    assert {tick.letter for tick in match_ticks(Units(block, con))} == set(sides[0])


def test_templates_show_the_face(block: sp.Block, con: Construction) -> None:
    units = {unit: con.patches_of(unit) for unit in con.laid}
    for template in templates(block, con):
        mirror = sp.Transform(a=-1.0)
        lines = {n.number: (mirror.point(n.printed[0]), mirror.point(n.printed[1])) for n in template.lines}
        places = {number: mirror.point(place) for _, number, place, _ in template.patches}
        places |= {unit.number: mirror.point(unit.place) for unit in template.laid}
        check_template(
            block, con.foundation(template.label), template.finished.transformed(mirror), lines, places, units=units
        )


def test_every_unit_has_its_unfinished_size(block: sp.Block, con: Construction) -> None:
    # derived: a half of the four-patch is 2 by 1 in, the whole block 4 by 4 in, and two allowances of 1/4 in are added.
    sizes = unfinished(block, con)
    assert sizes["B"] == pytest.approx((4.5, 4.5))
    assert sorted(sizes["A"]) == pytest.approx([1.5, 2.5])

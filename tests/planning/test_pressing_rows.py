"""Laws of pressing in rows of blocks."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import product
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

import seamproof as sp
from seamproof.geometry import Edge
from seamproof.planning.pressing import plan_pressing
from seamproof.planning.pressing_quilt import SECOND, Quilt, kinds
from seamproof.planning.pressing_rows import advise_rows, looks_same, meetings_of_rows
from seamproof.sequence.pressing import PressedSeam, PressingPlan

if TYPE_CHECKING:
    from seamproof.sequence.pressing import Toward

GALLERY = Path(__file__).parents[2] / "gallery"
PAIR = sp.Block.from_polygons([[(x, 0), (x + 2, 0), (x + 2, 4), (x, 4)] for x in (0, 2)], title="two strips")


def pair(roles: tuple[str, str] = ("light", "dark")) -> sp.Block:
    return sp.Block.from_polygons([p.outline.points for p in PAIR.patches], roles)


def joined() -> sp.Construction:
    """Two upright strips and one seam between them, from foot to head."""
    join = sp.Join("J1", "1", "2", (Edge((2.0, 0.0), (2.0, 4.0)),))
    return sp.Construction("pieced", (), ("1", "2"), (join,), (sp.Step("join", join.seam, join="J1"),))


def pressed(way: str) -> PressingPlan:
    return PressingPlan((PressedSeam(joined().joins[0].seam, way, "J1"),), (), proven=False)  # type: ignore[arg-type]


# One seam runs from foot to head, so blocks one above the other meet once on the edge they share, and blocks side by
# side never: (rows − 1)·columns places. Alike, both allowances lie the same way, and nothing nests. derived
@pytest.mark.parametrize(("across", "up", "places"), [(1, 1, 0), (3, 1, 0), (1, 2, 1), (2, 2, 2), (3, 4, 9)])
def test_seams_of_blocks_alike_meet_and_do_not_nest(across: int, up: int, places: int) -> None:
    assert meetings_of_rows(PAIR, joined(), pressed("left"), across, up) == (places, 0)


def test_half_turned_blocks_nest_and_quarter_turned_ones_do_not_meet() -> None:
    # A half turn carries an allowance on the left to the right; a quarter turn lays the seam along the row. derived
    assert meetings_of_rows(PAIR, joined(), pressed("left"), 3, 4, turn=180) == (9, 9)
    assert meetings_of_rows(PAIR, joined(), pressed("left"), 3, 4, turn=90) == (0, 0)


def test_an_open_seam_nests_with_anything() -> None:
    assert meetings_of_rows(PAIR, joined(), pressed("open"), 2, 2) == (2, 2)


def test_every_second_block_is_pressed_the_other_way_where_a_turn_would_show() -> None:
    # Its two cloths differ, so a turn would show; its joins are pressed the other way instead. derived
    advice = advise_rows(pair(), joined(), pressed("left"), 2, 3)
    assert advice is not None
    assert (advice.alike.meetings, advice.alike.nests) == (4, 0)
    assert (advice.best.way, advice.best.joins, advice.best.missed) == ("pressed", (("J1", "right"),), 0)
    alike = advise_rows(pair(("light", "light")), joined(), pressed("left"), 2, 3)
    assert alike is not None
    assert (alike.best.way, alike.best.missed) == ("half turn", 0)


def test_where_all_nest_nothing_is_advised() -> None:
    advice = advise_rows(PAIR, joined(), pressed("left"), 4, 1)
    assert advice is not None
    assert [way.way for way in advice.ways] == ["alike"]


def test_a_turn_that_shows_another_picture_is_told_from_one_that_does_not() -> None:
    assert looks_same(pair(("light", "light")), 180)
    assert not looks_same(pair(), 180)
    assert not looks_same(pair(("light", "light")), 90)


def test_paper_seams_that_mirror_one_another_cannot_be_made_to_nest() -> None:
    # A block that is its own mirror image meets its neighbour as in a mirror: both allowances lie the same way. derived
    pattern = sp.work_out(sp.load_recipe(GALLERY / "rings" / "storm-lantern.recipe.toml"))
    advice = advise_rows(pattern.block, pattern.construction, pattern.pressing, 2, 2)
    assert advice is not None
    assert advice.alike.meetings == 8
    assert [way.nests for way in advice.ways] == [0, 0, 0]


def test_points_of_neighbouring_blocks_that_cross_nest() -> None:
    # Each corner's seam carries on as the seam of the corner across; each lies toward its own corner. derived
    pattern = sp.work_out(sp.load_recipe(GALLERY / "rings" / "tide-glass.recipe.toml"))
    assert meetings_of_rows(pattern.block, pattern.construction, pattern.pressing, 2, 2) == (8, 8)


@pytest.mark.parametrize(
    "path", ["stars/first-watch", "grids/crab-creel", "logs/net-loft-stairs", "grids/pier-railing"]
)
def test_no_pressing_of_every_second_block_misses_more_than_all_alike(path: str) -> None:
    pattern = sp.work_out(sp.load_recipe(GALLERY / f"{path}.recipe.toml"))
    advice = advise_rows(pattern.block, pattern.construction, pattern.pressing, 2, 2)
    assert advice is not None
    assert all(way.missed <= advice.alike.missed for way in advice.ways if way.way == "pressed")


def test_the_pressing_of_every_second_block_is_the_best_of_all() -> None:
    """Against every way of pressing the second block's joins, one by one."""
    block = sp.Block.from_polygons(
        [[(x, y), (x + 2, y), (x + 2, y + 2), (x, y + 2)] for y in (0, 2) for x in (0, 2)], list("abcd")
    )
    construction = sp.plan(block, "pieced")
    plan = plan_pressing(block, construction)
    advice = advise_rows(block, construction, plan, 2, 2)
    assert advice is not None
    both: tuple[Toward, ...] = ("left", "right")
    quilt = Quilt(block, construction, 0.0)
    inside = [pair for pair in quilt.view.pairs() if quilt.is_inside(pair)]
    found = []
    for ways in product(both, repeat=len(construction.joins)):
        toward = quilt.toward(plan)
        for join, way in zip(construction.joins, ways, strict=True):
            toward |= {quilt.name(join.label, copy): way for copy in SECOND}
        if all(quilt.view.meeting(pair, toward).nests for pair in inside):
            met, nested = quilt.counted(toward, 2, 2)
            found.append(met - nested)
    assert min(found) == min(way.missed for way in advice.ways if way.way in {"alike", "pressed"})


def halves() -> tuple[sp.Block, sp.Construction, PressingPlan]:
    """A square of two triangles, their seam from corner to corner."""
    block = sp.Block.from_polygons([[(0, 0), (4, 0), (4, 4)], [(0, 0), (4, 4), (0, 4)]], ["light", "dark"])
    construction = sp.plan(block, "pieced")
    return block, construction, plan_pressing(block, construction)


@pytest.mark.parametrize(("across", "up"), [(1, 4), (2, 2), (3, 4), (4, 3)])
def test_where_four_blocks_meet_rows_pressed_in_turns_nest_and_spin(across: int, up: int) -> None:
    # (columns − 1)·(rows − 1) points; only the four seams between the blocks meet there: a crossing of four patches,
    # its two upright seams pressed opposite ways. derived
    advice = advise_rows(PAIR, joined(), pressed("left"), across, up)
    assert advice is not None
    points = (across - 1) * (up - 1)
    assert [(way.corners, way.corners_nest, way.spins) for way in advice.ways] == [(points,) * 3] * len(advice.ways)


def test_a_seam_that_runs_on_through_the_corner_does_not_nest_with_itself() -> None:
    # The seam from corner to corner runs on in the block diagonally across, which on a chequerboard is laid the same
    # way: both allowances lie toward the same cloth. Pressed open in every second block, it nests at every second
    # point. Two seams more than four meet at each point, so none may be spun. derived
    block, construction, plan = halves()
    advice = advise_rows(block, construction, plan, 3, 3)
    assert advice is not None
    alike, pressed_open = advice.ways
    assert (alike.corners, alike.corners_nest, alike.spins) == (4, 0, 0)
    assert (pressed_open.corners_nest, pressed_open.spins, pressed_open.joins) == (2, 0, (("J1", "open"),))


def test_open_seams_into_the_corner_nest() -> None:
    # An open seam nests with anything. derived
    block, construction, plan = halves()
    opened = replace(plan, seams=tuple(replace(seam, toward="open") for seam in plan.seams))
    advice = advise_rows(block, construction, opened, 3, 3)
    assert advice is not None
    assert (advice.alike.corners_nest, advice.alike.spins) == (4, 0)


def test_each_kind_of_edge_and_corner_is_counted_as_often_as_it_is_there() -> None:
    found = Counter(kinds(3, 4))
    # Across a row of three blocks lie two edges, in four rows; up a column of four lie three, in three columns; each is
    # by turns of the one kind and the other. derived
    assert [found[kind] for kind in range(6)] == [4, 4, 5, 4, 3, 3]


def test_what_does_not_fit_in_rows_is_refused() -> None:
    with pytest.raises(ValueError, match="1 or more"):
        meetings_of_rows(PAIR, joined(), pressed("left"), 0, 2)
    with pytest.raises(ValueError, match="must be one of 0, 90, 180, 270"):
        meetings_of_rows(PAIR, joined(), pressed("left"), 2, 2, turn=45)
    triangle = sp.Block.from_polygons([[(0, 0), (4, 0), (0, 4)]])
    alone = sp.Construction("pieced", (), ("1",), (), ())
    with pytest.raises(ValueError, match="rectangle"):
        meetings_of_rows(triangle, alone, PressingPlan((), (), proven=True), 2, 2)
    assert advise_rows(triangle, alone, PressingPlan((), (), proven=True), 2, 2) is None

"""Laws of the pressing plan, the layers and the forecast."""

from __future__ import annotations

import pytest

import seamproof as sp
from seamproof.geometry import Edge
from seamproof.planning.forecast import Hand, forecast
from seamproof.planning.layers import LayerMap
from seamproof.planning.pressing import order_for_pressing, plan_pressing
from seamproof.sequence.pressing import PressedSeam, PressingPlan

FOUR_PATCH = sp.Block.from_polygons([[(x, y), (x + 3, y), (x + 3, y + 3), (x, y + 3)] for y in (0, 3) for x in (0, 3)])


def four_patch() -> sp.Construction:
    """Two pairs, joined: the lower pair is 1 and 2, the upper 3 and 4."""
    up, across = ((3.0, 0.0), (3.0, 3.0)), ((0.0, 3.0), (6.0, 3.0))
    joins = (
        sp.Join("J1", "1", "2", (Edge(*up),)),
        sp.Join("J2", "3", "4", (Edge((3.0, 3.0), (3.0, 6.0)),)),
        sp.Join("J3", "J2", "J1", (Edge(*across),)),
    )
    return sp.Construction("pieced", (), ("1", "2", "3", "4"), joins,
                           tuple(sp.Step("join", join.seam, join=join.label) for join in joins))  # fmt: skip


def strips(count: int) -> tuple[sp.Block, sp.Construction]:
    """Strips of 1 in, joined one after the other."""
    block = sp.Block.from_polygons([[(i, 0), (i + 1, 0), (i + 1, 4), (i, 4)] for i in range(count)])
    joins, unit = [], "1"
    for i in range(1, count):
        joins.append(sp.Join(f"J{i}", unit, str(i + 1), (Edge((float(i), 0.0), (float(i), 4.0)),)))
        unit = f"J{i}"
    steps = tuple(sp.Step("join", join.seam, join=join.label) for join in joins)
    return block, sp.Construction("pieced", (), block.ids, tuple(joins), steps)


@pytest.mark.parametrize("sides", [("first", "first"), ("first", "second")])
def test_joins_that_are_pressed_before_they_are_cut_lie_alike(sides: tuple[str, str]) -> None:
    # derived: the two pairs of a four-patch nest only if their seams lie opposite ways; J1 runs up and J2 up, so that
    # "first" is the left of both.
    construction = four_patch()
    tied = plan_pressing(FOUR_PATCH, construction, alike=[[("J1", sides[0]), ("J2", sides[1])]])
    lie = [tied.toward(label) for label in ("J1", "J2")]
    if sides[0] == sides[1]:
        assert lie[0] == lie[1]
        assert tied.open_seams == 2 or tied.missed == 1
    else:
        assert {*lie} == {"left", "right"}
        assert tied.missed == 0


def test_the_seams_of_a_four_patch_nest_and_spin() -> None:
    plan = plan_pressing(FOUR_PATCH, four_patch())
    assert plan.proven
    assert (plan.open_seams, plan.missed) == (0, 0)
    assert plan.toward("J1") != plan.toward("J2")
    assert [(m.place, m.nests, m.spins) for m in plan.meetings] == [((3.0, 3.0), True, True)]


def test_a_darker_cloth_lies_under_no_lighter_one_where_it_need_not() -> None:
    lightness = {"1": 90.0, "2": 20.0, "3": 20.0, "4": 90.0}
    plan = plan_pressing(FOUR_PATCH, four_patch(), lightness)
    assert (plan.toward("J1"), plan.toward("J2")) == ("right", "left")
    assert not any(seam.dark for seam in plan.seams)


def test_where_nesting_and_darkness_disagree_the_seams_nest() -> None:
    lightness = {"1": 90.0, "2": 20.0, "3": 90.0, "4": 20.0}
    plan = plan_pressing(FOUR_PATCH, four_patch(), lightness)
    assert plan.missed == 0
    assert sum(seam.dark for seam in plan.seams) == 1


def test_foundations_are_begun_so_that_their_seams_nest() -> None:
    squares = [[(x, y), (x + 2, y), (x + 2, y + 2), (x, y + 2)] for y in (0, 2, 4) for x in (0, 2, 4)]
    nine = sp.Block.from_polygons(squares, roles=list("abababaca"))
    before = sp.plan(nine)
    after = order_for_pressing(nine, before)
    sp.replay(nine, after)
    assert plan_pressing(nine, before).missed > plan_pressing(nine, after).missed == 0
    assert [f.label for f in after.foundations] == [f.label for f in before.foundations]
    assert after.joins == before.joins


def test_twins_are_begun_alike() -> None:
    squares = [[(x, y), (x + 2, y), (x + 2, y + 2), (x, y + 2)] for y in (0, 2, 4) for x in (0, 2, 4)]
    nine = sp.Block.from_polygons(squares, roles=list("ababababa"))
    after = order_for_pressing(nine, sp.plan(nine))
    sp.replay(nine, after)
    twins = [f for f in after.foundations if f.twin_of]
    assert twins
    assert all(len(f.groups) == len(after.foundation(f.twin_of or "").groups) for f in twins)


@pytest.mark.parametrize(
    ("ways", "layers"),
    # Source: derived: face 1; a pressed seam adds both its allowances, folded, with what was folded in them.
    [(("left", "left", "left"), 9), (("left", "right", "left"), 7), (("open", "open", "open"), 4)],
)
def test_the_layers_of_a_four_way_match(ways: tuple[str, str, str], layers: int) -> None:
    con = four_patch()
    seams = tuple(PressedSeam(join.seam, way, join.label) for join, way in zip(con.joins, ways, strict=True))  # type: ignore[arg-type]
    plan = PressingPlan(seams, (), proven=False)
    assert [t.layers for t in LayerMap(FOUR_PATCH, con, plan, 0.25).thickest] == [layers]


def test_away_from_every_seam_there_is_one_layer() -> None:
    con = four_patch()
    layers = LayerMap(FOUR_PATCH, con, plan_pressing(FOUR_PATCH, con), 0.25)
    assert [layers.at(p) for p in [(1.5, 1.5), (4.5, 4.5), (7.0, 7.0)]] == [1, 1, 0]
    assert sorted((layers.at((2.9, 1.5)), layers.at((3.1, 1.5)))) == [1, 3]


@pytest.mark.parametrize("count", [2, 5, 9])
def test_an_error_in_each_parallel_seam_moves_the_width_by_twice_their_sum(count: int) -> None:
    # Source: derived: a seam too deep by e takes e from either side of it, so n seams take 2·e·n.
    error = 1 / 32
    block, con = strips(count)
    cast = forecast(block, con, Hand(cutting=0, seam=0, line=0, fold=error), trials=2)
    assert cast.width == pytest.approx((-2 * error * (count - 1), 0))
    assert cast.height == pytest.approx((0, 0))
    assert cast.setting == pytest.approx(error)


def test_errors_that_are_independent_add_in_squares() -> None:
    # Source: derived: each of n seams adds two cuts and twice a seam depth: variance 2c² + 4s².
    block, con = strips(9)
    cast = forecast(block, con, Hand(cutting=0.01, seam=0.02, fold=0), trials=40_000)
    assert cast.width[1] == pytest.approx((8 * (2 * 0.01**2 + 4 * 0.02**2)) ** 0.5, rel=0.03)


def test_the_setting_it_proposes_brings_the_width_out_true() -> None:
    block, con = strips(6)
    first = forecast(block, con, Hand(fold=0.02), trials=2_000)
    again = forecast(block, con, Hand(fold=0.02, scant=first.setting), trials=2_000)
    assert abs(again.width[0]) < abs(first.width[0]) / 10


def test_points_stray_less_on_paper_than_pieced() -> None:
    rows = 5
    block = sp.Block.from_polygons(
        [[(x, y), (x + 2, y), (x + 2, y + 1), (x, y + 1)] for x in (0, 2) for y in range(rows)]
    )
    on_paper = sp.plan(block)
    assert len(on_paper.foundations) == 2
    paper = forecast(block, on_paper, trials=4_000)
    pieced = forecast(block, _columns(rows), trials=4_000)
    assert len(paper.points) == len(pieced.points) == rows - 1
    assert max(p.median for p in paper.points) < min(p.median for p in pieced.points)


def _columns(rows: int) -> sp.Construction:
    """Two columns of rows, each cut and joined from below, then joined."""
    joins: list[sp.Join] = []
    for column in (0, 1):
        unit = str(column * rows + 1)
        for row in range(1, rows):
            x, y = 2.0 * column, float(row)
            new = str(column * rows + row + 1)
            joins.append(sp.Join(f"J{len(joins) + 1}", new, unit, (Edge((x, y), (x + 2, y)),)))
            unit = joins[-1].label
    joins.append(sp.Join(f"J{len(joins) + 1}", f"J{rows - 1}", unit, (Edge((2.0, 0.0), (2.0, float(rows))),)))
    return sp.Construction("pieced", (), tuple(str(i + 1) for i in range(2 * rows)), tuple(joins), ())


def test_the_same_seed_gives_the_same_figures() -> None:
    block, con = strips(4)
    assert forecast(block, con, trials=50, seed=7) == forecast(block, con, trials=50, seed=7)
    assert forecast(block, con, trials=50, seed=7) != forecast(block, con, trials=50, seed=8)


def test_no_trials_are_refused() -> None:
    with pytest.raises(ValueError, match="trials"):
        forecast(*strips(3), trials=0)

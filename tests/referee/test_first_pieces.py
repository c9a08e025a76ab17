"""A foundation's first piece, curved patches and matched corners, by figures worked out beside them."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pytest
import shapely
from shapely import affinity

from seamproof.block import Block, Patch
from seamproof.cutting import CutPiece, Placement
from seamproof.errors import SewingError
from seamproof.geometry import Edge, Outline, Transform
from seamproof.geometry.offsets import offset
from seamproof.referee import Reason, replay
from seamproof.referee.corners import Cut, past_the_end, seam_cuts, without
from seamproof.referee.covering import least_slack, needed
from seamproof.referee.plain import overlong, plain_need
from seamproof.referee.table import Table
from seamproof.referee.touching import Touching
from seamproof.referee.twins import is_congruent, unit_ring
from seamproof.sequence import Construction, Join, Step
from seamproof.tolerance import CHORD, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Callable

    from seamproof.geometry import Point

S = 0.25
EXACT = Placement(0, 0, 0, 0)
FIRST = Outline.rectangle(4, 2)


def around(wide: float, high: float) -> list[Point]:
    """A piece of this size with its middle on that of the first patch."""
    x, y = wide / 2, high / 2
    return [(2 - x, 1 - y), (2 + x, 1 - y), (2 + x, 1 + y), (2 - x, 1 + y)]


@pytest.mark.parametrize(
    ("placement", "slack"),
    [
        # Source: derived: 4.5 × 2.5 is needed of 6 × 3, so 0.75 in is left at each end and 0.25 in at each side; it is
        # slid along both at once, and neither pushed over a line nor folded.
        (EXACT, 0.25),
        (Placement(0.125, 0, 0, 0), 0.125),
        (Placement(0.5, 0, 0, 0), -0.25),
        (Placement(0, 0.5, 0, 0.5), 0.25),
    ],
)
def test_the_slack_of_a_first_piece_is_what_is_left_over(placement: Placement, slack: float) -> None:
    assert least_slack(FIRST, None, around(6, 3), S, placement) == pytest.approx(slack)


@pytest.mark.parametrize("degrees", [1.0, 3.0, 10.0])
def test_a_first_piece_is_turned_about_its_middle_either_way(degrees: float) -> None:
    # Source: derived: turned by θ, the corner of the need 2.25 in aside and 1.25 in up reaches 2.25·sin θ + 1.25·cos θ
    # up. A piece turned beforehand stands at its worst one way alone.
    angle = math.radians(degrees)
    reach = 2.25 * math.sin(angle) + 1.25 * math.cos(angle)
    assert least_slack(FIRST, None, around(9, 5), S, Placement(0, 0, degrees, 0)) == pytest.approx(2.5 - reach)
    for turn in (-degrees, degrees):
        placed = list(map(Transform.turn(turn, (2, 1)).point, around(9, 5)))
        twice = 2.25 * math.sin(2 * angle) + 1.25 * math.cos(2 * angle)
        assert least_slack(FIRST, None, placed, S, Placement(0, 0, degrees, 0)) == pytest.approx(2.5 - twice)


@pytest.mark.parametrize("start", [0, 1, 2])
def test_a_half_square_is_slid_along_both_of_its_square_sides(start: int) -> None:
    # Source: derived: the need reaches to (2.25, 2.25); the long edge x + y = 5 stands 0.5/√2 in off that corner, and
    # a slide of p along both short sides takes p·√2 of it; the short sides stand 0.75 in off.
    ring: list[Point] = [(-1, -1), (6, -1), (-1, 6)]
    placed = ring[start:] + ring[:start]
    square = Outline.rectangle(2, 2)
    for slid in (0.0, 0.1, 0.3):
        slack = min(0.5 / math.sqrt(2) - slid * math.sqrt(2), 0.75 - slid)
        assert least_slack(square, None, placed, S, Placement(slid, 0, 0, 0)) == pytest.approx(slack)


QUARTER = math.sqrt(2) - 1
"""The bulge of a quarter circle."""
FAN = Outline((Edge((0, 0), (4, 0)), Edge((4, 0), (0, 4), QUARTER), Edge((0, 4), (0, 0))))


def test_a_curved_patch_needs_its_true_offset() -> None:
    # Source: derived: a quarter disc of 4 in, offset, fits a square of 4.5 in with an arc of 4.25 in about its corner.
    seen = shapely.Polygon(needed(FAN, None, S))
    assert seen.bounds == pytest.approx((-S, -S, 4 + S, 4 + S), abs=2 * CHORD)
    for degrees in (10, 45, 80):
        way = (math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))
        out = max(x * way[0] + y * way[1] for x, y in seen.exterior.coords)
        assert out == pytest.approx(4 + S, abs=2 * CHORD)


def test_the_slack_of_a_curved_patch_leaves_room_for_its_flattening() -> None:
    # Source: derived: a chord strays from its arc by CHORD or less, so that much may be needed and not be seen.
    placed: list[Point] = [(-1, -1), (6, -1), (6, 6), (-1, 6)]
    assert least_slack(FAN, None, placed, S, EXACT) == pytest.approx(0.75 - CHORD)
    line = ((0.0, 0.0), (4.0, 0.0))
    flipped: list[Point] = [(-1, -S), (6, -S), (6, 6), (-1, 6)]
    assert least_slack(FAN, line, flipped, S, EXACT) == pytest.approx(0.75 - CHORD)


def test_a_sharp_tip_of_a_curved_patch_is_cut() -> None:
    # A bow of 20° at each tip; source: derived: a tip is cut square to its bisector, s/sin 22.5° out.
    bow = Outline((Edge((0, 0), (6, 0)), Edge((6, 0), (0, 0), math.tan(math.radians(10)))))
    for shape in (shapely.Polygon(needed(bow, None, S)), plain_need(bow, S)):
        out = max(x * math.cos(math.radians(-10)) + y * math.sin(math.radians(-10)) for x, y in _ring(shape))
        reach = 6 * math.cos(math.radians(10)) + S / math.sin(math.radians(22.5))
        assert out == pytest.approx(reach, abs=4 * CHORD)


def _ring(shape: Any) -> list[Point]:
    return [(x, y) for x, y in shape.exterior.coords]


def test_a_curved_plain_piece_is_held_to_its_offset() -> None:
    need = plain_need(FAN, S)
    assert (need ^ shapely.Polygon(offset(FAN, S).polygon)).area < 1e-6


def test_a_corner_square_and_an_inward_one_have_their_allowance() -> None:
    # Source: derived: the allowance of an L of 4 in is an L of 4.5 in: 4.5² − 2².
    ell = Outline.of([(0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4)])
    assert plain_need(ell, S).area == pytest.approx(4.5**2 - 2**2)


def test_a_sharp_corner_of_a_plain_piece_is_cut_where_a_mitre_of_45_degrees_stands() -> None:
    sharp = Outline.of([(0, 0), (6, 0), (6, 6 * math.tan(math.radians(20)))])
    seen = plain_need(sharp, S)
    out = max(-x * math.cos(math.radians(10)) - y * math.sin(math.radians(10)) for x, y in _ring(seen))
    assert out == pytest.approx(S / math.sin(math.radians(22.5)))


def test_a_piece_is_overlong_at_a_cut_it_reaches_past_and_at_no_other() -> None:
    need = shapely.box(0, 0, 4, 2)
    cuts = [Cut((0, 1), (-1, 0), 0.0, (0, 1)), Cut((4, 1), (1, 0), 0.0, (4, 1))]
    assert overlong(need, need, cuts, S) is None
    assert overlong(shapely.box(0, 0, 4.1, 2), need, cuts, S) is cuts[1]
    assert overlong(shapely.box(-0.1, 0, 4, 2), need, cuts, S) is cuts[0]
    assert overlong(shapely.box(0, -0.1, 4, 2.1), need, cuts, S) is None
    # What stands beyond the line, but farther off than a tip can reach, is another corner's.
    far = shapely.union(need, shapely.box(4, 9, 4.2, 9.5))
    assert overlong(far, need, cuts, S) is None


# Strips that lean: at each end of the seam one side is sharp, the other blunt.
def leaning(degrees: float, *, mirrored: bool) -> list[list[Point]]:
    lean, high = 2 / math.tan(math.radians(degrees)), 2.0
    rings: list[list[Point]] = [[(x, 0), (x + 2, 0), (x + 2 + lean, high), (x + lean, high)] for x in (0, 2)]
    return [[(-x, y) for x, y in ring] for ring in rings] if mirrored else rings


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("degrees", [30, 60, 80])
def test_the_sharper_side_of_a_seam_is_cut_at_the_raw_corner_of_the_other(
    sewing: Callable[..., Any], degrees: float, mirrored: bool, turned: bool
) -> None:
    # Source: derived: the corner of 180° − α has its raw corner s·cot((180° − α)/2) = s·tan(α/2) past the seam's end,
    # one allowance aside; the sharper side is cut there, square to the seam.
    hand = sewing(leaning(degrees, mirrored=mirrored))
    first, second = ("2", "1") if turned else ("1", "2")
    hand.join(first, second, hand.contact(first, second))
    table = Table(hand.block, hand.construction, Touching.of([p.outline for p in hand.block.patches]), S)
    seen = seam_cuts(table)
    assert {patch: len(cuts) for patch, cuts in seen.items()} == {"1": 1, "2": 1}
    for cuts in seen.values():
        (cut,) = cuts
        assert cut.reach == pytest.approx(S * math.tan(math.radians(degrees) / 2))
    sign = -1 if mirrored else 1
    lean = 2 / math.tan(math.radians(degrees))
    assert seen["1"][0].corner == pytest.approx((sign * (2 + lean), 2))
    assert seen["2"][0].corner == pytest.approx((sign * 2, 0))
    for patch, other in ("12", "21"):
        # The raw edge of a patch lies one allowance beyond the seam, over the other; there what is cut off begins.
        tip = shapely.Point(seen[patch][0].tip)
        own, its = (shapely.Polygon(hand.block.patch(p).outline.polygon) for p in (patch, other))
        assert its.distance(tip) < own.distance(tip)


def test_no_corner_is_cut_at_a_dot_nor_where_the_two_fill_more_than_a_half_turn(sewing: Callable[..., Any]) -> None:
    ell: list[list[Point]] = [[(0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4)], [(2, 2), (4, 2), (4, 4), (2, 4)]]
    hand = sewing(ell)
    hand.join("1", "2", hand.contact("1", "2"), "set-in", pivots=[(2, 2)])
    table = Table(hand.block, hand.construction, Touching.of([p.outline for p in hand.block.patches]), S)
    assert seam_cuts(table) == {}
    bent = sewing([[(0, 0), (2, 0), (2, 2), (-1, 2)], [(2, 0), (4, 0), (5, 2), (2, 2)]])
    bent.join("1", "2", bent.contact("1", "2"))
    table = Table(bent.block, bent.construction, Touching.of([p.outline for p in bent.block.patches]), S)
    assert {cut.corner for cuts in seam_cuts(table).values() for cut in cuts} <= {(2.0, 2.0), (2.0, 0.0)}


def test_a_seam_that_ends_on_a_side_is_cut_at_none(sewing: Callable[..., Any]) -> None:
    # The upper patch is wider than the lower one: at the seam's ends it has a side, a half turn, and nothing is sharp.
    hand = sewing([[(0, 0), (2, 0), (3, 2), (-1, 2)], [(-3, 2), (5, 2), (5, 4), (-3, 4)]])
    hand.join("2", "1", hand.path((-1, 2), (3, 2)))
    table = Table(hand.block, hand.construction, Touching.of([p.outline for p in hand.block.patches]), S)
    assert seam_cuts(table) == {}
    cloth = {patch.id: CutPiece(patch.id, patch.outline, offset(patch.outline, S), "template", (1.0,))
             for patch in hand.block.patches}  # fmt: skip
    assert replay(hand.block, hand.construction, cloth).covered == 2
    bare = replace(cloth["1"], cut=cloth["1"].outline)
    with pytest.raises(SewingError) as caught:
        replay(hand.block, hand.construction, {**cloth, "1": bare})
    assert caught.value.reason == Reason.NOT_COVERED


@pytest.mark.parametrize("sides", [5, 6, 8, 12])
def test_blunt_corners_have_their_whole_mitre(sides: int) -> None:
    # Source: derived: a regular polygon of inradius r offset by s, corners mitred, is that of inradius r + s.
    ring: list[Point] = [
        (2 * math.cos(2 * math.pi * k / sides), 2 * math.sin(2 * math.pi * k / sides)) for k in range(sides)
    ]
    inradius = 2 * math.cos(math.pi / sides)
    outline, grown = Outline.of(ring), ((inradius + S) / inradius) ** 2
    assert shapely.Polygon(needed(outline, None, S)).area == pytest.approx(outline.area * grown)
    assert plain_need(outline, S).area == pytest.approx(outline.area * grown)


@pytest.mark.parametrize(
    ("degrees", "reach"),
    [
        # Source: derived: s·cot(α/2) where the mitre stands; in a tip cut 2.6131·s out, (2.6131 − sin α/2)·s/cos α/2.
        (90, S),
        (60, S * math.sqrt(3)),
        (45, S / math.tan(math.radians(22.5))),
        (20, S * (1 / math.sin(math.radians(22.5)) - math.sin(math.radians(10))) / math.cos(math.radians(10))),
    ],
)
def test_how_far_a_raw_edge_runs_on_past_its_seam(degrees: float, reach: float) -> None:
    assert past_the_end(math.radians(degrees), S) == pytest.approx(reach)


def test_a_cut_takes_off_the_part_at_its_tip_and_no_other() -> None:
    # A comb of three teeth that all stand beyond the line y = 1; the cut begins in the middle one.
    comb = shapely.union_all([shapely.box(0, 0, 5, 1), *(shapely.box(x, 1, x + 1, 2 + x) for x in (0, 2, 4))])
    for tooth in (0, 2, 4):
        cut = Cut((tooth + 0.5, 0.0), (0, 1), 1.0, (tooth + 0.5, 1.5))
        left = without(comb, cut)
        assert left.area == pytest.approx(comb.area - (1 + tooth))
        assert not left.contains(shapely.Point(tooth + 0.5, 1.5))
        # Far from the middle of the plane as near it.
        far = without(
            affinity.translate(comb, -900, 400), Cut((tooth - 899.5, 400), (0, 1), 1.0, (tooth - 899.5, 401.5))
        )
        assert far.area == pytest.approx(left.area)
    assert without(comb, Cut((2.5, 0), (0, 1), 9.0, (2.5, 9.5))).equals(comb)


def test_several_patches_at_the_sharp_side_of_a_seams_end_are_left_as_they_are(sewing: Callable[..., Any]) -> None:
    # Two triangles of 30° each meet the seam's end side by side: whose corner would be cut cannot be told.
    tan = math.tan(math.radians(30))
    split: list[list[Point]] = [
        [(0, 0), (4, 0), (4, 4 * tan)], [(0, 0), (4, 4 * tan), (2, 2 * math.sqrt(3))],
        [(0, 0), (0, -2), (4, -2), (4, 0)],
    ]  # fmt: skip
    for rings, cut in ((split, False), ([[(0, 0), (4, 0), (4, 4 * tan), (2, 2 * math.sqrt(3))], split[2]], True)):
        hand = sewing(rings)
        if len(rings) == 3:
            hand.join("1", "2", hand.contact("1", "2"))
        unit, below, ids = ("J1", "3", "12") if len(rings) == 3 else ("1", "2", "1")
        hand.join(unit, below, hand.contact(ids, below))
        table = Table(hand.block, hand.construction, Touching.of([p.outline for p in hand.block.patches]), S)
        hand_cuts = [c for cuts in seam_cuts(table).values() for c in cuts if c.out[1] == pytest.approx(0)]
        assert any(c.corner == (0, 0) for c in hand_cuts) == cut


def test_the_ring_of_a_unit_goes_round_its_patches_once() -> None:
    block = Block.from_polygons(
        [[(x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)] for x in (0, 1) for y in (0, 1)], "bcab"
    )
    roles, ring = unit_ring(block, block.ids)
    assert roles == ("a", "b", "b", "c")
    assert Outline.of(ring).area == pytest.approx(4, abs=1e-6)
    assert shapely.LinearRing(ring).is_ccw
    assert max(math.dist(p, q) for p, q in pairwise(ring)) <= 2 + 1e-6
    assert {(round(x, 6), round(y, 6)) for x, y in ring} >= {(0, 0), (2, 0), (2, 2), (0, 2)}


def test_shapes_are_congruent_up_to_what_corners_may_stray() -> None:
    square: list[Point] = [(0, 0), (2, 0), (2, 2), (0, 2)]
    assert is_congruent([square], [[(x + 5, y) for x, y in square]])
    assert not is_congruent([square], [square, square])
    # Source: derived: a side moved out by d adds 2·d in²; a perimeter of 8 in allows (CHORD + 4·SAME_POINT)·8 in².
    allowed = (CHORD + 4 * SAME_POINT) * 8 / 2
    for stray, same in ((0.9, True), (1.3, False)):
        grown: list[Point] = [(0, 0), (2, 0), (2, 2 + stray * allowed), (0, 2 + stray * allowed)]
        assert is_congruent([grown], [square]) == same


def test_an_arc_that_must_stop_dead_is_looked_at_in_the_direction_of_its_end(sewing: Callable[..., Any]) -> None:
    # A seam of 80° about (2, 4) ends at (2, 2) level, cloth ahead of it; on its circle it would turn clear of that.
    turn = math.radians(80)
    x, y = 2 - 2 * math.sin(turn), 4 - 2 * math.cos(turn)
    arc = Edge((x, y), (2, 2), math.tan(turn / 4))
    below = (Edge((-0.5, 0), (4, 0)), Edge((4, 0), (4, 4)), Edge((4, 4), (3, 4)), Edge((3, 4), (2, 2)), arc.reversed(),
             Edge((x, y), (-0.5, y)), Edge((-0.5, y), (-0.5, 0)))  # fmt: skip
    above = (arc, Edge((2, 2), (2, y)), Edge((2, y), (x, y)))
    block = Block("arc", (Patch("1", Outline(below)), Patch("2", Outline(above))))

    def sewn(kind: str, *pivots: Point) -> Construction:
        join = Join("J1", "2", "1", (arc,), kind, pivots)  # type: ignore[arg-type]
        return Construction("pieced", (), ("1", "2"), (join,), (Step("join", (arc,), join="J1"),))

    assert replay(block, sewn("set-in", (2, 2))).pivots == 1
    with pytest.raises(SewingError) as caught:
        replay(block, sewn("curved"))
    assert (caught.value.reason, caught.value.step) == (Reason.UNDECLARED_PIVOT, 0)

"""Rough pieces laid, flipped and held to what they must cover."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import product
from typing import TYPE_CHECKING, Any

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity

from seamproof.block import Block
from seamproof.cutting import cut_pieces
from seamproof.cutting.pieces import CutPiece, Placement, RoughPiece
from seamproof.errors import GeometryError, LengthError, SewingError
from seamproof.geometry import Outline, Transform
from seamproof.geometry.offsets import offset
from seamproof.referee import Reason, replay
from seamproof.referee.corners import Cut
from seamproof.referee.covering import least_slack, needed
from seamproof.referee.plain import plain_need
from seamproof.sequence import Construction

if TYPE_CHECKING:
    from collections.abc import Callable

    from seamproof.geometry import Point

S = 0.25
EXACT = Placement(0, 0, 0, 0)
LINE = ((0.0, 0.0), (4.0, 0.0))
SQUARE = Outline.rectangle(4, 2)


def triangle(angle: float, side: float = 4.0) -> Outline:
    """Its seam on the x-axis; its right end as sharp as `angle` [°], its left end square."""
    return Outline.of([(0, 0), (side, 0), (0, side * math.tan(math.radians(angle)))])


def rectangle(left: float, right: float, height: float, raw: float = S) -> list[Point]:
    """A piece as it lies after the flip, its raw edge `raw` past the line."""
    return [(left, -raw), (right, -raw), (right, height - raw), (left, height - raw)]


@pytest.mark.parametrize(("angle", "reach"), [(45, 0.354), (30, 0.5), (15, 0.966), (60, 0.289)])
def test_a_tip_is_cut_square_at_s_over_sin(angle: float, reach: float) -> None:
    # Source: derived: the edge moved out by s meets the seam line s/sin α past the end.
    corners = needed(triangle(angle), LINE, S)
    assert max(x for x, _ in corners) - 4 == pytest.approx(reach, abs=5e-4)
    assert min(y for _, y in corners) == pytest.approx(-S)


def test_a_square_patch_needs_its_cut_size() -> None:
    # Source: derived: finished + 2s both ways.
    xs, ys = zip(*needed(SQUARE, LINE, S), strict=True)
    assert (min(xs), max(xs), min(ys), max(ys)) == pytest.approx((-S, 4 + S, -S, 2 + S))
    whole = shapely.Polygon(needed(SQUARE, None, S))
    assert whole.symmetric_difference(shapely.box(-S, -S, 4 + S, 2 + S)).area < 1e-9


@given(st.sampled_from([15, 30, 50, 75]), st.floats(0, 360))
def test_what_is_needed_turns_with_the_patch(angle: float, turn: float) -> None:
    move = Transform.turn(turn, (3, 1))
    start, end = map(move.point, LINE)
    moved = shapely.Polygon(needed(triangle(angle).transformed(move), (start, end), S))
    still = shapely.Polygon([move.point(p) for p in needed(triangle(angle), LINE, S)])
    assert moved.symmetric_difference(still).area < 1e-9


@pytest.mark.parametrize(
    ("placement", "slack"),
    [
        # Source: derived: 1 − s at each end, less what is slid; the height left over is 3 − 2s − 2 = 0.5,
        # less what is pushed over and lost in the fold.
        (EXACT, 0.5),
        (Placement(0.5, 0, 0, 0), 0.25),
        (Placement(0, 0.125, 0, 0), 0.375),
        (Placement(0, 0.125, 0, 1 / 32), 0.34375),
    ],
)
def test_slack_is_what_is_left_over(placement: Placement, slack: float) -> None:
    assert least_slack(SQUARE, LINE, rectangle(-1, 5, 3), S, placement) == pytest.approx(slack)


def test_a_tilt_costs_height_at_the_far_corner() -> None:
    # Source: derived: strip of 4.5 in turned by 3° about its middle and pushed on until no end is short: the far
    # corner of the need, 2.5 in up and 2.25 in aside, comes 2·2.25·sin 3° − 2.5·(1 − cos 3°) nearer the top edge.
    drop = 4.5 * math.sin(math.radians(3)) - 2.5 * (1 - math.cos(math.radians(3)))
    slack = least_slack(SQUARE, LINE, rectangle(-1.5, 5.5, 3), S, Placement(0, 0, 3, 0))
    assert slack == pytest.approx(0.5 - drop)


PLACEMENT = Placement()
SHAPES = [SQUARE, triangle(15), triangle(40), Outline.of([(0, 0), (4, 0), (6, 2), (2, 2)])]


@given(st.sampled_from(SHAPES), st.floats(0.3, 2), st.floats(0.3, 2), st.floats(2.5, 5))
def test_no_placement_tried_is_worse_than_the_worst(outline: Outline, left: float, right: float, height: float) -> None:
    # Source: computed independently: the piece really laid, turned, slid, pushed and flipped, with shapely.
    x0, _, x1, _ = outline.bounds
    placed = rectangle(x0 - left, x1 + right, height)
    slack = least_slack(outline, LINE, placed, S, PLACEMENT)
    if slack > 1e-6:
        assert all(laid(outline, placed, place) for place in placements())


@given(st.sampled_from(SHAPES), st.floats(0.8, 2), st.floats(0.8, 2), st.floats(3, 5))
def test_a_piece_smaller_by_its_slack_fails_somewhere(
    outline: Outline, left: float, right: float, height: float
) -> None:
    x0, _, x1, _ = outline.bounds
    slack = least_slack(outline, LINE, rectangle(x0 - left, x1 + right, height), S, PLACEMENT)
    less = slack + 0.01
    placed = rectangle(x0 - left + less, x1 + right - less, height - less)
    assert not all(laid(outline, placed, place) for place in placements())


def placements() -> Any:
    box = PLACEMENT
    turns = [box.tilt * part for part in (-1, -0.5, 0, 0.5, 1)]
    return product((-box.along, 0, box.along), (0, box.over), turns, (0, box.fold))


def laid(outline: Outline, placed: list[Point], place: tuple[float, float, float, float]) -> bool:
    """Lay a piece as `Placement` says and look whether it covers."""
    slide, over, tilt, fold = place
    whole = shapely.Polygon(outline.polygon).buffer(S, join_style="mitre", mitre_limit=1000)
    up = whole & shapely.box(-50, 0, 50, 50)
    on_line = [x for x, y in up.exterior.coords if abs(y) < 1e-9]
    x0, x1 = min(on_line), max(on_line)
    piece = affinity.rotate(shapely.Polygon(placed), tilt, origin=((x0 + x1) / 2, -S))
    turn = math.radians(tilt)
    push = over + (x1 - x0) / 2 * math.sin(abs(turn))
    dx, dy = slide * math.cos(turn) + push * math.sin(turn), slide * math.sin(turn) - push * math.cos(turn)
    piece = affinity.translate(piece, dx, dy).buffer(1e-6, join_style="mitre")
    strip = shapely.box(x0, -S, x1, 0)
    return bool(piece.covers(strip) and affinity.translate(piece, 0, -fold).covers(up))


def test_a_leaning_patch_is_not_covered_by_a_centred_piece() -> None:
    leaning = Outline.of([(0, 0), (4, 0), (6, 2), (2, 2)])
    need = needed(leaning, LINE, S)
    low, high = min(x for x, _ in need), max(x for x, _ in need)
    middle, length = 2.0, high - low + 0.02
    centred = rectangle(middle - length / 2, middle + length / 2, 3)
    ticked = rectangle(low - 0.01, high + 0.01, 3)
    assert least_slack(leaning, LINE, centred, S, EXACT) < -0.5
    assert least_slack(leaning, LINE, ticked, S, EXACT) == pytest.approx(0.01)


def test_a_fifteen_degree_tip_needs_nearly_an_inch_past_the_seam() -> None:
    short = rectangle(-0.5, 4 + 0.9, 2.5)
    enough = rectangle(-0.5, 4 + 0.97, 2.5)
    assert least_slack(triangle(15), LINE, short, S, EXACT) < 0
    assert least_slack(triangle(15), LINE, enough, S, EXACT) > 0


def test_a_raw_edge_short_of_the_allowance_is_refused_and_a_longer_one_is_not() -> None:
    assert least_slack(SQUARE, LINE, rectangle(-1, 5, 3, raw=0.2), S, EXACT) == pytest.approx(-0.05)
    assert least_slack(SQUARE, LINE, rectangle(-1, 5, 3, raw=0.3), S, EXACT) == pytest.approx(0.45)


@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
def test_an_allowance_or_tolerance_that_is_no_size_is_refused(bad: float) -> None:
    with pytest.raises(LengthError):
        needed(SQUARE, LINE, bad)
    with pytest.raises(LengthError):
        least_slack(SQUARE, LINE, rectangle(-1, 5, 3), S, Placement(along=bad))
    with pytest.raises(LengthError):
        replay(Block.from_polygons([SQUARE.points]), Construction("pieced", (), ("1",), (), ()), allowance=bad)


def test_a_piece_or_seam_the_wrong_way_round_is_refused() -> None:
    with pytest.raises(GeometryError, match="convex"):
        least_slack(SQUARE, LINE, rectangle(-1, 5, 3)[::-1], S, EXACT)
    with pytest.raises(GeometryError, match="left of its seam"):
        least_slack(SQUARE, (LINE[1], LINE[0]), rectangle(-1, 5, 3), S, EXACT)
    with pytest.raises(GeometryError, match="no area"):
        least_slack(SQUARE, LINE, [(0, 0), (1, 1)], S, EXACT)


# Two strips side by side on foundation A, a third one loose.
STRIPS = [Outline.rectangle(2, 3, (x, 0)).points for x in (0, 2, 4)]


@pytest.fixture
def hand(sewing: Callable[..., Any]) -> Any:
    made = sewing(STRIPS).paper("A", "12")
    made.join("A", "3", made.contact("12", "3"))
    return made


def pieces(hand: Any, **changes: Any) -> dict[str, RoughPiece | CutPiece]:
    def rough(patch: str, placed: list[Point], seam: tuple[Point, Point] | None) -> RoughPiece:
        return RoughPiece(patch, "A", "rectangle", 5.0, 4.0, "any edge", tuple(placed), seam, None, 0.0, 0.25)

    first = rough("1", [(-0.75, -0.75), (2.75, -0.75), (2.75, 3.75), (-0.75, 3.75)], None)
    second = rough("2", [(1.75, -0.75), (4.75, -0.75), (4.75, 3.75), (1.75, 3.75)], ((2, 3), (2, 0)))
    outline = hand.block.patch("3").outline
    third = CutPiece("3", outline, offset(outline, S), "rectangle", (2.5, 3.5))
    return {"1": first, "2": replace(second, **changes), "3": third}


def refused(hand: Any, given: Any) -> SewingError:
    with pytest.raises(SewingError) as caught:
        replay(hand.block, hand.construction, given)
    return caught.value


def test_pieces_that_cover_are_accepted_as_mapping_or_sequence(hand: Any) -> None:
    given = pieces(hand)
    seen = replay(hand.block, hand.construction, given)
    assert seen == replay(hand.block, hand.construction, list(given.values())[::-1])
    assert seen.covered == 3
    assert seen.least_slack == min(step.slack for step in seen.seen if step.slack is not None)


def test_a_piece_an_eighth_under_the_least_that_covers_is_refused(hand: Any) -> None:
    seen = replay(hand.block, hand.construction, pieces(hand))
    slack = next(step.slack for step in seen.seen if step.said.startswith("add 2"))
    assert slack is not None
    assert slack >= 0
    low, high = -0.75 + slack, 3.75 - slack
    least = ((1.75, low), (4.75, low), (4.75, high), (1.75, high))
    assert replay(hand.block, hand.construction, pieces(hand, placed=least)).covered == 3
    under = tuple((x, max(y, low + 0.0625) if y < 0 else y - 0.0625) for x, y in least)
    error = refused(hand, pieces(hand, placed=under))
    assert (error.reason, error.patches) == (Reason.NOT_COVERED, ("2",))


def test_a_piece_laid_on_its_own_area_is_refused(hand: Any) -> None:
    own = tuple(Transform.reflect((2, 0), (2, 1)).point(p) for p in pieces(hand)["2"].placed[::-1])  # type: ignore[union-attr]
    assert refused(hand, pieces(hand, placed=own)).reason == Reason.LAID_ON_OWN_AREA


def test_a_piece_that_flips_elsewhere_is_refused(hand: Any) -> None:
    class Askew(RoughPiece):
        @property
        def laid(self) -> tuple[Point, ...]:
            return tuple((x, y + 0.5) for x, y in super().laid)

    given = pieces(hand)
    second = given["2"]
    assert isinstance(second, RoughPiece)
    values = {name: getattr(second, name) for name in RoughPiece.__dataclass_fields__}
    assert refused(hand, {**given, "2": Askew(**values)}).reason == Reason.WRONG_FLIP


@pytest.mark.parametrize(
    "changes", [{"foundation": "B"}, {"seam": ((2, 0), (2, 3))}, {"seam": ((2, 3), (2, 0.5))}, {"seam": None}]
)
def test_a_piece_for_another_place_is_refused(hand: Any, changes: dict[str, Any]) -> None:
    assert refused(hand, pieces(hand, **changes)).reason == Reason.WRONG_PIECE


def test_a_piece_missing_twice_or_not_convex_is_refused(hand: Any) -> None:
    given = pieces(hand)
    for missing in "123":
        rest = {patch: piece for patch, piece in given.items() if patch != missing}
        error = refused(hand, rest)
        assert (error.reason, error.patches) == (Reason.NO_PIECE, (missing,))
    assert refused(hand, [*given.values(), given["2"]]).reason == Reason.WRONG_PIECE
    assert refused(hand, pieces(hand, placed=given["2"].placed[::-1])).reason == Reason.WRONG_PIECE  # type: ignore[union-attr]


def test_a_plain_piece_short_of_its_allowance_is_refused(hand: Any) -> None:
    given = pieces(hand)
    outline = hand.block.patch("3").outline
    for less in (0.01, 0.25):
        small = CutPiece("3", outline, offset(outline, S - less + 0.001), "rectangle", (2.5, 3.5))
        assert refused(hand, {**given, "3": small}).reason == Reason.NOT_COVERED


# Two parallelograms of 60° side by side, joined along their slanted seam; each side has one sharp end.
HIGH = 2 * math.sin(math.radians(60))
LEANING = [[(x, 0), (x + 2, 0), (x + 3, HIGH), (x + 1, HIGH)] for x in (0, 2)]
DOWN = (-0.5, -math.sqrt(3) / 2)


@pytest.fixture
def pair(sewing: Callable[..., Any]) -> Any:
    made = sewing(LEANING)
    made.join("1", "2", made.contact("1", "2"))
    return made


def trimmed(pair: Any, reach: float = S * math.tan(math.radians(30)), turn: float = 0.0) -> dict[str, CutPiece]:
    """The plain pieces, each cut at its sharp end of the seam, `reach` past it, square to the seam but for a turn.

    Source: derived: the other side's corner of 120° lies s·cot 60° = s·tan 30° past the end.
    """
    made = {}
    for patch, corner, way in (("1", (3, HIGH), 1), ("2", (2, 0), -1)):
        outline = pair.block.patch(patch).outline
        cloth = shapely.Polygon(offset(outline, S).polygon)
        x, y = (c - way * reach * d for c, d in zip(corner, DOWN, strict=True))
        keep = affinity.rotate(shapely.box(x - 9, y - 9, x + 9, y), -30 if way > 0 else 150, origin=(x, y))
        cut = cloth & affinity.rotate(keep, turn, origin=(x, y))
        made[patch] = CutPiece(patch, outline, Outline.of(cut.exterior.coords), "parallelogram", (3.0, 2.0))
    return made


def test_corners_matched_square_to_the_seam_through_the_shorter_are_accepted(pair: Any) -> None:
    assert replay(pair.block, pair.construction, trimmed(pair)).covered == 2


def test_what_cutting_cuts_is_what_the_referee_asks_for(pair: Any) -> None:
    for piece in cut_pieces(pair.block, pair.construction, S):
        mine = trimmed(pair)[piece.patch].cut
        assert (shapely.Polygon(piece.cut.polygon) ^ shapely.Polygon(mine.polygon)).area == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(
    ("reach", "turn", "reason"),
    [
        (S * math.tan(math.radians(30)) - 1 / 32, 0, Reason.NOT_COVERED),
        (S * math.tan(math.radians(30)) + 1 / 32, 0, Reason.WRONG_PIECE),
        (S / math.tan(math.radians(30)), 0, Reason.WRONG_PIECE),
        (S * math.tan(math.radians(30)), 30, Reason.NOT_COVERED),
        (S * math.tan(math.radians(30)), -30, Reason.NOT_COVERED),
    ],
)
def test_a_wrong_corner_cut_is_refused(pair: Any, reach: float, turn: float, reason: Reason) -> None:
    assert refused(pair, trimmed(pair, reach, turn)).reason == reason


def test_a_plain_piece_a_sixteenth_short_on_any_side_is_refused(pair: Any) -> None:
    given = trimmed(pair)
    ring = given["1"].cut.points
    for p, q in zip(ring, [*ring[1:], *ring[:1]], strict=True):
        if math.dist(p, q) < 1:
            continue
        nx, ny = -(q[1] - p[1]) / math.dist(p, q) / 16, (q[0] - p[0]) / math.dist(p, q) / 16
        cloth = shapely.Polygon(ring)
        short = Outline.of((cloth & affinity.translate(cloth, nx, ny)).exterior.coords)
        assert refused(pair, {**given, "1": replace(given["1"], cut=short)}).reason == Reason.NOT_COVERED


@given(st.floats(10, 89))
def test_a_matched_corner_leaves_the_next_edge_more_than_half_its_allowance(degrees: float) -> None:
    # Source: derived: a line s·tan(α/2) past the end crosses the square to the next edge s/(1 + cos α) from the corner.
    half = math.radians(degrees) / 2
    outline = triangle(degrees)
    cut = Cut((4, 0), (1, 0), S * math.tan(half), (4 + S * math.tan(half), -S))
    across = shapely.LineString([(4, 0), (4 + 9 * math.sin(2 * half), 9 * math.cos(2 * half))])
    left = plain_need(outline, S, [cut]).intersection(across).length
    assert left == pytest.approx(S / (1 + math.cos(2 * half)), abs=1e-6)

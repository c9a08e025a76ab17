"""Sizes of what is cut to make units several at a time, and the pieces that come out of it."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from seamproof.cutting.flipped import flips_cover
from seamproof.cutting.pieces import CutPiece
from seamproof.cutting.recipes_of_units import Workshop, way_of
from seamproof.cutting.recognising import Found
from seamproof.cutting.ways import WayKind, comes_out, half_side, is_enough, quarter_side
from seamproof.geometry import Outline
from seamproof.geometry.offsets import offset
from seamproof.geometry.points import along
from seamproof.units import MM_PER_INCH, Measure

ALLOWANCES = st.sampled_from([1 / 4, 3 / 8, 6 / MM_PER_INCH])
SIDES = st.floats(0.5, 12).map(lambda side: round(side, 4))


def piece(patch: str, outline: Outline, allowance: float) -> CutPiece:
    return CutPiece(patch, outline, offset(outline, allowance), "", ())


def triangle(leg: float) -> Outline:
    return Outline.of([(0, 0), (leg, 0), (0, leg)])


def goose(long: float) -> Outline:
    return Outline.of([(0, 0), (long, 0), (long / 2, long / 2)])


def found(
    kind: WayKind, size: tuple[float, float], count: int, parts: int, widths: tuple[float, ...] = ()
) -> list[Found]:
    fabrics = tuple("abc"[:parts]) if not widths else tuple("abab"[: len(widths)])
    rows = []
    for n in range(count):
        names: list[tuple[str, ...]] = [(f"{n}p{i}",) for i in range(len(fabrics))]
        if kind == "geese" or (kind == "quarter-square" and parts == 3):
            which = 1 if kind == "geese" else 0
            names[which] = (f"{n}p{which}", f"{n}p{which}again")
        if kind == "quarter-square" and parts == 2:
            names = [(f"{n}p{i}", f"{n}p{i}again") for i in range(2)]
        rows.append(Found(f"J{n + 1}", kind, tuple(names), fabrics, size, widths))
    return rows


def shop(rows: list[Found], allowance: float, measure: Measure = Measure.EIGHTHS) -> Workshop:
    shapes = {}
    for row in rows:
        long = max(row.size)
        for number, part in enumerate(row.parts):
            for patch in part:
                if row.kind == "half-square":
                    shape = triangle(long)
                elif row.kind == "quarter-square" or (row.kind == "geese" and number == 0):
                    shape = goose(long)
                elif row.kind == "geese":
                    shape = triangle(long / 2)
                else:
                    shape = Outline.rectangle(row.size[1], row.widths[number])
                shapes[patch] = piece(patch, shape, allowance)
    return Workshop(shapes, 1, allowance, measure)


@pytest.mark.parametrize(
    ("allowance", "half", "quarter"),
    # derived: s(2 + √2) and 2s(1 + √2), at 1/4 in, 3/8 in and 6 mm.
    [(1 / 4, 0.853553, 1.207107), (3 / 8, 1.2803, 1.8107), (6 / 25.4, 20.485 / 25.4, 28.971 / 25.4)],
)
def test_what_is_added_to_a_finished_side_follows_from_the_allowance(
    allowance: float, half: float, quarter: float
) -> None:
    assert half_side(3, allowance) - 3 == pytest.approx(half, abs=5e-5)
    assert quarter_side(3, allowance) - 3 == pytest.approx(quarter, abs=5e-5)


@given(st.integers(4, 48))
def test_no_trade_figure_is_smaller_than_the_exact_size(eighths: int) -> None:
    # Common practice, no source: finished + 7/8, finished + 1 1/4 for a quarter-inch seam.
    side = eighths / 8
    assert side + 7 / 8 >= half_side(side, 1 / 4)
    assert side + 5 / 4 >= quarter_side(side, 1 / 4)


@given(st.integers(4, 48))
def test_sizes_of_whole_eighths_come_out_as_the_trade_cuts_them(eighths: int) -> None:
    # Common practice, no source: pairs of squares f + 7/8; hourglasses f + 1 1/4; geese 2h + 1 1/4 and h + 7/8.
    side = eighths / 8
    pairs = found("half-square", (side, side), 2, 2)
    crossed = found("quarter-square", (side, side), 2, 2)
    flying = found("geese", (2 * side, side), 4, 2)
    eight = found("half-square", (side, side), 8, 2)
    sizes = []
    for rows in (pairs, crossed, flying):
        way = way_of(rows, shop(rows, 1 / 4))
        assert way is not None
        sizes.append([cut.width for cut in way.cuts])
    assert sizes == [[side + 7 / 8] * 2, [side + 5 / 4] * 2, [2 * side + 5 / 4, side + 7 / 8]]
    way = way_of(eight, shop(eight, 1 / 4))
    assert way is not None
    # Common practice, no source: eight at a time of squares 2f + 1 3/4. derived: up to 3 5/8 in their strip is no more
    # than 4 1/2 in longer than that for pairs; over 5 3/8 in the square is larger than 12 1/2 in.
    assert way.cuts[0].width in {2 * side + 7 / 4, side + 7 / 8}
    assert (way.kind == "eight half-squares") == (eighths <= 29)


@given(SIDES, ALLOWANCES)
def test_the_exact_square_gives_just_the_piece_and_a_smaller_one_does_not(side: float, allowance: float) -> None:
    half, quarter = half_side(side, allowance), quarter_side(side, allowance)
    for kind, exact, shape in (
        ("square for halves", half, triangle(side)),
        ("square for eight halves", 2 * half, triangle(side)),
        ("square for wings", half, triangle(side)),
        ("square for quarters", quarter, goose(side)),
        ("square for geese", quarter, goose(side)),
    ):
        needed = piece("1", shape, allowance)
        assert is_enough(comes_out(kind, exact, exact), needed, allowance)  # type: ignore[arg-type]
        assert not is_enough(comes_out(kind, exact - 0.01, exact), needed, allowance)  # type: ignore[arg-type]
        # The piece that comes out is congruent to the finished one with its allowance: same area, derived.
        out = comes_out(kind, exact, exact)  # type: ignore[arg-type]
        assert out.area == pytest.approx(needed.cut.area, abs=1e-4)


@given(SIDES, ALLOWANCES)
def test_what_is_left_inside_the_seams_is_the_finished_piece(side: float, allowance: float) -> None:
    # computed independently: the raw piece moved inward by the allowance on every side, by shapely.
    for out, finished in (
        (comes_out("square for halves", *[half_side(side, allowance)] * 2), triangle(side)),
        (comes_out("square for geese", *[quarter_side(side, allowance)] * 2), goose(side)),
    ):
        inside = shapely.Polygon(out.polygon).buffer(-allowance, join_style="mitre")
        assert inside.area == pytest.approx(finished.area, rel=1e-6)


@given(
    st.integers(1, 60),
    st.sampled_from([("half-square", 2, 2), ("quarter-square", 2, 2), ("quarter-square", 3, 4), ("geese", 2, 4)]),
)
def test_enough_units_are_made_and_few_are_left_over(count: int, way_: tuple[WayKind, int, int]) -> None:
    kind, parts, makes = way_
    size = (4.0, 2.0) if kind == "geese" else (2.0, 2.0)
    rows = found(kind, size, count, parts)
    way = way_of(rows, shop(rows, 1 / 4))
    if way is None:
        assert math.ceil(count / makes) * makes - count > count / 3
        return
    is_eight = kind == "half-square" and math.ceil(count / 8) * 8 == math.ceil(count / 2) * 2
    # derived: up to 96 eight-at-a-time squares of 5 3/4 in, six to a strip, take no 4 1/2 in more than pairs do.
    assert way.makes == (8 if is_eight else makes)
    assert 0 <= way.over <= count / 3
    for cut in way.cuts:
        # Every piece that is needed comes out of what is cut.
        assert cut.cut * cut.gives >= len(cut.patches)
        assert cut.cut * cut.gives == len(cut.patches) * way.times * way.makes // count or way.over > 0


def test_a_strip_set_is_cut_as_its_pieces_are() -> None:
    # derived: 1 1/2 in strips of 1 in finished, cut across at 3 1/2 in; eight are 28 in, 1/2 in to square.
    rows = found("strip set", (2.0, 3.0), 8, 2, (1.0, 1.0))
    way = way_of(rows, shop(rows, 1 / 4))
    assert way is not None
    assert [(cut.width, cut.height, cut.cut) for cut in way.cuts] == [(28.5, 1.5, 1)] * 2
    assert (way.length, way.size, way.times, way.makes) == (3.5, (2.5, 3.5), 1, 8)


def test_strips_that_no_rule_shows_are_not_sewn_first() -> None:
    # A third of 4 in is on no mark of a rule: a strip rounded up would make the unit too wide.
    rows = found("strip set", (4.0, 4.0), 16, 2, (4 / 3, 4 / 3, 4 / 3))
    assert way_of(rows, shop(rows, 1 / 4)) is None


def test_a_strip_set_longer_than_the_cloth_is_wide_becomes_several() -> None:
    # derived: 11 pieces of 3 1/2 in fit in 39 1/2 in; 30 take three sets of ten.
    rows = found("strip set", (2.0, 3.0), 30, 2, (1.0, 1.0))
    way = way_of(rows, shop(rows, 1 / 4))
    assert way is not None
    assert (way.times, way.makes) == (3, 10)


def test_millimetres_are_cut_to_the_millimetre() -> None:
    # derived: 60 mm finished, 6 mm seams: 60 + 20.485 rounds up to 81 mm.
    side = 60 / MM_PER_INCH
    rows = found("half-square", (side, side), 4, 2)
    way = way_of(rows, shop(rows, 6 / MM_PER_INCH, Measure.MILLIMETRES))
    assert way is not None
    assert way.cuts[0].width * MM_PER_INCH == pytest.approx(81)


@given(st.integers(2, 40), st.integers(0, 3), ALLOWANCES)
def test_a_rectangle_and_the_square_on_its_corner_are_just_enough(eighths: int, corner: int, allowance: float) -> None:
    leg, width, height = eighths / 8, eighths / 4 + 1, eighths / 8 + 1.0
    unit = Outline.rectangle(width, height)
    ring = unit.points
    ends = []
    for other in (ring[corner - 1], ring[(corner + 1) % 4]):
        t = leg / math.dist(ring[corner], other)
        ends.append(along(ring[corner], other, t))
    base_ring = [p for k, p in enumerate(ring) for p in (ends if k == corner else [p])]
    base = piece("1", Outline.of(base_ring), allowance)
    turned = CutPiece(
        "2", Outline.of([ring[corner], ends[1], ends[0]]), Outline.of([ring[corner], ends[1], ends[0]]), "", ()
    )
    sides, square = (width + 2 * allowance, height + 2 * allowance), leg + 2 * allowance
    assert flips_cover(unit, base, {corner: (turned, square)}, sides, allowance)
    for less in (0.01, 0.1):
        assert not flips_cover(unit, base, {corner: (turned, square - less)}, sides, allowance)
        assert not flips_cover(unit, base, {corner: (turned, square)}, (sides[0] - less, sides[1]), allowance)
        # A square too large takes away what the rectangle needs.
        assert not flips_cover(unit, base, {corner: (turned, square + less)}, sides, allowance)

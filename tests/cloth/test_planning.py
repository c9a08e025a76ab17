from __future__ import annotations

import math
from itertools import count

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof import BlockError, LengthError, Outline
from seamproof.cloth import ClothPlan, pieces_from, plan_cloth
from seamproof.cutting import CutPiece, RoughPiece
from seamproof.units import MM_PER_INCH, Measure

SQUARE = Outline.rectangle(1, 1)


def rough(patch: str, width: float, height: float, shape: str = "rectangle") -> RoughPiece:
    return RoughPiece(patch, "A", shape, width, height, "any edge", (), None, None, 0, 0)  # type: ignore[arg-type]


def plain(patch: str, *sizes: float, shape: str = "square") -> CutPiece:
    return CutPiece(patch, SQUARE, SQUARE, shape, sizes)


def planned(pieces: list[RoughPiece], copies: int = 1, usable: float = 40.0) -> ClothPlan:
    return plan_cloth(pieces, (), {piece.patch: "linen" for piece in pieces}, copies, usable)


pieces = st.lists(
    st.tuples(
        st.integers(2, 60).map(lambda n: n / 4),
        st.integers(2, 60).map(lambda n: n / 4),
        st.sampled_from(["rectangle", "half-square", "quarter-square"]),
    ),
    min_size=1,
    max_size=8,
).map(lambda rows: [rough(str(n), w, h if s == "rectangle" else w, s) for n, (w, h, s) in zip(count(1), rows)])


@pytest.mark.parametrize(("side", "squares"), [(2, 99), (2.5, 56), (3, 42), (4, 20), (6, 9)])
def test_squares_from_eighteen_by_twenty_two(side: float, squares: int) -> None:
    # floor(18/c)·floor(22/c). derived; charts in print differ at places
    assert pieces_from(22, 18, side, side) == squares


@given(pieces, st.integers(1, 30), st.sampled_from([18.0, 40.0, 105 / MM_PER_INCH * 10]))
def test_the_strips_give_every_piece(rows: list[RoughPiece], copies: int, usable: float) -> None:
    need = planned(rows, copies, usable).needs[0]
    for strip in need.strips:
        group = need.groups[strip.group]
        along = group.height if strip.width == group.width else group.width
        assert strip.count * strip.each >= group.cut
        assert strip.each * along <= usable
        assert group.pieces >= group.needed
    assert sorted(strip.group for strip in need.strips) == list(range(len(need.groups)))
    assert sum(group.needed for group in need.groups) == copies * len(rows)


@given(pieces, st.integers(1, 30))
def test_no_strip_is_one_too_many_and_no_other_way_takes_less(rows: list[RoughPiece], copies: int) -> None:
    # strips = ceil(pieces / floor(width / piece length)), both ways round. derived
    need = planned(rows, copies).needs[0]
    for strip in need.strips:
        group = need.groups[strip.group]
        ways = [(group.width, group.height), (group.height, group.width)]
        least = min(math.ceil(group.cut / math.floor(40 / along)) * across for across, along in ways)
        assert strip.count * strip.width == pytest.approx(least)


@given(pieces, st.integers(1, 30))
def test_the_area_of_the_pieces_fits_what_is_bought(rows: list[RoughPiece], copies: int) -> None:
    need = planned(rows, copies).needs[0]
    area = sum(group.cut * group.width * group.height for group in need.groups)
    assert area <= need.length * 40 + 1 / 1000
    assert need.length <= need.buy + 1 / 1000


@given(pieces, st.integers(1, 30))
def test_yardage_is_the_next_eighth_of_a_yard(rows: list[RoughPiece], copies: int) -> None:
    # Rounded up to 1/8 yd: common practice, no source
    need = planned(rows, copies).needs[0]
    assert need.buy * 8 / 36 == pytest.approx(round(need.buy * 8 / 36))
    assert need.buy - need.length < 4.5


def test_metric_yardage_is_the_next_ten_centimetres() -> None:
    # Metric up to 10 cm, planned on 105 of 110 cm: common practice, no source
    piece = plain("1", 165 / MM_PER_INCH)
    need = plan_cloth((), [piece], {"1": "linen"}, 13, 1050 / MM_PER_INCH, Measure.MILLIMETRES).needs[0]
    # floor(1050/165) = 6 a strip, so 13 squares take 3 strips: 495 mm, and 500 mm are bought. derived
    assert [(strip.count, strip.each) for strip in need.strips] == [(3, 6)]
    assert need.length * MM_PER_INCH == pytest.approx(495)
    assert need.buy * MM_PER_INCH == pytest.approx(500)


def test_a_length_that_is_an_eighth_of_a_yard_is_not_rounded_up() -> None:
    assert planned([rough("1", 4.5, 4.5)], copies=8).needs[0].buy == 4.5


def test_a_halved_square_gives_two_and_a_quartered_one_four() -> None:
    triangles = [rough(str(n), 4, 4, "half-square") for n in range(3)]
    quarters = [rough(str(n), 5, 5, "quarter-square") for n in range(3, 8)]
    groups = planned([*triangles, *quarters]).needs[0].groups
    assert [(g.shape, g.cut, g.pieces, g.needed) for g in groups] == [
        ("quarter-square", 2, 8, 5),
        ("half-square", 2, 4, 3),
    ]


def test_a_strip_is_cut_the_way_that_takes_less() -> None:
    # Four of 9 × 2: one strip 2 in wide gives four of 9 in (36 ≤ 40); a strip 9 in wide would take 9 in. derived
    strip = planned([rough("1", 9, 2)], copies=4).needs[0].strips[0]
    assert (strip.width, strip.count, strip.each) == (2, 1, 4)
    # Eighteen: five strips of 2 in are 10 in; one of 9 in gives twenty. derived
    strip = planned([rough("1", 9, 2)], copies=18).needs[0].strips[0]
    assert (strip.width, strip.count, strip.each) == (9, 1, 20)


def test_a_piece_longer_than_the_cloth_is_wide_is_cut_along_it() -> None:
    strip = planned([rough("1", 50, 3)], copies=2).needs[0].strips[0]
    assert (strip.width, strip.count, strip.each) == (50, 1, 13)


def test_a_piece_larger_both_ways_than_the_cloth_is_refused() -> None:
    with pytest.raises(LengthError, match=r"45 × 41 in .*patch 1.*usable width of 40 in"):
        planned([rough("1", 45, 41)])


def test_turned_rectangles_are_one_size() -> None:
    groups = planned([rough("1", 2, 5), rough("2", 5, 2)]).needs[0].groups
    assert [(g.patches, g.width, g.height) for g in groups] == [(("1", "2"), 5, 2)]


def test_plain_pieces_are_rounded_up_from_the_exact_size() -> None:
    # 3 in and s(2 + √2) = 3.853553, up to the next eighth. derived
    piece = plain("1", 3 + 0.25 * (2 + math.sqrt(2)), shape="half-square triangle")
    need = plan_cloth((), [piece], {"1": "linen"}).needs[0]
    assert (need.groups[0].width, need.groups[0].height, need.groups[0].pieces) == (3.875, 3.875, 2)


def test_fabrics_stand_in_the_order_of_the_legend() -> None:
    fabric_of = {"1": "sky", "2": "rust", "3": "unused", "4": "sky"}
    plan = plan_cloth([rough("2", 2, 2), rough("1", 3, 3), rough("4", 3, 3)], (), fabric_of)
    assert [need.fabric for need in plan.needs] == ["sky", "rust"]


def test_a_piece_without_fabric_is_refused() -> None:
    with pytest.raises(BlockError, match="patch 2 has no fabric"):
        plan_cloth([rough("2", 2, 2)], (), {"1": "sky"})


@pytest.mark.parametrize(("copies", "usable"), [(0, 40.0), (-1, 40.0), (1, 0.0), (1, math.nan), (1, math.inf)])
def test_no_copies_and_no_width_are_refused(copies: int, usable: float) -> None:
    with pytest.raises(LengthError):
        planned([rough("1", 2, 2)], copies, usable)

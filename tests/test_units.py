"""Laws of sizes."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.errors import LengthError
from seamproof.tolerance import SAME_POINT
from seamproof.units import MM_PER_INCH, Measure, inches, is_metric, parse_length, round_up, text, text_pair

SIXTEENTHS = st.integers(1, 16 * 60).map(lambda n: n / 16)


@given(SIXTEENTHS)
def test_what_is_written_in_sixteenths_reads_back(size: float) -> None:
    assert parse_length(text(size, Measure.SIXTEENTHS)) == size


@given(st.integers(1, 1500))
def test_what_is_written_in_millimetres_reads_back(size: int) -> None:
    assert text(parse_length(f"{size} mm"), Measure.MILLIMETRES) == f"{size} mm"


@pytest.mark.parametrize(
    ("written", "size"),
    [
        ("6 in", 6.0), ("6 1/2 in", 6.5), ("6-1/2 in", 6.5), ("1/4 in", 0.25), ('6.5"', 6.5), (".5 inch", 0.5),
        # An inch is 25.4 mm exactly. Source: W3C CSS Values and Units, absolute lengths.
        ("15 cm", 150 / 25.4), ("165 mm", 165 / 25.4),
        # A yard is 36 in. Source: from memory.
        ("1/2 yd", 18.0),
    ],
)  # fmt: skip
def test_sizes_are_read_as_makers_write_them(written: str, size: float) -> None:
    assert parse_length(written) == pytest.approx(size, rel=1e-12)


@pytest.mark.parametrize(
    "written",
    ["", "6", "six in", "6 ft", "0 in", "1/0 in", "-3 in", "nan in", "inf in", "1e9 in", "6 1/2/3 in", "6 in\n6 in",
     "9" * 5000 + " in", "٦ in"],
)  # fmt: skip
def test_what_is_no_size_is_refused(written: str) -> None:
    with pytest.raises(LengthError):
        parse_length(written)


@given(st.text(max_size=60))
def test_any_text_is_a_size_or_a_length_error(written: str) -> None:
    try:
        assert 0 < parse_length(written) < math.inf
    except LengthError as error:
        assert error.value == written


@given(st.floats(0.01, 100), st.sampled_from([1 / 8, 1 / 16, 1 / 4, 1 / 25.4, 5 / 25.4]))
def test_rounding_up_is_the_least_step_that_is_not_less(size: float, step: float) -> None:
    up = round_up(size, step)
    assert up >= size - 1e-5
    assert up - step < size
    assert round_up(up, step) == pytest.approx(up)


@given(st.integers(0, 16 * 40))
def test_a_fraction_is_written_in_lowest_terms(parts: int) -> None:
    written = inches(parts / 16, 1 / 16)
    whole, _, rest = written.rpartition(" ")
    value = Fraction(rest) + int(whole or 0)
    assert value == Fraction(parts, 16)
    assert rest == str(Fraction(rest))


def test_pairs_share_one_unit() -> None:
    assert text_pair(3.5, 5.125) == "3 1/2 × 5 1/8 in"
    assert text_pair(3.5, 5.25, Measure.MILLIMETRES) == "88.9 × 133.35 mm"  # derived: 25.4 mm to the inch


@given(st.floats(0.125, 60), st.sampled_from(Measure))
def test_what_is_written_is_the_length_or_says_about(length: float, measure: Measure) -> None:
    written = text(length, measure)
    off = abs(parse_length(written.removeprefix("about ")) - length)
    assert off <= (measure.step / 2 + SAME_POINT if written.startswith("about ") else SAME_POINT)


@given(st.integers(160, 9600), st.integers(1, 16), st.sampled_from(Measure))
def test_a_size_on_a_mark_is_written_without_about(marks: int, seam: int, measure: Measure) -> None:
    assert "about" not in text_pair(marks * measure.step, (marks + 2 * seam) * measure.step, measure)


@given(st.integers(20, 1500), st.sampled_from(["1/4 in", "1/2 in", "6 mm", "7 mm", "7.5 mm", "1 cm"]))
def test_a_size_and_two_allowances_add_up_as_they_are_printed(finished: int, allowance: str) -> None:
    seam = parse_length(allowance)
    size = finished / MM_PER_INCH
    parts = [text(part, Measure.MILLIMETRES).removesuffix(" mm") for part in (size, seam, size + 2 * seam)]
    assert Fraction(parts[0]) + 2 * Fraction(parts[1]) == Fraction(parts[2])


def test_only_metric_sizes_are_metric() -> None:
    assert [is_metric(size) for size in ("15 cm", "165mm", "1 m", "6 in", "6 1/2 in", "1 yd", '6"', "cm", "")] == [
        True, True, True, False, False, False, False, False, False,
    ]  # fmt: skip


def test_a_comma_is_answered_with_a_point() -> None:
    with pytest.raises(LengthError, match=r'write a point for the comma, as in "15\.5 cm"'):
        parse_length("15,5 cm")

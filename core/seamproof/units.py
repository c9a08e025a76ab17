"""Sizes as makers write and read them: fractions of an inch, centimetres, millimetres.

Everything inside Seamproof is in inches as float. This module is the only door in and out of other writing.
"""

from __future__ import annotations

import math
import re
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from seamproof.errors import LengthError
from seamproof.tolerance import CUT_ROUND_OFF, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Sequence

MM_PER_INCH: Final = 25.4
"""[mm/in] Exact by definition. Source: W3C CSS Values and Units, absolute lengths (1 in = 2.54 cm)."""

POINTS_PER_INCH: Final = 72
"""[1/in] A printer's point, the unit of a PDF page. Source: ISO 32000-1, 8.3.2.3: default user space is in 1/72 in."""

ALLOWANCE: Final = 1 / 4
"""[in] The seam allowance where none is asked for.

Source: University of Kentucky Cooperative Extension, impact report on a youth quilt camp, 2020 (quarter-inch seams).
"""

USABLE: Final = 40.0
"""[in] The width of cloth that is counted on, of a nominal 44. Common practice, no source."""

_UNITS: Final = {
    "in": 1.0, "inch": 1.0, "inches": 1.0, '"': 1.0,
    "cm": 10.0 / MM_PER_INCH,
    "mm": 1.0 / MM_PER_INCH,
    "yd": 36.0, "m": 1000.0 / MM_PER_INCH,
}  # fmt: skip
_LENGTH: Final = re.compile(
    r"""\s*(?:(?P<whole>\d{1,6})[\s-]+(?P<num>\d{1,4})/(?P<den>\d{1,4})
         |(?P<num2>\d{1,4})/(?P<den2>\d{1,4})
         |(?P<dec>\d{1,6}(?:\.\d{1,9})?|\.\d{1,9}))
        \s*(?P<unit>[a-z]+|")\s*""",
    re.VERBOSE | re.ASCII,
)
_HOW: Final = 'write it like "6 in", "6 1/2 in", "15 cm" or "165 mm"'


class Measure(StrEnum):
    """How sizes are written on pages."""

    EIGHTHS = "eighths"
    SIXTEENTHS = "sixteenths"
    MILLIMETRES = "millimetres"

    @property
    def step(self) -> float:
        """The step [in] to which sizes are rounded."""
        return {"eighths": 1 / 8, "sixteenths": 1 / 16, "millimetres": 1 / MM_PER_INCH}[self.value]

    @property
    def rough_step(self) -> float:
        """The step [in] to which generous pieces are rounded up: 1/4 in, or 5 mm."""
        return 5 / MM_PER_INCH if self is Measure.MILLIMETRES else 1 / 4


def parse_length(text: str) -> float:
    """Read a size as a maker writes it and give it in inches.

    >>> parse_length("6 1/2 in")
    6.5
    >>> round(parse_length("15 cm"), 4)
    5.9055

    Raises:
        LengthError: not a size, without a unit, a fraction over nothing, or not above zero.
    """
    match = _LENGTH.fullmatch(text) if len(text) <= 40 else None
    if match is None and "," in text[:40]:
        raise LengthError(f'{text[:40]!r} is not a size: write a point for the comma, as in "15.5 cm"', value=text)
    if match is None:
        raise LengthError(f"{text[:40]!r} is not a size: {_HOW}", value=text)
    unit = _UNITS.get(match["unit"])
    if unit is None:
        raise LengthError(f"{text!r}: unit {match['unit']!r} is not known: {_HOW}", value=text)
    if match["dec"] is not None:
        number = float(match["dec"])
    else:
        below = int(match["den"] or match["den2"])
        if below == 0:
            raise LengthError(f"{text!r} is a fraction over 0: {_HOW}", value=text)
        number = int(match["whole"] or 0) + int(match["num"] or match["num2"]) / below
    if number <= 0:
        raise LengthError(f"{text!r} must be above zero", value=text)
    return number * unit


def round_up(length: float, step: float) -> float:
    """The least multiple of `step` [in] that is not less than `length` [in], round-off taken off first.

    >>> round_up(6.853553, 1 / 8)
    6.875
    >>> round_up(6.5, 1 / 8)
    6.5
    """
    return math.ceil((length - CUT_ROUND_OFF) / step) * step


def inches(length: float, step: float = 1 / 8) -> str:
    """Write a length [in] as a mixed fraction, to the nearest `step` (a unit fraction), without the unit.

    >>> inches(6.5), inches(0.3125, 1 / 16), inches(0.0), inches(5.0)
    ('6 1/2', '5/16', '0', '5')
    """
    parts = round(1 / step)
    value = Fraction(round(length * parts), parts)
    sign, value = ("-" if value < 0 else ""), abs(value)
    whole, rest = divmod(value, 1)
    if rest == 0:
        return f"{sign}{whole}"
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def is_metric(size: str) -> bool:
    """Whether a size is written in millimetres, centimetres or metres.

    >>> is_metric("15 cm"), is_metric("6 in")
    (True, False)
    """
    match = _LENGTH.fullmatch(size) if len(size) <= 40 else None
    return match is not None and match["unit"] in {"mm", "cm", "m"}


def text(length: float, measure: Measure = Measure.EIGHTHS) -> str:
    """A length [in] as words for a page, with its unit, and with "about" where it is not exactly what is written.

    In millimetres a length is written whole, or to a hundredth where it is just that; one of which a ruler shows
    neither is rounded, to a tenth under SHORT and else to a whole one.

    >>> text(6.5), text(6.5, Measure.MILLIMETRES), text(1 / 4, Measure.MILLIMETRES)
    ('6 1/2 in', '165.1 mm', '6.35 mm')
    >>> text(15 / 2.54), text(2.8284, Measure.MILLIMETRES)
    ('about 5 7/8 in', 'about 72 mm')
    """
    return _about([length], measure) + rounded_text(length, measure)


def rounded_text(length: float, measure: Measure = Measure.EIGHTHS) -> str:
    """A length [in] as words without "about", for a sentence that says it already.

    >>> rounded_text(15 / 2.54)
    '5 7/8 in'
    """
    return f"{_figure(length, measure, _is_written(length, measure))} {_unit(measure)}"


def text_pair(width: float, height: float, measure: Measure = Measure.EIGHTHS) -> str:
    """Two lengths [in] as one size for a page, with "about" where one of them is not exactly what is written.

    >>> text_pair(3.5, 5.125), text_pair(3.5, 5.12)
    ('3 1/2 × 5 1/8 in', 'about 3 1/2 × 5 1/8 in')
    """
    sides = [width, height]
    are_written = all(_is_written(side, measure) for side in sides)
    figures = " × ".join(_figure(side, measure, are_written) for side in sides)
    return f"{_about(sides, measure)}{figures} {_unit(measure)}"


SHORT: Final = 20 / MM_PER_INCH
"""[in] A rounded length under this is written to a tenth of a millimetre: half a millimetre of a seam is seen."""


def _about(lengths: Sequence[float], measure: Measure) -> str:
    return "" if all(_is_written(length, measure) for length in lengths) else "about "


def _is_written(length: float, measure: Measure) -> bool:
    """Whether a length is, within round-off, just what a page writes for it."""
    off = abs(length - round(length / measure.step) * measure.step)
    if measure is Measure.MILLIMETRES and off > SAME_POINT:
        return abs(length - round(length * MM_PER_INCH, 2) / MM_PER_INCH) <= CUT_ROUND_OFF
    return off <= SAME_POINT


def _figure(length: float, measure: Measure, is_written: bool) -> str:
    if measure is not Measure.MILLIMETRES:
        return inches(length, measure.step)
    millimetres = length * MM_PER_INCH
    if abs(millimetres - round(millimetres)) <= SAME_POINT * MM_PER_INCH:
        return f"{millimetres:.0f}"
    if is_written:
        return f"{millimetres:.2f}".rstrip("0").rstrip(".")
    return f"{millimetres:.1f}" if abs(length) < SHORT else f"{millimetres:.0f}"


def _unit(measure: Measure) -> str:
    return "mm" if measure is Measure.MILLIMETRES else "in"

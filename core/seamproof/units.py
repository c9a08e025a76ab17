"""Sizes as makers write and read them: fractions of an inch, centimetres, millimetres.

Everything inside Seamproof is in inches as float. This module is the only door in and out of other writing.
"""

from __future__ import annotations

import math
import re
from enum import StrEnum
from fractions import Fraction
from typing import Final

from seamproof.errors import LengthError
from seamproof.tolerance import CUT_ROUND_OFF

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


def text(length: float, measure: Measure = Measure.EIGHTHS) -> str:
    """A length [in] as words for a page, with its unit.

    >>> text(6.5), text(6.5, Measure.MILLIMETRES)
    ('6 1/2 in', '165 mm')
    """
    if measure is Measure.MILLIMETRES:
        return f"{length * MM_PER_INCH:.0f} mm"
    return f"{inches(length, measure.step)} in"


def text_pair(width: float, height: float, measure: Measure = Measure.EIGHTHS) -> str:
    """Two lengths [in] as one size for a page.

    >>> text_pair(3.5, 5.125)
    '3 1/2 × 5 1/8 in'
    """
    if measure is Measure.MILLIMETRES:
        return f"{width * MM_PER_INCH:.0f} × {height * MM_PER_INCH:.0f} mm"
    return f"{inches(width, measure.step)} × {inches(height, measure.step)} in"

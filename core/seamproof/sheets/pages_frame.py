"""A template page before anything lies on it: its margins, rules, test square and the room that is left."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from seamproof.sheets.ink import TEST
from seamproof.sheets.options import EDGE, FOOT, PAPERS, RULE, RULE_CM
from seamproof.sheets.sketch import Pad
from seamproof.units import MM_PER_INCH

if TYPE_CHECKING:
    from seamproof.recipe.model import Paper
    from seamproof.sheets.sketch import Sketch

Shape: TypeAlias = Literal["upright", "upright wide", "across", "across wide"]
"""How the page is held, and whether templates use its whole width, with a shorter rule down."""

SQUARE: Final = 1.0
"""[in] The side of the test square."""
GAP: Final = 0.5
"""[in] At least this is left between two templates, so that both can be cut out roughly first."""
CAPTION: Final = 0.2
"""[in] Kept free under a template for its name."""
RULE_HALF: Final = 0.015
"""[in] How far the inch line and the centimetre line of a rule stand from its middle."""
TICK_REACH: Final = (0.11, 0.08)
"""[in] How far the tick of a whole inch, and of a whole centimetre, stands out from its line."""
_RULE_DEPTH: Final = 0.42
_BESIDE_RULE: Final = 0.12
_NARROW_MARGIN: Final = 0.1
"""[in] Room at a rule's ends for its first and last figure."""


@dataclass(frozen=True)
class Rule:
    """A rule of inches above its line and of centimetres below it.

    Attributes:
        x: The left end of its inch line, or the upper one [in from the page's left].
        y: The same from the page's top [in].
        inches: How many inches it shows.
        centimetres: How many centimetres.
        down: Whether it runs down the page.
    """

    x: float
    y: float
    inches: float
    centimetres: float
    down: bool

    @property
    def length(self) -> float:
        """How long the longer of its lines is [in]."""
        return max(self.inches, self.centimetres * 10 / MM_PER_INCH)


@dataclass(frozen=True)
class Frame:
    """A template page in true inches: the paper, divided by the correction for the printer.

    Attributes:
        width: The page's width [in].
        height: Its height [in].
        margins: Left, top, right, bottom [in]: what printers leave white.
        header: The height of the lines at its head [in].
        footer: The height of the lines at its foot [in].
        band: The height of the strip with the rule across, the square and the table [in].
        is_wide: Whether the rule down stands in the strip, and not in a column of its own.
    """

    width: float
    height: float
    margins: tuple[float, float, float, float]
    header: float
    footer: float
    band: float
    is_wide: bool

    @classmethod
    def of(cls, paper: Paper, shape: Shape, stretch: tuple[float, float], *, large: bool, footer: float) -> Frame:
        """The page of a paper held in a way, for a correction across and down; `footer` [in] is kept at its foot."""
        width, height = PAPERS[paper]
        if shape.startswith("across"):
            width, height = height, width
        fx, fy = stretch
        margins = (EDGE / fx, EDGE / fy, EDGE / fx, FOOT / fy)
        header, band = (0.72, 1.62) if large else (0.5, 1.2)
        return cls(width / fx, height / fy, margins, header, footer, band, shape.endswith("wide"))

    @property
    def left(self) -> float:
        """Where the room for templates begins, from the left [in]."""
        return self.margins[0] + (0.0 if self.is_wide else _RULE_DEPTH + _BESIDE_RULE)

    @property
    def top(self) -> float:
        """Where the room for templates begins, from the top [in]."""
        return self.margins[1] + self.header

    @property
    def band_top(self) -> float:
        """Where the strip with the rule across begins, from the top [in]."""
        return self.height - self.margins[3] - self.footer - self.band

    @property
    def room(self) -> tuple[float, float]:
        """The width and height left for templates [in]."""
        return (self.width - self.margins[2] - self.left, self.band_top - CAPTION - self.top)

    @property
    def square(self) -> tuple[float, float]:
        """Where the test square's upper left corner lies [in]."""
        return (self.width - self.margins[2] - SQUARE - 0.03, self.band_top + 0.06)

    def rules(self, free: float = 0.0) -> tuple[Rule, Rule]:
        """The rule across and the rule down; `free` [in] is left of the room above the strip on a wide page."""
        bottom = self.height - self.margins[3] - self.footer
        if self.is_wide:
            top = self.band_top - max(0.75 * CAPTION, free - CAPTION)
            x = self.square[0] - _RULE_DEPTH / 2 - 0.04
        else:
            top, x = self.top, self.margins[0] + _RULE_DEPTH / 2 + 0.03
        long = bottom - top - 2 * _NARROW_MARGIN
        inches = min(RULE, math.floor(long))
        centimetres = min(RULE_CM, math.floor(long * MM_PER_INCH / 10))
        down = Rule(x, top + _NARROW_MARGIN, inches, centimetres, down=True)
        beside = not self.is_wide and down.y + down.length + _BESIDE_RULE > self.band_top
        start = self.margins[0] + _NARROW_MARGIN + (_RULE_DEPTH + _BESIDE_RULE if beside else 0.0)
        return Rule(start, self.band_top + 0.2, RULE, RULE_CM, down=False), down


def rule_sketch(rule: Rule, *, large: bool = False) -> tuple[Sketch, tuple[float, float]]:
    """A rule, and where on the page its sketch's upper left corner lies [in].

    The inch line and the centimetre line are one path each, exactly as long as the rule says.
    """
    depth, end, small = _RULE_DEPTH / 2, _NARROW_MARGIN + 0.04, 7.0 if large else 6.0
    long = rule.length
    box = (0.0, 0.0, depth * 2, long) if rule.down else (0.0, 0.0, long, depth * 2)
    pad = Pad(box, margin=end)
    middle = depth + end

    def at(along: float, across: float) -> tuple[float, float]:
        return (middle + across, end + along) if rule.down else (end + along, middle + across)

    inch_side, cm_side = (-RULE_HALF, RULE_HALF)
    pad.marks([(at(0, inch_side), at(rule.inches, inch_side))], TEST, kind="rule-inches")
    pad.marks([(at(0, cm_side), at(rule.centimetres * 10 / MM_PER_INCH, cm_side))], TEST, kind="rule-centimetres")
    eighths = range(round(rule.inches * 8) + 1)
    reach = {0: TICK_REACH[0], 4: 0.075, 2: 0.05, 6: 0.05}
    pad.marks([(at(i / 8, inch_side), at(i / 8, inch_side - reach.get(i % 8, 0.03))) for i in eighths], TEST)
    halves = range(round(rule.centimetres * 2) + 1)
    half = 5 / MM_PER_INCH
    pad.marks(
        [(at(i * half, cm_side), at(i * half, cm_side + (0.04 if i % 2 else TICK_REACH[1]))) for i in halves], TEST
    )
    inch_text, cm_text = inch_side - 0.165, cm_side + 0.14
    for i in range(round(rule.inches) + 1):
        pad.write(str(i), at(i, inch_text), small)
    for i in range(0, round(rule.centimetres) + 1, 5 if rule.centimetres >= 5 else 1):
        pad.write(str(i), at(i * 2 * half, cm_text), small)
    aside = 0.11 if rule.down else 0.13
    pad.write("in", at(rule.inches + aside, inch_text), small)
    pad.write("cm", at(rule.centimetres * 2 * half + aside, cm_text), small)
    way = "down" if rule.down else "across"
    alt = f"A rule {way} the page, {rule.inches:g} inches and {rule.centimetres:g} centimetres long."
    corner = (rule.x - middle, rule.y - end) if rule.down else (rule.x - end, rule.y - middle)
    return pad.sketch(f"Rule {way}", alt), corner

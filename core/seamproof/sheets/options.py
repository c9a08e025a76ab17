"""What a maker may ask of a handout: paper, hand, size of print, words alone, a font, and their printer's measure."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from seamproof.errors import PrintError
from seamproof.units import MM_PER_INCH, inches

if TYPE_CHECKING:
    from pathlib import Path

    from seamproof.recipe.model import Paper

PAPERS: Final[dict[Paper, tuple[float, float]]] = {
    "letter": (8.5, 11.0),
    "a4": (210 / MM_PER_INCH, 297 / MM_PER_INCH),
}
"""[in] Source: Letter, ANSI/ASME Y14.1; A4, ISO 216."""
PAPER_NAMES: Final[dict[Paper, str]] = {"letter": "Letter", "a4": "A4"}

EDGE: Final = 0.25
"""[in] What printers leave white at the sides and the head of a page."""
FOOT: Final = 0.5
"""[in] What printers leave white at the foot of a page."""

RULE: Final = 6.0
"""[in] The rule a maker measures; long enough to show a wrong scale that a 1 in square hides."""
RULE_CM: Final = 15.0
"""[cm] The other one."""
CORRECTABLE: Final = 0.03
"""[1] How far off a printer may be and still be corrected; beyond that a setting is wrong, not a printer."""
_NAMED: Final = 0.003
"""[1] How near a printer's scale must be to that of a wrong setting for the setting to be named."""


@dataclass(frozen=True)
class HandoutOptions:
    """How a handout is made.

    Attributes:
        paper: What it is printed on; None: as the recipe says.
        left_handed: Whether cutting pictures are mirrored (templates never are).
        large_print: Whether the text is large; templates keep their size.
        text_only: Whether the steps are told in words alone.
        printed: What the two 6 in rules measured on paper, across and down [in]; the template pages are then
            corrected for that printer.
        font: A font file for characters that the shipped one lacks.
    """

    paper: Paper | None = None
    left_handed: bool = False
    large_print: bool = False
    text_only: bool = False
    printed: tuple[float, float] | None = None
    font: Path | None = None


@dataclass(frozen=True)
class WrongSetting:
    """A setting that prints at a wrong scale, and how it is known."""

    scale: float
    words: str


_NUMBER: Final = r"(\d{1,3}(?:\.\d{1,6})?|\d{1,3}[ -]\d{1,2}/\d{1,3}|\d{1,2}/\d{1,3})"
_PRINTED: Final = re.compile(rf"\s*{_NUMBER}\s*(?:in)?\s*[x×X]\s*{_NUMBER}\s*(?:in)?\s*", re.ASCII)


def parse_printed(text: str) -> tuple[float, float]:
    """Read what the two 6 in rules measured, such as "5.97x5.98" or "5 15/16 x 6" [in].

    Raises:
        PrintError: it is not two sizes above zero.
    """
    match = _PRINTED.fullmatch(text) if len(text) <= 40 else None
    how = "write what the 6 in rules measured across and down, like 5.97x5.98"
    if match is None:
        raise PrintError(f"{text[:40]!r} is not two sizes: {how}")
    try:
        across, down = _number(match[1]), _number(match[2])
    except ZeroDivisionError:
        raise PrintError(f"{text!r} holds a fraction over 0: {how}") from None
    if not (across > 0 and down > 0):
        raise PrintError(f"{text!r} holds a size of 0: {how}")
    return across, down


def wrong_settings(paper: Paper) -> tuple[WrongSetting, ...]:
    """The wrong settings that pages of this paper are most often printed with, by scale from the largest.

    A page fitted into a smaller box is scaled by the lesser of the two ratios of their sides.
    """
    width, height = PAPERS[paper]
    other: Paper = "letter" if paper == "a4" else "a4"
    other_width, other_height = PAPERS[other]
    fitted = min(other_width / width, other_height / height)
    inside = min((width - 2 * EDGE) / width, (height - 2 * EDGE) / height)
    found = (
        WrongSetting(fitted, f"{PAPER_NAMES[paper]} pages were fitted on {PAPER_NAMES[other]} paper"),
        WrongSetting(inside, "the page was fitted inside the printer’s margins (“fit to page”)"),
    )
    return tuple(sorted(found, key=lambda setting: -setting.scale))


def correction(printed: tuple[float, float] | None, paper: Paper) -> tuple[float, float]:
    """By what template pages are stretched across and down so that a printer's own error is undone.

    Raises:
        PrintError: the printer is more than 3 % off; the message names the setting that is wrong.
    """
    if printed is None:
        return (1.0, 1.0)
    scales = (printed[0] / RULE, printed[1] / RULE)
    if max(abs(scale - 1) for scale in scales) <= CORRECTABLE:
        return (1 / scales[0], 1 / scales[1])
    measured = f"the 6 in rules measured {printed[0]:g} in across and {printed[1]:g} in down"
    named = [
        setting.words for setting in wrong_settings(paper) if all(abs(s - setting.scale) <= _NAMED for s in scales)
    ]
    cause = f": {', or '.join(named)}" if named else ""
    raise PrintError(
        f"{measured}{cause}. That is a wrong setting, not a printer’s own error, of which up to 3 % "
        f"({inches(RULE * (1 - CORRECTABLE), 1 / 16)} to {inches(RULE * (1 + CORRECTABLE), 1 / 16)} in) is corrected: "
        f"print again on {PAPER_NAMES[paper]} paper at “actual size” (100 %), then measure again"
    )


def _number(text: str) -> float:
    whole, _, fraction = text.replace("-", " ").rpartition(" ")
    above, _, below = fraction.partition("/")
    return float(whole or 0) + (float(above) / float(below) if below else float(above))

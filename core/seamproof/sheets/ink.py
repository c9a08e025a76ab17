"""Every line weight, dash and tone of the drawings: one place, so that all pages look drawn by one hand."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

POINT: Final = 1 / 72
"""[in] A printer's point."""

BLACK: Final = "#1a1a1a"
SHADE: Final = "#454545"
GREY: Final = "#6f6f6f"
PALE: Final = "#b8b8b8"
WHITE: Final = "#ffffff"
PAPER: Final = "#f3f1ec"
"""The unprinted side of a paper: just off white, so that it is told from the printed side."""


@dataclass(frozen=True, slots=True)
class Ink:
    """How a shape is drawn.

    Attributes:
        fill: Its fill as #rrggbb; None: not filled.
        stroke: Its line as #rrggbb; None: no line.
        weight: The line's weight [in].
        dash: Lengths of dashes and gaps [in]; none: solid.
        round: Whether line ends and corners are round; else ends are cut square and corners are mitred.
        opacity: How much of what lies below its fill hides, from 0 to 1.
    """

    fill: str | None = None
    stroke: str | None = BLACK
    weight: float = 0.75 * POINT
    dash: tuple[float, ...] = ()
    round: bool = False
    opacity: float = 1.0

    def filled(self, fill: str | None) -> Ink:
        """The same line round this fill."""
        return replace(self, fill=fill)


CUT: Final = Ink(weight=1.25 * POINT)
"""The cut line of a template: solid, the heaviest line on it."""
FINISHED: Final = Ink(weight=0.6 * POINT, dash=(5 * POINT, 3 * POINT))
"""The finished line of a template: thin and dashed."""
SEWING: Final = Ink(weight=0.7 * POINT)
"""A sewing line on a foundation: thin and solid."""
TICK: Final = Ink(weight=1.0 * POINT)
LEADER: Final = Ink(stroke=GREY, weight=0.4 * POINT)
TEST: Final = Ink(weight=0.6 * POINT)

SEAM: Final = Ink(weight=0.4 * POINT, round=True)
"""A seam in a picture of cloth."""
BORDER: Final = Ink(weight=1.0 * POINT)
"""The outline of a block or of a section in a picture."""
LINE: Final = Ink(weight=0.75 * POINT, round=True)
"""A line of a drawing to colour."""
SECTION: Final = Ink(weight=1.6 * POINT, round=True)
"""Where two sections meet, in the overview."""

RAW: Final = Ink(weight=0.5 * POINT, round=True)
"""The raw edge of a piece of cloth."""
HIDDEN: Final = Ink(stroke=GREY, weight=0.5 * POINT, dash=(2.4 * POINT, 1.8 * POINT))
"""An edge or a line that is seen through paper or cloth."""
PRINTED: Final = Ink(stroke=GREY, weight=0.4 * POINT)
"""A printed line that is not the one being sewn."""
STITCHED: Final = Ink(weight=1.6 * POINT, dash=(3.6 * POINT, 1.8 * POINT))
"""The line being sewn."""
FOLD: Final = Ink(weight=1.2 * POINT)
BLADE: Final = Ink(weight=1.0 * POINT, dash=(5 * POINT, 2 * POINT, 1 * POINT, 2 * POINT))
"""Where the cutter goes: dash and dot."""
GONE: Final = Ink(stroke=GREY, weight=0.4 * POINT, dash=(1 * POINT, 1.5 * POINT))
"""What has been cut away."""
ARROW: Final = Ink(weight=1.1 * POINT, round=True)

"""A sketch cut down to what is on it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.sheets.leaders import frame_of

if TYPE_CHECKING:
    from seamproof.sheets.sketch import Sketch

_EDGE: Final = 0.03
"""[in] Kept round what is drawn."""


def cropped(sketch: Sketch) -> Sketch:
    """The sketch without the empty room round its shapes and labels."""
    boxes = [shape.bounds for shape in sketch.shapes] + [frame_of(label) for label in sketch.labels]
    left, top = min(box[0] for box in boxes) - _EDGE, min(box[1] for box in boxes) - _EDGE
    right, bottom = max(box[2] for box in boxes) + _EDGE, max(box[3] for box in boxes) + _EDGE
    return sketch.window(left, top, right - left, bottom - top)

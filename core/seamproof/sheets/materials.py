"""Cloth and paper as the pictures of the steps show them, cut off where the picture ends.

Cloth shows its right side plain and its wrong side pale and hatched.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from seamproof.geometry.points import along
from seamproof.sheets.clip import inside_box, segment_in_box
from seamproof.sheets.hatches import hatch
from seamproof.sheets.ink import GREY, POINT, RAW, Ink
from seamproof.sheets.lettering import fit_text
from seamproof.sheets.sketch import around
from seamproof.tolerance import SAME_POINT
from seamproof.tones import tint

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.geometry import Point
    from seamproof.sheets.lettering import Segment
    from seamproof.sheets.sketch import Box, Pad

WRONG: Final = 0.16
"""[1] How strong a colour shows on the wrong side."""
WRONG_HATCH: Final = Ink(stroke=GREY, weight=0.35 * POINT)
NAME_SIZES: Final = (9.0, 8.0, 7.0)
"""[pt] The letters of a name, the largest that fits."""
_WRONG_STEP: Final = 0.042


def draw_line(pad: Pad, p: Point, q: Point, ink: Ink, box: Box, *, kind: str = "") -> None:
    """A stretch as far as it lies in the box."""
    part = segment_in_box(p, q, box)
    if part:
        pad.line(*part, ink, kind=kind)


def right_side(
    pad: Pad, ring: Sequence[Point], colour: str, box: Box, *, strength: float = 1.0, ink: Ink = RAW
) -> None:
    """A piece face up, its colour at a `strength` from 0 (white) to 1."""
    draw_ring(pad, ring, ink.filled(tint(colour, strength)), box)


def wrong_side(pad: Pad, ring: Sequence[Point], colour: str, box: Box, ink: Ink = RAW) -> None:
    """A piece face down."""
    seen = inside_box(ring, box)
    if seen:
        draw_ring(pad, seen, Ink(fill=tint(colour, WRONG), stroke=None), box)
        hatch_wrong_side(pad, seen)
        draw_ring(pad, seen, ink, box)


def hatch_wrong_side(pad: Pad, ring: Sequence[Point]) -> None:
    """The hatch that says wrong side, over a ring of points of the block."""
    pad.marks(hatch(1, tuple(map(pad.place.point, ring)), _WRONG_STEP), WRONG_HATCH, kind="wrong-side")


def draw_ring(pad: Pad, ring: Sequence[Point], ink: Ink, box: Box) -> None:
    """A ring as far as it lies in the box, without a line where the box cuts it off."""
    seen = inside_box(ring, box)
    if not seen:
        return
    if ink.fill:
        pad.outline(seen, replace(ink, stroke=None))
    sides = zip(seen, (*seen[1:], seen[0]), strict=True)
    pad.marks(
        [(pad.place.point(a), pad.place.point(b)) for a, b in sides if not _on_side(a, b, box)], replace(ink, fill=None)
    )


def write_name(pad: Pad, name: str, ring: Sequence[Point], *, avoid: Sequence[Segment] = ()) -> None:
    """The patch's name, near the middle of what is seen of its piece, clear of what is drawn there already."""
    if not ring:
        return
    seen = tuple(map(pad.place.point, ring))
    centre = (sum(x for x, _ in seen) / len(seen), sum(y for _, y in seen) / len(seen))
    places = [centre, *(along(centre, corner, share) for share in (0.25, 0.4, 0.55) for corner in seen)]
    for outline, clear in ((seen, 0.04), (seen, 0.0), (_roomy(seen), 0.0)):
        fit = fit_text(name, outline, places, NAME_SIZES, turned=False, avoid=avoid, clear=clear)
        if fit:
            pad.write(name, fit.at, fit.size, weight="bold", halo=True)
            return
    pad.write(name, centre, NAME_SIZES[-1], weight="bold", halo=True)


def _roomy(ring: Sequence[Point]) -> tuple[Point, ...]:
    """A box well round a ring, for a name that its piece is too narrow for."""
    return corners_of(around(ring, 0.15))


def corners_of(box: Box) -> tuple[Point, ...]:
    """The four corners of a box, anticlockwise."""
    x0, y0, x1, y1 = box
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def _on_side(a: Point, b: Point, box: Box) -> bool:
    return any(max(abs(a[i % 2] - box[i]), abs(b[i % 2] - box[i])) <= SAME_POINT for i in range(4))

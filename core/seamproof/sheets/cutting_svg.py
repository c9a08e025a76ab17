"""Pictures of cutting and folding: a square halved or quartered, a strip cut up, a paper folded on its line."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Final

from seamproof.sheets.arrows import draw_arrow
from seamproof.sheets.ink import BLADE, FOLD, GREY, HIDDEN, PAPER, POINT, PRINTED, RAW, WHITE, Ink
from seamproof.sheets.materials import WRONG, hatch_wrong_side
from seamproof.sheets.sketch import Pad
from seamproof.tones import tint

if TYPE_CHECKING:
    from seamproof.geometry import Point
    from seamproof.sheets.sketch import Sketch

_CLOTH: Final = "#e9e6df"
"""Any fabric: a pale tone that prints as a light grey."""
_SIZE: Final = 8.0
_MEASURE: Final = Ink(stroke=GREY, weight=0.5 * POINT, round=True)
_SIDE: Final = 1.0
_ROOM: Final = 0.2


def halved_square_sketch(side: str, *, colour: str = _CLOTH) -> Sketch:
    """A square cut once corner to corner, with its `side` as words for a page."""
    pad = _square(side, colour)
    pad.line((0, 0), (_SIDE, _SIDE), BLADE, kind="blade")
    return pad.sketch("A square halved", f"A square of {side} cut once, corner to corner: two triangles.")


def quartered_square_sketch(side: str, *, colour: str = _CLOTH) -> Sketch:
    """A square cut twice corner to corner, with its `side` as words for a page."""
    pad = _square(side, colour)
    pad.line((0, 0), (_SIDE, _SIDE), BLADE, kind="blade")
    pad.line((0, _SIDE), (_SIDE, 0), BLADE, kind="blade")
    return pad.sketch("A square quartered", f"A square of {side} cut twice, corner to corner: four triangles.")


def strip_sketch(
    width: str,
    piece: str,
    *,
    pieces: int = 3,
    ratio: float = 1.0,
    left_handed: bool = False,
    colour: str = _CLOTH,
) -> Sketch:
    """A strip cut into rectangles, measured from its squared end.

    Args:
        width: How wide the strip is, as words for a page.
        piece: How long each rectangle is cut, likewise.
        pieces: How many rectangles the strip gives; at most four are drawn.
        ratio: A rectangle's length over the strip's width.
        left_handed: Whether the squared end and the pieces lie at the right, as a left-handed cutter has them.
        colour: The fabric's colour.
    """
    high = 0.55
    long = min(max(ratio * high, 0.3), 1.1)
    drawn = max(1, min(pieces, 4, int(2.6 / long)))
    total = drawn * long + 0.45
    pad = Pad(
        (0, 0, total, high),
        mirrored=left_handed,
        margin=(0.1, 0.06, 0.85, 0.3) if left_handed else (0.85, 0.06, 0.1, 0.3),
    )
    torn = _torn(total, high)
    pad.outline(torn, Ink(fill=colour, stroke=None))
    for a, b in ((torn[-1], torn[0]), (torn[0], torn[1]), (torn[-2], torn[-1])):
        pad.line(a, b, RAW, kind="raw-edge")
    for a, b in pairwise(torn[1:-1]):
        pad.line(a, b, Ink(stroke=GREY, weight=0.4 * POINT))
    for i in range(1, drawn + 1):
        pad.line((i * long, -0.05), (i * long, high + 0.05), BLADE, kind="blade")
    below, beside = -0.12, -0.1
    _measure(pad, (0, below), (long, below), piece, (long / 2, -0.22))
    _measure(pad, (beside, 0), (beside, high), "", (0, 0))
    at = pad.place.point((beside - 0.06, high / 2))
    pad.write(width, at, _SIZE, anchor="start" if left_handed else "end")
    hand = "right" if left_handed else "left"
    return pad.sketch(
        "A strip cut up", f"A strip of {width} cut into pieces of {piece}, measured from its squared {hand} end."
    )


def fold_sketch() -> Sketch:
    """A printed paper folded back along a sewing line over the edge of a card."""
    pad = Pad((0, 0, 1.5, 1.15), margin=0.06)
    ring = ((0.1, 0.0), (1.4, 0.0), (1.4, 0.62), (0.1, 0.62))
    pad.outline(ring, RAW.filled(WHITE), kind="paper")
    pad.outline(((0.1, 0.62), (1.4, 0.62), (1.28, 0.26), (0.22, 0.26)), RAW.filled(PAPER), kind="flap")
    pad.line((0.1, 0.62), (1.4, 0.62), FOLD, kind="fold")
    pad.line((0.1, 0.13), (1.4, 0.13), PRINTED)
    pad.outline(((0.1, 0.62), (1.4, 0.62), (1.4, 1.05), (0.1, 1.05)), HIDDEN, kind="before")
    start, end = pad.place.point((0.75, 0.98)), pad.place.point((0.75, 0.4))
    draw_arrow(pad, start, end, bulge=-0.35)
    return pad.sketch("A paper folded on its line", "The paper is folded back on the printed line, printed side in.")


def key_sketch(colour: str = "#8fa7b5", columns: int = 4) -> Sketch:
    """What the pictures of the steps show: right side, wrong side, printed side and blank side; columns 1, 2 or 4."""
    names = ("right side", "wrong side", "paper, printed", "paper, blank")
    rows = len(names) // columns
    pad = Pad((0, 0, 1.24 * columns - 0.06, 0.45 * rows - 0.15), margin=0.03)
    for i, name in enumerate(names):
        x, y = 1.24 * (i % columns), 0.45 * (rows - 1 - i // columns)
        ring: tuple[Point, ...] = ((x, y), (x + 0.34, y), (x + 0.34, y + 0.3), (x, y + 0.3))
        fill = (tint(colour, 0.6), tint(colour, WRONG), WHITE, PAPER)[i]
        pad.outline(ring, Ink(fill=fill, stroke=None))
        if i == 1:
            hatch_wrong_side(pad, ring)
        if i >= 2:
            ink = PRINTED if i == 2 else HIDDEN
            pad.line((x, y + 0.08), (x + 0.34, y + 0.22), ink)
        pad.outline(ring, RAW)
        pad.write(name, pad.place.point((x + 0.4, y + 0.15)), _SIZE, anchor="start")
    return pad.sketch("Key to the pictures", f"How the pictures show {', '.join(names)}.")


def _square(side: str, colour: str) -> Pad:
    pad = Pad((0, 0, _SIDE, _SIDE), margin=(_ROOM, 0.06, _ROOM, 0.3))
    pad.outline(((0, 0), (_SIDE, 0), (_SIDE, _SIDE), (0, _SIDE)), RAW.filled(tint(colour, 1.0)), kind="raw-edge")
    _measure(pad, (0, -0.11), (_SIDE, -0.11), side, (_SIDE / 2, -0.21))
    return pad


def _torn(total: float, high: float) -> tuple[Point, ...]:
    """A strip whose far end goes on: its edge is drawn as a broken line."""
    jag = (0.0, 0.05, -0.04, 0.05, 0.0)
    far = [(total + jag[i], high * i / 4) for i in range(5)]
    return ((0.0, 0.0), *far, (0.0, high))


def _measure(pad: Pad, p: Point, q: Point, text: str, at: Point) -> None:
    """A measure from p to q with a head at either end."""
    draw_arrow(pad, pad.place.point(p), pad.place.point(q), ink=_MEASURE, both=True)
    if text:
        pad.write(text, pad.place.point(at), _SIZE)

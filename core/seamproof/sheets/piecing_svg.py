"""Pictures of units made several at a time: what is laid on what, where it is sewn, where it is cut."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from seamproof.geometry.points import add, along, left, sub, times, unit
from seamproof.sheets.arrows import draw_arrow
from seamproof.sheets.clip import inside_box
from seamproof.sheets.ink import BLADE, GREY, POINT, RAW, SEAM, STITCHED, Ink
from seamproof.sheets.materials import WRONG, hatch_wrong_side
from seamproof.sheets.sketch import Pad
from seamproof.tones import tint

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.geometry import Point
    from seamproof.sheets.sketch import Box, Sketch

_STRENGTH: Final = 0.6
_DRAWN: Final = Ink(weight=0.7 * POINT)
"""A line drawn with a pencil, on which is cut afterwards."""
_SEWN: Final = replace(STITCHED, weight=1.1 * POINT, dash=(2.6 * POINT, 1.6 * POINT))
_MEASURE: Final = Ink(stroke=GREY, weight=0.5 * POINT, round=True)
_SIZE: Final = 8.0
_PEEP: Final = 0.035
"""[1] How much of a lower square shows beside the upper one, as a part of its side."""


@dataclass(frozen=True)
class Cloth:
    """A fabric as pictures show it: its letter and its colour."""

    letter: str
    colour: str


def pair_sketch(
    upper: Cloth, lower: Cloth, side: float, allowance: float, size: str, *, room: float, eight: bool = False
) -> Sketch:
    """Two squares right sides together, a line from corner to corner, a seam on either side of it.

    Args:
        upper: The fabric that lies on top, wrong side up.
        lower: The other.
        side: The side of the squares [in].
        allowance: The seam allowance [in].
        size: The side as words for a page.
        room: The most width and height it may have [in].
        eight: Whether both lines from corner to corner are drawn and sewn, for eight units.
    """
    pad = _pad((0, 0, side * (1 + _PEEP), side * (1 + _PEEP)), room)
    _right(pad, _square((side * _PEEP, side * _PEEP), side), lower)
    _wrong(pad, _square((0, 0), side), upper)
    _line_and_seams(pad, (0, side), (side, 0), allowance)
    if eight:
        _line_and_seams(pad, (0, 0), (side, side), allowance)
        over, half = side * _PEEP, side / 2
        pad.line((half, -over), (half, side + over), BLADE, kind="blade")
        pad.line((-over, half), (side + over, half), BLADE, kind="blade")
    _name(pad, upper, (0.16 * side, 0.5 * side + 0.13 * side) if eight else (0.3 * side, 0.25 * side))
    _measure(pad, (0, 0), (side, 0), size)
    lines = "both lines from corner to corner and a seam on either side of each, cut in four through the middle"
    return pad.sketch(
        "A pair of squares",
        f"A square of {size} of fabric {upper.letter} on one of {lower.letter}, right sides together, with "
        f"{lines if eight else 'a line from corner to corner and a seam on either side of it'}.",
    )


def crossed_sketch(
    upper: tuple[Cloth, Cloth], lower: tuple[Cloth, Cloth], side: float, allowance: float, room: float
) -> Sketch:
    """Two squares of two triangles right sides together, seam on seam, a line drawn across the seam.

    Args:
        upper: The fabrics of the upper square, that at the lower left first; its wrong side is up. Two that are the
            same are a whole square.
        lower: Those of the lower square, in the same places.
        side: The side of the squares [in].
        allowance: The seam allowance [in].
        room: The most width and height it may have [in].
    """
    pad = _pad((0, 0, side * (1 + _PEEP), side * (1 + _PEEP)), room)
    for (first, second), (x, y), draw in (
        (lower, (side * _PEEP, side * _PEEP), _right), (upper, (0.0, 0.0), _wrong),
    ):  # fmt: skip
        if first == second:
            draw(pad, _square((x, y), side), first)
            continue
        draw(pad, ((x, y), (x + side, y), (x, y + side)), first)
        draw(pad, ((x + side, y), (x + side, y + side), (x, y + side)), second)
    is_whole = upper[0] == upper[1]
    if not is_whole:
        pad.line((0, side), (side, 0), replace(SEAM, weight=0.9 * POINT), kind="seam")
    _line_and_seams(pad, (0, 0), (side, side), allowance)
    _name(pad, upper[0], (0.2 * side, 0.5 * side))
    _name(pad, upper[1], (0.8 * side, 0.5 * side))
    if is_whole:
        return pad.sketch(
            "A square on a pair",
            f"A square of fabric {upper[0].letter} on a square of two triangles, {lower[0].letter} and "
            f"{lower[1].letter}, right sides together, with a line across the seam from corner to corner and a seam on "
            "either side of it.",
        )
    letters = f"{upper[0].letter} on {lower[0].letter} and {upper[1].letter} on {lower[1].letter}"
    return pad.sketch(
        "Two squares, seam on seam",
        f"Two squares of two triangles right sides together, {letters}, their seams locked, with a line across the "
        "seam from corner to corner and a seam on either side of it.",
    )


def geese_sketches(
    goose: Cloth, wing: Cloth, sides: tuple[float, float], allowance: float, sizes: tuple[str, str], *, room: float
) -> tuple[Sketch, Sketch]:
    """Four geese at a time: two small squares on a large one; then a third on each of its halves.

    Args:
        goose: The fabric of the large square.
        wing: That of the small squares.
        sides: The sides of the large and of the small squares [in].
        allowance: The seam allowance [in].
        sizes: The same as words for a page.
        room: The most width and height each may have [in].
    """
    large, small = sides
    pad = _pad((0, 0, large, large), room)
    _right(pad, _square((0, 0), large), goose)
    for corner in ((0.0, large - small), (large - small, 0.0)):
        _wrong(pad, _square(corner, small), wing)
    _line_and_seams(pad, (0, large), (large, 0), allowance)
    _name(pad, goose, (0.16 * large, 0.16 * large))
    _measure(pad, (0, 0), (large, 0), sizes[0])
    first = pad.sketch(
        "Two small squares on a large one",
        f"Two squares of {sizes[1]} of fabric {wing.letter} lie face down in opposite corners of a square of "
        f"{sizes[0]} of fabric {goose.letter}; a line runs through both from corner to corner, with a seam on either "
        "side of it.",
    )
    return first, _heart(goose, wing, sides, allowance, room)


def _heart(goose: Cloth, wing: Cloth, sides: tuple[float, float], allowance: float, room: float) -> Sketch:
    """Half of the large square with its two small triangles turned out, and a small square in its corner.

    The seam lies one allowance inside the cut edge; what is sewn on is turned over it.
    """
    large, small = sides
    inset = allowance * 2**0.5
    a, b = (0.0, large - inset), (large - inset, 0.0)

    def over(p: Point) -> Point:
        return (large - inset - p[1], large - inset - p[0])

    wings = [
        tuple(map(over, ((0.0, large - inset), (0.0, large - small), (small - inset, large - small)))),
        tuple(map(over, ((large - inset, 0.0), (large - small, 0.0), (large - small, small - inset)))),
    ]
    points = [(0.0, 0.0), a, b, *(p for ring in wings for p in ring)]
    pad = _pad((0, 0, max(x for x, _ in points), max(y for _, y in points)), room)
    _right(pad, ((0, 0), b, a), goose)
    for ring in wings:
        _right(pad, ring, wing)
    pad.line(a, b, SEAM, kind="seam")
    _wrong(pad, _square((0, 0), small), wing)
    _line_and_seams(pad, (0, 0), (small, small), allowance)
    _name(pad, wing, (0.25 * small, 0.68 * small))
    return pad.sketch(
        "A small square in the corner",
        f"Half of the large square, its two small triangles turned out; a square of fabric {wing.letter} lies face "
        "down in its square corner, with a line from that corner to between the triangles and a seam on either side.",
    )


def corner_sketch(
    base: Cloth, corner: Cloth, sides: tuple[float, float, float], allowance: float, sizes: tuple[str, str],
    *, room: float,
) -> Sketch:  # fmt: skip
    """A small square face down on the corner of a rectangle, sewn from corner to corner, with the line to trim on.

    Args:
        base: The fabric of the rectangle.
        corner: That of the small square.
        sides: The width and height of the rectangle and the side of the square [in].
        allowance: The seam allowance [in].
        sizes: The size of the rectangle and the side of the square as words for a page.
        room: The most width and height it may have [in].
    """
    width, height, small = sides
    pad = _pad((0, 0, width, height), room)
    _right(pad, ((0, 0), (width, 0), (width, height), (0, height)), base)
    _wrong(pad, _square((0, height - small), small), corner)
    pad.line((0, height - small), (small, height), _SEWN, kind="stitched")
    aside = allowance * 2**0.5
    pad.line((0, height - small + aside), (small - aside, height), BLADE, kind="blade")
    _name(pad, base, (0.7 * width, 0.4 * height))
    _name(pad, corner, (0.65 * small, height - 0.75 * small))
    _measure(pad, (0, 0), (width, 0), sizes[0])
    return pad.sketch(
        "A small square on a corner",
        f"A square of {sizes[1]} of fabric {corner.letter} lies face down on a corner of a piece of {sizes[0]} of "
        f"fabric {base.letter}; it is sewn from corner to corner and trimmed beyond the seam.",
    )


def strips_sketch(
    strips: Sequence[Cloth], widths: Sequence[float], length: float, allowance: float, sizes: tuple[str, str],
    *, room: tuple[float, float], left_handed: bool = False,
) -> Sketch:  # fmt: skip
    """Strips sewn along their length and cut across.

    Args:
        strips: The fabric of each strip, from the lowest up.
        widths: How wide each was cut [in].
        length: What they are cut across at [in].
        allowance: The seam allowance [in].
        sizes: The width of the set and the length of a segment, as words for a page.
        room: The most width and height it may have [in].
        left_handed: Whether the squared end lies at the right.
    """
    ends = [0.0]
    for number, width in enumerate(widths):
        inner = (number > 0) + (number < len(widths) - 1)
        ends.append(ends[-1] + width - inner * allowance)
    high = ends[-1]
    scale = min(room[1] / (high * 1.08), room[0] / (3.5 * length), 0.7)
    drawn = max(2, min(4, int(room[0] / (scale * length) - 0.4)))
    total = (drawn + 0.4) * length
    margin = (0.1, 0.08, 0.95, 0.3) if left_handed else (0.95, 0.08, 0.1, 0.3)
    pad = Pad((0, 0, total, high), scale=scale, mirrored=left_handed, margin=margin)
    box: Box = (0, 0, total, high)
    for cloth, low, top in zip(strips, ends[:-1], ends[1:], strict=True):
        ring = inside_box(((0, low), (total, low), (total, top), (0, top)), box)
        pad.outline(ring, Ink(fill=tint(cloth.colour, _STRENGTH), stroke=None), kind="right-side")
        pad.line((0, low), (total, low), RAW if low == 0 else SEAM)
        _name(pad, cloth, (length / 2, (low + top) / 2))
    pad.line((0, high), (total, high), RAW)
    pad.line((0, 0), (0, high), RAW, kind="raw-edge")
    reach = 0.05 / scale
    for cut in range(1, drawn + 1):
        pad.line((cut * length, -reach), (cut * length, high + reach), BLADE, kind="blade")
    _measure(pad, (0, 0), (length, 0), sizes[1])
    beside = -0.1 / scale
    draw_arrow(pad, pad.place.point((beside, 0)), pad.place.point((beside, high)), ink=_MEASURE, both=True)
    at = pad.place.point((beside - 0.06 / scale, high / 2))
    pad.write(sizes[0], at, _SIZE, anchor="start" if left_handed else "end")
    letters = ", ".join(cloth.letter for cloth in strips)
    return pad.sketch(
        "A set of strips",
        f"Strips of fabrics {letters} sewn side by side, {sizes[0]} wide in all, cut across into pieces of {sizes[1]}.",
    )


def _pad(box: Box, room: float) -> Pad:
    margin = (0.05, 0.05, 0.05, 0.3)
    scale = min((room - 0.1) / (box[2] - box[0]), (room - 0.35) / (box[3] - box[1]))
    return Pad(box, scale=scale, margin=margin)


def _square(corner: Point, side: float) -> tuple[Point, ...]:
    x, y = corner
    return ((x, y), (x + side, y), (x + side, y + side), (x, y + side))


def _right(pad: Pad, ring: Sequence[Point], cloth: Cloth) -> None:
    pad.outline(ring, RAW.filled(tint(cloth.colour, _STRENGTH)), kind="right-side")


def _wrong(pad: Pad, ring: Sequence[Point], cloth: Cloth) -> None:
    pad.outline(ring, Ink(fill=tint(cloth.colour, WRONG), stroke=None), kind="wrong-side")
    hatch_wrong_side(pad, ring)
    pad.outline(ring, RAW)


def _line_and_seams(pad: Pad, p: Point, q: Point, allowance: float) -> None:
    """A drawn line from corner to corner, and a seam one allowance from it on either side, within the square."""
    pad.line(p, q, _DRAWN, kind="drawn")
    forward = unit(sub(q, p))
    aside = times(left(forward), allowance)
    for side in (aside, times(aside, -1)):
        start, end = add(add(p, times(forward, allowance)), side), add(sub(q, times(forward, allowance)), side)
        pad.line(start, end, _SEWN, kind="stitched")


def _name(pad: Pad, cloth: Cloth, at: Point) -> None:
    pad.write(cloth.letter, pad.place.point(at), 9.0, weight="bold", halo=True)


def _measure(pad: Pad, p: Point, q: Point, words: str) -> None:
    down = 0.1 / pad.scale
    start, end = (pad.place.point((x, y - down)) for x, y in (p, q))
    draw_arrow(pad, start, end, ink=_MEASURE, both=True)
    middle = along(start, end, 0.5)
    pad.write(words, (middle[0], middle[1] + 0.1), _SIZE)

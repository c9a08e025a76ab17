"""What a maker calls a patch, and the sizes it is cut by."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from seamproof.cutting.grain import length_on_grain
from seamproof.cutting.need import Frame
from seamproof.cutting.ways import half_side, quarter_side
from seamproof.geometry.offsets import offset
from seamproof.geometry.points import bounds, cross, distance, dot, sub, unit
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.geometry import Edge, Outline, Point

_EVEN_SIDED: Final = ("equilateral triangle", "diamond", "hexagon")


@dataclass(frozen=True)
class CutShape:
    """What a patch is cut as.

    Attributes:
        name: What a maker calls it.
        sizes: Its cut sizes [in], exact, as in CutPiece.
        grain: A unit vector along the straight grain.
    """

    name: str
    sizes: tuple[float, ...]
    grain: Point


def cut_shape(finished: Outline, cut: Outline, outside: Sequence[Edge], allowance: float) -> CutShape:
    """The shape and sizes of a plain piece.

    Args:
        finished: The finished patch, without corners of 180°.
        cut: What a template of it is cut along, for a shape that has no name.
        outside: Its edges on the block's outline; straight grain is laid along them where the shape leaves a choice.
        allowance: The seam allowance s [in].

    Sizes: a square, rectangle: finished + 2s; a square cut once: finished leg + s(2 + √2); cut twice: finished long
    side + 2s(1 + √2); strips for an equilateral triangle: height + 3s, for a diamond a·sin θ + 2s, for a hexagon
    √3·a + 2s. These come of one rule: between interior angles α and β an edge grows by s(cot α/2 + cot β/2).
    """
    if finished.is_straight:
        ring = finished.points
        lengths = [distance(p, q) for p, q in zip(ring, ring[1:] + ring[:1], strict=True)]
        square = [_is_square(ring, i) for i in range(len(ring))]
        if len(ring) == 3 and any(square):
            found = _right_triangle(ring, lengths, square.index(True), outside, allowance)
            if found:
                return found
        name, base = _name(ring, lengths, square)
        if name in _EVEN_SIDED:
            base = max(range(len(ring)), key=lambda i: (length_on_grain(outside, _head(ring, i)), -i))
        if name:
            whole = offset(finished, allowance)
            return CutShape(name, _sizes(name, whole, _head(ring, base)), _head(ring, base))
    return _template(finished, cut, outside)


def _is_square(ring: Sequence[Point], i: int) -> bool:
    into, out = sub(ring[i], ring[i - 1]), sub(ring[(i + 1) % len(ring)], ring[i])
    return abs(dot(into, out)) <= 2 * SAME_POINT * max(math.hypot(*into), math.hypot(*out))


def _head(ring: Sequence[Point], i: int) -> Point:
    return unit(sub(ring[(i + 1) % len(ring)], ring[i]))


def _same(lengths: Sequence[float]) -> bool:
    return max(lengths) - min(lengths) <= 4 * SAME_POINT


def _are_parallel(ring: Sequence[Point], i: int, j: int) -> bool:
    d, e = (sub(ring[(k + 1) % len(ring)], ring[k]) for k in (i, j))
    return abs(cross(d, e)) <= 4 * SAME_POINT * max(math.hypot(*d), math.hypot(*e))


def _right_triangle(
    ring: Sequence[Point], lengths: Sequence[float], corner: int, outside: Sequence[Edge], allowance: float
) -> CutShape | None:
    """A square cut once (grain along its legs) or twice (grain along its long side), or neither."""
    legs = lengths[corner - 1], lengths[corner]
    if not _same(legs):
        return None
    along_leg, along_long = _head(ring, corner), _head(ring, (corner + 1) % 3)
    on_leg, on_long = (length_on_grain(outside, grain) for grain in (along_leg, along_long))
    if not outside:
        on_leg, on_long = (float(_is_upright(grain)) for grain in (along_leg, along_long))
    if on_long > on_leg:
        long_side = lengths[(corner + 1) % 3]
        return CutShape("quarter-square triangle", (quarter_side(long_side, allowance),), along_long)
    return CutShape("half-square triangle", (half_side(sum(legs) / 2, allowance),), along_leg)


def _is_upright(head: Point) -> bool:
    """Whether a unit vector runs with the sides of an upright block."""
    return min(abs(head[0]), abs(head[1])) <= 2 * SAME_POINT


def _name(ring: Sequence[Point], lengths: Sequence[float], square: Sequence[bool]) -> tuple[str, int]:
    """The name of a shape, "" for one without, and the edge along which its strip is cut."""
    if len(ring) == 4:
        return _name_of_four(ring, lengths, square)
    if len(ring) == 3 and _same(lengths):
        return "equilateral triangle", 0
    if len(ring) == 6 and _is_regular_hexagon(ring, lengths):
        return "hexagon", 0
    return "", 0


def _name_of_four(ring: Sequence[Point], lengths: Sequence[float], square: Sequence[bool]) -> tuple[str, int]:
    longest = max(range(4), key=lambda i: (round(lengths[i], 3), -i))
    if all(square):
        return ("square" if _same(lengths) else "rectangle"), longest
    pairs = [_are_parallel(ring, i, i + 2) for i in (0, 1)]
    if all(pairs):
        return ("diamond" if _same(lengths) else "parallelogram"), longest
    if any(pairs):
        i = pairs.index(True)
        return "trapezium", max((i, i + 2), key=lambda side: lengths[side])
    return "", 0


def _is_regular_hexagon(ring: Sequence[Point], lengths: Sequence[float]) -> bool:
    across = [distance(ring[i], ring[i + 3]) for i in range(3)]
    return _same(lengths) and all(abs(d - 2 * lengths[0]) <= 4 * SAME_POINT for d in across)


def _sizes(name: str, whole: Outline, grain: Point) -> tuple[float, ...]:
    width, height = _box(whole, grain)
    return ((width + height) / 2,) if name == "square" else (width, height)


def _box(whole: Outline, grain: Point) -> tuple[float, float]:
    frame = Frame((0.0, 0.0), grain)
    x0, y0, x1, y1 = bounds(frame.into(p) for p in whole.polygon)
    return (x1 - x0, y1 - y0)


def _template(finished: Outline, cut: Outline, outside: Sequence[Edge]) -> CutShape:
    """A piece cut by its template: along the block's outline where it has a straight edge there, else upright."""
    straight = [edge for edge in outside if not edge.is_arc]
    heads = [edge.direction(0.5) for edge in straight] or [(1.0, 0.0)]
    if not outside:
        heads += [edge.direction(0.5) for edge in finished.edges if not edge.is_arc]

    def worth(row: tuple[int, Point]) -> tuple[float, float, int]:
        width, height = _box(cut, row[1])
        return (-round(length_on_grain(straight, row[1]), 3), round(width * height, 3), row[0])

    _, grain = min(enumerate(heads), key=worth)
    return CutShape("template", _box(cut, grain), grain)

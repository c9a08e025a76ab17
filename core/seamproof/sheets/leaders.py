"""A thin line from a patch that has no room for its number to a clear place outside the template."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, TypeAlias

from seamproof.geometry.points import add, cross, sub, times
from seamproof.sheets.lettering import text_height, text_width

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.geometry import Point
    from seamproof.sheets.drawing import Label

Frame: TypeAlias = tuple[float, float, float, float]
"""(left, top, right, bottom) [in], y down."""

_GAP: Final = 0.05
"""[in] Clear space between the cut line, the leader's end and its text."""
_DIRECTIONS: Final = 48
_OVER_TEXT: Final = 100.0
_THROUGH_TEXT: Final = 3.0


def frame_of(label: Label, clear: float = 0.02) -> Frame:
    """The box that a label takes [in], turned labels generously."""
    half_w = text_width(label.text, label.size) / 2
    half_h = text_height(label.size) / 2
    middle = label.x + {"start": half_w, "middle": 0.0, "end": -half_w}[label.anchor]
    if label.angle:
        turn = math.radians(label.angle)
        cos, sin = abs(math.cos(turn)), abs(math.sin(turn))
        half_w, half_h = half_w * cos + half_h * sin, half_w * sin + half_h * cos
    return (middle - half_w - clear, label.y - half_h - clear, middle + half_w + clear, label.y + half_h + clear)


def lead_out(
    start: Point, outline: Sequence[Point], text: str, size: float, taken: Sequence[Frame]
) -> tuple[Point, Point]:
    """Where the text stands and where the leader ends [in, y down].

    Of 48 directions the one with the shortest way is taken, counted to the far side of the text; crossing a text
    counts as three inches more, standing on one as a hundred.

    Args:
        start: A point in the patch.
        outline: The cut line as a ring of points, which the text stands outside of.
        text: What is written.
        size: The height of its letters [pt].
        taken: The boxes of the texts that stand already.
    """
    half = (text_width(text, size) / 2, text_height(size) / 2)

    def place(turn: int) -> tuple[float, Point, Point]:
        angle = 2 * math.pi * turn / _DIRECTIONS
        u = (math.cos(angle), math.sin(angle))
        foot = add(start, times(u, _leave(start, u, outline) + _GAP))
        reach = _support(u, half) + _GAP / 2
        at = add(foot, times(u, reach))
        box = (at[0] - half[0], at[1] - half[1], at[0] + half[0], at[1] + half[1])
        cost = math.dist(start, at) + reach
        cost += _OVER_TEXT * sum(overlap(box, other) for other in taken)
        cost += _THROUGH_TEXT * sum(_passes(start, foot, other) for other in taken)
        return round(cost, 6), at, foot

    _, at, foot = min(place(turn) for turn in range(_DIRECTIONS))
    return at, foot


def _leave(start: Point, u: Point, outline: Sequence[Point]) -> float:
    """How far along u the ray from start leaves the ring for good; 0 where it does not meet it."""
    far = 0.0
    for a, b in zip(outline, [*outline[1:], outline[0]], strict=True):
        side = sub(b, a)
        turn = cross(u, side)
        if turn == 0:
            continue
        t, share = cross(sub(a, start), side) / turn, cross(sub(a, start), u) / turn
        if 0 <= share <= 1:
            far = max(far, t)
    return far


def _support(u: Point, half: Point) -> float:
    """How far from its middle a box ends in direction u."""
    across = half[0] / abs(u[0]) if u[0] else math.inf
    down = half[1] / abs(u[1]) if u[1] else math.inf
    return min(across, down)


def overlap(a: Frame, b: Frame) -> bool:
    """Whether two boxes share more than a side."""
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _passes(p: Point, q: Point, box: Frame) -> bool:
    """Whether the segment p q meets a box. Source: Liang and Barsky's clipping of a line by its four sides."""
    enter, leave = 0.0, 1.0
    for axis in (0, 1):
        step = q[axis] - p[axis]
        low, high = box[axis] - p[axis], box[axis + 2] - p[axis]
        if step == 0:
            if low > 0 or high < 0:
                return False
            continue
        first, last = (low / step, high / step) if step > 0 else (high / step, low / step)
        if first > leave or last < enter:
            return False
        enter, leave = max(enter, first), min(leave, last)
    return enter <= leave

"""Rings of points cut down by straight lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from seamproof.geometry.points import along, height_over

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.geometry import Point
    from seamproof.sheets.sketch import Box


def left_of(ring: Sequence[Point], p: Point, q: Point, by: float = 0.0) -> tuple[Point, ...]:
    """The part of a ring of points that lies left of the line p → q, or at most `by` [in] right of it.

    Empty where nothing does. Source: Sutherland and Hodgman, "Reentrant polygon clipping", Communications of the ACM
    17(1), 1974; a ring that is not convex may keep edges that run to and fro on the line.
    """
    heights = [height_over(point, p, q) + by for point in ring]
    if all(high >= 0 for high in heights):
        return tuple(ring) if len(ring) > 2 else ()
    kept: list[Point] = []
    ends = zip([*ring[1:], *ring[:1]], [*heights[1:], *heights[:1]], strict=True)
    for a, high_a, (b, high_b) in zip(ring, heights, ends, strict=True):
        if high_a >= 0:
            kept.append(a)
        if (high_a > 0 > high_b) or (high_a < 0 < high_b):
            kept.append(along(a, b, high_a / (high_a - high_b)))
    return tuple(kept) if len(kept) > 2 else ()


def inside_box(ring: Sequence[Point], box: Box) -> tuple[Point, ...]:
    """The part of a ring of points inside a box."""
    left, bottom, right, top = box
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    kept = tuple(ring)
    for p, q in zip(corners, corners[1:] + corners[:1], strict=True):
        kept = left_of(kept, p, q)
    return kept


def segment_left_of(a: Point, b: Point, p: Point, q: Point) -> tuple[Point, Point] | None:
    """The part of a stretch a b that lies left of the line p → q, or None."""
    high_a, high_b = height_over(a, p, q), height_over(b, p, q)
    if high_a < 0 and high_b < 0:
        return None
    if high_a >= 0 and high_b >= 0:
        return a, b
    cut = along(a, b, high_a / (high_a - high_b))
    return (a, cut) if high_a >= 0 else (cut, b)


def segment_in_box(a: Point, b: Point, box: Box) -> tuple[Point, Point] | None:
    """The part of a stretch a b that lies in a box, or None."""
    left, bottom, right, top = box
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    part: tuple[Point, Point] | None = (a, b)
    for p, q in zip(corners, corners[1:] + corners[:1], strict=True):
        part = segment_left_of(*part, p, q) if part else None
    return part


def span_along(ring: Sequence[Point], p: Point, q: Point, at: float) -> tuple[Point, Point] | None:
    """Where the line parallel to p → q, `at` [in] to its left, runs inside a convex ring, or None where it does not."""
    crossings = []
    for a, b in zip(ring, [*ring[1:], *ring[:1]], strict=True):
        high_a, high_b = height_over(a, p, q) - at, height_over(b, p, q) - at
        if (high_a >= 0) != (high_b >= 0):
            crossings.append(along(a, b, high_a / (high_a - high_b)))
    if len(crossings) < 2:
        return None
    order = sorted(crossings, key=lambda c: (c[0] - p[0]) * (q[0] - p[0]) + (c[1] - p[1]) * (q[1] - p[1]))
    return order[0], order[-1]

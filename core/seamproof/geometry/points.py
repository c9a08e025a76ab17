"""Points and vectors of the plane, as pairs of floats [in]."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

Point: TypeAlias = tuple[float, float]


def add(p: Point, q: Point) -> Point:
    """P + q."""
    return (p[0] + q[0], p[1] + q[1])


def sub(p: Point, q: Point) -> Point:
    """P − q: the vector from q to p."""
    return (p[0] - q[0], p[1] - q[1])


def times(p: Point, factor: float) -> Point:
    """P scaled."""
    return (p[0] * factor, p[1] * factor)


def dot(p: Point, q: Point) -> float:
    """The scalar product."""
    return p[0] * q[0] + p[1] * q[1]


def cross(p: Point, q: Point) -> float:
    """The z of the vector product: positive when q lies to the left of p."""
    return p[0] * q[1] - p[1] * q[0]


def distance(p: Point, q: Point) -> float:
    """How far p is from q [in]."""
    return math.hypot(p[0] - q[0], p[1] - q[1])


def midpoint(p: Point, q: Point) -> Point:
    """Half way from p to q."""
    return ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)


def along(p: Point, q: Point, t: float) -> Point:
    """The point at fraction t of the way from p to q."""
    return (p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t)


def unit(v: Point) -> Point:
    """The vector of length 1 in the direction of v. Raises ZeroDivisionError for no direction."""
    size = math.hypot(v[0], v[1])
    return (v[0] / size, v[1] / size)


def left(v: Point) -> Point:
    """V turned a quarter to the left."""
    return (-v[1], v[0])


def height_over(p: Point, a: Point, b: Point) -> float:
    """The signed distance [in] of p from the line a → b, positive on its left. a and b differ."""
    x, y = b[0] - a[0], b[1] - a[1]
    return (x * (p[1] - a[1]) - y * (p[0] - a[0])) / math.hypot(x, y)


def distance_to_segment(p: Point, a: Point, b: Point) -> float:
    """How far p is from the stretch a … b [in], which may be a single point."""
    x, y = b[0] - a[0], b[1] - a[1]
    size = x * x + y * y
    if size == 0:
        return distance(p, a)
    t = max(0.0, min(1.0, ((p[0] - a[0]) * x + (p[1] - a[1]) * y) / size))
    return math.hypot(p[0] - (a[0] + x * t), p[1] - (a[1] + y * t))


def sides(ring: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """The sides of a ring of points in order, each by its two ends; the last ends at the first point."""
    return zip(ring, (*ring[1:], *ring[:1]), strict=True)


def is_inside(p: Point, ring: Sequence[Point]) -> bool:
    """Whether a point lies inside a ring of points; for one on a side it may be either.

    Source: the even-odd rule, by the sides that a ray to the right crosses.
    """
    x, y = p
    inside = False
    for (x0, y0), (x1, y1) in sides(ring):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
            inside = not inside
    return inside


def ring_area(points: Sequence[Point]) -> float:
    """The signed area [in²] of a ring of points, positive when anticlockwise.

    Source: Gauss's area formula (shoelace), taken about the first point so that far-off blocks lose no digits.
    """
    if not points:
        return 0.0
    origin = points[0]
    moved = [sub(p, origin) for p in points]
    return sum(cross(p, q) for p, q in sides(moved)) / 2


def bounds(points: Iterable[Point]) -> tuple[float, float, float, float]:
    """The least box round points, as (left, bottom, right, top) [in]."""
    xs, ys = zip(*points, strict=True)
    return (min(xs), min(ys), max(xs), max(ys))

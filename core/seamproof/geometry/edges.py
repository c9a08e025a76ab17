"""One edge of an outline: a line, or an arc by its bulge."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamproof.errors import GeometryError
from seamproof.geometry.points import add, along, cross, distance, left, midpoint, sub, times
from seamproof.tolerance import CHORD, FARTHEST, ROUND_OFF

if TYPE_CHECKING:
    from seamproof.geometry.points import Point


@dataclass(frozen=True, slots=True)
class Edge:
    """A line from `start` to `end` [in], or an arc when `bulge` is not zero.

    The bulge is the tangent of a quarter of the angle the arc turns through, positive when it turns left; 1 is a
    half circle. Source: the DXF Reference, group code 42 of a lightweight polyline.

    Raises:
        GeometryError: a coordinate or the bulge is no finite number, or a point or arc reaches farther than FARTHEST.

    An arc that rises from its chord by less than ROUND_OFF is a line.
    """

    start: Point
    end: Point
    bulge: float = 0.0

    def __post_init__(self) -> None:
        try:
            (x0, y0), (x1, y1) = self.start, self.end
            is_finite = math.isfinite(x0 + y0 + x1 + y1 + self.bulge)
        except (TypeError, ValueError, OverflowError):
            raise GeometryError(
                f"edge {self.start!r:.40} → {self.end!r:.40} (bulge {self.bulge!r:.20}): "
                "give its ends as (x, y) points, two numbers each, and its bulge as a number"
            ) from None
        if not is_finite:
            raise GeometryError(f"edge {self.start} → {self.end} (bulge {self.bulge}): every number must be finite")
        if max(abs(x0), abs(y0), abs(x1), abs(y1)) > FARTHEST:
            raise GeometryError(f"edge {self.start} → {self.end}: keep coordinates within {FARTHEST:,.0f} in of (0, 0)")
        if abs(self.bulge) > 1 and self.radius > FARTHEST:
            raise GeometryError(
                f"edge {self.start} → {self.end}: bulge {self.bulge} makes its arc too large: draw a line"
            )
        if self.bulge and abs(self.bulge) * math.hypot(x1 - x0, y1 - y0) / 2 < ROUND_OFF:
            object.__setattr__(self, "bulge", 0.0)

    @property
    def is_arc(self) -> bool:
        """Whether it is curved."""
        return self.bulge != 0.0

    @property
    def sweep(self) -> float:
        """The angle [rad] an arc turns through, positive to the left; 0 for a line."""
        return 4 * math.atan(self.bulge)

    @property
    def chord(self) -> float:
        """The straight distance between its ends [in]."""
        return distance(self.start, self.end)

    @property
    def radius(self) -> float:
        """The radius [in] of an arc; infinite for a line."""
        return self.chord * (1 + self.bulge**2) / (4 * abs(self.bulge)) if self.bulge else math.inf

    @property
    def centre(self) -> Point:
        """The centre of an arc [in]. Raises GeometryError for a line, which has none."""
        if not self.bulge:
            raise GeometryError("a straight edge has no centre")
        rise = (1 - self.bulge**2) / (4 * self.bulge)
        return add(midpoint(self.start, self.end), times(left(sub(self.end, self.start)), rise))

    @property
    def length(self) -> float:
        """Its length [in], along the arc."""
        return self.radius * abs(self.sweep) if self.bulge else self.chord

    @property
    def middle(self) -> Point:
        """The point half way along it [in]."""
        return self.at(0.5)

    def at(self, t: float) -> Point:
        """The point at fraction t of its length, from 0 at the start to 1 at the end."""
        if not self.bulge:
            return along(self.start, self.end, t)
        if t in {0, 1}:
            return self.end if t else self.start
        centre, angle = self.centre, self.sweep * t
        x, y = sub(self.start, centre)
        cos, sin = math.cos(angle), math.sin(angle)
        return add(centre, (x * cos - y * sin, x * sin + y * cos))

    def direction(self, t: float) -> Point:
        """The unit vector in which it runs at fraction t. Raises ZeroDivisionError for an edge without length."""
        dx, dy = sub(self.end, self.start)
        size = math.hypot(dx, dy)
        angle = self.sweep * (t - 0.5)
        cos, sin = math.cos(angle), math.sin(angle)
        return ((dx * cos - dy * sin) / size, (dx * sin + dy * cos) / size)

    def reversed(self) -> Edge:
        """The same edge run the other way."""
        return Edge(self.end, self.start, -self.bulge)

    def part(self, t0: float, t1: float) -> Edge:
        """The stretch from fraction t0 to t1."""
        bulge = math.tan(self.sweep * (t1 - t0) / 4) if self.bulge else 0.0
        return Edge(self.at(t0), self.at(t1), bulge)

    def flattened(self, chord_error: float = CHORD) -> tuple[Point, ...]:
        """Points along it, both ends included, whose chords stray from it by at most `chord_error` [in]."""
        if not self.bulge:
            return (self.start, self.end)
        ratio = max(-1.0, 1 - chord_error / self.radius)
        step = 2 * math.acos(ratio)
        count = max(2, math.ceil(abs(self.sweep) / step))
        return tuple(self.at(i / count) for i in range(count + 1))

    def area_under(self, origin: Point) -> float:
        """The signed area [in²] swept by the ray from `origin` as it runs along the edge."""
        triangle = cross(sub(self.start, origin), sub(self.end, origin)) / 2
        if not self.bulge:
            return triangle
        return triangle + self.radius**2 * (self.sweep - math.sin(self.sweep)) / 2

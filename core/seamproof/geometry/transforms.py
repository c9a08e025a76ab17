"""Moves of the plane that keep shapes: turn, mirror, scale, shift."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamproof.geometry.edges import Edge

if TYPE_CHECKING:
    from seamproof.geometry.points import Point


@dataclass(frozen=True, slots=True)
class Transform:
    """(x, y) → (a·x + c·y + e, b·x + d·y + f): a similarity, so that arcs stay arcs."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    @classmethod
    def shift(cls, dx: float, dy: float) -> Transform:
        """Move by (dx, dy) [in]."""
        return cls(e=dx, f=dy)

    @classmethod
    def turn(cls, degrees: float, about: Point = (0.0, 0.0)) -> Transform:
        """Turn anticlockwise about a point. Quarter turns are exact."""
        quarter, rest = divmod(degrees, 90)
        if rest == 0:
            cos, sin = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
        else:
            cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        x, y = about
        return cls(cos, sin, -sin, cos, x - cos * x + sin * y, y - sin * x - cos * y)

    @classmethod
    def mirror(cls, x: float = 0.0) -> Transform:
        """Left for right, in the upright line at x [in]: how a face is seen from the back."""
        return cls(a=-1.0, e=2 * x)

    @classmethod
    def scale(cls, factor: float) -> Transform:
        """Grow from the origin."""
        return cls(a=factor, d=factor)

    @classmethod
    def reflect(cls, p: Point, q: Point) -> Transform:
        """The mirror image in the line through p and q: what a flip over a seam does."""
        dx, dy = q[0] - p[0], q[1] - p[1]
        size = dx * dx + dy * dy
        cos, sin = (dx * dx - dy * dy) / size, 2 * dx * dy / size
        return cls(cos, sin, sin, -cos, p[0] - cos * p[0] - sin * p[1], p[1] - sin * p[0] + cos * p[1])

    @property
    def is_mirrored(self) -> bool:
        """Whether it turns left into right."""
        return self.a * self.d - self.b * self.c < 0

    def then(self, other: Transform) -> Transform:
        """This move, and the other after it."""
        a, b = other.vector((self.a, self.b))
        c, d = other.vector((self.c, self.d))
        e, f = other.point((self.e, self.f))
        return Transform(a, b, c, d, e, f)

    def point(self, p: Point) -> Point:
        """Where p goes."""
        return (self.a * p[0] + self.c * p[1] + self.e, self.b * p[0] + self.d * p[1] + self.f)

    def vector(self, v: Point) -> Point:
        """Where a direction goes: without the shift."""
        return (self.a * v[0] + self.c * v[1], self.b * v[0] + self.d * v[1])

    def edge(self, edge: Edge) -> Edge:
        """Where an edge goes; a mirror changes which way an arc turns."""
        return Edge(self.point(edge.start), self.point(edge.end), -edge.bulge if self.is_mirrored else edge.bulge)

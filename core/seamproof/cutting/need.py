"""What a piece on a foundation must cover, and how far that reaches in the worst placement."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

from seamproof.cutting.corners import cut_line
from seamproof.geometry.edges import Edge
from seamproof.geometry.points import add, cross, dot, height_over, sub, unit
from seamproof.tolerance import CHORD, ROUND_OFF

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.cutting.pieces import Placement
    from seamproof.geometry import Outline, Point


@dataclass(frozen=True, slots=True)
class Frame:
    """Axes of its own: x along a seam line from `origin`, y to its left [in]."""

    origin: Point
    along: Point

    @classmethod
    def of(cls, start: Point, end: Point) -> Frame:
        """The frame of a line from start to end, which differ."""
        return cls(start, unit(sub(end, start)))

    def into(self, p: Point) -> Point:
        """A point of the block in this frame."""
        d = sub(p, self.origin)
        return (dot(self.along, d), cross(self.along, d))

    def out(self, p: Point) -> Point:
        """A point of this frame in the block."""
        (x, y), (c, s) = p, self.along
        return add(self.origin, (x * c - y * s, x * s + y * c))

    def edge(self, edge: Edge) -> Edge:
        """An edge of the block in this frame."""
        return Edge(self.into(edge.start), self.into(edge.end), edge.bulge)


@dataclass(frozen=True)
class Need:
    """What must be covered, seen from the point about which the piece is turned, and how the piece may lie.

    Attributes:
        points: Corners of the convex hull of what must be covered [in]; for a patch with a seam y = 0 is the raw edge.
        half_strip: Half the length [in] of the strip along the seam; 0 for a first patch.
        placement: How far off the piece may lie.
        is_first: Whether it is a foundation's first patch.
        stray: How far [in] the true shape may reach past the points (flattened arcs); 0 for straight ones.
    """

    points: tuple[Point, ...]
    half_strip: float
    placement: Placement
    is_first: bool
    stray: float

    def reach(self, normal: Point) -> float:
        """How far [in] it reaches along a normal in the piece's own directions, in the worst placement, times |normal|.

        Turned by τ = ±θ, a point (X, Y) lies at u = X cos τ + Y sin τ along the raw edge and, with h the half strip, at
        v = Y cos τ − X sin τ + h sin θ over it. So n·(u, v) = A cos θ + B sin θ, greatest at an end of 0 ≤ θ ≤ tilt or
        where tan θ = B/A; slides and pushes only add. Nothing but these is tried, so the result is exact.
        """
        nu, nv = normal
        tilt = math.radians(self.placement.tilt)
        rows = (
            (nu * x + nv * y, sign * (nu * y - nv * x) + nv * self.half_strip)
            for (x, y), sign in product(self.points, (1, -1))
        )
        return max(_greatest(a, b, tilt) for a, b in rows) + self._shifts(nu, nv) + self.stray * math.hypot(nu, nv)

    def _shifts(self, nu: float, nv: float) -> float:
        if self.is_first:
            return (abs(nu) + abs(nv)) * self.placement.along
        return abs(nu) * self.placement.along + max(0.0, nv) * self.placement.over


def _greatest(a: float, b: float, tilt: float) -> float:
    """The greatest a·cos θ + b·sin θ for 0 ≤ θ ≤ tilt (tilt under a quarter turn)."""
    if a > 0 and 0 < b < a * math.tan(tilt):
        return math.hypot(a, b)
    return max(a, a * math.cos(tilt) + b * math.sin(tilt))


def upper_part(outline: Outline, line: tuple[Point, Point], allowance: float) -> tuple[Point, ...]:
    """The patch with its allowance, the part past its seam line (y ≥ 0), as points of the seam's frame [in].

    Its tips are cut where a template's are, but not at the ends of the seam.
    """
    frame = Frame.of(*line)
    ring = [frame.into(p) for p in cut_line(outline, (), allowance, mitred=line).polygon]
    kept: list[Point] = []
    for p, q in zip(ring, ring[1:] + ring[:1], strict=True):
        if p[1] >= 0:
            kept.append(p)
        if (p[1] < 0 < q[1]) or (q[1] < 0 < p[1]):
            t = p[1] / (p[1] - q[1])
            kept.append((p[0] + (q[0] - p[0]) * t, 0.0))
    return tuple(kept)


def seam_need(upper: Sequence[Point], allowance: float, placement: Placement, *, curved: bool) -> tuple[Need, float]:
    """The need of a patch with a seam, and where on the seam's x-axis the middle of its strip lies.

    What lies past the line is asked for `fold` higher, since that much of the piece is lost in the fold.
    """
    at_line = [x for x, y in upper if y <= ROUND_OFF]
    low, high = min(at_line), max(at_line)
    middle = (low + high) / 2
    strip = [(x - middle, y) for x in (low, high) for y in (0.0, allowance)]
    past = [(x - middle, y + allowance + placement.fold) for x, y in upper]
    return Need((*strip, *past), (high - low) / 2, placement, is_first=False, stray=CHORD if curved else 0.0), middle


def first_need(outline: Outline, frame: Frame, allowance: float, placement: Placement) -> tuple[Need, Point]:
    """The need of a first patch in a frame, and where in that frame the middle of its box lies.

    Its tips are cut where a template's are.
    """
    ring = [frame.into(p) for p in cut_line(outline, (), allowance).polygon]
    xs, ys = zip(*ring, strict=True)
    middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    points = tuple(sub(p, middle) for p in ring)
    return Need(points, 0.0, placement, is_first=True, stray=0.0 if outline.is_straight else CHORD), middle


def depth(outline: Outline, seam: tuple[Point, Point]) -> float:
    """How far [in] a patch reaches from its seam line."""
    return max(height_over(p, *seam) for p in outline.polygon)

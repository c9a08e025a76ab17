"""A closed ring of edges, with exact area and perimeter."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from seamproof.errors import GeometryError
from seamproof.geometry.edges import Edge
from seamproof.geometry.points import bounds, cross, distance, distance_to_segment, ring_area, sub
from seamproof.given import number, row_of
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterable

    from seamproof.geometry.points import Point
    from seamproof.geometry.transforms import Transform


@dataclass(frozen=True)
class Outline:
    """A closed ring of edges [in], always kept anticlockwise: given clockwise, it is turned round.

    Raises:
        GeometryError: fewer than two edges, or an edge that does not start where the last one ended.
        ArgumentError: something that is no Edge.
    """

    edges: tuple[Edge, ...]

    def __post_init__(self) -> None:
        if not isinstance(self.edges, tuple) or not all(isinstance(edge, Edge) for edge in self.edges):
            edges = row_of(self.edges, Edge, "edges", "an outline is made of Edges; of points, by Outline.of")
            object.__setattr__(self, "edges", edges)
        if len(self.edges) < 2:
            raise GeometryError(f"an outline needs two edges or more, not {len(self.edges)}")
        for edge, after in zip(self.edges, self.edges[1:] + self.edges[:1], strict=True):
            if distance(edge.end, after.start) > SAME_POINT:
                raise GeometryError(
                    f"the outline is open: an edge ends at {edge.end}, the next starts at {after.start}"
                )
        if _area(self.edges) < 0:
            object.__setattr__(self, "edges", tuple(edge.reversed() for edge in reversed(self.edges)))

    @classmethod
    def of(cls, points: Iterable[Point]) -> Outline:
        """The outline with straight edges through (x, y) points [in]; a last point equal to the first is dropped.

        Raises:
            GeometryError: fewer than three points, or something that is no pair of numbers.
        """
        try:
            ring = [(number(x), number(y)) for x, y in points]
        except (TypeError, ValueError) as error:
            raise GeometryError(f"an outline is made of (x, y) points, two numbers each: {error}") from None
        if len(ring) > 1 and ring[0] == ring[-1]:
            ring.pop()
        if len(ring) < 3:
            raise GeometryError(f"an outline needs three points or more, not {len(ring)}")
        return cls(tuple(Edge(p, q) for p, q in zip(ring, ring[1:] + ring[:1], strict=True)))

    @classmethod
    def rectangle(cls, width: float, height: float, corner: Point = (0.0, 0.0)) -> Outline:
        """A rectangle [in] with its lower left corner at `corner`."""
        x, y = corner
        return cls.of([(x, y), (x + width, y), (x + width, y + height), (x, y + height)])

    @property
    def points(self) -> tuple[Point, ...]:
        """Where its edges start [in], in order."""
        return tuple(edge.start for edge in self.edges)

    @cached_property
    def polygon(self) -> tuple[Point, ...]:
        """Its ring of points [in] with arcs flattened to tolerance.CHORD; the first point is not repeated."""
        return tuple(point for edge in self.edges for point in edge.flattened()[:-1])

    @cached_property
    def area(self) -> float:
        """Its exact area [in²], arcs included; never negative."""
        return _area(self.edges)

    @property
    def perimeter(self) -> float:
        """Its exact length round [in]."""
        return sum(edge.length for edge in self.edges)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """The least box round it, as (left, bottom, right, top) [in]; arcs flattened."""
        return bounds(self.polygon)

    @property
    def is_straight(self) -> bool:
        """Whether it has no arc."""
        return not any(edge.is_arc for edge in self.edges)

    @property
    def is_convex(self) -> bool:
        """Whether no corner turns inward by more than SAME_POINT, measured as a corner's depth, never as an angle."""
        ring = self.polygon
        return all(
            cross(sub(q, p), sub(r, q)) >= 0 or distance_to_segment(q, p, r) <= SAME_POINT
            for p, q, r in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True)
        )

    @cached_property
    def centroid(self) -> Point:
        """Its centre of area [in]; arcs flattened."""
        ring = self.polygon
        origin = ring[0]
        total = ring_area(ring)
        x = y = 0.0
        for p, q in zip(ring, ring[1:] + ring[:1], strict=True):
            a, b = sub(p, origin), sub(q, origin)
            weight = cross(a, b)
            x, y = x + (a[0] + b[0]) * weight, y + (a[1] + b[1]) * weight
        return (origin[0] + x / (6 * total), origin[1] + y / (6 * total)) if total else origin

    def transformed(self, transform: Transform) -> Outline:
        """The outline after a turn, mirror, scale or shift; still anticlockwise."""
        return Outline(tuple(transform.edge(edge) for edge in self.edges))


def _area(edges: tuple[Edge, ...]) -> float:
    origin = edges[0].start
    return sum(edge.area_under(origin) for edge in edges)

"""Outlines with arcs."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from seamproof.geometry import Edge, Outline, Transform

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.geometry import Point


def arc(start: Point, end: Point, degrees: float) -> Edge:
    """The arc that turns through this angle, positive to the left; 0 is a line."""
    return Edge(start, end, math.tan(math.radians(degrees) / 4))


def ring(points: Sequence[Point], turns: Sequence[float]) -> Outline:
    """An outline through points; the edge from each point on turns through its angle [°], 0 for a line."""
    return Outline(tuple(arc(p, q, turn) for p, q, turn in zip(points, [*points[1:], points[0]], turns, strict=True)))


def turned(outline: Outline, quarters: int, about: Point) -> Outline:
    """An outline turned anticlockwise by quarter turns about a point."""
    return outline.transformed(Transform.turn(90.0 * quarters, about))

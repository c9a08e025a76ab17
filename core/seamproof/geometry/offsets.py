"""An outline with a seam allowance round it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from seamproof.errors import GeometryError
from seamproof.geometry.circles import line_and_circle, two_circles
from seamproof.geometry.edges import Edge
from seamproof.geometry.nodes import arc_fraction
from seamproof.geometry.outlines import Outline
from seamproof.geometry.points import add, cross, distance, dot, left, sub, times, unit
from seamproof.tolerance import SAME_POINT, UNIT_VECTOR

if TYPE_CHECKING:
    from seamproof.geometry.points import Point


def offset(outline: Outline, allowance: float) -> Outline:
    """The outline moved outward by `allowance` [in], its corners run on to a point (mitred).

    Between interior angles α and β a straight edge grows by s·(cot α/2 + cot β/2), and a corner moves out s/sin(θ/2).
    Where an inward notch is too narrow for its edges to move, they meet as far out as they do.

    Args:
        outline: The finished outline, arcs allowed.
        allowance: How far to move [in], above zero.

    Raises:
        GeometryError: an inward arc of a radius not above the allowance.
    """
    moved = [_moved(edge, allowance) for edge in outline.edges if edge.chord > SAME_POINT]
    before = moved[-1:] + moved[:-1]
    corners = [_corner(a, b) for a, b in zip(before, moved, strict=True)]
    after = corners[1:] + corners[:1]
    edges = [_between(edge, p, q) for edge, p, q in zip(moved, corners, after, strict=True)]
    turned = (dot(edge.direction(0.5), new.direction(0.5)) for edge, new in zip(moved, edges, strict=True) if new.chord)
    if any(share <= 0 for share in turned):
        return _by_buffer(outline, allowance)
    return Outline(tuple(edge for edge in edges if edge.chord > 0))


def _moved(edge: Edge, allowance: float) -> Edge:
    start = add(edge.start, times(left(edge.direction(0)), -allowance))
    end = add(edge.end, times(left(edge.direction(1)), -allowance))
    if edge.bulge < 0 and edge.radius <= allowance + SAME_POINT:
        raise GeometryError(
            f"an inward arc of radius {edge.radius:.3f} in cannot take an allowance of {allowance:.3f} in: "
            "make the curve wider or the allowance less"
        )
    return Edge(start, end, edge.bulge)


def _corner(a: Edge, b: Edge) -> Point:
    """Where two moved edges, run on, meet nearest to both."""
    near = times(add(a.end, b.start), 0.5)
    if distance(a.end, b.start) <= SAME_POINT:
        return near
    if not a.is_arc and not b.is_arc:
        meets = _line_line(a, b)
    elif a.is_arc and b.is_arc:
        meets = two_circles(a.centre, a.radius, b.centre, b.radius)
    else:
        line, arc = (a, b) if b.is_arc else (b, a)
        toward = unit(sub(line.end, line.start))
        meets = line_and_circle(line.start, toward, arc.centre, arc.radius)
    return min(meets, key=lambda p: distance(p, near), default=near)


def _line_line(a: Edge, b: Edge) -> list[Point]:
    u, v = a.direction(1), b.direction(0)
    turn = cross(u, v)
    if abs(turn) <= UNIT_VECTOR:
        return []
    return [add(a.end, times(u, cross(sub(b.start, a.end), v) / turn))]


def _between(moved: Edge, p: Point, q: Point) -> Edge:
    """The moved edge, from corner to corner."""
    if not moved.is_arc:
        return Edge(p, q)
    share = arc_fraction(moved, q) - arc_fraction(moved, p)
    return Edge(p, q, math.tan(moved.sweep * share / 4))


def _by_buffer(outline: Outline, allowance: float) -> Outline:
    import shapely

    grown = shapely.Polygon(outline.polygon).buffer(allowance, join_style="mitre", mitre_limit=100.0)
    return Outline.of(grown.exterior.coords)

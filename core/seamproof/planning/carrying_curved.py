"""Seams carried on where sides are curved: a line onward along itself, an arc onward along its circle.

All lengths in inches, curvature in 1/in: of a seam that turns left it is positive, of a line 0.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from seamproof.block import Patch
from seamproof.geometry import Edge, Outline
from seamproof.geometry.circles import line_and_circle, two_circles
from seamproof.geometry.nodes import arc_fraction
from seamproof.geometry.points import (
    add,
    cross,
    distance,
    distance_to_segment,
    dot,
    is_inside,
    left,
    sides,
    sub,
    times,
    unit,
)
from seamproof.planning.frame import bits
from seamproof.tolerance import CHORD, SAME_POINT, UNIT_VECTOR, area_slack

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.block import Block
    from seamproof.geometry import Point
    from seamproof.planning.frame import Frame


@dataclass(frozen=True, slots=True)
class Onward:
    """How a seam goes on.

    Attributes:
        start: Where it ends now [in].
        toward: The unit vector in which it goes on there.
        curvature: Of its circle [1/in]; 0 for a line.
    """

    start: Point
    toward: Point
    curvature: float = 0.0

    @property
    def centre(self) -> Point:
        """The centre of its circle [in]."""
        return add(self.start, times(left(self.toward), 1 / self.curvature))

    def edge_to(self, end: Point) -> Edge:
        """The stretch from its start to a point on it."""
        if not self.curvature:
            return Edge(self.start, end)
        return Edge(self.start, end, math.copysign(math.tan(self._turn(end) / 4), self.curvature))

    def reach(self, end: Point) -> float:
        """How far along itself [in] a point on it lies."""
        if not self.curvature:
            return dot(self.toward, sub(end, self.start))
        return self._turn(end) / abs(self.curvature)

    def _turn(self, end: Point) -> float:
        a, b = sub(self.start, self.centre), sub(end, self.centre)
        return math.copysign(1, self.curvature) * math.atan2(cross(a, b), dot(a, b)) % math.tau


def curved_ends(frame: Frame) -> Iterator[tuple[int, Onward, int]]:
    """Every seam end that can be carried on: (node, how it goes on, index of the patch it enters)."""
    pm = frame.map
    for run in frame.runs:
        if run.nodes[0] == run.nodes[-1]:
            continue
        for at, forward in ((0, False), (-1, True)):
            edge = frame.edge(run.edges[at], forward=run.forward[at] == forward)
            node = run.nodes[-1 if forward else 0]
            far = run.nodes[0 if forward else -1]
            toward = unit(sub(pm.nodes[node], pm.nodes[far])) if run.is_straight else edge.direction(1)
            bend = math.copysign(1 / edge.radius, edge.bulge) if edge.is_arc else 0.0
            way = Onward(pm.nodes[node], toward, bend)
            for patch in bits(frame.around[node]):
                if crossing(frame.patches[patch].outline, way) is not None:
                    yield node, way, patch
                    break


def crossing(outline: Outline, way: Onward) -> Edge | None:
    """The stretch on which a seam, carried on, crosses an outline's inside, to where it first meets it again.

    None where it leaves the outline at once or runs along it, or its start is not on it.
    """
    if all(_off(edge, way.start) > 2 * SAME_POINT for edge in outline.edges):
        return None
    meets = [
        (reach, place)
        for edge in outline.edges
        for place in (*_meets(way, edge), *_on_way(way, edge.start))
        if (reach := way.reach(place)) > 2 * SAME_POINT
    ]
    if way.curvature:
        meets = [row for row in meets if row[0] < math.tau / abs(way.curvature) - 2 * SAME_POINT]
    if not meets:
        return None
    reach, end = min(meets)
    end = next((edge.start for edge in outline.edges if distance(edge.start, end) <= 2 * SAME_POINT), end)
    stretch = way.edge_to(end)
    slack = min(2 * CHORD, reach / 8)
    middle = stretch.middle
    is_in = is_inside(middle, outline.polygon) and all(
        distance_to_segment(middle, p, q) > slack for p, q in sides(outline.polygon)
    )
    return stretch if is_in else None


def _on_way(way: Onward, place: Point) -> tuple[Point, ...]:
    """A corner, where a seam passes through it."""
    d = sub(place, way.start)
    is_arc = bool(way.curvature)
    off = abs(distance(place, way.centre) - 1 / abs(way.curvature)) if is_arc else abs(cross(way.toward, d))
    return (place,) if off <= SAME_POINT else ()


def _meets(way: Onward, edge: Edge) -> list[Point]:
    """Where a seam's whole line or circle meets an edge."""
    if not way.curvature and not edge.is_arc:
        side = sub(edge.end, edge.start)
        turn = cross(way.toward, side)
        if abs(turn) <= UNIT_VECTOR * edge.chord:
            return []
        found = [add(way.start, times(way.toward, cross(sub(edge.start, way.start), side) / turn))]
    elif not way.curvature:
        found = line_and_circle(way.start, way.toward, edge.centre, edge.radius)
    elif not edge.is_arc:
        head = unit(sub(edge.end, edge.start))
        found = line_and_circle(edge.start, head, way.centre, 1 / abs(way.curvature))
    else:
        found = two_circles(way.centre, 1 / abs(way.curvature), edge.centre, edge.radius)
    return [place for place in found if _off(edge, place) <= SAME_POINT]


def _off(edge: Edge, place: Point) -> float:
    """How far a point is from an edge [in]."""
    if not edge.is_arc:
        return distance_to_segment(place, edge.start, edge.end)
    if 0 <= arc_fraction(edge, place) <= 1:
        return abs(distance(place, edge.centre) - edge.radius)
    return min(distance(place, edge.start), distance(place, edge.end))


def parted(outline: Outline, stretch: Edge) -> tuple[Outline, Outline]:
    """The two outlines into which a stretch from one point of an outline to another parts it."""
    edges = _with(_with(list(outline.edges), stretch.start), stretch.end)
    starts = [edge.start for edge in edges]
    i, j = (min(range(len(edges)), key=lambda k: distance(starts[k], p)) for p in (stretch.start, stretch.end))
    turned = edges[i:] + edges[:i]
    cut = (j - i) % len(edges)
    return Outline((*turned[:cut], stretch.reversed())), Outline((stretch, *turned[cut:]))


def _with(edges: list[Edge], p: Point) -> list[Edge]:
    """The edges with p as one of their ends."""
    if any(distance(edge.start, p) <= 2 * SAME_POINT for edge in edges):
        return edges
    at = min(range(len(edges)), key=lambda k: _off(edges[k], p))
    edge = edges[at]
    t = arc_fraction(edge, p) if edge.is_arc else distance(edge.start, p) / edge.chord
    one, other = edge.part(0, t), edge.part(t, 1)
    return [*edges[:at], Edge(one.start, p, one.bulge), Edge(p, other.end, other.bulge), *edges[at + 1 :]]


def with_crossing(block: Block, patch_id: str, way: Onward, names: Sequence[str]) -> tuple[Block, Edge]:
    """The block with one patch parted where a seam is carried on across it, and the stretch that parts it.

    Raises:
        BlockError: no such patch.
        ValueError: the seam does not cross the patch, or would leave a sliver.
    """
    patch = block.patch(patch_id)
    stretch = crossing(patch.outline, way)
    if stretch is None:
        raise ValueError(f"a seam from {way.start} does not cross patch {patch_id}")
    halves = parted(patch.outline, stretch)
    if any(half.area <= area_slack(half.perimeter) for half in halves):
        raise ValueError(f"a seam from {stretch.start} to {stretch.end} leaves a sliver of patch {patch_id}")
    return in_pieces(block, patch, halves, names), stretch


def in_pieces(block: Block, patch: Patch, outlines: Sequence[Outline], names: Sequence[str]) -> Block:
    """The block with pieces, of its role, in the place of a patch."""
    pieces = tuple(Patch(name, outline, patch.role) for name, outline in zip(names, outlines, strict=True))
    at = block.ids.index(patch.id)
    return replace(block, patches=block.patches[:at] + pieces + block.patches[at + 1 :])

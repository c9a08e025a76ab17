"""Which edges lie on the block's outline, and whether straight grain runs along them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from seamproof.geometry.planar import PlanarMap
from seamproof.geometry.points import cross, dot, sub
from seamproof.tolerance import ROUND_OFF, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from seamproof.block import Block
    from seamproof.geometry import Edge, Point


def outline_edges(block: Block) -> Mapping[str, tuple[Edge, ...]]:
    """For each patch its edges on the block's outline, in order; an empty tuple for an inner patch."""
    pm = PlanarMap.of([patch.outline for patch in block.patches])
    found: dict[str, list[Edge]] = {patch: [] for patch in block.ids}
    for edge in pm.edges:
        if not edge.is_inner:
            found[block.ids[edge.left]].append(edge.edge)
    return {patch: tuple(edges) for patch, edges in found.items()}


def is_on_grain(edge: Edge, grain: Point) -> bool:
    """Whether an edge runs with or square to a unit vector along the grain, within SAME_POINT at each of its ends.

    No grain runs along an arc.
    """
    if edge.is_arc:
        return False
    d = sub(edge.end, edge.start)
    return min(abs(cross(d, grain)), abs(dot(d, grain))) <= 2 * SAME_POINT + ROUND_OFF


def length_on_grain(edges: Iterable[Edge], grain: Point) -> float:
    """How much [in] of these edges has straight grain along it."""
    return sum(edge.length for edge in edges if is_on_grain(edge, grain))


def is_bias(edges: Iterable[Edge], grain: Point) -> bool:
    """Whether any of these edges is off the straight grain."""
    return not all(is_on_grain(edge, grain) for edge in edges)

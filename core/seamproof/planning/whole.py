"""Whether a block is one piece: connected by its edges, without holes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from seamproof.errors import NotSewable
from seamproof.geometry.points import ring_area

if TYPE_CHECKING:
    from seamproof.planning.frame import Frame


def check_whole(frame: Frame) -> None:
    """Prove that the patches hang together by their edges and leave no hole.

    Raises:
        NotSewable: they are in parts, or lie round a hole; the message names the patches.
    """
    parts = sorted(frame.map.parts, key=lambda part: (-len(part), part))
    if len(parts) > 1:
        ids = tuple(frame.patches[patch].id for part in parts[1:] for patch in part)
        rest = {node for part in parts[:1] for node in _nodes(frame, part)}
        touching = any(not rest.isdisjoint(_nodes(frame, part)) for part in parts[1:])
        how = "they touch the rest at a point only" if touching else "they do not touch the rest"
        raise NotSewable(
            f"the block is in {len(parts)} parts: patch{'es' if len(ids) > 1 else ''} {_some(ids)} cannot be joined to "
            f"the rest by a seam ({how}): draw them edge to edge, or make each part a block of its own",
            patches=ids,
            reason="parts",
        )
    if frame.map.holes:
        ids = _round_holes(frame)
        raise NotSewable(
            f"the block has {frame.map.holes} hole{'s' if frame.map.holes > 1 else ''}, ringed by patches "
            f"{_some(ids)}: no sewing closes a ring round nothing; draw a patch in the hole",
            patches=ids,
            reason="holes",
        )


def _nodes(frame: Frame, part: tuple[int, ...]) -> set[int]:
    inside = set(part)
    return {node for edge in frame.map.edges if edge.left in inside for node in (edge.start, edge.end)}


def _round_holes(frame: Frame) -> tuple[str, ...]:
    """The patches on the rings that run clockwise; where a ring touches itself, those at that point."""
    nodes: set[int] = set()
    for ring in frame.map.boundary_rings:
        if ring_area([frame.map.nodes[node] for node in ring]) < 0:
            nodes |= set(ring)
        nodes |= {node for node in ring if ring.count(node) > 1}
    patches = {edge.left for edge in frame.map.edges if not edge.is_inner and {edge.start, edge.end} & nodes}
    return tuple(frame.patches[patch].id for patch in sorted(patches))


def _some(ids: tuple[str, ...]) -> str:
    """A list of ids for a message, cut short where it is long."""
    return ", ".join(ids[:12]) + (f" and {len(ids) - 12} more" if len(ids) > 12 else "")

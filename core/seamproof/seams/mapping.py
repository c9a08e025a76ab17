"""From a block to its seam map."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from seamproof.block.checking import check_tiling
from seamproof.geometry import Edge
from seamproof.seams.seam_map import Junction, SeamLine, SeamMap

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.geometry.planar import PlanarMap
    from seamproof.seams.seam_map import JunctionKind


def map_seams(block: Block) -> SeamMap:
    """The seam lines and junctions of a block, in the order of its planar map. Raises BlockError as `check` does."""
    pm = check_tiling(block)
    ids = block.ids
    lines = tuple(_line(pm, run, ids) for run in pm.runs)
    junctions = []
    for node, place in enumerate(pm.nodes):
        kind = _kind(pm, node)
        if kind is None:
            continue
        around = {side for index in pm.star(node) for side in (pm.edges[index].left, pm.edges[index].right)}
        junctions.append(Junction(place, kind, tuple(ids[i] for i in sorted(around) if i >= 0)))
    return SeamMap(lines, tuple(junctions))


def _line(pm: PlanarMap, run: tuple[int, ...], ids: tuple[str, ...]) -> SeamLine:
    """One run as one edge, with the patches on either side in order along it."""
    first = pm.edges[run[0]]
    node = first.start
    if len(run) > 1 and first.start in {pm.edges[run[1]].start, pm.edges[run[1]].end}:
        node = first.end
    start, sweep = node, 0.0
    left: dict[str, None] = {}
    right: dict[str, None] = {}
    for index in run:
        edge = pm.edges[index]
        forward = edge.start == node
        left[ids[edge.left if forward else edge.right]] = None
        right[ids[edge.right if forward else edge.left]] = None
        sweep += pm.leaving(index, node).sweep
        node = pm.other_end(index, node)
    bulge = math.tan(sweep / 4) if sweep else 0.0
    return SeamLine(Edge(pm.nodes[start], pm.nodes[node], bulge), tuple(left), tuple(right))


def _kind(pm: PlanarMap, node: int) -> JunctionKind | None:
    """What a node is; None where nothing meets: a corner of the outline, or a point within a straight seam."""
    inner = [index for index in pm.star(node) if pm.edges[index].is_inner]
    if pm.is_boundary(node):
        return "edge" if inner else None
    pairs = sum(pm.onward(index, node) is not None for index in inner) // 2
    if not pairs:
        return "bend" if len(inner) == 2 else "wye"
    kinds: dict[tuple[int, int], JunctionKind | None] = {(2, 1): None, (3, 1): "tee", (4, 2): "crossing"}
    return kinds.get((len(inner), pairs), "other")

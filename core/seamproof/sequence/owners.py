"""Which seam of a construction every stretch of seam belongs to."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

from seamproof.geometry.nodes import arc_fraction
from seamproof.geometry.points import distance, distance_to_segment
from seamproof.sequence.construction import laid_name
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from seamproof.geometry import Edge, Point
    from seamproof.geometry.planar import PlanarMap
    from seamproof.sequence import Construction

Owner: TypeAlias = str
"""A join's label, the id of the patch that is added on a foundation, or "+" and the label of the unit that is laid on
one: no two can be confused."""


def owners(pm: PlanarMap, ids: tuple[str, ...], construction: Construction) -> dict[int, Owner]:
    """For each inner edge of the map the seam it is sewn in.

    On a foundation it is the seam of the later of its two patches, or of the units they are in; elsewhere the join
    whose one unit holds the patch on its left and whose other holds the one on its right, save where it lies on a
    partial seam: that seam's.
    """
    if construction.laid:
        return _where_units_are_laid(pm, ids, construction)
    unit, rank = _on_foundations(ids, construction)
    owner: dict[int, Owner] = {}
    beside: list[list[int]] = [[] for _ in ids]
    for index, edge in enumerate(pm.edges):
        if not edge.is_inner:
            continue
        a, b = edge.left, edge.right
        if unit[a] == unit[b]:
            owner[index] = ids[max(a, b, key=lambda patch: rank[patch])]
        else:
            beside[a].append(index)
            beside[b].append(index)
    owner |= _on_partial_seams(pm, owner, construction)
    return owner | _on_joins(pm, unit, [[index for index in row if index not in owner] for row in beside], construction)


def _on_joins(pm: PlanarMap, unit: list[str], beside: list[list[int]], construction: Construction) -> dict[int, Owner]:
    """The joins along edges that nothing else owns. Small goes into large, so that all joins cost O(n log n)."""
    members: dict[str, list[int]] = {}
    for patch, label in enumerate(unit):
        members.setdefault(label, []).append(patch)
    group = [members[label][0] for label in unit]
    owner: dict[int, Owner] = {}
    for join in construction.joins:
        small, large = sorted((members.pop(join.first), members.pop(join.second)), key=len)
        one, other = group[small[0]], group[large[0]]
        for index in (index for patch in small for index in beside[patch]):
            if {group[pm.edges[index].left], group[pm.edges[index].right]} == {one, other}:
                owner[index] = join.label
        for patch in small:
            group[patch] = other
        large += small
        members[join.label] = large
    return owner


def added_patches(construction: Construction, owner: Owner) -> tuple[str, ...]:
    """The patches that are added on a foundation by a seam that is no join's: one, or all of the unit laid."""
    return construction.patches_of(owner[1:]) if owner.startswith("+") else (owner,)


def _where_units_are_laid(pm: PlanarMap, ids: tuple[str, ...], construction: Construction) -> dict[int, Owner]:
    owner: dict[int, Owner] = {}
    inner = [(index, ids[edge.left], ids[edge.right]) for index, edge in enumerate(pm.edges) if edge.is_inner]
    for foundation in construction.foundations:
        parts = {part: construction.patches_of(part) if part in construction.laid else (part,)
                 for part in foundation.order}  # fmt: skip
        rank = {patch: number for number, part in enumerate(foundation.order) for patch in parts[part]}
        for index, a, b in inner:
            if index not in owner and a in rank and b in rank and rank[a] != rank[b]:
                later = foundation.order[max(rank[a], rank[b])]
                owner[index] = laid_name(later) if later in construction.laid else later
    owner |= _on_partial_seams(pm, owner, construction)
    for join in construction.joins:
        first, second = (frozenset(construction.patches_of(label)) for label in (join.first, join.second))
        for index, a, b in inner:
            if index not in owner and ((a in first and b in second) or (a in second and b in first)):
                owner[index] = join.label
    return owner


def _on_partial_seams(pm: PlanarMap, owner: dict[int, Owner], construction: Construction) -> dict[int, Owner]:
    rest = [(index, edge.edge.middle) for index, edge in enumerate(pm.edges) if edge.is_inner and index not in owner]
    partial = [join for join in construction.joins if len(join.passes) > 1]
    return {index: join.label for join in partial for index, middle in rest if _lies_on(middle, join.seam)}


def _on_foundations(ids: tuple[str, ...], construction: Construction) -> tuple[list[str], list[int]]:
    unit, rank = dict.fromkeys(ids, ""), dict.fromkeys(ids, 0)
    unit |= {patch: patch for patch in construction.loose}
    for foundation in construction.foundations:
        for number, patch in enumerate(foundation.order):
            unit[patch], rank[patch] = foundation.label, number
    return [unit[patch] for patch in ids], [rank[patch] for patch in ids]


def _lies_on(p: Point, seam: tuple[Edge, ...]) -> bool:
    for edge in seam:
        if not edge.is_arc:
            if distance_to_segment(p, edge.start, edge.end) <= SAME_POINT:
                return True
        elif 0 <= (t := arc_fraction(edge, p)) <= 1 and distance(edge.at(t), p) <= SAME_POINT:
            return True
    return False

"""What pictures of joins and stages know of a construction's units: their raw edges and their match ticks."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Final

from seamproof.cutting.laid import RawEdges
from seamproof.cutting.ticks import match_ticks
from seamproof.cutting.units import Units
from seamproof.geometry.points import add, distance, distance_to_segment, is_inside, sub, times
from seamproof.geometry.points import left as normal_left
from seamproof.tolerance import LAID_ON

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from seamproof.block import Block
    from seamproof.cutting import MatchTick
    from seamproof.geometry import Edge, Outline
    from seamproof.pattern import Pattern
    from seamproof.sequence import Construction, Join


LOOK: Final = 1 / 64
"""[in] How far beside a seam is looked for the patch that lies there: far less than any patch is wide."""


def join_ticks(pattern: Pattern, label: str) -> tuple[MatchTick, ...]:
    """The match ticks of a join where they lie in the block, each once; printed or not. None for an unknown label."""
    return _ticks(pattern.block, pattern.construction).get(label, ())


def ticks_now(pattern: Pattern, join: Join) -> tuple[MatchTick, ...]:
    """The match ticks of a join on what is sewn in its first pass: both units reach no farther in a partial seam."""
    ticks, (first, *later) = join_ticks(pattern, join.label), join.passes
    if not later:
        return ticks
    return tuple(
        tick
        for tick in ticks
        if any(distance_to_segment(tick.place, edge.start, edge.end) <= LAID_ON for edge in first)
    )


def open_stretch(join: Join, number: int) -> tuple[Edge, ...]:
    """A later pass of a partial seam as it is sewn: from where the earlier ones stop.

    Args:
        join: The seam.
        number: Which pass, from 1: the first, 0, began the seam.

    Raises:
        IndexError: it has no such pass.
    """
    stretch = join.passes[number]
    stops = [end for earlier in join.passes[:number] for edge in earlier for end in (edge.start, edge.end)]
    if min(distance(stretch[0].start, stop) for stop in stops) <= LAID_ON:
        return stretch
    return tuple(edge.reversed() for edge in reversed(stretch))


def sides_of(pattern: Pattern, edges: Iterable[Edge]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The patches that lie along some edges on their left, and on their right, in the order of the edges."""
    rings = {patch.id: patch.outline.polygon for patch in pattern.block.patches}
    found: tuple[dict[str, None], dict[str, None]] = ({}, {})
    for edge in edges:
        aside = times(normal_left(edge.direction(0.5)), LOOK)
        for side, place in zip(found, (add(edge.middle, aside), sub(edge.middle, aside)), strict=True):
            side.update(dict.fromkeys(patch for patch, ring in rings.items() if is_inside(place, ring)))
    return tuple(found[0]), tuple(found[1])


def units_of(pattern: Pattern) -> Units:
    """A pattern's units, with their finished outlines."""
    return _units(pattern.block, pattern.construction)


def raw_edge(pattern: Pattern, label: str, finished: Outline) -> Outline:
    """Where a unit's cloth ends: see `RawEdges`."""
    return RawEdges(units_of(pattern), pattern.templates, pattern.cut, pattern.recipe.make.allowance).of(
        label, finished
    )


@lru_cache(maxsize=2)
def _units(block: Block, construction: Construction) -> Units:
    return Units(block, construction)


@lru_cache(maxsize=2)
def _ticks(block: Block, construction: Construction) -> Mapping[str, tuple[MatchTick, ...]]:
    found: dict[str, list[MatchTick]] = {}
    for tick in match_ticks(_units(block, construction)):
        found.setdefault(tick.join, []).append(tick)
    return {label: tuple(ticks) for label, ticks in found.items()}

"""What pictures of joins and stages know of a construction's units: their raw edges and their match ticks."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from seamproof.cutting.laid import RawEdges
from seamproof.cutting.ticks import match_ticks
from seamproof.cutting.units import Units
from seamproof.geometry.points import distance_to_segment
from seamproof.tolerance import LAID_ON

if TYPE_CHECKING:
    from collections.abc import Mapping

    from seamproof.block import Block
    from seamproof.cutting import MatchTick
    from seamproof.geometry import Outline
    from seamproof.pattern import Pattern
    from seamproof.sequence import Construction, Join


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

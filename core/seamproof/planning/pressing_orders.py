"""The orders of a foundation among which pressing may choose: those that differ where it meets others.

Where finished units are laid on a foundation, each is seen as the one patch it is laid as: a block of the foundation's
parts has the same orders, and whichever lone patch can be first there can be first here.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Final, TypeAlias

from seamproof.block import Block, Patch
from seamproof.cutting.units import Units
from seamproof.planning.cuts import seam_between
from seamproof.planning.frame import Frame, bits
from seamproof.planning.order import peel, possible_firsts
from seamproof.planning.papers import Paper, papers
from seamproof.planning.shapes import Shapes
from seamproof.sequence import Foundation
from seamproof.sequence.construction import laid_name

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from seamproof.planning.pressing_view import View
    from seamproof.planning.stages import SeamEdge
    from seamproof.sequence import Construction

CANDIDATES: Final = 12
"""How many orders of one foundation are weighed: those that differ at the seams which meet others."""

Choice: TypeAlias = "list[tuple[dict[int, int], tuple[Paper, ...]]]"
"""The orders of one foundation and its twins, the present one first and without papers: for each, the patch that is
sewn later at every edge met, and the papers."""


@dataclass(frozen=True)
class Orders:
    """Finds the orders of the foundations of a construction."""

    block: Block
    frame: Frame
    construction: Construction
    view: View

    def choices(self, met: set[int]) -> Iterator[Choice]:
        """For each foundation whose seams meet others at the edges given: its orders that differ there."""
        for model in self.construction.foundations:
            if model.twin_of is not None:
                continue
            group = [model, *(f for f in self.construction.foundations if f.twin_of == model.label)]
            inside = {laid_name(part) if self._is_laid(part) else part for f in group for part in f.order}
            edges = sorted(edge for edge in met if self.view.owner[edge] in inside)
            if not edges:
                continue
            choice: Choice = [(self._later(edges, group), ())]
            for made in self._orders(group):
                if len(choice) == CANDIDATES:
                    break
                later = self._later(edges, [paper.foundation for paper in made])
                if all(later != other for other, _ in choice):
                    choice.append((later, made))
            yield choice

    def _orders(self, group: Sequence[Foundation]) -> Iterator[tuple[Paper, ...]]:
        model = group[0]
        if any(map(self._is_laid, model.order)):
            yield from self._with_units(group)
            return
        frame, units = self.frame, [sum(map(self._mask, f.order)) for f in group]
        for first in possible_firsts(frame, units[0], peel(frame, units[0])):
            if peel(frame, units[0], first).core == 1 << first:
                yield tuple(
                    replace(paper, foundation=replace(paper.foundation, label=f.label, twin_of=f.twin_of))
                    for paper, f in zip(papers(frame, units, first), group, strict=True)
                )

    def _with_units(self, group: Sequence[Foundation]) -> Iterator[tuple[Paper, ...]]:
        model = group[0]
        parts = Frame.of(self._as_patches(model), self.frame.allowance, self.frame.prefer)
        for first in possible_firsts(parts, parts.all, peel(parts, parts.all)):
            is_lone = not self._is_laid(model.order[first])
            if is_lone and peel(parts, parts.all, first).core == 1 << first:
                (paper,) = papers(parts, [parts.all], first)
                made = [self._renamed(model, f, paper.foundation) for f in group]
                if all(made):
                    yield tuple(paper for paper in made if paper is not None)

    def _as_patches(self, foundation: Foundation) -> Block:
        """A foundation as a block of its parts, each finished unit one patch, with ids "1", "2", … as they are sewn."""
        units = Units(self.block, self.construction)
        outlines = [
            units.outline(part) if self._is_laid(part) else self.block.patch(part).outline for part in foundation.order
        ]
        return Block(foundation.label, tuple(Patch(str(n), outline) for n, outline in enumerate(outlines, 1)))

    def _renamed(self, model: Foundation, f: Foundation, made: Foundation) -> Paper | None:
        """An order of a model's parts as the paper of the model or a twin; None where the twin's parts are others."""
        match = Shapes(self.frame).match(self._unit(model), self._unit(f))
        theirs = {self._mask(part): part for part in f.order}
        names: dict[str, str] = {}
        for number, part in enumerate(model.order, 1):
            laid_there = sum(1 << match[patch] for patch in bits(self._mask(part))) if match else 0
            if laid_there not in theirs:
                return None
            names[str(number)] = theirs[laid_there]
        foundation = Foundation(
            f.label,
            tuple(names[part] for part in made.order),
            tuple(tuple(names[part] for part in run) for run in made.groups),
            frozenset((names[a], names[b]) for a, b in made.precedes),
            f.twin_of,
        )
        return Paper(foundation, tuple(self._seams([self._mask(part) for part in foundation.order])))

    def _seams(self, masks: Sequence[int]) -> Iterator[tuple[SeamEdge, ...]]:
        sewn = masks[0]
        for mask in masks[1:]:
            sides = (side for patch in bits(mask) for side in self.frame.sides[patch])
            run = next(run for _, other, run in sides if sewn >> other & 1)
            yield seam_between(self.frame, run, mask, sewn)
            sewn |= mask

    def _later(self, edges: Iterable[int], group: Iterable[Foundation]) -> dict[int, int]:
        view, rank = self.view, dict[str, int]()
        for foundation in group:
            for number, part in enumerate(foundation.order):
                rank |= dict.fromkeys(self._patches(part), number)
        sides = {edge: (view.pm.edges[edge].left, view.pm.edges[edge].right) for edge in edges}
        return {edge: max(pair, key=lambda patch: rank[view.ids[patch]]) for edge, pair in sides.items()}

    def _is_laid(self, part: str) -> bool:
        return part in self.construction.laid

    def _patches(self, part: str) -> tuple[str, ...]:
        return self.construction.patches_of(part) if self._is_laid(part) else (part,)

    def _mask(self, part: str) -> int:
        return sum(1 << self._place[patch] for patch in self._patches(part))

    def _unit(self, foundation: Foundation) -> int:
        return sum(map(self._mask, foundation.order))

    @cached_property
    def _place(self) -> Mapping[str, int]:
        return {patch.id: index for index, patch in enumerate(self.frame.patches)}

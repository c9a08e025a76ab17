"""A pieced construction as a maker follows it: units of one kind made together, by the way that suits them."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING

from seamproof.cutting.alike import Alike
from seamproof.cutting.recipes_of_units import way_of
from seamproof.cutting.recognising import recognised
from seamproof.cutting.units import Units

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from seamproof.block import Block
    from seamproof.cutting.recipes_of_units import Workshop
    from seamproof.cutting.recognising import Found
    from seamproof.cutting.ways import Way
    from seamproof.sequence import Construction
    from seamproof.sequence.pressing import PressingPlan


@dataclass(frozen=True)
class Kind:
    """Units that are the same in every way: congruent, of the same fabrics, sewn and pressed alike.

    Attributes:
        name: What they are called on pages: "U1", "U2", …
        labels: The joins of one block that make them.
    """

    name: str
    labels: tuple[str, ...]


@dataclass(frozen=True)
class Batch:
    """Units made together, one stage after the other.

    Attributes:
        kinds: Kinds that differ in nothing but how their seams are pressed, or are mirror images that come together.
        way: How they are made; None: two units are joined along one seam.
    """

    kinds: tuple[Kind, ...]
    way: Way | None = None

    @property
    def labels(self) -> tuple[str, ...]:
        """The joins of one block."""
        return tuple(label for kind in self.kinds for label in kind.labels)

    @property
    def model(self) -> str:
        """The join by which all are shown."""
        return self.kinds[0].labels[0]


@dataclass(frozen=True)
class Piecing:
    """All batches of a block in sewing order.

    Attributes:
        batches: What is made; the last is the block.
        copies: How many blocks.
        within: For each join within a unit that a way makes at once, the join that makes that unit.
    """

    batches: tuple[Batch, ...]
    copies: int = 1
    within: Mapping[str, str] = field(default_factory=dict)

    @cached_property
    def names(self) -> Mapping[str, str]:
        """The name of the unit that each join makes, for joins that are told of."""
        return {label: kind.name for batch in self.batches for kind in batch.kinds for label in kind.labels}

    @cached_property
    def told(self) -> Mapping[str, str]:
        """For every join the name of the unit by which pages speak of it."""
        return {**self.names, **{inner: self.names[outer] for inner, outer in self.within.items()}}

    @property
    def ways(self) -> tuple[Way, ...]:
        """Every way of making units that is used, in sewing order."""
        return tuple(batch.way for batch in self.batches if batch.way)

    def batch(self, label: str) -> Batch | None:
        """The batch of which a join is; None for a join within a unit that a way makes at once."""
        return next((batch for batch in self.batches if label in batch.labels), None)


def piecing_of(
    block: Block, construction: Construction, pressing: PressingPlan, fabric_of: Mapping[str, str], shop: Workshop
) -> Piecing:
    """Gather a pieced construction's joins into batches, and find how each is made.

    A way is taken where enough units are needed for it to save work and little is left over; units made otherwise are
    joined from plain pieces. Once a partial seam has been started, joins come singly, in their order.

    Args:
        block: The block.
        construction: How it is sewn, of loose patches alone.
        pressing: Where its allowances lie.
        fabric_of: The fabric of each patch.
        shop: The plain pieces, and how they are cut.
    """
    dyed = replace(block, patches=tuple(replace(patch, role=fabric_of[patch.id]) for patch in block.patches))
    units = Units(dyed, construction)
    alike = Alike(units, pressing)
    found = {join.label: recognised(units, join.label, shop.pieces) for join in construction.joins}
    ways = _ways(alike, {label: list(rows) for label, rows in found.items() if rows}, shop)
    within = {inner: label for label in ways for inner in alike.inside([label])}
    return Piecing(_named(_batches(alike, ways)), shop.copies, within)


def _ways(alike: Alike, found: dict[str, list[Found]], shop: Workshop) -> dict[str, Way]:
    """The way of each unit that is made by one, the largest units first: what is inside one needs no way of its own.

    What no way of a kind makes is tried by the next kind that could.
    """
    while True:
        chosen = [found[label][0] for label in _outermost(alike, found)]
        made: dict[str, Way] = {}
        lost: set[str] = set()
        for rows in _together(alike, chosen):
            way = way_of(rows, shop)
            labels = {row.label for row in rows}
            if way is None:
                lost |= labels
            else:
                made |= dict.fromkeys(labels, way)
        if not lost:
            return made
        for label in lost:
            found[label] = found[label][1:]


def _outermost(alike: Alike, found: Mapping[str, list[Found]]) -> list[str]:
    """The units that a way may make and that lie in no other such unit, in sewing order."""
    joins = alike.units.construction.joins
    inside: set[str] = set()
    chosen = []
    for join in reversed(joins):
        if join.label in inside:
            inside |= {join.first, join.second}
        elif found.get(join.label):
            chosen.append(join.label)
            inside |= {join.first, join.second}
    return chosen[::-1]


def _together(alike: Alike, chosen: Iterable[Found]) -> list[list[Found]]:
    """Units that one way makes: of one key; of strip sets, whose seams are pressed before they are cut, of one kind."""
    groups: list[list[Found]] = []
    for row in chosen:
        for group in groups:
            model = group[0]
            if model.key == row.key and (
                row.kind != "strip set" or alike.is_same(row.label, model.label, but_last=False)
            ):
                group.append(row)
                break
        else:
            groups.append([row])
    return groups


def _batches(alike: Alike, ways: Mapping[str, Way]) -> list[tuple[list[list[str]], Way | None]]:
    """Batches in sewing order, each as its kinds, each kind as its joins."""
    construction = alike.units.construction
    inside = alike.inside(ways)
    batches: list[tuple[list[list[str]], Way | None]] = []
    is_single = False
    for join in construction.joins:
        is_single |= len(join.passes) > 1
        if join.label in inside:
            continue
        way = ways.get(join.label)
        batch = None if is_single else next((row for row in batches if _belongs(alike, join.label, way, row)), None)
        if batch is None:
            batches.append(([[join.label]], way))
            alike.sort(join.label, join.label)
            continue
        kind = next((kind for kind in batch[0] if alike.is_same(join.label, kind[0], but_last=False)), None)
        if kind is None:
            batch[0].append([join.label])
            alike.sort(join.label, join.label)
        else:
            kind.append(join.label)
            alike.sort(join.label, kind[0])
    return batches


def _belongs(alike: Alike, label: str, way: Way | None, batch: tuple[list[list[str]], Way | None]) -> bool:
    """Whether a join's unit is made together with those of a batch."""
    kinds, other = batch
    if way is not None or other is not None:
        return way is other
    return alike.is_same(label, kinds[0][0], but_last=True)


def _named(batches: Iterable[tuple[list[list[str]], Way | None]]) -> tuple[Batch, ...]:
    named = []
    number = 0
    for rows, way in batches:
        kinds = []
        for labels in rows:
            number += 1
            kinds.append(Kind(f"U{number}", tuple(labels)))
        named.append(Batch(tuple(kinds), way))
    return tuple(named)

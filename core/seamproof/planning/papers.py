"""From a unit to a foundation: first patch, sewing order, groups of free patches, twins."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from seamproof.errors import NotSewable
from seamproof.planning.cuts import seam_between
from seamproof.planning.frame import bits
from seamproof.planning.freedom import before_of, flat, going_round, precedes, rounds
from seamproof.planning.order import centre_out, peel, possible_firsts
from seamproof.planning.shapes import Shapes
from seamproof.sequence import Foundation

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.planning.frame import Frame
    from seamproof.planning.stages import SeamEdge

LETTERS: Final = "ABCDEFGHKLMNPQRSTUVWXYZ"
"""I and O read as figures, J is kept for joins."""


def letters(number: int) -> str:
    """The label of foundation `number`, from 0.

    >>> letters(0), letters(8), letters(22), letters(23)
    ('A', 'K', 'Z', 'AA')
    """
    text = LETTERS[number % len(LETTERS)]
    while number >= len(LETTERS):
        number = number // len(LETTERS) - 1
        text = LETTERS[number % len(LETTERS)] + text
    return text


@dataclass(frozen=True)
class Paper:
    """A foundation and the seam by which each patch after the first is sewn, the patch on its left."""

    foundation: Foundation
    seams: tuple[tuple[SeamEdge, ...], ...]


def papers(
    frame: Frame, units: Sequence[int], first: int | None = None, *, labels: Sequence[str] | None = None
) -> tuple[Paper, ...]:
    """The foundations of some units, in the order given; twins are sewn in the order of the unit they are twin of.

    Args:
        frame: The block.
        units: Each can be sewn on one foundation.
        first: A patch with which its foundation is to begin; None: each begins nearest its centre.
        labels: What they are called; None: A, B, C…

    Raises:
        NotSewable: the patch asked for cannot be first.
    """
    shapes = Shapes(frame)
    models: dict[int, tuple[int, str, list[list[int]]]] = {}
    wish = _wish(frame, shapes, units, first)
    made = []
    for number, unit in enumerate(units):
        label, kind = labels[number] if labels else letters(number), shapes.class_of(unit)
        if kind in models:
            model, twin, groups = models[kind]
            match = shapes.match(model, unit)
            assert match is not None
            made.append(_paper(frame, unit, label, [[match[patch] for patch in group] for group in groups], twin))
        else:
            groups = _groups(frame, unit, wish.get(unit))
            models[kind] = (unit, label, groups)
            made.append(_paper(frame, unit, label, groups, None))
    return tuple(made)


def _wish(frame: Frame, shapes: Shapes, units: Sequence[int], first: int | None) -> dict[int, int]:
    """The patch with which a unit is to begin, said of the first unit of its class."""
    for unit in units:
        if first is not None and unit >> first & 1:
            found = peel(frame, unit, first)
            if found.core != 1 << first:
                can = [frame.patches[patch].id for patch in possible_firsts(frame, unit, peel(frame, unit))]
                name = frame.patches[first].id
                raise NotSewable(
                    f"patch {name} cannot be first on its foundation: choose one of {', '.join(can)}",
                    patches=(name,),
                    reason="first",
                )
            model = next(other for other in units if shapes.class_of(other) == shapes.class_of(unit))
            match = shapes.match(model, unit)
            assert match is not None
            return {model: next(patch for patch, other in match.items() if other == first)}
    return {}


def _groups(frame: Frame, unit: int, first: int | None) -> list[list[int]]:
    """The sewing order of a unit in rounds of patches that are free of one another, each going round the first."""
    found = centre_out(frame, unit, peel(frame, unit)) if first is None else peel(frame, unit, first)
    (start,) = bits(found.core)
    return [going_round(frame.centres, group, start) for group in rounds(before_of(frame, unit, found), start)]


def _paper(frame: Frame, unit: int, label: str, groups: Sequence[Sequence[int]], twin: str | None) -> Paper:
    order = flat(groups)
    found = peel(frame, unit, order[0])
    runs = dict(found.order)
    ids = frame.names
    sewn = 1 << order[0]
    seams = []
    for patch in order[1:]:
        seams.append(seam_between(frame, runs[patch], 1 << patch, sewn))
        sewn |= 1 << patch
    foundation = Foundation(
        label,
        tuple(ids[patch] for patch in order),
        tuple(tuple(ids[patch] for patch in group) for group in groups),
        precedes(ids, before_of(frame, unit, found)),
        twin,
    )
    return Paper(foundation, tuple(seams))

"""Ways to sew a unit, what they cost, and which of them are kept."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from seamproof.planning.cuts import Cut
    from seamproof.planning.stages import Stage

KEPT: Final = 4
"""How many ways of equal count are kept for each unit, to choose from by the later preferences."""

Removal: TypeAlias = tuple[int, int]
"""A lone patch and the run of its seam."""

Count: TypeAlias = tuple[int, int, int, int]
"""Pivots, partial seams, foundations, lone patches."""


@dataclass(frozen=True, slots=True)
class Staging:
    """A stage, and the lone patches taken off before."""

    stage: Stage
    peeled: tuple[Removal, ...]


@dataclass(frozen=True, slots=True)
class Way:
    """A way to sew a unit.

    Attributes:
        unit: The patches.
        count: What is least before all else.
        kinds: The classes of its foundations.
        squares: The sum of the squares of their sizes: the less, the more even.
        matches: How many points must match in its joins.
        parts: The ways of its parts; none for a leaf.
        cut: How it is parted; None for a leaf.
    """

    unit: int
    count: Count
    kinds: frozenset[int] = frozenset()
    squares: int = 0
    matches: int = 0
    parts: tuple[Way, ...] = ()
    cut: Cut | Staging | None = None

    @property
    def foundations(self) -> int:
        """How many foundations it takes."""
        return self.count[2]

    @property
    def rank(self) -> tuple[int, int, int]:
        """What is preferred among ways of one count."""
        return (len(self.kinds), self.squares, self.matches)


def leaf(unit: int, kind: int) -> Way:
    """One foundation, of a class; a single patch is joined by itself instead."""
    if unit & (unit - 1) == 0:
        return Way(unit, (0, 0, 0, 1))
    return Way(unit, (0, 0, 1, 0), frozenset({kind}), unit.bit_count() ** 2)


def least_joined(halves: tuple[Sequence[Way], Sequence[Way]], cut: Cut) -> Count:
    """The count of two units joined, whichever of their ways is taken."""
    (a, b, c, d), (e, f, g, h) = halves[0][0].count, halves[1][0].count
    return (a + e, b + f, c + g, d + h + len(cut.peeled))


def joined(unit: int, halves: tuple[Sequence[Way], Sequence[Way]], cut: Cut, matches: int) -> Iterable[Way]:
    """Every way of one half with every way of the other."""
    count = least_joined(halves, cut)
    for left in halves[0]:
        for right in halves[1]:
            yield Way(
                unit,
                count,
                left.kinds | right.kinds,
                left.squares + right.squares,
                left.matches + right.matches + matches,
                (left, right),
                cut,
            )


def staged(unit: int, parts: tuple[Way, ...], staging: Staging) -> Way:
    """The parts of a stage joined."""
    stage = staging.stage
    own = (stage.pivots, stage.partial_seams, 0, len(staging.peeled))
    pivots, partial, foundations, loose = (sum(row) for row in zip(own, *(part.count for part in parts), strict=True))
    return Way(
        unit,
        (pivots, partial, foundations, loose),
        frozenset[int]().union(*(part.kinds for part in parts)),
        sum(part.squares for part in parts),
        sum(part.matches for part in parts),
        parts,
        staging,
    )


def keep(ways: list[Way], fresh: Iterable[Way]) -> None:
    """Keep the ways of least count, of each set of classes the most preferred, a few in all, the best first."""
    for way in fresh:
        if ways and way.count > ways[0].count:
            continue
        if ways and way.count < ways[0].count:
            ways.clear()
        rank = way.rank
        if len(ways) == KEPT and rank >= ways[-1].rank:
            continue
        same = next((number for number, other in enumerate(ways) if other.kinds == way.kinds), None)
        if same is None:
            ways.append(way)
        elif rank < ways[same].rank:
            ways[same] = way
        else:
            continue
        ways.sort(key=lambda way: way.rank)
        del ways[KEPT:]

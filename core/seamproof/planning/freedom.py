"""In which order the patches of one foundation may be sewn, once the first is chosen.

*With the first patch fixed, the valid orders are the linear extensions of one partial order.* Every other patch P has
the same seam in all of them: suppose P leaves (the orders read backwards, patches taken off) by one seam in one order
and by another in a second. What was taken off before P in either order may all be taken off without P and the first
patch (any removable patch may be taken first); among it are all neighbours of P off the first seam and all off the
second, hence all its neighbours, while P and the first patch are still there, joined: impossible. So of two patches
that share an edge, the one on the other's seam comes first in every order. And these pairs suffice: when everything
that must be sewn after P is off, what P still borders lies on its seam, and none of that was taken off before P,
since a patch that is removed never borders another removable one while a third is left (see `order`).

Where the outline is not convex, P must also be sewn before whatever reaches over the whole line of its seam.

*What is kept is the reduced relation*: for each patch those that must come before it with nothing between. A finite
partial order is the transitive closure of these pairs, and any smaller set of pairs has a smaller closure, so they
suffice and none can be spared.
*They are few.* Where the outline is convex no patch P has more than two. What it must follow directly lies on its
seam, as the patches Q1 … Qm in a row. If Q of these is directly before P, no other of them must follow Q, so some
order sews all others before Q. What is sewn just before Q is convex, then, and borders P's seam in one stretch, and
with Q it still does: Q stands at an end of the row. So a foundation of n patches has fewer than 2n pairs.
"""

from __future__ import annotations

from collections import defaultdict
from math import atan2
from typing import TYPE_CHECKING

from seamproof.geometry.points import sub
from seamproof.planning.frame import bits

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from seamproof.geometry import Point
    from seamproof.planning.frame import Frame
    from seamproof.planning.order import Peel


def before_of(frame: Frame, unit: int, found: Peel) -> dict[int, tuple[int, ...]]:
    """For each patch of a one-foundation unit, in a valid order, the patches that must come directly before it.

    The first patch is the one `found` leaves, which nothing precedes.
    """
    sewing = [*bits(found.core), *(patch for patch, _ in reversed(found.order))]
    seams = dict(found.order)
    at = {patch: number for number, patch in enumerate(sewing)}
    direct: list[set[int]] = [
        {at[other] for _, other, _ in frame.sides[patch] if at.get(other, number) < number}
        for number, patch in enumerate(sewing)
    ]
    if not frame.is_plain:
        for patch, run in seams.items():
            for other in bits(frame.over_sides(patch, run)[0] & unit & ~(1 << patch)):
                direct[at[other]].add(at[patch])
    return {
        patch: tuple(sewing[place] for place in places) for patch, places in zip(sewing, reduced(direct), strict=True)
    }


def reduced(direct: Sequence[Collection[int]]) -> list[tuple[int, ...]]:
    """The pairs of an order of places of which none follows from the others: for each place those directly before it.

    Args:
        direct: For each place some lower ones that must come before it; what follows from these may be left out.

    The places are looked at from the highest down. One that lies before a higher one looked at already is known to;
    any other has nothing between.

    >>> reduced([(), (0,), (0, 1), (0,), (0, 2, 3)])
    [(), (0,), (1,), (0,), (2, 3)]
    """
    closed: list[int] = []
    kept: list[tuple[int, ...]] = []
    for places in direct:
        full, own = 0, []
        for place in sorted(places, reverse=True):
            if not full >> place & 1:
                own.append(place)
                full |= 1 << place | closed[place]
        closed.append(full)
        kept.append(tuple(reversed(own)))
    return kept


def rounds(before: Mapping[int, Collection[int]], first: int) -> list[list[int]]:
    """The patches in as few runs of mutually free patches as there can be: by the longest chain that leads to each.

    Patches on chains of one length are free of one another, and no order has fewer runs than the longest chain.
    `before` gives for each patch those directly before it, each after all of them.
    Source: L. Mirsky, "A dual of Dilworth's decomposition theorem", Amer. Math. Monthly 78 (1971).
    """
    level: dict[int, int] = {}
    by_level: defaultdict[int, list[int]] = defaultdict(list)
    for patch, earlier in before.items():
        level[patch] = max((level[other] + 1 for other in earlier), default=0)
        by_level[level[patch]].append(patch)
    by_level[0] = [first]
    return [sorted(by_level[number]) for number in sorted(by_level)]


def going_round(centres: Sequence[Point], patches: Sequence[int], first: int) -> list[int]:
    """Patches, by the number of their centre, in the order in which one meets them going round the first.

    It begins with the lowest and goes toward the lower of its two neighbours.
    """
    if len(patches) < 3:
        return sorted(patches)
    middle = centres[first]

    def angle(patch: int) -> float:
        x, y = sub(centres[patch], middle)
        return atan2(y, x)

    ring = sorted(patches, key=lambda patch: (angle(patch), patch))
    at = ring.index(min(ring))
    onward = ring[at:] + ring[:at]
    backward = [onward[0], *reversed(onward[1:])]
    return min(onward, backward)


def precedes(
    names: Mapping[int, str] | Sequence[str], before: Mapping[int, Collection[int]]
) -> frozenset[tuple[str, str]]:
    """The reduced relation as pairs of names (earlier, later)."""
    return frozenset((names[other], names[patch]) for patch, earlier in before.items() for other in earlier)


def flat(groups: Iterable[Sequence[int]]) -> tuple[int, ...]:
    """The patches of all groups, one after the other."""
    return tuple(patch for group in groups for patch in group)

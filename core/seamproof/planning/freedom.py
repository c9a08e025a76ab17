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
"""

from __future__ import annotations

from collections import defaultdict
from math import atan2
from typing import TYPE_CHECKING

from seamproof.geometry.points import sub
from seamproof.planning.frame import bits

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from seamproof.geometry import Point
    from seamproof.planning.frame import Frame
    from seamproof.planning.order import Peel


def later_of(frame: Frame, unit: int, found: Peel) -> dict[int, int]:
    """For each patch of a one-foundation unit the set of patches that must be sewn after it, whatever comes between.

    The first patch is the one `found` leaves; the relation is transitively closed.
    """
    sewing = [*bits(found.core), *(patch for patch, _ in reversed(found.order))]
    seams = dict(found.order)
    at = {patch: number for number, patch in enumerate(sewing)}
    later: dict[int, int] = {}
    for patch in reversed(sewing):
        after = 0
        for _, other, _ in frame.sides[patch]:
            if unit >> other & 1 and at[other] > at[patch]:
                after |= 1 << other | later[other]
        if not frame.is_plain and patch in seams:
            for other in bits(frame.over_sides(patch, seams[patch])[0] & unit & ~(1 << patch)):
                after |= 1 << other | later[other]
        later[patch] = after
    return later


def rounds(later: Mapping[int, int], first: int) -> list[list[int]]:
    """The patches in as few runs of mutually free patches as there can be: by the longest chain that leads to each.

    Patches on chains of one length are free of one another, and no order has fewer runs than the longest chain.
    Source: L. Mirsky, "A dual of Dilworth's decomposition theorem", Amer. Math. Monthly 78 (1971).
    """
    level = dict.fromkeys(later, 0)
    for patch in sorted(later, key=lambda patch: -later[patch].bit_count()):
        for other in bits(later[patch]):
            level[other] = max(level[other], level[patch] + 1)
    by_level: defaultdict[int, list[int]] = defaultdict(list)
    for patch in sorted(level):
        by_level[level[patch]].append(patch)
    by_level[0] = [first]
    return [by_level[number] for number in sorted(by_level)]


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


def precedes(ids: Sequence[str], later: Mapping[int, int]) -> frozenset[tuple[str, str]]:
    """The partial order as pairs of ids (earlier, later), in full."""
    return frozenset((ids[patch], ids[other]) for patch, after in later.items() for other in bits(after))


def flat(groups: Iterable[Sequence[int]]) -> tuple[int, ...]:
    """The patches of all groups, one after the other."""
    return tuple(patch for group in groups for patch in group)

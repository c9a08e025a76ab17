"""Sewing on one foundation: patches taken off one at a time, each by a straight cut that parts just that patch.

*Any such patch may be taken first.* Let P and Q both be removable from a unit S of three patches or more. They share
no edge: if they did, P's seam (one straight stretch) would border Q; with a second patch R on P's seam beside Q, Q
would border both P and R, on different lines, and could not be removed; with Q alone on it, P is joined to S through
Q only, so Q's single straight seam would be P's, and S would be {P, Q}. So taking Q away leaves P's seam as it was,
and P can still be removed. Hence the order of taking off does not matter: the patches that are left when none can be
removed (the *core*) are the same every time, and S can be sewn on one foundation if and only if one patch is left.

On outlines that are not convex two conditions join in: all that was sewn before lies on one side of the whole line of
the seam, and the new patch on the other (or the paper cannot be folded back on it). Both hold for every smaller unit
once they hold for S, so the proof stands.

*Which patches can be first.* Take the order found, and for each patch the earlier patches it shares an edge with. A
patch can be first if and only if it borders one earlier patch only, and that one can be first. Proof. Let F0 be the
first of the order found, F another patch that can be first, and T what is left of S when patches other than these two
are taken off as long as it goes; then F0 and F are the only removable ones of T. F borders one patch R of T only: of
two patches side by side on F's seam, whichever is taken off before F and the other borders both, on different lines.
If R is F0, likewise T = {F0, F}. Otherwise take T apart with F kept; at the end {R, F} is left, since F borders
nothing else, and F may go instead of R: R can be first, and its own T is smaller. The other way: when all but F0 … Q,
F of such a chain are gone, the last two may change places. (Where the outline is not convex the condition on sides
may forbid it, so each candidate is tried.)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamproof.geometry.points import distance
from seamproof.planning.frame import bits
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from seamproof.planning.frame import Frame


@dataclass(frozen=True, slots=True)
class Peel:
    """A unit with its removable patches taken off.

    Attributes:
        order: (patch, run of its seam) in the order in which they were taken off: the reverse of a sewing order.
        core: The patches that are left; one, where the unit can be sewn on one foundation.
    """

    order: tuple[tuple[int, int], ...]
    core: int

    @property
    def is_one_foundation(self) -> bool:
        """Whether a single patch is left."""
        return self.core & (self.core - 1) == 0


def peel(frame: Frame, unit: int, keep: int = -1) -> Peel:
    """Take removable patches off a connected unit until none is left to take, in time linear in its edges.

    Args:
        frame: The block.
        unit: The patches.
        keep: A patch never to be taken off, so that it is left as the first; -1: none.
    """
    alive, rest = set(bits(unit)), unit
    runs_of = {patch: _runs(frame, patch, alive) for patch in alive}
    ready = [patch for patch in sorted(alive, reverse=True) if len(runs_of[patch]) == 1]
    waiting: list[int] = []
    order: list[tuple[int, int]] = []
    while ready and len(alive) > 1:
        patch = ready.pop()
        if patch == keep or patch not in alive:
            continue
        (run,) = runs_of[patch]
        if not _may_leave(frame, patch, run, rest):
            waiting.append(patch)
            continue
        alive.remove(patch)
        rest ^= 1 << patch
        order.append((patch, run))
        for _, other, seam in frame.sides[patch]:
            if other in alive:
                _drop(runs_of[other], seam)
                if len(runs_of[other]) == 1:
                    ready.append(other)
        ready += waiting
        waiting.clear()
    return Peel(tuple(order), rest)


def _runs(frame: Frame, patch: int, alive: set[int]) -> dict[int, int]:
    """How many edges of each run a patch shares with the others."""
    found: dict[int, int] = {}
    for _, other, run in frame.sides[patch]:
        if other in alive:
            found[run] = found.get(run, 0) + 1
    return found


def _drop(runs: dict[int, int], run: int) -> None:
    runs[run] -= 1
    if not runs[run]:
        del runs[run]


def _may_leave(frame: Frame, patch: int, run: int, unit: int) -> bool:
    """Whether a patch whose seams all lie on one run can be parted from the rest by a straight cut and folded back.

    In a convex unit that is certain: its side meets the rest in one stretch, and the line has the rest on one side.
    """
    if not frame.runs[run].is_straight:
        return False
    if frame.is_plain:
        return True
    line = frame.runs[run]
    spots = sorted(frame.place[edge][1] for edge, other, _ in frame.sides[patch] if unit >> other & 1)
    if spots[-1] - spots[0] + 1 != len(spots):
        return False
    if not all(frame.is_inside(line.nodes[spot], unit) for spot in spots[1:]):
        return False
    own, far = frame.over_sides(patch, run)
    return not far >> patch & 1 and not own & unit & ~(1 << patch)


def possible_firsts(frame: Frame, unit: int, found: Peel) -> tuple[int, ...]:
    """Every patch of a one-foundation unit that can be first, ascending; on outlines not convex a few that cannot."""
    sewing = [*bits(found.core), *(patch for patch, _ in reversed(found.order))]
    at = {patch: number for number, patch in enumerate(sewing)}
    can = {sewing[0]}
    for patch in sewing[1:]:
        before = {other for _, other, _ in frame.sides[patch] if unit >> other & 1 and at[other] < at[patch]}
        if len(before) == 1 and before <= can:
            can.add(patch)
    return tuple(sorted(can))


def centre_out(frame: Frame, unit: int, found: Peel) -> Peel:
    """The taking off that leaves as first the possible patch nearest the unit's centre, ties by id."""
    centre = frame.centre(unit)
    far = {patch: distance(frame.centres[patch], centre) for patch in possible_firsts(frame, unit, found)}
    rest = dict(far)
    while rest:
        least = min(rest.values())
        patch = next(patch for patch in rest if rest[patch] <= least + SAME_POINT)
        del rest[patch]
        again = peel(frame, unit, patch)
        if again.core == 1 << patch:
            return again
    return found

"""Replaying a foundation: patches sewn on paper in number order, each stitched, flipped and pressed."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final

from seamproof.geometry.points import distance
from seamproof.referee.paths import chained, is_same_path, merged, reversed_path
from seamproof.referee.reasons import Reason, refusal
from seamproof.referee.touching import NEAR

if TYPE_CHECKING:
    from collections.abc import Container, Iterable, Iterator, Sequence

    from seamproof.geometry import Edge
    from seamproof.referee.table import Table
    from seamproof.referee.touching import Touch
    from seamproof.sequence import Foundation, Step

_COLUMNS: Final = 64
"""[bytes] So much of each row of a matrix of bits is turned at a time: at most ten thousand times as much memory."""

_SEARCHED: Final = 150
"""[patches] Up to so many, a refused foundation is searched for an order that serves, to name the fault better."""


@dataclass(eq=False)
class Paper:
    """One foundation as far as it is sewn.

    Adding patch k is right when all of its contact with what lies on the paper is one straight stretch, patch k lies
    on one side of that whole line, and all that was sewn before lies on the other: then the paper folds back on the
    line, the new piece is laid over the earlier ones, and after the flip nothing but patch k's place is covered. A
    finished unit is laid on as if it were one patch: it has nothing but its own place to lie on either.

    Attributes:
        table: The sewing table.
        foundation: What is to be replayed.
        members: For each patch and each unit laid on it the patch indices, in sewing order.
        done: How many of these are sewn.
        seams: For each patch after the first, its seam as one line with the patch on its left.
    """

    table: Table
    foundation: Foundation
    members: tuple[tuple[int, ...], ...]
    done: int = 0
    seams: list[Edge] = field(default_factory=list)
    _before: list[int] = field(default_factory=list)
    _beyond: list[int] = field(default_factory=list)

    @cached_property
    def place(self) -> dict[int, int]:
        """Patch index → its place in the sewing order, from 0."""
        return {patch: place for place, item in enumerate(self.members) for patch in item}

    @cached_property
    def spots(self) -> dict[str, int]:
        """Patch id or unit label → its place in the sewing order, from 0."""
        return {part: place for place, part in enumerate(self.foundation.order)}

    @cached_property
    def _corners(self) -> tuple[Any, Any]:
        """Corners of all its patches (m, 2), and where those of each patch or unit begin (n,)."""
        import numpy as np

        patches = self.table.block.patches
        rings = [[p for patch in item for p in patches[patch].outline.polygon] for item in self.members]
        begins = np.cumsum([0, *(len(ring) for ring in rings[:-1])])
        return np.array([corner for ring in rings for corner in ring]), begins

    @cached_property
    def is_convex(self) -> bool:
        """Whether its outline is convex, up to NEAR; then every seam that is one straight stretch can be folded on.

        Proof of that. Let all of a convex S be sewn but its last patch. The stretch along which the patch touches the
        rest is all that parts them, so it ends on the outline of S, a chord of it: the patch is all of S on one side,
        the rest all of S on the other, and convex again.

        It is convex where its patches are and its outline has no corner inside its hull. At a corner that turns inward
        two patches or more meet, being convex, side by side. Going round the corner from patch to patch across their
        touches one comes out at both ends there, and at no node inside the outline: so a node lies on the outline
        where a patch has but one touch that ends there.
        """
        import shapely

        patches, touching = self.table.block.patches, self.table.touching
        outlines = [patches[patch].outline for patch in self.place]
        if not all(outline.is_straight and outline.is_convex for outline in outlines):
            return False
        inside = {index for patch in self.place for index in touching.of_patch[patch]}
        inner = [
            touch
            for touch in map(touching.touches.__getitem__, inside)
            if {touch.left, touch.right} <= self.place.keys()
        ]
        ends = Counter(
            (node, patch) for touch in inner for node in (touch.start, touch.end) for patch in (touch.left, touch.right)
        )
        outer = [touching.nodes[node] for node in {node for (node, _), times in ends.items() if times == 1}]
        corners = shapely.multipoints([p for outline in outlines for p in outline.points])
        ring = shapely.convex_hull(corners).exterior
        shapely.prepare(ring)
        return bool(shapely.dwithin(ring, shapely.points(outer), NEAR).all())

    def first(self) -> tuple[Touch, ...]:
        """Pin the first patch: nothing is sewn."""
        self.done = 1
        self._before, self._beyond = [0], [0]
        return ()

    def add(self, step: Step, number: int) -> tuple[Touch, ...]:
        """Sew the next patch on along the step's seam.

        Raises:
            SewingError: it cannot be sewn there and then.
        """
        item = self.members[self.done]
        found = self._contact(item, range(self.done))
        try:
            path, line = self._checked(step, item, found)
        except _Refused as fault:
            raise self._named(fault, step, item, number) from None
        self.table.sew(found, number)
        self.seams.append(line)
        self.done += 1
        return path

    def _contact(self, item: Iterable[int], places: Container[int]) -> dict[int, Touch]:
        """The touches of a patch or a unit with what stands at some places of the order, each with it on its left."""
        touching = self.table.touching
        found = {}
        for patch in item:
            for index in touching.of_patch[patch]:
                touch = touching.touches[index]
                if self.place.get(touch.other(patch), -1) in places:
                    found[index] = touch if touch.left == patch else touch.reversed()
        return found

    def _checked(self, step: Step, item: tuple[int, ...], found: dict[int, Touch]) -> tuple[tuple[Touch, ...], Edge]:
        path, line = _one_line(found.values())
        self._hold_to_seam(step, path)
        if not self.is_convex:
            self._beyond.append(self._folded(line, item))
        self._before.append(sum(1 << p for p in {self.place[touch.right] for touch in path}))
        return path, line

    def _folded(self, line: Edge, item: tuple[int, ...]) -> int:
        """The places wholly beyond the line on which the next patch is sewn; all that is sewn must be among them."""
        beyond = self._beyond_line(line)
        place = self.done
        if not self._is_left(line, place):
            raise _Refused(Reason.CANNOT_FOLD, "it lies on both sides of its own seam line", item)
        wrong = list(_bits(~beyond & (1 << place) - 1))
        if wrong:
            raise _Refused(
                Reason.CANNOT_FOLD,
                "the paper cannot be folded back on this line: cloth sewn before lies on the patch's side of it",
                [*item, *(patch for p in wrong for patch in self.members[p])],
            )
        return beyond

    def _hold_to_seam(self, step: Step, path: Sequence[Touch]) -> None:
        edges = [touch.edge for touch in path]
        if is_same_path(step.seam, edges) or is_same_path(reversed_path(step.seam), edges):
            return
        on_seam = {touch for _, touch in self.table.touching.along(step.seam)}
        left_out = [touch for touch in path if touch not in on_seam and touch.reversed() not in on_seam]
        if left_out:
            culprits = [p for touch in left_out for p in (touch.left, touch.right)]
            raise _Refused(
                Reason.OPEN_CONTACT, "the seam leaves out where these patches touch", culprits, may_be_order=False
            )
        why = "the seam runs where the patch touches nothing sewn before"
        raise _Refused(Reason.NO_CONTACT, why, [path[0].left], may_be_order=False)

    def _heights(self, line: Edge) -> Any:
        """Signed distances of all corners from a line, with what two ends off by NEAR can do taken off.

        An error of NEAR at both ends of a seam of length L is an error of NEAR·(2d/L) at distance d from its middle.
        """
        import numpy as np

        corners, _ = self._corners
        (x0, y0), (x1, y1) = line.start, line.end
        size = line.chord
        along = (corners - ((x0 + x1) / 2, (y0 + y1) / 2)) @ np.array([(x1 - x0) / size, (y1 - y0) / size])
        height = (corners - (x0, y0)) @ np.array([-(y1 - y0) / size, (x1 - x0) / size])
        unsure = NEAR * np.maximum(1.0, 2 * np.abs(along) / size)
        return np.where(np.abs(height) <= unsure, 0.0, height)

    def _beyond_line(self, line: Edge) -> int:
        """The places of the patches that lie wholly on the right of a line, as bits."""
        import numpy as np

        highest = np.maximum.reduceat(self._heights(line), self._corners[1])
        return int.from_bytes(np.packbits(highest <= 0, bitorder="little").tobytes(), "little")

    def _is_left(self, line: Edge, place: int) -> bool:
        corners, begins = self._corners
        stop = begins[place + 1] if place + 1 < len(begins) else len(corners)
        return bool(self._heights(line)[begins[place] : stop].min() >= 0)

    def _named(self, fault: _Refused, step: Step, item: tuple[int, ...], number: int) -> Exception:
        """The refusal, as one of order where another order would serve."""
        label, name = self.foundation.label, step.added or ""
        said = f"{'unit' if step.unit else 'patch'} {name} cannot be added to foundation {label} here: "
        later = {
            touch.other(patch)
            for _, touch in self.table.touching.along(step.seam)
            for patch in {touch.left, touch.right}.intersection(item)
            if self.place.get(touch.other(patch), -1) > self.done
        }
        if later:
            names = self.table.ids(later)
            why = f"its seam runs along {', '.join(names)}, which {'is' if len(names) == 1 else 'are'} sewn later"
            return refusal(Reason.OUT_OF_ORDER, said + why, step=number, patches=(name, *names))
        reason, why = fault.reason, fault.why
        if fault.may_be_order and self._has_order():
            reason, why = Reason.OUT_OF_ORDER, f"{why}; in another order it can be"
        return refusal(reason, said + why, step=number, patches=self.table.ids((*item, *fault.patches)))

    def _has_order(self) -> bool:
        """Whether some order serves: patches are taken off one by one for as long as any can be.

        Any patch that can be taken off may be taken off first, for what can be taken off later still can.
        """
        left = list(range(len(self.members))) if len(self.members) <= _SEARCHED else []
        while len(left) > 1:
            off = next((place for place in reversed(left) if self._can_come_off(place, left)), None)
            if off is None:
                return False
            left.remove(off)
        return bool(left)

    def _can_come_off(self, place: int, left: Sequence[int]) -> bool:
        rest = set(left) - {place}
        try:
            _, line = _one_line(self._contact(self.members[place], rest).values())
        except _Refused:
            return False
        beyond = self._beyond_line(line)
        return self._is_left(line, place) and all(beyond >> other & 1 for other in rest)

    def relation(self) -> list[int]:
        """For each place the places that must come before it while the first patch is kept, as bits.

        Let T be what was sewn before patch k, l_k its line, H_k the patches wholly beyond l_k, N_k those of T that
        touch k.

        Lemma: l_k is the same in every valid order with this first patch. Let k be the earliest patch of a second order
        with another line l', and n a patch that it touches there along l'. In the first order n must come after k, or
        k's contact would not lie on l_k alone; so n's line there is l', and in the second order too, n being earlier
        than k. In the second order something sewn before n lies across l' from n, that is on k's side, and is earlier
        than k: then k cannot be folded on l'. Contradiction.

        So in every valid order (1) all that is sewn before k lies in H_k, and (2) N_k comes before k: a patch n of N_k
        sewn after k would have l_k for its line, with k on one side of it and k's own earlier patches on n's side.
        Conversely, in an order with (1) and (2), k's contact with what is earlier is its contact with N_k, the
        very stretch proven here, and all of it lies across l_k. Hence the valid orders are exactly the linear
        extensions of the relation made of n < k for n in N_k and k < m for m outside H_k; this is its closure.

        Where the outline is convex (1) holds in any order with (2), as `is_convex` proves: the first kind of pair says
        it all, and there are fewer of them than touches.
        """
        closed: list[int] = []
        for known in self._direct():
            full = 0
            while rest := known & ~full:
                nearest = rest.bit_length() - 1
                full |= 1 << nearest | closed[nearest]
            closed.append(full)
        return closed

    def _direct(self) -> list[int]:
        """For each place the places of which the two rules themselves say that they come before it, as bits."""
        import numpy as np

        if self.is_convex:
            return [0, *self._before[1:]]
        count = len(self.members)
        width = (count + 7) // 8
        everyone = (1 << count) - 1
        outside = [0, *(everyone & ~self._beyond[k] & ~(1 << k) for k in range(1, count))]
        rows = np.frombuffer(b"".join(row.to_bytes(width, "little") for row in outside), np.uint8).reshape(count, width)
        direct = [0, *self._before[1:]]
        for start in range(0, width, _COLUMNS):
            columns = np.unpackbits(rows[:, start : start + _COLUMNS], axis=1, bitorder="little")
            for place, column in enumerate(
                np.packbits(columns.T, axis=1, bitorder="little")[: count - 8 * start], 8 * start
            ):
                direct[place] |= int.from_bytes(column.tobytes(), "little")
        return direct

    def check_freedom(self) -> None:
        """Hold the groups and the relation that the foundation claims to what must be.

        Patches that stand together in the order are free of one another exactly when none must precede another: a run
        of a linear extension may be permuted in every way exactly when its elements are pairwise incomparable. Patches
        that share an edge are comparable, for the earlier is in N_k of the later.

        Raises:
            SewingError: patches of a group are not free, or the relation is another.
        """
        before = self.relation()
        order, groups = self.foundation.order, self.foundation.groups
        said = f"foundation {self.foundation.label}: "
        if tuple(patch for group in groups for patch in group) != order:
            raise refusal(Reason.NOT_FREE, f"{said}its groups {groups} are not its order cut into runs", patches=order)
        start = 0
        for group in groups:
            mask = ((1 << len(group)) - 1) << start
            for place in range(start, start + len(group)):
                if bound := before[place] & mask:
                    earlier = order[next(_bits(bound))]
                    raise refusal(
                        Reason.NOT_FREE,
                        f"{said}{earlier} and {order[place]} are said to be free, but {earlier} must be sewn first",
                        patches=(earlier, order[place]),
                    )
            start += len(group)
        self._check_precedence(before)

    def _check_precedence(self, before: list[int]) -> None:
        """Hold the pairs that the foundation claims to those of the relation that do not follow from others.

        A partial order has one smallest set of pairs whose closure it is. So where the pairs are these, their closure
        is the relation itself: every order that keeps them can be sewn, and every order that can be sewn keeps them.
        Without any pair all orders would be said to serve.
        """
        order, said = self.foundation.order, f"foundation {self.foundation.label}: "
        place = {patch: k for k, patch in enumerate(order)}
        claimed: list[set[int]] = [set() for _ in order]
        for earlier, later in self.foundation.precedes:
            if earlier not in place or later not in place:
                raise refusal(
                    Reason.WRONG_PRECEDENCE,
                    f"{said}{earlier} before {later}: both must be its patches",
                    patches=(earlier, later),
                )
            claimed[place[later]].add(place[earlier])
        for k, (pairs, known) in enumerate(zip(claimed, before, strict=True)):
            for other in sorted(pairs ^ _nearest(known, before)):
                why = f"{order[other]} must come directly before {order[k]}, which is not said"
                if other in pairs:
                    how = "does not come directly" if known >> other & 1 else "need not come"
                    why = (
                        f"{order[other]} {how if other < k else 'is not sewn'} before {order[k]}, though it is said to"
                    )
                raise refusal(Reason.WRONG_PRECEDENCE, said + why, patches=(order[other], order[k]))


def _nearest(known: int, before: list[int]) -> set[int]:
    """Of all places before one, those that are before none of the others."""
    found = set()
    while known:
        place = known.bit_length() - 1
        found.add(place)
        known &= ~(before[place] | 1 << place)
    return found


class _Refused(Exception):  # noqa: N818 - it never leaves this module
    def __init__(self, reason: Reason, why: str, patches: Iterable[int], *, may_be_order: bool = True) -> None:
        super().__init__(why)
        self.reason, self.why, self.patches, self.may_be_order = reason, why, tuple(patches), may_be_order


def _one_line(touches: Iterable[Touch]) -> tuple[tuple[Touch, ...], Edge]:
    """Touches as one path and as one straight line."""
    row = list(touches)
    if not row:
        raise _Refused(Reason.NO_CONTACT, "it touches nothing that is sewn before it", ())
    patches = [patch for touch in row for patch in (touch.left, touch.right)]
    path = chained(row)
    if path is None:
        raise _Refused(Reason.NOT_ONE_SEAM, "it touches what is sewn before it in several stretches", patches)
    line = merged([touch.edge for touch in path])
    if line is None or line.is_arc or distance(line.start, line.end) <= NEAR:
        raise _Refused(Reason.BENT_SEAM, "its contact with what is sewn before it is not one straight line", patches)
    return path, line


def _bits(mask: int) -> Iterator[int]:
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low

"""Replaying a join: two units sewn together along the whole of their contact, in one pass or several."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from seamproof.geometry.points import distance
from seamproof.referee.paths import chained, is_connected, is_same_path, merged, reversed_path
from seamproof.referee.reasons import Reason, refusal
from seamproof.referee.touching import NEAR, off

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from seamproof.geometry import Edge, Point
    from seamproof.referee.table import Table
    from seamproof.referee.touching import Touch
    from seamproof.sequence import Join, Technique


@dataclass(eq=False)
class JoinReplay:
    """One join as far as it is sewn.

    Attributes:
        table: The sewing table.
        join: What is to be replayed.
        done: How many passes are sewn.
        runs_up: Whether the later passes follow one another the way the seam runs; else they run toward its start.
    """

    table: Table
    join: Join
    done: int = 0
    runs_up: bool = True
    _open: list[dict[int, Touch]] = field(default_factory=list)

    @property
    def is_finished(self) -> bool:
        """Whether every pass is sewn."""
        return self.done == len(self.join.passes)

    def begin(self, stated: Sequence[Edge], number: int) -> tuple[Touch, ...]:
        """Sew the first pass (the only one, unless the seam is partial).

        Raises:
            SewingError: it cannot be sewn there and then, or the join is not what it says it is.
        """
        join, table = self.join, self.table
        self._check_passes(number)
        self._check_kind(number)
        self._leave_open(number)
        found = table.between(join.first, join.second)
        path = self._one_path(found, stated, number)
        table.sew(found, number)
        table.merge(join.first, join.second, join.label)
        self._check_pivots([touch.edge for touch in path] if len(join.passes) == 1 else join.seam, number)
        is_single = len(join.passes) == 1
        self._check_ends(
            stated, join.label, number, at_start=is_single or self.runs_up, at_end=is_single or not self.runs_up
        )
        self.done = 1
        return path

    def go_on(self, stated: Sequence[Edge], label: str, number: int) -> tuple[Touch, ...]:
        """Sew the next pass of a partial seam, within the unit `label` that it has become part of.

        Raises:
            SewingError: what lies on either side is not all there yet, or the pass does not run where it is open.
        """
        found, table = self._open[self.done - 1], self.table
        absent = [p for touch in found.values() for p in (touch.left, touch.right) if not table.is_in(p, label)]
        if absent:
            raise refusal(
                Reason.OUT_OF_ORDER,
                f"{self.join.label} cannot be finished yet: {', '.join(table.ids(absent))} is not sewn on so far",
                step=number,
                patches=table.ids(absent),
            )
        path = self._chain(found, number)
        self._hold_to(path, stated, number)
        for index in found:
            table.pending.pop(index, None)
        table.sew(found, number)
        self.done += 1
        if self.is_finished:
            self._check_ends(stated, label, number, at_start=not self.runs_up, at_end=self.runs_up)
        return path

    def _refuse(self, reason: Reason, why: str, number: int, patches: Iterable[int] = ()) -> Exception:
        names = self.table.ids(patches)
        return refusal(reason, f"{self.join.label} ({self.join.first} to {self.join.second}) {why}", step=number,
                       patches=names)  # fmt: skip

    def _check_passes(self, number: int) -> None:
        """The passes are the seam, its first one an end part of it and every later one next to the one before."""
        seam, passes = self.join.seam, self.join.passes
        if not all(passes) or not seam or not is_connected(seam) or not all(map(is_connected, passes)):
            raise self._refuse(Reason.STEPS_DISAGREE, "has a seam or a pass that is empty or broken off", number)
        self.runs_up = distance(passes[0][0].start, seam[0].start) <= NEAR
        ordered = passes if self.runs_up else passes[::-1]
        whole = [edge for stretch in ordered for edge in stretch]
        if not is_connected(whole) or not is_same_path(whole, seam):
            raise self._refuse(
                Reason.NOT_AN_END_PART,
                "is not started at one of its ends and carried on from where it stopped: its passes are not its seam",
                number,
            )

    def _check_kind(self, number: int) -> None:
        join = self.join
        kind: Technique = "straight"
        if join.pivots:
            kind = "set-in"
        elif len(join.passes) > 1:
            kind = "partial"
        elif any(edge.is_arc for edge in join.seam):
            kind = "curved"
        if kind == join.kind:
            return
        is_bent = join.kind in {"straight", "curved"} and kind == "curved" and merged(join.seam) is None
        if not is_bent:
            raise self._refuse(Reason.WRONG_KIND, f"is said to be {join.kind}, but is {kind}", number)

    def _leave_open(self, number: int) -> None:
        """Note what the later passes are to close, before anything counts as the contact of two units."""
        table = self.table
        for stretch in self.join.passes[1:]:
            found = dict(table.touching.along(stretch))
            for index, touch in found.items():
                if table.sewn[index] >= 0:
                    table.sew([index], number)
                if index in table.pending:
                    raise self._refuse(Reason.SEWN_TWICE, f"is left open where {table.pending[index]} is, too", number,
                                       (touch.left, touch.right))  # fmt: skip
                table.pending[index] = self.join.label
            if not found:
                raise self._refuse(Reason.NO_CONTACT, "has a later pass where no patches touch", number)
            self._open.append(found)

    def _one_path(self, found: Mapping[int, Touch], stated: Sequence[Edge], number: int) -> tuple[Touch, ...]:
        if not found:
            raise self._refuse(Reason.NO_CONTACT, "joins units that do not touch", number,
                               self.table.members(self.join.first) + self.table.members(self.join.second))  # fmt: skip
        on_seam = dict(self.table.touching.along(stated))
        left_out = [touch for index, touch in found.items() if index not in on_seam]
        if left_out:
            raise self._refuse(
                Reason.OPEN_CONTACT,
                "leaves out a stretch along which the two touch",
                number,
                [patch for touch in left_out for patch in (touch.left, touch.right)],
            )
        path = self._chain(found, number)
        self._hold_to(path, stated, number)
        return path

    def _chain(self, found: Mapping[int, Touch], number: int) -> tuple[Touch, ...]:
        path = chained(found.values())
        if path is None:
            culprits = [patch for touch in found.values() for patch in (touch.left, touch.right)]
            raise self._refuse(
                Reason.NOT_ONE_SEAM,
                "joins what touches in several stretches or all the way round, not along one path",
                number,
                culprits,
            )
        return path

    def _hold_to(self, path: Sequence[Touch], stated: Sequence[Edge], number: int) -> None:
        edges = [touch.edge for touch in path]
        if is_same_path(edges, stated):
            return
        culprits = [patch for touch in path for patch in (touch.left, touch.right)]
        if is_same_path(edges, reversed_path(stated)):
            raise self._refuse(
                Reason.WRONG_SIDES, "does not have its first unit on the left of its seam", number, culprits
            )
        raise self._refuse(Reason.NO_CONTACT, "has a seam that runs where the two do not touch", number, culprits)

    def _check_pivots(self, seam: Sequence[Edge], number: int) -> None:
        """Parted at the pivots, the seam is a line or one arc in every part, and at no pivot inside is it in line."""
        marks = self._pivot_places(seam, number)
        runs = [seam[a:b] for a, b in zip([0, *marks], [*marks, len(seam)], strict=True)]
        wholes = [merged(run) for run in runs]
        for whole, run in zip(wholes, runs, strict=True):
            if whole is None:
                culprits = {p for _, touch in self.table.touching.along(run) for p in (touch.left, touch.right)}
                if len(self.join.passes) > 1 and not self.join.pivots:
                    reason, why = Reason.NOT_IN_ONE_LINE, "does not go on in one line from pass to pass"
                elif self.join.pivots:
                    reason, why = Reason.UNDECLARED_PIVOT, "bends where no pivot is counted"
                else:
                    reason, why = Reason.BENT_SEAM, f"is said to be {self.join.kind}, but its seam bends"
                raise self._refuse(reason, why, number, culprits)
        for mark, (before, after) in zip(marks, pairwise(runs), strict=True):
            if merged([*before, *after]) is not None:
                place = seam[mark].start
                raise self._refuse(
                    Reason.IDLE_PIVOT, f"counts a pivot at {_written(place)}, where it runs on in line", number
                )

    def _pivot_places(self, seam: Sequence[Edge], number: int) -> list[int]:
        """Which edges of the seam start at a pivot; pivots at its two ends are looked at by `_check_ends`."""
        marks = set()
        for count, pivot in enumerate(self.join.pivots):
            if any(distance(pivot, other) <= NEAR for other in self.join.pivots[:count]):
                raise self._refuse(Reason.IDLE_PIVOT, f"counts the pivot at {_written(pivot)} twice", number)
            if self._is_end(pivot):
                continue
            at = [k for k in range(1, len(seam)) if distance(seam[k].start, pivot) <= NEAR]
            if not at:
                raise self._refuse(
                    Reason.IDLE_PIVOT, f"counts a pivot at {_written(pivot)}, where its seam has no corner", number
                )
            marks.add(at[0])
        return sorted(marks)

    def _is_end(self, place: Point) -> bool:
        return min(distance(place, self.join.seam[0].start), distance(place, self.join.seam[-1].end)) <= NEAR

    def _check_ends(self, stated: Sequence[Edge], label: str, number: int, *, at_start: bool, at_end: bool) -> None:
        """Where a seam carried on by one allowance would enter its own cloth, a pivot stands; elsewhere none does."""
        for wanted, path in ((at_start, reversed_path(stated)), (at_end, stated)):
            if not wanted:
                continue
            end = path[-1].end
            entered = [] if self._is_flap(end) else self._entered(path, label)
            own = any(distance(end, pivot) <= NEAR for pivot in self.join.pivots)
            if own and not entered:
                raise self._refuse(
                    Reason.IDLE_PIVOT, f"counts a pivot at its end {_written(end)}, where it may run out", number
                )
            if entered and not own and not self._is_pivot_of_another(end):
                raise self._refuse(
                    Reason.UNDECLARED_PIVOT,
                    f"must stop dead at {_written(end)}, before its own cloth, and no pivot is counted there",
                    number,
                    entered,
                )

    def _entered(self, path: Sequence[Edge], label: str) -> list[int]:
        """The patches that the seam would enter past the path's end, run on straight from its last line or arc."""
        last = [path[-1]]
        for edge in reversed(path[:-1]):
            if any(distance(edge.end, pivot) <= NEAR for pivot in self.join.pivots):
                break
            if merged([edge, *last]) is None:
                break
            last.insert(0, edge)
        whole = merged(last) or path[-1]
        unsure = NEAR * 2 * self.table.allowance / whole.chord
        return self.table.enters_own_cloth(whole.end, whole.direction(1.0), label, unsure)

    def _is_flap(self, end: Point) -> bool:
        """Whether a stretch still open ends there: the cloth beyond it is folded out of the way."""
        touches = self.table.touching.touches
        return any(off(touches[index].edge, end) <= NEAR for index in self.table.pending)

    def _is_pivot_of_another(self, end: Point) -> bool:
        return any(distance(end, pivot) <= NEAR for join in self.table.con.joins for pivot in join.pivots)


def _written(place: Point) -> str:
    return f"({place[0]:.3f}, {place[1]:.3f}) in"

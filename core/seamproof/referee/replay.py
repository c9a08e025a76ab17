"""The referee: a construction replayed seam by seam, from geometry alone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamproof.cutting.pieces import CutPiece, Placement, RoughPiece
from seamproof.given import of_kind
from seamproof.referee.claims import check_bounds, check_counts, check_method, counted
from seamproof.referee.foundations import Paper
from seamproof.referee.joins import JoinReplay
from seamproof.referee.parts import check_overlap, check_parts, inner_stops
from seamproof.referee.paths import is_same_path
from seamproof.referee.reasons import Reason, refusal
from seamproof.referee.table import Table
from seamproof.referee.touching import Touching
from seamproof.referee.trials import try_pieces
from seamproof.referee.twins import check_twins
from seamproof.sequence.kinds import check_given
from seamproof.units import ALLOWANCE

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from seamproof.block import Block
    from seamproof.referee.touching import Touch
    from seamproof.sequence import Construction, Join, Step, Technique


@dataclass(frozen=True)
class Seen:
    """What the referee saw in one step.

    Attributes:
        step: Its index in the construction's steps.
        said: The step in a few words.
        pairs: The pairs of patches that its seam sewed together.
        length: How long its seam is [in].
        slack: By how much [in] the piece laid in this step still covers in the worst placement; None without pieces.
    """

    step: int
    said: str
    pairs: tuple[tuple[str, str], ...]
    length: float
    slack: float | None = None


@dataclass(frozen=True)
class Replay:
    """A construction that can be sewn as written, and what was seen while it was replayed.

    Attributes:
        seen: One entry for each step.
        contacts: How many stretches between two patches there are, each sewn exactly once.
        technique: The hardest technique needed.
        pivots: How often the needle stopped and the cloth was turned.
        partial_seams: Passes beyond the first, over all seams.
        least_slack: The least slack of all rough pieces [in]; None without pieces.
        covered: How many pieces, rough or plain, were tried and found to cover.
    """

    seen: tuple[Seen, ...]
    contacts: int
    technique: Technique
    pivots: int
    partial_seams: int
    least_slack: float | None = None
    covered: int = 0


def replay(
    block: Block,
    con: Construction,
    pieces: Mapping[str, RoughPiece | CutPiece] | Iterable[RoughPiece | CutPiece] | None = None,
    allowance: float = ALLOWANCE,
    placement: Placement | None = None,
) -> Replay:
    """Sew a block as a construction says, seam by seam, and say what was seen.

    It looks at the patches' outlines alone: which patches touch is found pair by pair. Every step must sew exactly the
    contact there is at that moment; at the end every contact has been sewn once and one unit lies on the table.

    Args:
        block: The block.
        con: How it is said to be sewn.
        pieces: A rough piece for every patch on a foundation and a plain piece for every loose patch, by patch id or in
            any order; None: cloth is not looked at.
        allowance: The seam allowance [in].
        placement: How far off a maker may lay a piece; None: `Placement()`.

    Raises:
        SewingError: it cannot be sewn as written; `reason` is one of the words of `Reason`.
        LengthError: an allowance or tolerance that is no size.
        ArgumentError: something given is of another kind than it must be.
    """
    allowance = check_given(block, con, allowance)
    box = of_kind(Placement() if placement is None else placement, Placement, "placement", "give a Placement")
    check_method(con)
    check_parts(block, con)
    check_overlap(block)
    outlines = [patch.outline for patch in block.patches]
    table = Table(block, con, Touching.of(outlines, inner_stops(con)), allowance)
    show = _Show(table)
    for number, step in enumerate(con.steps):
        show.sew(step, number)
    show.check_end()
    for paper in show.papers.values():
        paper.check_freedom()
    check_twins(block, con)
    check_counts(con)
    check_bounds(con)
    slacks = {} if pieces is None else try_pieces(table, show.papers.values(), pieces, box)
    on_paper = [part for foundation in con.foundations for part in foundation.order if part not in con.laid]
    rough = [slacks[patch] for patch in on_paper] if slacks else []
    technique, pivots, partial_seams = counted(con)
    return Replay(
        seen=tuple(show.seen(number, slacks) for number in range(len(con.steps))),
        contacts=len(table.touching.touches),
        technique=technique,
        pivots=pivots,
        partial_seams=partial_seams,
        least_slack=min(rough, default=None),
        covered=len(slacks),
    )


class _Show:
    """The replay as it goes on: the papers, the joins, and what each step sewed."""

    def __init__(self, table: Table) -> None:
        self.table = table
        self.papers: dict[str, Paper] = {}
        for foundation in table.con.foundations:
            members = tuple(
                tuple(
                    table.index[patch] for patch in (table.con.patches_of(part) if part in table.con.laid else [part])
                )
                for part in foundation.order
            )
            self.papers[foundation.label] = Paper(table, foundation, members)
        self.joins = {join.label: JoinReplay(table, join) for join in table.con.joins}
        self._begun: list[str] = []
        self._ids = table.block.ids
        self._paths: list[tuple[Touch, ...]] = []
        for patch in table.con.loose:
            table.put(patch, [table.index[patch]])

    def sew(self, step: Step, number: int) -> None:
        """Replay one step. Raises SewingError where it cannot be done."""
        if step.kind in {"first", "add"}:
            self._paths.append(self._on_paper(step, number))
        else:
            self._paths.append(self._join(step, number))

    def _on_paper(self, step: Step, number: int) -> tuple[Touch, ...]:
        paper = self.papers.get(step.foundation or "")
        if paper is None:
            raise refusal(Reason.UNKNOWN_UNIT, f"there is no foundation {step.foundation!r}", step=number)
        order, done, part = paper.foundation.order, paper.done, step.added or ""
        said = f"{'unit' if step.unit else 'patch'} {part}"
        if part not in paper.spots or bool(step.unit) != (part in self.table.con.laid) or (step.unit and step.patch):
            why = f"{said} is not on foundation {step.foundation}"
            raise refusal(Reason.STEPS_DISAGREE, why, step=number, patches=[step.patch] if step.patch else [])
        if paper.spots[part] < done:
            raise refusal(Reason.PATCH_TWICE, f"{said} is sewn already", step=number, patches=[part])
        if part != order[done]:
            why = f"{said} comes before its turn: {order[done]} is next on foundation {step.foundation}"
            raise refusal(Reason.OUT_OF_ORDER, why, step=number, patches=[part, order[done]])
        if (step.kind == "first") != (done == 0):
            why = f"{said} is step “{step.kind}”, but is number {done + 1} on its foundation"
            raise refusal(Reason.STEPS_DISAGREE, why, step=number, patches=[part])
        if step.unit:
            self._take(step.unit, paper, number)
        path = paper.first() if step.kind == "first" else paper.add(step, number)
        if paper.done == len(order):
            self.table.put(paper.foundation.label, [patch for item in paper.members for patch in item])
        return path

    def _take(self, unit: str, paper: Paper, number: int) -> None:
        """Take a finished unit from the table to lay it on a paper. Raises SewingError where it is not finished."""
        said = f"unit {unit} cannot be laid on foundation {paper.foundation.label}: "
        if not self.table.has(unit):
            raise refusal(Reason.OUT_OF_ORDER, f"{said}it is not sewn so far", step=number, patches=[unit])
        touches = [self.table.touching.touches[index] for index in self.table.pending]
        flaps = [p for touch in touches for p in (touch.left, touch.right) if self.table.is_in(p, unit)]
        if flaps:
            why = f"{said}a seam of it is left open"
            raise refusal(Reason.UNFINISHED_SEAM, why, step=number, patches=self.table.ids(flaps))
        self.table.take(unit)

    def _join(self, step: Step, number: int) -> tuple[Touch, ...]:
        replayed = self.joins.get(step.join or "")
        if replayed is None:
            raise refusal(Reason.UNKNOWN_UNIT, f"there is no join {step.join!r}", step=number)
        join = replayed.join
        if (step.kind == "join") != (len(join.passes) == 1) or (step.kind == "finish") != bool(replayed.done):
            why = (
                f"{join.label} is sewn in {len(join.passes)} passes, {replayed.done} done: it cannot “{step.kind}” now"
            )
            raise refusal(Reason.STEPS_DISAGREE, why, step=number)
        if replayed.is_finished:
            raise refusal(Reason.STEPS_DISAGREE, f"{join.label} is finished already", step=number)
        if not _is_stated(step, join, replayed.done):
            why = f"{join.label} and this step tell different seams"
            raise refusal(Reason.STEPS_DISAGREE, why, step=number)
        if step.kind == "finish":
            label = next((label for label in self.table.labels if self._holds(label, replayed)), None)
            if label is None:
                why = f"{join.label} cannot be finished now: its unit lies on a foundation that is not finished"
                raise refusal(Reason.OUT_OF_ORDER, why, step=number)
            return replayed.go_on(step.seam, label, number)
        for unit in (join.first, join.second):
            self._check_unit(unit, join, number)
        self._begun.append(join.label)
        return replayed.begin(step.seam, number)

    def _holds(self, label: str, replayed: JoinReplay) -> bool:
        path = self._paths[self._step_of(replayed.join.label)]
        return self.table.is_in(path[0].left, label)

    def _step_of(self, label: str) -> int:
        return next(n for n, step in enumerate(self.table.con.steps) if step.join == label)

    def _check_unit(self, unit: str, join: Join, number: int) -> None:
        if self.table.has(unit) and join.first != join.second:
            return
        known = unit in self.papers or unit in self.joins or unit in self.table.con.loose
        if not known:
            raise refusal(Reason.UNKNOWN_UNIT, f"{join.label}: there is no unit {unit!r}", step=number)
        paper, made = self.papers.get(unit), self.joins.get(unit)
        is_made = (paper.done == len(paper.members)) if paper else made.done > 0 if made else True
        if is_made:
            why = f"{join.label}: unit {unit} is part of another unit by now"
            raise refusal(Reason.PATCH_TWICE, why, step=number, patches=[unit] if unit in self.table.con.loose else [])
        raise refusal(Reason.OUT_OF_ORDER, f"{join.label}: unit {unit} is not sewn so far", step=number)

    def check_end(self) -> None:
        """Hold the end of the replay to what it must be. Raises SewingError where something is left."""
        for paper in self.papers.values():
            if paper.done < len(paper.members):
                left = paper.foundation.order[paper.done :]
                why = f"no step sews patches {', '.join(left)} on foundation {paper.foundation.label}"
                raise refusal(Reason.STEPS_DISAGREE, why, patches=left)
        for replayed in self.joins.values():
            label = replayed.join.label
            if not replayed.done:
                raise refusal(Reason.STEPS_DISAGREE, f"no step sews {label}")
            if not replayed.is_finished:
                open_now = [self.table.touching.touches[k] for k, owner in self.table.pending.items() if owner == label]
                culprits = self.table.ids(p for touch in open_now for p in (touch.left, touch.right))
                why = f"the partial seam {label} is started and never finished"
                raise refusal(Reason.UNFINISHED_SEAM, why, step=self._step_of(label), patches=culprits)
        if [join.label for join in self.table.con.joins] != self._begun:
            why = f"the joins are listed as {', '.join(self.joins)}, but begun as {', '.join(self._begun)}"
            raise refusal(Reason.STEPS_DISAGREE, why)
        unsewn = [self.table.touching.touches[k] for k, step in enumerate(self.table.sewn) if step < 0]
        if unsewn or len(self.table.labels) != 1:
            culprits = self.table.ids(p for touch in unsewn for p in (touch.left, touch.right))
            why = f"the block is left in {len(self.table.labels)} units: {', '.join(self.table.labels)}"
            raise refusal(Reason.OPEN_CONTACT, why, patches=culprits)

    def seen(self, number: int, slacks: Mapping[str, float]) -> Seen:
        """What was seen in a step."""
        step, path = self.table.con.steps[number], self._paths[number]
        ids = self._ids
        said = f"{step.kind} {step.added} on {step.foundation}" if step.added else f"{step.kind} {step.join}"
        return Seen(
            number,
            said,
            tuple((ids[touch.left], ids[touch.right]) for touch in path),
            sum(touch.edge.length for touch in path),
            slacks.get(step.patch) if step.patch else None,
        )


def _is_stated(step: Step, join: Join, done: int) -> bool:
    return is_same_path(step.seam, join.passes[done])

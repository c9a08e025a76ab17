"""How a unit comes apart that no cut parts: by stages of hard seams, lone patches kept on where they can be."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from seamproof.planning.cuts import removed_before
from seamproof.planning.frame import bits
from seamproof.planning.hard import plan_hard
from seamproof.planning.hard_region import Region

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.planning.frame import Frame
    from seamproof.planning.order import Peel
    from seamproof.planning.stages import HardPlan, SeamEdge, Stage


def hard_plan(frame: Frame, unit: int, *, every: bool = False) -> HardPlan:
    """The hard planner's answer for a stuck unit, asked for once, in the numbers that come from the drawing alone.

    Args:
        frame: The block.
        unit: The patches.
        every: Whether all ways of coming apart are wanted; `is_complete` of the answer tells whether they were found.

    Raises:
        NotSewable: no seam serves.
    """
    if (unit, every) not in frame.hard_plans:
        if frame.is_renumbered:
            found = plan_hard(frame.map, unit, frame.prefer, every=every)
            stages = tuple(_stopped(frame, stage) for stage in found.stages)
        else:
            found = hard_plan(frame.twin.frame, frame.twin.to(unit), every=every)
            stages = tuple(map(frame.twin.stage, found.stages))
        frame.hard_plans[unit, every] = replace(found, stages=stages)
    return frame.hard_plans[unit, every]


def _stopped(frame: Frame, stage: Stage) -> Stage:
    """The stage with the ends at which seams must stop dead, for they would cross a slot narrower than the allowance.

    At a stretch left open the cloth is folded out of the way.
    """
    flaps = {
        node
        for seam in stage.seams
        for stretch in seam.passes[1:]
        for edge, _ in stretch
        for node in (frame.map.edges[edge].start, frame.map.edges[edge].end)
    }
    seams = []
    for seam in stage.seams:
        dead = dead_ends(frame, seam.left | seam.right, seam.edges) if len(seam.passes) == 1 else ()
        pivots = dict.fromkeys((*seam.pivots, *(node for node in dead if node not in flaps)))
        seams.append(replace(seam, pivots=tuple(pivots)))
    return replace(stage, seams=tuple(seams))


def dead_ends(frame: Frame, unit: int, seam: tuple[SeamEdge, ...]) -> tuple[int, ...]:
    """The ends of a seam at which it must stop dead, or it would run into its own unit.

    At a node inside the block an end does not count where the unit lies round the node from the seam to beyond its
    prolongation. Less than half a turn is left there for the other patches, so the seam that is sewn there last is not
    in line, and its pivot is counted already: at a pivot all that was sewn before ends at the dot.
    """
    (first, is_forward), (last, is_last_forward) = seam[0], seam[-1]
    outward = ((first, not is_forward), (last, is_last_forward))
    entering = [
        (edge, node)
        for (edge, at_end), node in zip(outward, ends_of(frame, seam), strict=True)
        if any(not beyond & ~unit for beyond in frame.prolonged.beyond(edge, at_end=at_end))
    ]
    if all(frame.on_outline[node] for _, node in entering):
        return tuple(node for _, node in entering)
    region = Region.of(frame.map, bits(unit))
    return tuple(node for edge, node in entering if frame.on_outline[node] or region.crossed(edge, node) is None)


def ends_of(frame: Frame, seam: tuple[SeamEdge, ...]) -> tuple[int, int]:
    """The nodes at which a seam starts and ends."""
    (first, is_forward), (last, is_last_forward) = seam[0], seam[-1]
    start, end = frame.map.edges[first], frame.map.edges[last]
    return (start.start if is_forward else start.end, end.end if is_last_forward else end.start)


def part_stuck(
    frame: Frame, unit: int, found: Peel, *, every: bool = False
) -> Iterator[tuple[Stage, tuple[int, ...], tuple[tuple[int, int], ...]]]:
    """The stages of a unit whose core is stuck: (stage, its parts with what hangs on them, lone patches off before).

    A lone patch stays on the part it hangs on, unless a seam of the stage ends at it or it hangs on several parts.
    """
    before = removed_before(frame, unit, found.order)
    for stage in hard_plan(frame, found.core, every=every).stages:
        gone = _in_the_way(frame, unit, stage, before)
        parts = list(stage.parts)
        for patch, _ in reversed(found.order):
            if not gone >> patch & 1:
                borders = {
                    number
                    for _, other, _ in frame.sides[patch]
                    for number, part in enumerate(parts)
                    if part >> other & 1
                }
                hangs_on_gone = any(gone >> other & 1 and _is_under(before, other, patch) for other in before)
                if len(borders) == 1 and not hangs_on_gone:
                    parts[borders.pop()] |= 1 << patch
                else:
                    gone |= 1 << patch
        yield stage, tuple(parts), tuple(row for row in found.order if gone >> row[0] & 1)


def _is_under(before: dict[int, int], other: int, patch: int) -> bool:
    """Whether a patch must be taken off before the other one."""
    return other != patch and bool(before[other] >> patch & 1)


def _in_the_way(frame: Frame, unit: int, stage: Stage, before: dict[int, int]) -> int:
    """The removable patches that lie across or beyond the ends of a stage's seams, with all that must go before."""
    gone = 0
    nodes = {node for seam in stage.seams for node in ends_of(frame, seam.edges)}
    while True:
        across = [
            patch
            for node in nodes
            if frame.is_inside(node, unit & ~gone)
            for patch in bits(frame.flat_at[node])
            if patch in before
        ] or _beyond(frame, unit & ~gone, stage, before)
        if not across:
            return gone
        for patch in across:
            gone |= before[patch]


def _beyond(frame: Frame, unit: int, stage: Stage, before: dict[int, int]) -> list[int]:
    """The removable patches into which seams would run past their ends at an outline that is not convex."""
    if frame.is_convex:
        return []
    found = []
    for seam in stage.seams:
        ends = ((seam.edges[0][0], not seam.edges[0][1]), seam.edges[-1])
        for node, (edge, at_end) in zip(ends_of(frame, seam.edges), ends, strict=True):
            if frame.on_outline[node] and node not in seam.pivots and len(seam.passes) == 1:
                for beyond in frame.prolonged.beyond(edge, at_end=at_end):
                    helping = [patch for patch in bits(beyond) if patch in before]
                    if not beyond & ~unit and helping:
                        found.append(min(helping, key=lambda patch: before[patch].bit_count()))
    return found

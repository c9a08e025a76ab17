"""How a unit comes apart that no cut parts: by stages of hard seams, lone patches kept on where they can be."""

from __future__ import annotations

from typing import TYPE_CHECKING

from seamproof.planning.cuts import removed_before
from seamproof.planning.frame import bits
from seamproof.planning.hard import plan_hard

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.planning.frame import Frame
    from seamproof.planning.order import Peel
    from seamproof.planning.stages import HardPlan, HardSeam, Stage


def hard_plan(frame: Frame, unit: int) -> HardPlan:
    """The hard planner's answer for a stuck unit, asked for once.

    Raises:
        NotSewable: no seam serves.
    """
    if unit not in frame.hard_plans:
        frame.hard_plans[unit] = plan_hard(frame.map, unit)
    return frame.hard_plans[unit]


def part_stuck(
    frame: Frame, unit: int, found: Peel
) -> Iterator[tuple[Stage, tuple[int, ...], tuple[tuple[int, int], ...]]]:
    """The stages of a unit whose core is stuck: (stage, its parts with what hangs on them, lone patches off before).

    A lone patch stays on the part it hangs on, unless a seam of the stage ends at it or it hangs on several parts.
    """
    before = removed_before(frame, unit, found.order)
    for stage in hard_plan(frame, found.core).stages:
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
    """The removable patches that lie across the ends of a stage's seams, with all that must go before them."""
    gone = 0
    nodes = {node for seam in stage.seams for node in _ends(frame, seam)}
    while True:
        across = [
            patch
            for node in nodes
            if frame.is_inside(node, unit & ~gone)
            for patch in bits(frame.around[node])
            if patch in before
        ]
        if not across:
            return gone
        for patch in across:
            gone |= before[patch]


def _ends(frame: Frame, seam: HardSeam) -> tuple[int, int]:
    (first, is_forward), (last, is_last_forward) = seam.edges[0], seam.edges[-1]
    start, end = frame.map.edges[first], frame.map.edges[last]
    return (start.start if is_forward else start.end, end.end if is_last_forward else end.start)

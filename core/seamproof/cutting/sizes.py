"""What a unit measures with its allowances, before it is joined."""

from __future__ import annotations

from typing import TYPE_CHECKING

from seamproof.cutting.need import Frame
from seamproof.geometry.points import bounds, sub, unit
from seamproof.sequence.kinds import check_sewn
from seamproof.tolerance import SAME_POINT
from seamproof.units import ALLOWANCE

if TYPE_CHECKING:
    from collections.abc import Mapping

    from seamproof.block import Block
    from seamproof.geometry import Point
    from seamproof.sequence import Construction


def unfinished(
    block: Block, construction: Construction, allowance: float = ALLOWANCE
) -> Mapping[str, tuple[float, float]]:
    """The unfinished width and height [in] of each foundation and each join, by label.

    A unit is measured along and across the seam by which it is joined, or laid on a foundation, next, raw edge to raw
    edge: its finished extent and two allowances. Where that seam is level or upright, and for the whole block, width
    and height are the block's. Tips that run on past the allowance are not counted: matched corners take them off.
    """
    allowance = check_sewn(block, construction, allowance)
    heads: dict[str, Point] = {}
    seams = [((join.first, join.second), join.seam) for join in construction.joins]
    seams += [((step.unit, step.unit), step.seam) for step in construction.steps if step.unit and step.seam]
    for parts, seam in seams:
        head = unit(sub(seam[-1].end, seam[0].start))
        if min(map(abs, head)) > 2 * SAME_POINT:
            heads |= dict.fromkeys(parts, head)
    labels = [foundation.label for foundation in construction.foundations] + [join.label for join in construction.joins]
    sizes = {}
    for label in labels:
        frame = Frame((0.0, 0.0), heads.get(label, (1.0, 0.0)))
        ids = construction.patches_of(label)
        x0, y0, x1, y1 = bounds(frame.into(p) for patch in ids for p in block.patch(patch).outline.polygon)
        sizes[label] = (x1 - x0 + 2 * allowance, y1 - y0 + 2 * allowance)
    return sizes

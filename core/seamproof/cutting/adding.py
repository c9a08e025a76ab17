"""The seam along which each patch is added to its foundation."""

from __future__ import annotations

from typing import TYPE_CHECKING

from seamproof.errors import BlockError
from seamproof.geometry.points import height_over

if TYPE_CHECKING:
    from collections.abc import Mapping

    from seamproof.block import Block
    from seamproof.geometry import Point
    from seamproof.sequence import Construction


def added_seams(block: Block, construction: Construction) -> Mapping[str, tuple[Point, Point]]:
    """For each foundation patch, and each unit laid on one, but the first: its seam from end to end, it on the left.

    Raises:
        BlockError: a foundation patch is added without a seam.
    """
    steps = {(step.foundation, step.added): step.seam for step in construction.steps if step.kind == "add"}
    seams = {}
    for foundation in construction.foundations:
        for patch in foundation.order[1:]:
            edges = steps.get((foundation.label, patch))
            if not edges:
                raise BlockError(
                    f"patch {patch} is added to foundation {foundation.label} without a seam: "
                    "give its step the edges it is sewn along",
                    patches=(patch,),
                )
            start, end = edges[0].start, edges[-1].end
            one = construction.patches_of(patch)[0] if patch in construction.laid else patch
            is_left = height_over(block.patch(one).outline.centroid, start, end) > 0
            seams[patch] = (start, end) if is_left else (end, start)
    return seams

"""A harbour arch: a quarter of a round window in the corner of a wall."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from pydantic import Field

import seamproof as sp
from seamproof.plugin import Draft

if TYPE_CHECKING:
    from seamproof.block import Block

_QUARTER = math.tan(math.radians(90) / 4)


class ArchParameters(sp.Parameters):
    """What may be chosen of an arch."""

    radius: float = Field(
        default=0.7, ge=0.4, le=0.85, description="The window's radius over the block's side; the wall keeps a sixth."
    )


def draft_arch(parameters: ArchParameters, size: float) -> Block:
    """Draft the window about the lower left corner, then the wall round it."""
    r, corner = parameters.radius, (0.0, 0.0)
    right, top = (r, 0.0), (0.0, r)
    window = (sp.Edge(corner, right), sp.Edge(right, top, _QUARTER), sp.Edge(top, corner))
    ring = [right, (1.0, 0.0), (1.0, 1.0), (0.0, 1.0), top]
    sides = [sp.Edge(a, b) for a, b in pairwise(ring)]
    draft = Draft.square()
    draft.add("window", sp.Outline(window))
    draft.add("wall", sp.Outline((*sides, sp.Edge(top, right, -_QUARTER))))
    return draft.block("Harbour arch", size)


ARCH = sp.Family(
    slug="harbour-arch",
    title="Harbour arch",
    parameters=ArchParameters,
    draft=draft_arch,
    sources=("common practice, no source: a quarter circle let into a square",),
    designs={"harbour arch": {}, "low arch": {"radius": 0.5}},
    roles=("window", "wall"),
    smallest=0.1,
    sharpest=89.9,
    about="A quarter of a round window in the corner of a wall.",
)

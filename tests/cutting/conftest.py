"""Constructions written out by hand, so that cutting is tested without the planner."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from seamproof import Block, Construction, Foundation, Step
from seamproof.geometry.planar import PlanarMap
from seamproof.geometry.points import dot, sub

if TYPE_CHECKING:
    from collections.abc import Callable


def _one_foundation(block: Block, order: list[str]) -> Construction:
    pm = PlanarMap.of([patch.outline for patch in block.patches])
    ids = block.ids
    steps = [Step("first", foundation="A", patch=order[0])]
    for number, patch in enumerate(order[1:], 1):
        before = set(order[:number])
        sides = [
            (e.edge, {ids[e.left], ids[e.right]} - {patch}, {ids[e.left], ids[e.right]}) for e in pm.edges if e.is_inner
        ]
        seam = [edge for edge, others, both in sides if patch in both and others <= before]
        along = sub(seam[0].end, seam[0].start)
        seam = [edge if dot(sub(edge.end, edge.start), along) > 0 else edge.reversed() for edge in seam]
        seam.sort(key=lambda edge: dot(edge.start, along))
        steps.append(Step("add", tuple(seam), "A", patch))
    foundation = Foundation("A", tuple(order), tuple((patch,) for patch in order))
    loose = tuple(patch for patch in ids if patch not in order)
    return Construction("foundation", (foundation,), loose, (), tuple(steps))


@pytest.fixture(scope="session")
def one_foundation() -> Callable[[Block, list[str]], Construction]:
    """The construction that sews a block's patches on one foundation in the order given."""
    return _one_foundation

"""Maximal seam lines and the junctions where they meet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias

from seamproof.given import of_kind

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.geometry import Edge, Point

JunctionKind: TypeAlias = Literal["edge", "tee", "crossing", "wye", "bend", "other"]


@dataclass(frozen=True)
class Junction:
    """Where seams meet.

    kind "edge": on the block's outline; "tee": three edges, two in line; "crossing": four edges, two pairs in line;
    "wye": no two edges in line (three edges or more); "bend": two edges, not in line; "other": any other meeting.
    """

    place: Point
    kind: JunctionKind
    patches: tuple[str, ...]


@dataclass(frozen=True)
class SeamLine:
    """A maximal run of seam edges all in one line (or on one circle), from end to end [in].

    Attributes:
        edge: One edge from end to end: a line, or an arc.
        left: Ids of the patches on its left, from start to end.
        right: Ids of those on its right.
    """

    edge: Edge
    left: tuple[str, ...]
    right: tuple[str, ...]


@dataclass(frozen=True)
class SeamMap:
    """Every seam line of a block with its junctions, in a fixed order."""

    lines: tuple[SeamLine, ...]
    junctions: tuple[Junction, ...]

    @classmethod
    def of(cls, block: Block) -> SeamMap:
        """The seam map of a block. Raises BlockError where the patches do not fit one another."""
        from seamproof.block import Block
        from seamproof.seams.mapping import map_seams

        of_kind(block, Block, "block", "make one with Block.from_polygons, or of Patches")
        return map_seams(block)

    def count(self, kind: JunctionKind) -> int:
        """How many junctions are of this kind."""
        return sum(junction.kind == kind for junction in self.junctions)

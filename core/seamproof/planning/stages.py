"""What the planner of hard seams hands to the planners of whole blocks: types only.

A unit that no straight cut (and no smooth arc) parts is *stuck*. `seamproof.planning.hard.plan_hard(pm, patches)` says
how a stuck unit comes apart: in one *stage*, by one seam with pivots, or by a ring of partial seams, into parts that
are handed back, each to be parted by straight cuts again wherever they exist. Any straight cut may be taken first
without one pivot or partial seam more, so only stuck units are ever asked about.

Sets of patches are bitmasks over patch indices of the planar map; edges are (edge index, forward) with forward False
where the seam runs against the map's edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

SeamEdge: TypeAlias = tuple[int, bool]

Prefer: TypeAlias = Literal["partial", "pivot"]
"""What breaks a ring of seams, each of which would have to be sewn before the next: a partial seam, or a pivot."""


@dataclass(frozen=True)
class HardSeam:
    """One seam that joins two units of a stage.

    Attributes:
        left: The patches on its left, all that is sewn together there by then (a union of parts).
        right: Those on its right.
        edges: The seam from end to end.
        passes: It as it is sewn, the started stretch first; one pass: the whole seam.
        pivots: Nodes at which the needle stops and the cloth is turned, or where the seam must stop dead.
    """

    left: int
    right: int
    edges: tuple[SeamEdge, ...]
    passes: tuple[tuple[SeamEdge, ...], ...]
    pivots: tuple[int, ...] = ()


@dataclass(frozen=True)
class Stage:
    """One way in which a stuck unit comes apart.

    Attributes:
        parts: Two parts or more, disjoint, each connected; together they are the unit.
        seams: Those that join the parts, in the order in which they are started (one fewer than parts).
        order: Every (seam index, pass index) in sewing order.
    """

    parts: tuple[int, ...]
    seams: tuple[HardSeam, ...]
    order: tuple[tuple[int, int], ...]

    @property
    def pivots(self) -> int:
        """Its pivots."""
        return sum(len(seam.pivots) for seam in self.seams)

    @property
    def partial_seams(self) -> int:
        """Its passes beyond the first of each seam."""
        return sum(len(seam.passes) - 1 for seam in self.seams)


@dataclass(frozen=True)
class HardPlan:
    """How a stuck unit may come apart, the best ways first.

    Attributes:
        stages: One or more; each begins a construction of the unit with the fewest pivots found, and among those the
            fewest partial seams.
        pivots: Proven: no construction of the whole unit has fewer.
        partial_seams: Proven: no construction of the whole unit with so few pivots has fewer.
        is_complete: Every construction of so few pivots and partial seams begins with one of the stages.
    """

    stages: tuple[Stage, ...]
    pivots: int = 0
    partial_seams: int = 0
    is_complete: bool = False

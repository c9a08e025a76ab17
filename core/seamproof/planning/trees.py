"""A way to sew a unit, before labels are given: a tree of leaves, pairs and stages."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from seamproof.planning.stages import SeamEdge, Stage


@dataclass(frozen=True, slots=True)
class Leaf:
    """A patch joined by itself, or the patches of one foundation."""

    unit: int


@dataclass(frozen=True, slots=True)
class Pair:
    """Two units joined along one line or arc.

    Attributes:
        unit: The patches of both.
        seam: Its edges from end to end.
        left: What is on its left.
        right: What is on its right.
    """

    unit: int
    seam: tuple[SeamEdge, ...]
    left: Tree
    right: Tree


@dataclass(frozen=True, slots=True)
class Staged:
    """Parts joined by seams with pivots, or by partial seams.

    Attributes:
        unit: The patches of all parts.
        stage: How the parts are joined.
        parts: How each part of the stage is sewn; it may hold lone patches that hang on the stage's part.
    """

    unit: int
    stage: Stage
    parts: tuple[Tree, ...]


@dataclass(frozen=True, slots=True)
class Papered:
    """A foundation that goes on beyond its own patches: finished units and lone patches are laid on it one by one.

    Attributes:
        unit: All its patches, those of the units laid on it included.
        base: The patches it began as.
        laid: What is laid on it after them, in order, each with the run of its seam.
    """

    unit: int
    base: int
    laid: tuple[tuple[Tree, int], ...]


Tree: TypeAlias = Leaf | Pair | Staged | Papered

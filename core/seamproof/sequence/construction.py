"""The types of a construction.

Units are named by one string each: a patch by its id ("7"), a foundation by its letters ("A", "AB"), a join by "J" and
its number ("J3"). Patch ids hold no capital letter and foundations are never labelled J, so no two can be confused.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

if TYPE_CHECKING:
    from seamproof.geometry import Edge, Point

Technique: TypeAlias = Literal["straight", "curved", "partial", "set-in"]
Method: TypeAlias = Literal["foundation", "pieced", "hand"]
StepKind: TypeAlias = Literal["first", "add", "join", "start", "finish"]

TECHNIQUES: Final[tuple[Technique, ...]] = ("straight", "curved", "partial", "set-in")
"""From the easiest to the hardest."""


@dataclass(frozen=True)
class Foundation:
    """A paper section on which two patches or more are sewn in number order.

    Attributes:
        label: "A", "B", … (without I, J and O, which read as figures or as joins).
        order: Patch ids in sewing order; where a finished unit is laid on as if it were one patch, its label.
        groups: `order` cut into runs; the patches of one run are free of one another and may be sewn in any order.
        precedes: The pairs (earlier, later) that must stand in this order when the first patch is kept, and between
            which nothing must: the reduced relation. Its transitive closure is a partial order, and the valid orders
            with this first patch are exactly the linear extensions of it. It is never empty, for the first patch comes
            before all others: without pairs the referee refuses the foundation.
        twin_of: The label of an earlier foundation congruent to this one with equal roles, printed once for both.
    """

    label: str
    order: tuple[str, ...]
    groups: tuple[tuple[str, ...], ...]
    precedes: frozenset[tuple[str, str]] = field(default=frozenset(), repr=False)
    twin_of: str | None = None


@dataclass(frozen=True)
class Join:
    """Two units sewn together along one seam.

    Attributes:
        label: "J1", "J2", … in sewing order of their start.
        first: The unit on the left of the seam as it runs.
        second: The unit on its right.
        seam: Its edges from end to end [in].
        kind: The technique it takes.
        pivots: Where the needle stops and the cloth is turned (or the seam stops dead) [in].
        passes: The seam as it is sewn: one stretch, or for a partial seam the started stretch first.
    """

    label: str
    first: str
    second: str
    seam: tuple[Edge, ...]
    kind: Technique = "straight"
    pivots: tuple[Point, ...] = ()
    passes: tuple[tuple[Edge, ...], ...] = ()

    def __post_init__(self) -> None:
        if not self.passes:
            object.__setattr__(self, "passes", (self.seam,))

    @property
    def length(self) -> float:
        """The length of the seam [in]."""
        return sum(edge.length for edge in self.seam)


@dataclass(frozen=True)
class Step:
    """One thing done at the machine.

    kind "first": `patch` is pinned on `foundation`; "add": `patch`, or the finished `unit`, is sewn on `foundation`
    along `seam`, flipped and pressed; "join": `join` is sewn in one pass; "start": the first pass of a partial seam;
    "finish": a later pass.
    """

    kind: StepKind
    seam: tuple[Edge, ...] = ()
    foundation: str | None = None
    patch: str | None = None
    join: str | None = None
    unit: str | None = None

    @property
    def added(self) -> str | None:
        """What is laid on the foundation: a patch's id or a unit's label; None for a join."""
        return self.patch if self.unit is None else self.unit

    @property
    def name(self) -> str | None:
        """What its seam is called: the join's label, the added patch's id, or "+" and the label of the unit laid."""
        if self.unit is not None:
            return laid_name(self.unit)
        return self.patch if self.join is None else self.join


def laid_name(unit: str) -> str:
    """What the seam is called by which a finished unit is laid on a foundation.

    >>> laid_name("J2")
    '+J2'
    """
    return f"+{unit}"


@dataclass(frozen=True)
class Bounds:
    """Proven lower bounds on what a construction along the seams drawn takes.

    Foundations are counted with paper used wherever it serves (joining every patch by itself takes none); pivots among
    constructions whose joins sew all that two units share at once; partial seams among those with so few pivots.
    """

    foundations: int = 0
    pivots: int = 0
    partial_seams: int = 0


@dataclass(frozen=True)
class Construction:
    """A whole way to sew a block.

    Attributes:
        method: How it was asked for.
        foundations: Those of two patches or more, in the order in which they are sewn.
        loose: Ids of patches joined by themselves, cut plain.
        joins: In sewing order.
        steps: Everything in sewing order.
        bounds: What no construction can go under.
        optimal: Whether the count of foundations is proven least.
    """

    method: Method
    foundations: tuple[Foundation, ...]
    loose: tuple[str, ...]
    joins: tuple[Join, ...]
    steps: tuple[Step, ...]
    bounds: Bounds = Bounds()
    optimal: bool = False

    @property
    def technique(self) -> Technique:
        """The hardest technique it needs; "straight" where nothing is joined."""
        return max((join.kind for join in self.joins), key=TECHNIQUES.index, default="straight")

    @property
    def pivots(self) -> int:
        """How often the needle stops and the cloth is turned."""
        return sum(len(join.pivots) for join in self.joins)

    @property
    def partial_seams(self) -> int:
        """Passes beyond the first, over all seams."""
        return sum(len(join.passes) - 1 for join in self.joins)

    @property
    def whole(self) -> str:
        """The unit that is the finished block."""
        ends = [join.label for join in self.joins[-1:]]
        ends += [foundation.label for foundation in self.foundations[:: -1 if self.laid else 1]]
        return next((label for label in ends if label not in self.laid), ends[0] if ends else self.loose[0])

    @cached_property
    def laid(self) -> dict[str, str]:
        """For each finished unit that is laid on a foundation as if it were one patch: the foundation's label."""
        units = {foundation.label for foundation in self.foundations} | {join.label for join in self.joins}
        return {part: f.label for f in self.foundations for part in f.order if part in units}

    @cached_property
    def _alone(self) -> frozenset[str]:
        return frozenset(self.loose)

    @cached_property
    def _parts(self) -> dict[str, tuple[str, ...]]:
        """For each foundation and join what it is made of, each after its parts; a ring of units is left out."""
        if not self.laid:
            parts = {foundation.label: foundation.order for foundation in self.foundations}
            for join in self.joins:
                if {join.first, join.second} - parts.keys() - self._alone:
                    raise KeyError(join.label)
                parts[join.label] = (join.first, join.second)
            return parts
        parts = {}
        left = {foundation.label: foundation.order for foundation in self.foundations}
        left |= {join.label: (join.first, join.second) for join in self.joins}
        while ready := [
            label for label, made_of in left.items() if all(part in parts or part[:1].isdigit() for part in made_of)
        ]:
            for label in ready:
                parts[label] = left.pop(label)
        return parts

    def patches_of(self, label: str) -> tuple[str, ...]:
        """The patch ids in a unit. Raises KeyError where no unit has this label."""
        if label not in self._parts and label not in self._alone:
            raise KeyError(label)
        found: list[str] = []
        stack = [label]
        while stack:
            part = stack.pop()
            if part in self._parts:
                stack += reversed(self._parts[part])
            else:
                found.append(part)
        return tuple(found)

    def foundation(self, label: str) -> Foundation:
        """The foundation of this label. Raises KeyError where there is none."""
        return {foundation.label: foundation for foundation in self.foundations}[label]

    def join(self, label: str) -> Join:
        """The join of this label. Raises KeyError where there is none."""
        return {join.label: join for join in self.joins}[label]

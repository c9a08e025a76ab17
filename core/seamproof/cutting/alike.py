"""Which units of a pieced block are made, sewn and pressed alike."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, TypeAlias

from seamproof.cutting.twins import moves_onto
from seamproof.geometry.points import add, distance, left, midpoint, times
from seamproof.tolerance import LAID_ON

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from seamproof.cutting.units import Units
    from seamproof.geometry import Point, Transform
    from seamproof.sequence import Join
    from seamproof.sequence.pressing import PressingPlan, Toward

_Seam: TypeAlias = "tuple[Point, Point, float]"
"""The middle of a seam, a point an inch off it to where its allowances lie (the middle itself: open), its length."""


@dataclass
class Alike:
    """Compares units of one construction: by a turn and a shift, mirror images told apart.

    Attributes:
        units: The construction; the role of each patch is its fabric.
        pressing: Where allowances lie.
    """

    units: Units
    pressing: PressingPlan
    _kind_of: dict[str, str] = field(default_factory=dict)

    @cached_property
    def _toward(self) -> Mapping[str, Toward]:
        return {seam.join: seam.toward for seam in self.pressing.seams if seam.join}

    @cached_property
    def _joins(self) -> Mapping[str, Join]:
        return {join.label: join for join in self.units.construction.joins}

    def inside(self, labels: Iterable[str]) -> set[str]:
        """The joins within these units, themselves left out."""
        found: set[str] = set()
        stack = list(labels)
        while stack:
            join = self._joins.get(stack.pop())
            for part in (join.first, join.second) if join else ():
                if part in self._joins:
                    found.add(part)
                    stack.append(part)
        return found

    def sort(self, label: str, model: str) -> None:
        """Remember that a unit is of the same kind as a model, which may be itself."""
        self._kind_of[label] = model

    def is_same(self, label: str, model: str, *, but_last: bool) -> bool:
        """Whether a unit and a model are congruent, of the same fabrics, and sewn and pressed alike.

        Args:
            label: A join.
            model: Another.
            but_last: Leave out how the last seam is pressed.
        """
        ours, theirs = self._joins[label], self._joins[model]
        parts, others = ({self._kind(part) for part in (join.first, join.second)} for join in (ours, theirs))
        if parts != others or ours.kind != theirs.kind or abs(ours.length - theirs.length) > LAID_ON:
            return False
        seams, goals = self._seams(label, but_last), self._seams(model, but_last)
        return any(_lie_on(seams, goals, move) for move in moves_onto(self.units, label, model))

    def _kind(self, label: str) -> str:
        """A patch counts by its fabric, a unit by the first of its kind; within a unit that a way makes, by no name."""
        return self._kind_of.get(label, "") if label in self._joins else self.units.block.patch(label).role

    def _seams(self, label: str, but_last: bool) -> list[_Seam]:
        found = [self._seam(self._joins[part], is_pressed=True) for part in sorted(self.inside([label]))]
        return [*found, self._seam(self._joins[label], is_pressed=not but_last)]

    def _seam(self, join: Join, *, is_pressed: bool) -> _Seam:
        middle = midpoint(join.seam[0].start, join.seam[-1].end)
        edge = join.seam[0]
        toward = self._toward.get(join.label, "open") if is_pressed else "open"
        side = {"left": 1.0, "right": -1.0, "open": 0.0}[toward]
        return middle, add(middle, times(left(edge.direction(0.5)), side)), join.length


def _lie_on(seams: list[_Seam], goals: list[_Seam], move: Transform) -> bool:
    """Whether every seam, moved, lies on one of the goals and is pressed as that is."""
    if len(seams) != len(goals):
        return False
    moved = [(move.point(middle), move.point(side), length) for middle, side, length in seams]
    return all(
        any(distance(a, c) <= LAID_ON and distance(b, d) <= LAID_ON and abs(m - n) <= LAID_ON for c, d, n in goals)
        for a, b, m in moved
    )

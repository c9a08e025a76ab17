"""The sewing table: what is sewn to what at this moment of the replay."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

from seamproof.geometry.points import add, times
from seamproof.referee.reasons import Reason, refusal
from seamproof.referee.touching import NEAR

if TYPE_CHECKING:
    from collections.abc import Iterable

    from seamproof.block import Block
    from seamproof.geometry import Point
    from seamproof.referee.touching import Touch, Touching
    from seamproof.sequence import Construction


@dataclass(eq=False)
class Table:
    """What is known of the block, and what the replay has sewn so far. It changes as steps are replayed.

    Attributes:
        block: The block.
        con: The construction.
        touching: Which patches touch.
        allowance: The seam allowance [in].
        sewn: For each touch the index of the step that sewed it, or −1.
        pending: Touches that a later pass of a started partial seam will close: touch → join label.
    """

    block: Block
    con: Construction
    touching: Touching
    allowance: float
    sewn: list[int] = field(init=False)
    pending: dict[int, str] = field(default_factory=dict)
    _number: list[int] = field(init=False)
    _members: dict[int, list[int]] = field(default_factory=dict)
    _numbers: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.sewn = [-1] * len(self.touching.touches)
        self._number = [-1] * len(self.block.patches)

    @cached_property
    def index(self) -> dict[str, int]:
        """Patch id → patch index."""
        return {patch.id: index for index, patch in enumerate(self.block.patches)}

    def ids(self, patches: Iterable[int]) -> tuple[str, ...]:
        """The ids of patches, each once, in the order of the block."""
        return tuple(self.block.patches[index].id for index in sorted(set(patches)))

    def put(self, label: str, patches: Iterable[int]) -> None:
        """Lay a unit on the table that nothing was joined to yet."""
        members = list(patches)
        number = members[0]
        self._members[number] = members
        self._numbers[label] = number
        for patch in members:
            self._number[patch] = number

    def take(self, label: str) -> None:
        """Take a unit off the table: it is laid on a foundation."""
        for patch in self._members.pop(self._numbers.pop(label)):
            self._number[patch] = -1

    def merge(self, first: str, second: str, label: str) -> None:
        """Join two units into one that has a new name. Small goes into large, so all merges cost O(n log n)."""
        small, large = sorted(
            (self._numbers.pop(first), self._numbers.pop(second)), key=lambda n: len(self._members[n])
        )
        for patch in self._members[small]:
            self._number[patch] = large
        self._members[large] += self._members.pop(small)
        self._numbers[label] = large

    def has(self, label: str) -> bool:
        """Whether a unit of this name lies on the table."""
        return label in self._numbers

    @property
    def labels(self) -> tuple[str, ...]:
        """The units on the table."""
        return tuple(self._numbers)

    def members(self, label: str) -> list[int]:
        """The patches of a unit."""
        return self._members[self._numbers[label]]

    def is_in(self, patch: int, label: str) -> bool:
        """Whether a patch is in a unit."""
        return self._number[patch] == self._numbers.get(label, -2)

    def between(self, first: str, second: str) -> dict[int, Touch]:
        """The touches of two units that no later pass is to close, each with the first unit on its left."""
        small, large = sorted((first, second), key=lambda label: len(self.members(label)))
        found: dict[int, Touch] = {}
        for patch in self.members(small):
            for index in self.touching.of_patch[patch]:
                touch = self.touching.touches[index]
                if self.is_in(touch.other(patch), large) and index not in self.pending:
                    found[index] = touch if self.is_in(touch.left, first) else touch.reversed()
        return found

    def sew(self, touches: Iterable[int], step: int) -> None:
        """Note that touches are sewn. Raises SewingError where one is sewn already."""
        for index in touches:
            if self.sewn[index] >= 0:
                touch = self.touching.touches[index]
                raise refusal(
                    Reason.SEWN_TWICE,
                    f"this stretch was sewn in step {self.sewn[index] + 1} already",
                    step=step,
                    patches=self.ids((touch.left, touch.right)),
                )
            self.sewn[index] = step

    @cached_property
    def polygons(self) -> Any:
        """The patches as an array of shapely polygons."""
        import shapely

        return shapely.polygons([shapely.linearrings(patch.outline.polygon) for patch in self.block.patches])

    @cached_property
    def _tree(self) -> Any:
        import shapely

        return shapely.STRtree(self.polygons)

    def at(self, place: Point) -> list[int]:
        """The patches that meet a place."""
        import shapely

        return sorted(self._tree.query(shapely.Point(place), predicate="dwithin", distance=NEAR).tolist())

    def enters_own_cloth(self, end: Point, heading: Point, label: str, unsure: float) -> list[int]:
        """The patches of a unit into or between which a seam runs that is carried on by one allowance past its end.

        Only cloth on both sides stops it: along the unit's own outline the needle runs free.

        Args:
            end: Where the seam ends [in].
            heading: The unit direction in which it runs there.
            label: The unit.
            unsure: How far [in] the carried-on seam may be off at its far end.
        """
        import shapely

        slack = 2 * (NEAR + unsure)
        ray = shapely.LineString([add(end, times(heading, 2 * slack)), add(end, times(heading, self.allowance))])
        near = self._tree.query(ray, predicate="dwithin", distance=NEAR).tolist()
        own = sorted(index for index in near if self.is_in(index, label))
        if not own:
            return []
        cloth = shapely.union_all(shapely.buffer(self.polygons[own], NEAR, join_style="mitre"))
        inner = cloth.buffer(-NEAR - slack, join_style="mitre")
        return own if ray.intersects(inner) else []

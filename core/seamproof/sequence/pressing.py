"""What a pressing plan is: types only; `planning.pressing` finds one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias

if TYPE_CHECKING:
    from seamproof.geometry import Edge, Point

Toward: TypeAlias = Literal["left", "right", "open"]


@dataclass(frozen=True)
class PressedSeam:
    """One sewn seam and where its allowances lie.

    Attributes:
        seam: Its edges from end to end [in].
        toward: The side on which both allowances lie, seen along the seam; "open": one on each side.
        join: The join it belongs to, or None for a seam sewn on a foundation.
        patch: The patch added by a seam sewn on a foundation, toward which it lies; else None.
        unit: The finished unit laid on a foundation by it, toward which it lies; else None.
        dark: Whether a darker cloth's allowance lies under a lighter cloth.
    """

    seam: tuple[Edge, ...]
    toward: Toward
    join: str | None = None
    patch: str | None = None
    dark: bool = False
    unit: str | None = None


@dataclass(frozen=True)
class Meeting:
    """Two seams that meet from either side of a join, or of the line by which a unit is laid on a foundation.

    Attributes:
        place: Where [in].
        join: The join they meet on; "+" and a unit's label for the line by which that unit is laid on a foundation.
        nests: Whether their allowances lie opposite ways, so that they lock.
        spins: Whether four allowances may be fanned round the point: four patches, a join, and the two seams nest.
    """

    place: Point
    join: str
    nests: bool
    spins: bool


@dataclass(frozen=True)
class PressingPlan:
    """Where every allowance of a block lies.

    Attributes:
        seams: Every seam: those of foundations in sewing order, then the joins.
        meetings: Every place where seams meet across a join, or across the line by which a unit is laid.
        proven: Whether no plan has fewer meetings that do not nest, then fewer seams pressed open, then fewer joins
            whose dark allowance lies under light cloth; of a block that is pieced, among the plans that press alike
            what is pressed before it is cut apart.
    """

    seams: tuple[PressedSeam, ...]
    meetings: tuple[Meeting, ...]
    proven: bool

    @property
    def open_seams(self) -> int:
        """How many seams are pressed open."""
        return sum(seam.toward == "open" for seam in self.seams)

    @property
    def missed(self) -> int:
        """How many meetings neither nest nor have a seam pressed open."""
        return sum(not meeting.nests for meeting in self.meetings)

    def toward(self, label: str) -> Toward:
        """Where the allowances of a join lie. Raises KeyError where no join has this label."""
        return {seam.join: seam.toward for seam in self.seams if seam.join}[label]

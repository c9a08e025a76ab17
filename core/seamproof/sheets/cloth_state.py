"""What lies on a foundation at each step: the pieces as they were placed, cut down where they have been trimmed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamproof.errors import SeamproofError
from seamproof.sheets.clip import left_of

if TYPE_CHECKING:
    from seamproof.block import Patch
    from seamproof.cutting import RoughPiece, SewingLine, Template
    from seamproof.geometry import Point
    from seamproof.pattern import Pattern


@dataclass(frozen=True)
class Lying:
    """One piece on a foundation.

    Attributes:
        patch: Its patch id.
        colour: Its fabric's colour, "#rrggbb".
        ring: All of it, its seam allowance included [in].
        face: What of it is seen from the cloth side, later pieces aside: up to the fold at its own seam [in].
    """

    patch: str
    colour: str
    ring: tuple[Point, ...]
    face: tuple[Point, ...]


@dataclass(frozen=True)
class Bench:
    """A foundation just before a patch is sewn on it.

    Attributes:
        template: Its template.
        patch: The patch.
        piece: The piece it is sewn from.
        number: The patch's place in the sewing order, from 1.
        name: What the patch is called on pages.
        colour: The colour of its fabric.
        line: The line it is sewn along; None for the first patch.
        earlier: The pieces that lie there, in sewing order, trimmed at the seams sewn so far.
        trimmed: The same, trimmed for the coming seam too.
    """

    template: Template
    patch: Patch
    piece: RoughPiece
    number: int
    name: str
    colour: str
    line: SewingLine | None
    earlier: tuple[Lying, ...]
    trimmed: tuple[Lying, ...]

    @property
    def seam(self) -> tuple[Point, Point]:
        """The seam, with the patch on its left. Only where there is one."""
        if self.piece.seam is None:
            raise SeamproofError(f"patch {self.name} is the first on its foundation: it has no seam")
        return self.piece.seam


def bench(pattern: Pattern, label: str, patch: str) -> Bench:
    """The foundation `label` just before `patch` is sewn on it.

    Raises:
        SeamproofError: no template is printed under this label, or the patch is not on it.
    """
    template = next((t for t in pattern.templates if t.label == label and t.lines), None)
    if template is None:
        raise SeamproofError(f"foundation {label!r} has no template of its own")
    order = [entry[0] for entry in template.patches]
    if patch not in order:
        raise SeamproofError(f"patch {patch!r} is not on foundation {label}: it holds {', '.join(order)}")
    place = order.index(patch)
    pieces = {piece.patch: piece for piece in pattern.rough if piece.foundation == label}
    before = [pieces[other] for other in order[:place]]
    return Bench(
        template,
        pattern.block.patch(patch),
        pieces[patch],
        place + 1,
        f"{label}{place + 1}",
        pattern.fabric(patch).colour,
        next((line for line in template.lines if line.patch == patch), None),
        _lying(pattern, before, before),
        _lying(pattern, before, [*before, pieces[patch]]),
    )


def faces_after(pattern: Pattern, label: str, patch: str) -> tuple[Lying, ...]:
    """Everything on the foundation once `patch` is sewn and flipped, in sewing order. Raises as `bench` does."""
    here = bench(pattern, label, patch)
    return (*here.trimmed, *_lying(pattern, [here.piece], []))


def _lying(pattern: Pattern, pieces: list[RoughPiece], sewn: list[RoughPiece]) -> tuple[Lying, ...]:
    """The pieces, each cut down where a later one of `sewn` was trimmed."""
    found = []
    for piece in pieces:
        ring = piece.placed
        later = sewn[sewn.index(piece) + 1 :] if piece in sewn else []
        for other in later:
            if other.seam is not None:
                p, q = other.seam
                ring = left_of(ring, q, p, other.trim)
        face = left_of(ring, *piece.seam) if piece.seam is not None else ring
        found.append(Lying(piece.patch, pattern.fabric(piece.patch).colour, ring, face))
    return tuple(found)

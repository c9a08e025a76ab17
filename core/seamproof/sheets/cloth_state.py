"""What lies on a foundation at each step: the pieces as they were placed, cut down where they have been trimmed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamproof.cutting.pieces import RoughPiece
from seamproof.errors import SeamproofError
from seamproof.sequence.construction import laid_name
from seamproof.sheets.clip import left_of
from seamproof.sheets.leaves import join_ticks, raw_edge, units_of
from seamproof.sheets.unit_shapes import unit_shape

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.cutting import MatchTick, SewingLine, Template
    from seamproof.cutting.pieces import LaidUnit
    from seamproof.geometry import Outline, Point
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
        outline: The finished outline of the patch, or of the unit that is laid as one.
        piece: The piece it is sewn from; of a unit its whole cloth, as it lies.
        number: The patch's place in the sewing order, from 1.
        name: What the patch is called on pages.
        colour: The colour of its fabric.
        line: The line it is sewn along; None for the first patch.
        earlier: The pieces that lie there, in sewing order, trimmed at the seams sewn so far.
        trimmed: The same, trimmed for the coming seam too.
        unit: The patches of the finished unit that is laid; none for a patch.
        ticks: The match points on the line of that unit.
        papers: Its papers where they lie after the flip, out to their cut lines.
        seams: Its own seams.
    """

    template: Template
    outline: Outline
    piece: RoughPiece
    number: int
    name: str
    colour: str
    line: SewingLine | None
    earlier: tuple[Lying, ...]
    trimmed: tuple[Lying, ...]
    unit: tuple[Lying, ...] = ()
    ticks: tuple[MatchTick, ...] = ()
    papers: tuple[tuple[Point, ...], ...] = ()
    seams: tuple[tuple[Point, ...], ...] = ()

    @property
    def seam(self) -> tuple[Point, Point]:
        """The seam, with the patch on its left. Only where there is one."""
        if self.piece.seam is None:
            raise SeamproofError(f"patch {self.name} is the first on its foundation: it has no seam")
        return self.piece.seam


def bench(pattern: Pattern, label: str, patch: str) -> Bench:
    """The foundation `label` just before `patch`, or the finished unit of that label, is sewn on it.

    Raises:
        SeamproofError: no template is printed under this label, or the patch is not on it.
    """
    template = next((t for t in pattern.templates if t.label == label and t.lines), None)
    if template is None:
        raise SeamproofError(f"foundation {label!r} has no template of its own")
    places = {entry[1]: entry[0] for entry in template.patches} | {unit.number: unit.label for unit in template.laid}
    order = [places[number] for number in sorted(places)]
    if patch not in order:
        raise SeamproofError(f"patch {patch!r} is not on foundation {label}: it holds {', '.join(order)}")
    place = order.index(patch)
    pieces = {piece.patch: piece for piece in pattern.rough if piece.foundation == label}
    outlines = {unit.label: unit.outline for unit in template.laid}
    pieces |= {unit.label: _as_piece(pattern, template, unit) for unit in template.laid}
    is_unit = patch in outlines
    before = [pieces[other] for other in order[:place]]
    return Bench(
        template,
        outlines[patch] if is_unit else pattern.block.patch(patch).outline,
        pieces[patch],
        place + 1,
        patch if is_unit else f"{label}{place + 1}",
        pattern.fabric(pattern.construction.patches_of(patch)[0] if is_unit else patch).colour,
        next((line for line in template.lines if line.patch == patch), None),
        _lying(pattern, before, before),
        _lying(pattern, before, [*before, pieces[patch]]),
        _lying(pattern, [pieces[patch]], []) if is_unit else (),
        join_ticks(pattern, laid_name(patch)) if is_unit else (),
        tuple(_papers(pattern, patch)) if is_unit else (),
        unit_shape(pattern, patch).seams if is_unit else (),
    )


def faces_after(pattern: Pattern, label: str, patch: str) -> tuple[Lying, ...]:
    """Everything on the foundation once `patch` is sewn and flipped, in sewing order. Raises as `bench` does."""
    here = bench(pattern, label, patch)
    return (*here.trimmed, *_lying(pattern, [here.piece], []))


def _as_piece(pattern: Pattern, template: Template, unit: LaidUnit) -> RoughPiece:
    """The cloth of a finished unit, to its raw edge, as a piece that is laid on a foundation."""
    line = next(line for line in template.lines if line.patch == unit.label)
    ring = raw_edge(pattern, unit.label, unit.outline).polygon
    return RoughPiece(unit.label, template.label, "rectangle", 0.0, 0.0, "any edge", ring, line.seam, None, 0.0,
                      pattern.recipe.make.allowance)  # fmt: skip


def _papers(pattern: Pattern, unit: str) -> Iterator[tuple[Point, ...]]:
    """The cut lines of the papers that are behind a unit, where they lie; none where foundations stay in."""
    if pattern.recipe.make.foundation in {"leave-in", "cloth"}:
        return
    construction, ids = pattern.construction, set(pattern.construction.patches_of(unit))
    for foundation in construction.foundations:
        is_in_it = ids.issuperset(construction.patches_of(foundation.label))
        if is_in_it and (foundation.label == unit or foundation.label not in construction.laid):
            outline = units_of(pattern).outline(foundation.label)
            yield raw_edge(pattern, foundation.label, outline).polygon


def _cloths(pattern: Pattern, piece: RoughPiece) -> list[tuple[str, tuple[Point, ...]]]:
    """The colour and ring of a piece, or of every patch's cloth in a unit."""
    if piece.patch not in pattern.construction.laid:
        return [(pattern.fabric(piece.patch).colour, piece.placed)]
    shape = unit_shape(pattern, piece.patch)
    return [*shape.cloth, *shape.patches]


def _lying(pattern: Pattern, pieces: list[RoughPiece], sewn: list[RoughPiece]) -> tuple[Lying, ...]:
    """The pieces, each cut down where a later one of `sewn` was trimmed."""
    found = []
    for piece in pieces:
        later = sewn[sewn.index(piece) + 1 :] if piece in sewn else []
        for colour, placed in _cloths(pattern, piece):
            ring = placed
            for other in later:
                if other.seam is not None:
                    p, q = other.seam
                    ring = left_of(ring, q, p, other.trim)
            face = left_of(ring, *piece.seam) if piece.seam is not None else ring
            found.append(Lying(piece.patch, colour, ring, face))
    return tuple(found)

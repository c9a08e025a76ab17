"""Recognising the units that can be made from larger pieces: halves, quarters, geese, corners, sets of strips."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, TypeAlias

from seamproof.cutting.flipped import corner_legs
from seamproof.cutting.need import Frame
from seamproof.geometry.points import bounds, cross, distance, dot, sub, unit
from seamproof.tolerance import LAID_ON

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from seamproof.cutting.pieces import CutPiece
    from seamproof.cutting.units import Units
    from seamproof.cutting.ways import WayKind
    from seamproof.geometry import Outline, Point

_DIGITS: Final = 3
"""Sizes that are the same to a thousandth of an inch are one."""
_STRIPS: Final = frozenset({"square", "rectangle"})
_HALF: Final = "half-square triangle"
_QUARTER: Final = "quarter-square triangle"

Key: TypeAlias = tuple[str, tuple[str, ...], tuple[float, ...], str]


@dataclass(frozen=True)
class Found:
    """A unit that a way can make.

    Attributes:
        label: The join that makes it.
        kind: By which way.
        parts: Its patches by what they are cut from: half-square: each triangle; quarter-square: the two of one fabric
            that lie opposite each other, then each of the others; half and quarters: the half, then each quarter;
            geese: the goose, then both wings; corners: what is left of the rectangle, then the corners of each fabric
            and size; strip set: each rectangle, in the order in which they lie.
        fabrics: The fabric of each part.
        size: Its finished width and height [in]; of a strip set, across the strips and along them.
        widths: The finished width of each strip [in]; of corners the leg of each part, 0 for the first; of others none.
        arranged: Of corners, which stands where; units that are the same but for a turn have the same.
        hand: Of half and quarters, whether the first quarter comes after the half anticlockwise (1) or before it (−1).
        outline: Its finished outline.
    """

    label: str
    kind: WayKind
    parts: tuple[tuple[str, ...], ...]
    fabrics: tuple[str, ...]
    size: tuple[float, float]
    widths: tuple[float, ...] = ()
    arranged: str = ""
    hand: int = 0
    outline: Outline | None = None

    @property
    def key(self) -> Key:
        """What units that are made together have in common."""
        sizes = (*self.size, *self.widths)
        return (self.kind, self.fabrics, tuple(round(size, _DIGITS) for size in sizes), self.arranged)


def recognised(units: Units, label: str, pieces: Mapping[str, CutPiece]) -> tuple[Found, ...]:
    """The ways that could make a unit, from its shapes, grain and fabrics alone, the one to be preferred first.

    Args:
        units: The construction; the role of each patch is its fabric.
        label: The unit.
        pieces: The plain piece of every patch, by whose names and grain triangles are told apart.
    """
    ids = units.construction.patches_of(label)
    if any(patch not in pieces for patch in ids) or not _rectangle(units.outline(label)):
        return ()
    shapes = sorted(pieces[patch].shape for patch in ids)
    if set(shapes) <= _STRIPS:
        tries = [_strips]
    elif shapes == [_HALF] * 2:
        tries = [_halves]
    else:
        first = {
            (_QUARTER,) * 4: [_quarters],
            (_HALF, _QUARTER, _QUARTER): [_three],
            (_HALF, _HALF, _QUARTER): [_geese],
        }
        tries = [*first.get(tuple(shapes), []), _corners]
    found = (look(units, label, ids, pieces) for look in tries)
    return tuple(row for row in found if row)


def _found(
    units: Units, label: str, kind: WayKind, parts: Sequence[tuple[str, ...]], size: tuple[float, float]
) -> Found:
    return Found(label, kind, tuple(parts), tuple(_fabric(units, part[0]) for part in parts), size)


def _fabric(units: Units, patch: str) -> str:
    return units.block.patch(patch).role


def _sides(outline: Outline) -> list[float]:
    ring = outline.points
    return [distance(p, q) for p, q in zip(ring, ring[1:] + ring[:1], strict=True)]


def _rectangle(outline: Outline) -> tuple[float, float] | None:
    """The sides of a rectangle, or None."""
    if len(outline.edges) != 4 or not outline.is_straight:
        return None
    a, b = (sub(edge.end, edge.start) for edge in outline.edges[:2])
    width, height, *rest = _sides(outline)
    is_true = abs(dot(a, b)) <= LAID_ON * max(width, height) and abs(rest[0] - width) + abs(rest[1] - height) <= LAID_ON
    return (width, height) if is_true else None


def _is_square(size: tuple[float, float] | None) -> bool:
    return size is not None and abs(size[0] - size[1]) <= LAID_ON


def _halves(units: Units, label: str, ids: Sequence[str], pieces: Mapping[str, CutPiece]) -> Found | None:
    """A square of two triangles, joined along their long sides."""
    size = _rectangle(units.outline(label))
    seam = units.construction.join(label).length
    longest = [max(_sides(pieces[patch].outline)) for patch in ids]
    if size is None or not _is_square(size) or any(abs(long - seam) > LAID_ON for long in longest):
        return None
    ordered = sorted(ids, key=lambda patch: _fabric(units, patch))
    return _found(units, label, "half-square", [(patch,) for patch in ordered], size)


def _quarters(units: Units, label: str, ids: Sequence[str], pieces: Mapping[str, CutPiece]) -> Found | None:
    """A square of four triangles whose long sides are its own, two of one fabric opposite each other.

    Two squares sewn and cut twice give a unit and its mirror image: so only units that are their own mirror image
    serve, and these are the ones in which some fabric lies opposite itself.
    """
    size = _rectangle(units.outline(label))
    longest = [max(_sides(pieces[patch].outline)) for patch in ids]
    if size is None or not _is_square(size) or any(abs(long - size[0]) > LAID_ON for long in longest):
        return None
    middle = units.outline(label).centroid
    centres = {patch: pieces[patch].outline.centroid for patch in ids}

    def opposite(patch: str) -> str:
        return max(ids, key=lambda other: distance(centres[patch], centres[other]))

    pairs = sorted({tuple(sorted((patch, opposite(patch)))) for patch in ids})
    if len(pairs) != 2 or any(abs(distance(centres[p], middle) - size[0] / 3) > LAID_ON for p in ids):
        return None
    same = [pair for pair in pairs if _fabric(units, pair[0]) == _fabric(units, pair[1])]
    if not same:
        return None
    first = min(same, key=lambda pair: _fabric(units, pair[0]))
    others = sorted((p for p in ids if p not in first), key=lambda patch: _fabric(units, patch))
    parts: tuple[tuple[str, ...], ...] = (first, *((patch,) for patch in others))
    if len(same) == 2:
        parts = (first, tuple(others))
    return _found(units, label, "quarter-square", parts, size)


def _three(units: Units, label: str, ids: Sequence[str], pieces: Mapping[str, CutPiece]) -> Found | None:
    """A square of a half and two quarters of two fabrics.

    A pair of squares sewn and cut, and a square laid on each half of it and sewn and cut again, give as many units as
    mirror images of them.
    """
    outline = units.outline(label)
    size = _rectangle(outline)
    half = next(patch for patch in ids if pieces[patch].shape == _HALF)
    quarters = sorted((patch for patch in ids if patch != half), key=lambda patch: _fabric(units, patch))
    long = [max(_sides(pieces[patch].outline)) for patch in quarters]
    if size is None or not _is_square(size) or any(abs(side - size[0]) > LAID_ON for side in long):
        return None
    if _fabric(units, quarters[0]) == _fabric(units, quarters[1]):
        return None
    middle = outline.centroid
    of_half, of_first = (sub(pieces[patch].outline.centroid, middle) for patch in (half, quarters[0]))
    hand = 1 if cross(of_half, of_first) > 0 else -1
    parts = [(half,), *((patch,) for patch in quarters)]
    return replace(_found(units, label, "half and quarters", parts, size), hand=hand)


def _corners(units: Units, label: str, ids: Sequence[str], pieces: Mapping[str, CutPiece]) -> Found | None:
    """A rectangle, corners of which are halves of squares."""
    outline = units.outline(label)
    size = _rectangle(outline)
    legs = corner_legs(outline, {patch: pieces[patch].outline for patch in ids})
    if size is None or legs is None:
        return None
    base, corners = legs
    groups: defaultdict[tuple[float, str], list[str]] = defaultdict(list)
    for _, (patch, leg) in sorted(corners.items()):
        groups[round(leg, _DIGITS), _fabric(units, patch)].append(patch)
    named = [
        f"{corners[at][1]:.{_DIGITS}f} {_fabric(units, corners[at][0])}" if at in corners else "-" for at in range(4)
    ]
    first = 0 if size[0] >= size[1] - LAID_ON else 1
    starts = range(4) if _is_square(size) else (first, first + 2)
    order = sorted(groups)
    parts = [(base,), *(tuple(groups[key]) for key in order)]
    return replace(
        _found(units, label, "corners", parts, (max(size), min(size))),
        widths=(0.0, *(leg for leg, _ in order)),
        arranged=", ".join(min(named[at:] + named[:at] for at in starts)),
        outline=outline,
    )


def _geese(units: Units, label: str, ids: Sequence[str], pieces: Mapping[str, CutPiece]) -> Found | None:
    """A rectangle twice as wide as high: a triangle on its whole long side, and two of one fabric at its corners."""
    size = _rectangle(units.outline(label))
    goose = next(patch for patch in ids if pieces[patch].shape == _QUARTER)
    wings = tuple(patch for patch in ids if patch != goose)
    if size is None or len({_fabric(units, patch) for patch in wings}) != 1:
        return None
    long, short = max(size), min(size)
    goose_long = max(_sides(pieces[goose].outline))
    legs = [min(_sides(pieces[patch].outline)) for patch in wings]
    if (
        abs(goose_long - long) > LAID_ON
        or abs(long - 2 * short) > LAID_ON
        or any(abs(x - short) > LAID_ON for x in legs)
    ):
        return None
    return _found(units, label, "geese", ((goose,), wings), (long, short))


def _strips(units: Units, label: str, ids: Sequence[str], pieces: Mapping[str, CutPiece]) -> Found | None:
    """A rectangle of rectangles side by side, each as long as itself."""
    seam = units.construction.join(label).seam
    frame = Frame((0.0, 0.0), unit(sub(seam[-1].end, seam[0].start)))
    boxes = {patch: _box(frame, pieces[patch].outline.polygon) for patch in ids}
    x0, _, x1, _ = _box(frame, units.outline(label).polygon)
    if any(abs(box[0] - x0) > LAID_ON or abs(box[2] - x1) > LAID_ON for box in boxes.values()):
        return None
    order = sorted(ids, key=lambda patch: boxes[patch][1])
    widths = {patch: boxes[patch][3] - boxes[patch][1] for patch in ids}
    rows = [(_fabric(units, patch), round(widths[patch], _DIGITS)) for patch in order]
    if rows[::-1] < rows:
        order.reverse()
    found = _found(units, label, "strip set", [(patch,) for patch in order], (sum(widths.values()), x1 - x0))
    return replace(found, widths=tuple(widths[patch] for patch in order))


def _box(frame: Frame, points: Sequence[Point]) -> tuple[float, float, float, float]:
    return bounds(frame.into(p) for p in points)

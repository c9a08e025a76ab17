"""Corners that are stitched and flipped: recognising them, and the proof that what is cut is enough.

A square is laid on a corner of a rectangle, sewn from corner to corner, trimmed to one allowance past the seam, and
turned over the corner. Let the corner's finished legs be c. The rectangle is cut 2s larger both ways than the unit,
the square 2s larger than c. Laid on the raw corner, the square's diagonal runs at c + 2s along either edge, and so
does the finished seam produced to the raw edges: from c on the finished edges, which lie s inside, by s more for each.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, TypeAlias

from seamproof.cutting.need import Frame
from seamproof.geometry.offsets import offset
from seamproof.geometry.points import add, along, distance, dot, sub, times, unit
from seamproof.tolerance import CUT_ROUND_OFF, LAID_ON

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from seamproof.cutting.pieces import CutPiece
    from seamproof.geometry import Outline, Point

_Side: TypeAlias = "tuple[Point, Point]"
"""A half-plane: a point on its edge, and the unit vector that leads into it."""

_GOOSE: Final = 2
"""How many corners leave a triangle that they are worth while for."""


def corner_legs(unit_: Outline, patches: Mapping[str, Outline]) -> tuple[str, dict[int, tuple[str, float]]] | None:
    """The patch that is left of a rectangle, and for each of its corners that is turned over its patch and leg [in].

    None where the other patches are not all halves of squares in the rectangle's corners, or too little is left: a half
    of a square is not worth while for one corner.

    Args:
        unit_: The finished rectangle.
        patches: Its patches.
    """
    found: dict[int, tuple[str, float]] = {}
    for name, outline in patches.items():
        at = _corner_of(unit_, outline)
        if at is not None:
            found[at[0]] = (name, at[1])
    base = set(patches) - {name for name, _ in found.values()}
    if len(base) != 1 or not found:
        return None
    (left,) = base
    is_goose = len(patches[left].edges) == 3 and len(found) == _GOOSE
    return (left, found) if is_goose or len(patches[left].edges) > 3 else None


def _corner_of(unit_: Outline, outline: Outline) -> tuple[int, float] | None:
    """Which corner of a rectangle a triangle with two equal legs along its sides fills, and the leg."""
    if len(outline.edges) != 3 or not outline.is_straight:
        return None
    ring = unit_.points
    for number, corner in enumerate(ring):
        near = [distance(corner, point) for point in outline.points]
        if min(near) > LAID_ON:
            continue
        legs = sorted(near)[1:]
        ends = [
            along(corner, other, legs[0] / distance(corner, other))
            for other in (ring[number - 1], ring[(number + 1) % 4])
        ]
        if legs[1] - legs[0] <= LAID_ON and all(
            min(distance(end, p) for p in outline.points) <= LAID_ON for end in ends
        ):
            return number, legs[0]
    return None


def flips_cover(
    unit_: Outline, base: CutPiece, corners: Mapping[int, tuple[CutPiece, float]], sides: tuple[float, float], s: float
) -> bool:
    """Whether a rectangle and the squares on its corners cover their patches, as far as the unit reaches.

    What of a patch's allowance lies outside the unit's own raw edge is cut off with the dog ears, so it counts for
    nothing; within a corner's seam an allowance is asked for beside the finished seam.

    Args:
        unit_: The finished rectangle.
        base: The piece that is left of it.
        corners: For each corner that is turned over its piece, and the side of the square cut for it [in].
        sides: The cut sides of the rectangle [in], the long one first.
        s: The seam allowance [in].
    """
    ring = unit_.points
    frame = Frame((unit_.centroid), unit(sub(ring[1], ring[0])))
    width, height = sides if distance(ring[0], ring[1]) >= distance(ring[1], ring[2]) else sides[::-1]
    raw = [(-width / 2, -height / 2), (width / 2, -height / 2), (width / 2, height / 2), (-width / 2, height / 2)]
    box = _sides_of(raw)
    lines = {number: _diagonal(raw[number], side) for number, (_, side) in corners.items()}
    whole = [frame.into(point) for point in offset(unit_, s).points]

    outer = _sides_of(whole)
    if not _holds(
        [*box, *((_moved(p, n, -s), n) for p, n in lines.values())],
        _clipped([frame.into(p) for p in base.cut.polygon], outer),
    ):
        return False
    for number, (piece, side) in corners.items():
        p, n = lines[number]
        x, y = raw[number]
        inner = (x - math.copysign(side, x), y - math.copysign(side, y))
        square = [(inner, (math.copysign(1.0, x), 0.0)), (inner, (0.0, math.copysign(1.0, y)))]
        ends = sorted((frame.into(q) for q in piece.outline.points), key=lambda q: distance(q, raw[number]))[1:]
        own = _clipped([frame.into(q) for q in piece.cut.polygon], [*outer, (ends[0], times(n, -1))])
        beside = [_moved(end, n, s) for end in ends]
        if not _holds([*box, *square, (_moved(p, n, s), times(n, -1))], [*own, *beside]):
            return False
    return True


def _moved(p: Point, n: Point, by: float) -> Point:
    """A point moved by so much [in] in the direction of a unit vector."""
    return add(p, times(n, by))


def _diagonal(corner: Point, side: float) -> _Side:
    """The diagonal of a square on a corner of a rectangle about the origin; what is left of the rectangle is inside."""
    x, y = corner
    middle = (x - math.copysign(side / 2, x), y - math.copysign(side / 2, y))
    return middle, unit((-math.copysign(1.0, x), -math.copysign(1.0, y)))


def _sides_of(ring: Sequence[Point]) -> list[_Side]:
    """The half-planes of a convex ring that runs anticlockwise."""
    found = []
    for p, q in zip(ring, [*ring[1:], ring[0]], strict=True):
        head = unit(sub(q, p))
        found.append((p, (-head[1], head[0])))
    return found


def _inside(point: Point, side: _Side) -> float:
    return dot(sub(point, side[0]), side[1])


def _clipped(ring: Sequence[Point], sides: Sequence[_Side]) -> list[Point]:
    """What of a ring lies in a convex set. Source: Sutherland & Hodgman, Communications of the ACM 17(1), 1974."""
    kept = list(ring)
    for side in sides:
        found: list[Point] = []
        for p, q in zip([kept[-1], *kept[:-1]], kept, strict=True):
            a, b = _inside(p, side), _inside(q, side)
            if a * b < 0:
                found.append(along(p, q, a / (a - b)))
            if b >= 0:
                found.append(q)
        kept = found
        if not kept:
            break
    return kept


def _holds(sides: Sequence[_Side], points: Sequence[Point]) -> bool:
    return all(_inside(point, side) >= -2 * CUT_ROUND_OFF for point in points for side in sides)

"""Seams carried on: an existing seam taken on in its own direction across one patch, to that patch's far side."""

from __future__ import annotations

from dataclasses import dataclass
from string import ascii_lowercase
from typing import TYPE_CHECKING

from seamproof.geometry import Outline
from seamproof.geometry.points import (
    add,
    along,
    cross,
    distance,
    distance_to_segment,
    dot,
    is_inside,
    sides,
    sub,
    times,
    unit,
)
from seamproof.planning.carrying_curved import crossing, curved_ends, in_pieces, with_crossing
from seamproof.planning.frame import Frame, bits
from seamproof.tolerance import SAME_POINT, UNIT_VECTOR, area_slack

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.block import Block
    from seamproof.geometry import Point
    from seamproof.planning.carrying_curved import Onward


@dataclass(frozen=True)
class Addition:
    """One seam carried on across one patch.

    Attributes:
        patch: The patch that it parts, by its id at that moment.
        start: Where the existing seam ended [in].
        end: Where it ends now [in].
        pieces: The ids of the two pieces.
        bulge: Of the stretch, where an arc is carried on along its circle, as of an Edge; 0 for a line.
    """

    patch: str
    start: Point
    end: Point
    pieces: tuple[str, str]
    bulge: float = 0.0


def carry_on(block: Block, patch_id: str, start: Point, toward: Point) -> tuple[Block, Addition]:
    """The block with one patch parted along the line from `start`, a point of its outline, in a direction.

    The pieces keep the role; they take the patch's number and the first small letters that are free.

    Raises:
        BlockError: no such patch.
        ValueError: the line does not cross the patch, or would leave a sliver; the patch is curved, or has been parted
            until no letter is left.
    """
    patch = block.patch(patch_id)
    if not patch.outline.is_straight:
        raise ValueError(f"patch {patch_id} has a curved side: seams are carried on across straight-edged patches only")
    ring = patch.outline.points
    end = exit_of(ring, start, unit(toward))
    if end is None:
        raise ValueError(f"a seam from {start} does not cross patch {patch_id}")
    one, other = parted(ring, start, end)
    if min(len(one), len(other)) < 3 or min(_thin(one), _thin(other)):
        raise ValueError(f"a seam from {start} to {end} leaves a sliver of patch {patch_id}")
    names = _names(block, patch_id)
    after = in_pieces(block, patch, (Outline.of(one), Outline.of(other)), names)
    return after, Addition(patch_id, start, end, names)


def carry_on_curved(block: Block, patch_id: str, way: Onward) -> tuple[Block, Addition]:
    """The block with one patch, whose sides may be curved, parted where a seam goes on across it, along its circle.

    Raises:
        BlockError: no such patch.
        ValueError: as `carry_on`.
    """
    names = _names(block, patch_id)
    after, stretch = with_crossing(block, patch_id, way, names)
    return after, Addition(patch_id, stretch.start, stretch.end, names, stretch.bulge)


def seam_ends(frame: Frame) -> Iterator[tuple[int, Point, int]]:
    """Every seam end that can be carried on: (node, direction it goes on in, index of the patch it enters).

    The direction is that of the seam's whole line, the best known.
    """
    pm = frame.map
    for run in frame.runs:
        if not run.is_straight:
            continue
        for node, far in ((run.nodes[0], run.nodes[-1]), (run.nodes[-1], run.nodes[0])):
            place = pm.nodes[node]
            toward = unit(sub(place, pm.nodes[far]))
            for patch in bits(frame.around[node]):
                outline = frame.patches[patch].outline
                if outline.is_straight and exit_of(outline.points, place, toward) is not None:
                    yield node, toward, patch
                    break


def possible(block: Block, patch_id: str) -> tuple[tuple[Point, Point], ...]:
    """Where a seam can be carried on across a patch: from … to … [in].

    Raises:
        BlockError: no such patch.
    """
    return tuple((start, end) for start, end, _ in _possible(block, patch_id))


def _possible(block: Block, patch_id: str) -> list[tuple[Point, Point, Onward | None]]:
    """The same, and how the seam goes on where sides are curved; None for a block of straight sides."""
    frame = Frame.of(block)
    index = frame.patches.index(block.patch(patch_id))
    outline = frame.patches[index].outline
    if any(not patch.outline.is_straight for patch in block.patches):
        ways = [(way, crossing(outline, way)) for _, way, patch in curved_ends(frame) if patch == index]
        return [(way.start, stretch.end, way) for way, stretch in ways if stretch is not None]
    starts = [(frame.map.nodes[node], toward) for node, toward, patch in seam_ends(frame) if patch == index]
    ends = [(start, exit_of(outline.points, start, toward)) for start, toward in starts]
    return [(start, end, None) for start, end in ends if end is not None]


def carry_between(block: Block, patch_id: str, start: Point, end: Point, within: float) -> tuple[Block, Addition]:
    """Carry on the seam that ends near `start`, across a patch, to the point near `end`.

    Args:
        block: The block.
        patch_id: The patch to part.
        start: Where the seam ends now [in].
        end: Where it is to end [in].
        within: How far off both may be [in]; the nearest seam is taken, and its own line.

    Raises:
        BlockError: no such patch.
        ValueError: no such seam ends at the patch, or it would leave a sliver.
    """
    near = sorted(
        (
            (max(distance(a, start), distance(b, end)), a, b, way)
            for a, b, way in _possible(block, patch_id)
            if distance(a, start) <= within and distance(b, end) <= within
        ),
        key=lambda row: row[:3],
    )
    if not near:
        raise ValueError(f"no seam that ends at patch {patch_id} can be carried on there")
    _, a, b, way = near[0]
    return carry_on(block, patch_id, a, sub(b, a)) if way is None else carry_on_curved(block, patch_id, way)


def entered(block: Block, p: Point, toward: Point) -> str | None:
    """The patch whose inside a line from p, a point on its outline, enters; None where it runs along an edge."""
    for patch in block.patches:
        left, bottom, right, top = patch.outline.bounds
        if not (left - SAME_POINT <= p[0] <= right + SAME_POINT and bottom - SAME_POINT <= p[1] <= top + SAME_POINT):
            continue
        if patch.outline.is_straight and exit_of(patch.outline.points, p, toward) is not None:
            return patch.id
    return None


def exit_of(ring: Sequence[Point], start: Point, toward: Point) -> Point | None:
    """Where a line from a point on a ring, into its inside, first meets the ring again; corners are met exactly.

    None where the line leaves the ring at once or runs along it, or the point is not on it. `toward` has length 1.
    """
    meets = []
    is_on = False
    for a, b in sides(ring):
        if distance_to_segment(start, a, b) <= 2 * SAME_POINT:
            is_on = True
            continue
        side = sub(b, a)
        size = distance(a, b)
        turn = cross(toward, side)
        if abs(turn) <= UNIT_VECTOR * size:
            continue
        t = cross(sub(a, start), side) / turn
        u = cross(sub(a, start), toward) / turn
        slack = SAME_POINT / size
        if t > SAME_POINT and -slack <= u <= 1 + slack:
            end = add(start, times(toward, t))
            meets.append((t, next((corner for corner in (a, b) if distance(corner, end) <= SAME_POINT), end)))
    if not meets or not is_on:
        return None
    end = min(meets)[1]
    return end if is_within(ring, along(start, end, 0.5)) else None


def is_within(ring: Sequence[Point], p: Point) -> bool:
    """Whether p lies inside a ring and off its edges."""
    return is_inside(p, ring) and all(distance_to_segment(p, a, b) > SAME_POINT for a, b in sides(ring))


def parted(ring: Sequence[Point], start: Point, end: Point) -> tuple[list[Point], list[Point]]:
    """The two rings into which a chord parts a ring."""
    whole = _with(_with(list(ring), start), end)
    i, j = (min(range(len(whole)), key=lambda k: distance(whole[k], p)) for p in (start, end))
    turned = whole[i:] + whole[:i]
    cut = (j - i) % len(whole)
    return turned[: cut + 1], [turned[0], *turned[cut:]]


def _with(ring: list[Point], p: Point) -> list[Point]:
    """The ring with p as one of its points."""
    if any(distance(p, q) <= SAME_POINT for q in ring):
        return ring
    for i, (a, b) in enumerate(sides(ring)):
        side = sub(b, a)
        t = dot(sub(p, a), side) / dot(side, side)
        if 0 < t < 1 and distance(along(a, b, t), p) <= 2 * SAME_POINT:
            return [*ring[: i + 1], p, *ring[i + 1 :]]
    return ring


def _thin(ring: list[Point]) -> bool:
    outline = Outline.of(ring)
    return outline.area <= area_slack(outline.perimeter)


def _names(block: Block, patch_id: str) -> tuple[str, str]:
    """Two ids for the pieces: the number of the patch with the first small letters that are free."""
    number = patch_id.rstrip(ascii_lowercase)
    taken = set(block.ids) - {patch_id}
    free = [f"{number}{letter}" for letter in ascii_lowercase if f"{number}{letter}" not in taken]
    if len(free) < 2:
        raise ValueError(f"patch {number} has been parted until no letter is left for another piece")
    return free[0], free[1]

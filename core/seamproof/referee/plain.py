"""What a plain piece must cover: its patch, and the allowance up to matched corners."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from seamproof.geometry.points import add, cross, distance, dot, left, sub, times, unit
from seamproof.referee.covering import kept, tip
from seamproof.referee.touching import NEAR
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.geometry import Outline, Point


def plain_need(outline: Outline, allowance: float, dots: Sequence[Point] = ()) -> list[list[Point]]:
    """Rings of points [in] which a plain piece must cover together.

    They are the patch; along every edge its allowance; and at every corner the allowance past the ends of both edges,
    all as far as the corner may be cut at either. A cut at the end of a seam stands square to it, no nearer than where
    the shorter of the two raw corners of that seam lies: at a corner of angle α this side's own lies s·cot(α/2) past
    the end, and that of a neighbour whose corner fills up the half turn s·tan(α/2); one with less has it farther out.
    Where a set-in seam stops at a dot, nothing past the ends is asked for.

    Args:
        outline: The finished patch.
        allowance: The seam allowance s [in].
        dots: Pivots of set-in seams [in].
    """
    ring = outline.polygon
    nexts = [*ring[1:], *ring[:1]]
    ways = [unit(sub(q, p)) for p, q in zip(ring, nexts, strict=True)]
    turns = [
        math.atan2(cross(into, out), dot(into, out)) for into, out in zip([*ways[-1:], *ways[:-1]], ways, strict=True)
    ]
    caps = [_cap(turn, allowance) for turn in turns]
    rings = [list(ring)]
    for k, (p, q) in enumerate(zip(ring, nexts, strict=True)):
        after = (k + 1) % len(ring)
        out = times(left(ways[k]), -allowance)
        strip = [p, add(p, out), add(q, out), q]
        if turns[k] > math.pi / 2:
            strip = _cut(strip, p, ways[k - 1], caps[k])
        if turns[after] > math.pi / 2:
            strip = _cut(strip, q, times(ways[after], -1.0), caps[after])
        rings.append(strip)
        if turns[k] > SAME_POINT and all(distance(p, dotted) > NEAR for dotted in dots):
            rings.append(_corner(p, (ways[k - 1], ways[k]), allowance, caps[k]))
    return rings


def _cap(turn: float, allowance: float) -> float:
    """How far past a corner its allowance is needed at least [in]: the lesser of s·cot(α/2) and s·tan(α/2)."""
    if turn <= SAME_POINT:
        return math.inf
    own = math.tan(min(turn, math.pi - SAME_POINT) / 2)
    return allowance * min(own, 1 / own)


def _cut(ring: Sequence[Point], corner: Point, out: Point, cap: float) -> list[Point]:
    """The part of a convex ring that lies no farther than the cap past a corner."""
    return kept(ring, times(out, -1.0), -dot(out, corner) - cap)


def _corner(corner: Point, ways: tuple[Point, Point], allowance: float, cap: float) -> list[Point]:
    """The allowance past the ends of both edges at a corner, cut square to both."""
    arriving, leaving = ways
    before, after = (add(corner, times(left(way), -allowance)) for way in ways)
    ring = [corner, before, *tip(corner, arriving, leaving, allowance, cap), after]
    return _cut(_cut(ring, corner, arriving, cap), corner, times(leaving, -1.0), cap)

"""What a plain piece must cover: its patch, and the allowance up to matched corners."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from seamproof.geometry.points import add, cross, distance, dot, left, sub, times, unit
from seamproof.referee.covering import kept, tip
from seamproof.referee.touching import NEAR
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.geometry import Outline, Point

_NEARBY: Final = 3.0
"""[allowances] So near a sharp corner its cut may take allowance of other edges too."""


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
    edges = [edge for edge in outline.edges if edge.chord > SAME_POINT]
    parts, cuts = [], []
    for before, edge in zip([*edges[-1:], *edges[:-1]], edges, strict=True):
        for p, q in pairwise(edge.flattened()):
            out = times(left(unit(sub(q, p))), -allowance)
            parts.append([p, add(p, out), add(q, out), q])
        corner, arriving, leaving = edge.start, before.direction(1.0), edge.direction(0.0)
        turn = math.atan2(cross(arriving, leaving), dot(arriving, leaving))
        cap = _cap(turn, allowance)
        if turn > SAME_POINT and all(distance(corner, dotted) > NEAR for dotted in dots):
            parts.append(_corner(corner, (arriving, leaving), allowance, cap))
        if turn > math.pi / 2:
            cuts += [(corner, arriving, cap), (corner, times(leaving, -1.0), cap)]
    return [list(outline.polygon), *(_cut_down(part, cuts, allowance) for part in parts)]


def _cut_down(part: list[Point], cuts: Sequence[tuple[Point, Point, float]], allowance: float) -> list[Point]:
    """A convex part as the cuts at sharp corners near it leave it; each is (corner, way out, how far past)."""
    for corner, out, cap in cuts:
        if part and min(distance(corner, p) for p in part) <= _NEARBY * allowance:
            part = _cut(part, corner, out, cap)
    return part


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

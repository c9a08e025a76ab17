"""Matched corners: where those of a plain piece are cut, worked out from the patches that meet at a seam's end."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from seamproof.geometry.points import add, cross, distance, dot, left, sub, times
from seamproof.referee.touching import NEAR, off
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.geometry import Outline, Point
    from seamproof.referee.table import Table
    from seamproof.sequence import Join

SHARP: Final = math.pi / 4
"""[rad] A tip sharper than this is cut."""

TIP: Final = 1 / math.sin(SHARP / 2)
"""[allowances] A tip of 45° stands 2.61 allowances out; a sharper one is cut square to its bisector as far out."""


@dataclass(frozen=True)
class Cut:
    """A straight cut across a corner.

    Attributes:
        corner: The finished corner [in].
        out: The unit direction square to the cut, away from the patch.
        reach: How far past the corner it lies [in].
        tip: A point where what is cut off begins [in].
    """

    corner: Point
    out: Point
    reach: float
    tip: Point


def past_the_end(angle: float, allowance: float) -> float:
    """How far [in] the raw edge of a seam runs on past its end, where the next edge meets it at `angle` [rad].

    It is s·cot(α/2). In a tip cut at TIP·s the raw edge stops where it meets that cut, at (TIP·s − s·sin α/2)/cos α/2.
    """
    half = angle / 2
    return min(allowance / math.tan(half), allowance * (TIP - math.sin(half)) / math.cos(half))


def seam_cuts(table: Table) -> dict[str, list[Cut]]:
    """For each loose patch the cuts at the ends of its seams, so that both sides of a seam end at one line.

    The rule. At a seam's end let α be the angle of the sharper side and β that of the other, whole units counted. Where
    α + β ≤ 180°, the sharper side is cut by one line square to the seam through the other's raw corner. Nothing is cut
    where the two fill more than a half turn, at a dot (a pivot of any seam), or where several patches of the sharper
    side meet. All else of the allowance stays: see `plain_need`.
    """
    loose = set(table.con.loose)
    dots = [pivot for join in table.con.joins for pivot in join.pivots]
    found: defaultdict[str, list[Cut]] = defaultdict(list)
    for join in table.con.joins:
        for place, out in _ends(join):
            if all(distance(place, dotted) > NEAR for dotted in dots):
                for patch, cut in _at_end(table, join, place, out):
                    if patch in loose:
                        found[patch].append(cut)
    return dict(found)


def _ends(join: Join) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """Where a seam ends, and the direction in which it runs out there."""
    first, last = join.seam[0], join.seam[-1]
    return (first.start, times(first.direction(0.0), -1.0)), (last.end, last.direction(1.0))


def _at_end(table: Table, join: Join, place: Point, out: Point) -> list[tuple[str, Cut]]:
    ids = [table.block.patches[index].id for index in table.at(place)]
    sides = [_corners(table.block, ids, table.con.patches_of(label), place) for label in (join.first, join.second)]
    angles = [sum(side.values()) for side in sides]
    sharp = 0 if angles[0] <= angles[1] else 1
    if len(sides[sharp]) != 1 or (sum(angles) - math.pi) * table.allowance > 4 * SAME_POINT:
        return []
    (patch,) = sides[sharp]
    reach = past_the_end(angles[1 - sharp], table.allowance)
    if past_the_end(angles[sharp], table.allowance) - reach <= SAME_POINT:
        return []
    is_on_left = (sharp == 0) == (distance(place, join.seam[-1].end) <= NEAR)
    aside = times(left(out), -table.allowance if is_on_left else table.allowance)
    return [(patch, Cut(place, out, reach, add(place, add(times(out, reach), aside))))]


def _corners(block: Block, ids: list[str], unit_ids: tuple[str, ...], place: Point) -> dict[str, float]:
    """The angle [rad] of each of a unit's patches that meets a place."""
    members = set(unit_ids)
    angles = {patch: _angle(block.patch(patch).outline, place) for patch in ids if patch in members}
    return {patch: angle for patch, angle in angles.items() if angle > 0}


def _angle(outline: Outline, place: Point) -> float:
    """The angle [rad] that an outline has at a place: at corners theirs, on an edge a half turn, elsewhere 0."""
    edges = [edge for edge in outline.edges if edge.chord > SAME_POINT]
    total = 0.0
    for before, edge in zip([*edges[-1:], *edges[:-1]], edges, strict=True):
        if distance(edge.start, place) <= NEAR:
            arriving, leaving = before.direction(1.0), edge.direction(0.0)
            total += math.pi - math.atan2(cross(arriving, leaving), dot(arriving, leaving))
    if total == 0.0 and any(off(edge, place) <= NEAR for edge in edges):
        return math.pi
    return total


def tip_cuts(outline: Outline, allowance: float, *, but: tuple[Point, ...] = ()) -> list[Cut]:
    """The cuts of tips sharper than 45°, but not of those at the places named."""
    edges = [edge for edge in outline.edges if edge.chord > SAME_POINT]
    cuts = []
    for before, edge in zip([*edges[-1:], *edges[:-1]], edges, strict=True):
        arriving, leaving = before.direction(1.0), edge.direction(0.0)
        turn = math.atan2(cross(arriving, leaving), dot(arriving, leaving))
        if turn > math.pi - SHARP and all(distance(edge.start, place) > NEAR for place in but):
            ahead = sub(arriving, leaving)
            out = times(ahead, 1 / math.hypot(*ahead))
            reach = TIP * allowance
            cuts.append(Cut(edge.start, out, reach, add(edge.start, times(out, reach))))
    return cuts


def without(shape: Any, cut: Cut) -> Any:
    """A shape less the part beyond a cut that begins at its tip; other parts beyond the line are not touched."""
    x0, y0, x1, y1 = shape.bounds
    box = beyond(cut, 2 * math.hypot(x1 - x0, y1 - y0))
    off_cut = shape & box
    if off_cut.is_empty:
        return shape
    parts = sorted(getattr(off_cut, "geoms", [off_cut]), key=lambda part: away_from(part, cut.tip))
    kept = shape - box
    for part in parts[1:]:
        kept = kept | part
    return kept


def away_from(shape: Any, place: Point) -> float:
    """How far [in] a place is from a shape."""
    import shapely

    return float(shape.distance(shapely.Point(place)))


def beyond(cut: Cut, far: float) -> Any:
    """A box that stands beyond a cut line, `far` [in] deep and as far to either side."""
    import shapely

    start = add(cut.corner, times(cut.out, cut.reach))
    aside, ahead = times(left(cut.out), far), times(cut.out, far)
    a, b = sub(start, aside), add(start, aside)
    return shapely.Polygon([a, b, add(b, ahead), add(a, ahead)])

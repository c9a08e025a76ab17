"""The cut line of a unit: its outline with allowance, sharp tips cut square, corners matched at joins."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from seamproof.geometry import Edge, Outline
from seamproof.geometry.offsets import offset
from seamproof.geometry.points import add, cross, distance, dot, sub, times, unit
from seamproof.tolerance import LAID_ON, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from seamproof.cutting.units import Units
    from seamproof.geometry import Point
    from seamproof.geometry.transforms import Transform
    from seamproof.sequence import Join

SHARP: Final = math.radians(45)
"""[rad] Tips sharper than this, the sharpest that are common in rotary cutting, are cut square to their bisector where
the mitre of such a tip would stand, 2.61 allowances out."""

_FAR: Final = 1 / math.sin(SHARP / 2)
_HALVINGS: Final = 60


@dataclass(frozen=True)
class CornerCut:
    """A cut square to a seam at its end, so that both sides end at the same place.

    Attributes:
        corner: The finished corner: the end of the seam [in].
        along: The unit direction in which the seam runs out there.
        reach: How far past the corner the cut lies [in].
    """

    corner: Point
    along: Point
    reach: float

    def moved(self, transform: Transform) -> CornerCut:
        """The same cut after a turn and a shift."""
        return CornerCut(transform.point(self.corner), transform.vector(self.along), self.reach)

    def is_at(self, other: CornerCut) -> bool:
        """Whether both lie at one corner, along the same seam."""
        return distance(self.corner, other.corner) <= LAID_ON and dot(self.along, other.along) > math.cos(SHARP / 8)


def reach_past(angle: float, allowance: float) -> float:
    """How far [in] the raw edge runs on past the end of a seam that meets the next edge at `angle` [rad].

    To the mitre it is s·cot(angle/2); a tip sharper than SHARP is cut before.
    """
    if angle >= SHARP:
        return allowance / math.tan(angle / 2)
    return allowance * (_FAR - math.sin(angle / 2)) / math.cos(angle / 2)


def matched_corners(units: Units, allowance: float) -> dict[str, tuple[CornerCut, ...]]:
    """For each leaf the cuts that match its corners to what it is joined to.

    At an end of a join the raw corners of its two sides lie s·cot(α/2) and s·cot(β/2) past the end, whole units
    counted. Where α + β ≤ 180° the longer, the sharper one, is cut by a line square to the seam through the shorter.
    Where the sides together fill more than a half turn, where several leaves of the sharper side share the corner, and
    at a pivot of any join, where a dot is what is matched, nothing is cut.

    What stays: the patch, and all of its allowance but this corner. Since β ≤ 180° − α the cut lies s·tan(α/2) or more
    past the end. It takes nothing farther than s from the seam; of the next edge it leaves s/(1 + cos α) or more of the
    allowance at the very end, more than half of it, and all of it from s·tan(α/2) on.
    """
    found: defaultdict[str, list[CornerCut]] = defaultdict(list)
    pivots = [pivot for join in units.construction.joins for pivot in join.pivots]
    for join in units.construction.joins:
        for place, inward in _ends(join):
            if all(distance(place, pivot) > 2 * SAME_POINT for pivot in pivots):
                cut = _cut(units, join, place, times(inward, -1.0), allowance)
                if cut:
                    found[cut[0]].append(cut[1])
    return {leaf: tuple(cuts) for leaf, cuts in found.items()}


def _ends(join: Join) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    first, last = join.seam[0], join.seam[-1].reversed()
    return (first.start, first.direction(0)), (last.start, last.direction(0))


def _cut(units: Units, join: Join, place: Point, along: Point, allowance: float) -> tuple[str, CornerCut] | None:
    edges = units.join_edges[join.label]
    if not edges:
        return None
    pm = units.map
    node = units.nearest((n for index in edges for n in (pm.edges[index].start, pm.edges[index].end)), place)
    last = next(pm.edges[index] for index in edges if node in {pm.edges[index].start, pm.edges[index].end})
    sides: list[tuple[float, str | None]] = []
    for label in (join.first, join.second):
        patches = units.patches(label)
        here = [(patch, angle) for patch, angle in units.sectors(node) if patch in patches]
        leaf = units.leaf(last.left if last.left in patches else last.right, label)
        is_alone = all(units.leaf(patch, label) == leaf for patch, _ in here)
        sides.append((sum(angle for _, angle in here), leaf if is_alone else None))
    (sharp, alone), (wide, _) = sorted(sides, key=lambda side: side[0])
    if alone is None or (sharp + wide - math.pi) * allowance > 4 * SAME_POINT:
        return None
    shorter, longer = reach_past(wide, allowance), reach_past(sharp, allowance)
    return (alone, CornerCut(place, along, shorter)) if longer - shorter > SAME_POINT else None


def cut_line(
    finished: Outline, cuts: Iterable[CornerCut], allowance: float, *, mitred: Sequence[Point] = ()
) -> Outline:
    """The outline with allowance, tips sharper than SHARP cut square to their bisector, then the corner cuts made.

    Where a notch is too narrow for the allowance its corners are left as they are.

    Args:
        finished: The finished outline.
        cuts: The cuts at the ends of its seams.
        allowance: The seam allowance [in].
        mitred: Corners whose tips are left, however sharp.

    Raises:
        GeometryError: an inward arc that cannot take the allowance.
    """
    moved = offset(finished, allowance)
    if len(moved.edges) != len(finished.edges):
        return moved
    sides = list(enumerate(moved.edges))
    before = finished.edges[-1:] + finished.edges[:-1]
    for number, (into, onward) in enumerate(zip(before, finished.edges, strict=True)):
        corner = onward.start
        u, v = into.direction(1), onward.direction(0)
        if dot(u, v) > -math.cos(SHARP) or cross(u, v) <= 0:
            continue
        out = unit(sub(u, v))
        far = dot(sub(moved.edges[number].start, corner), out)
        is_free = all(distance(corner, place) > 2 * SAME_POINT for place in mitred)
        if is_free and far > _FAR * allowance + SAME_POINT:
            sides = _clipped(sides, number, add(corner, times(out, _FAR * allowance)), out)
    for cut in cuts:
        number = min(range(len(finished.edges)), key=lambda i: distance(finished.points[i], cut.corner))
        if distance(finished.points[number], cut.corner) <= LAID_ON:
            sides = _clipped(sides, number, add(cut.corner, times(cut.along, cut.reach)), cut.along)
    return Outline(tuple(edge for _, edge in sides))


def _clipped(sides: list[tuple[int, Edge]], corner: int, place: Point, out: Point) -> list[tuple[int, Edge]]:
    """The sides with one corner cut off beyond the line through a place, square to `out`.

    A side is (the number of its finished edge, its edge); cuts stand under −1. The corner lies between the edges before
    and of its number, and between these alone is anything cut.
    """
    count = 1 + max(number for number, _ in sides)
    at = next(i for i, (number, _) in enumerate(sides) if number == (corner - 1) % count)
    sides = sides[at:] + sides[:at]
    end = next(i for i, (number, _) in enumerate(sides) if number == corner % count)

    def beyond(p: Point) -> float:
        return dot(sub(p, place), out)

    chain = sides[: end + 1]
    enter = next((i for i, (_, edge) in enumerate(chain) if beyond(edge.end) > 0), end)
    leave = next((i for i in range(end, -1, -1) if beyond(chain[i][1].start) > 0), 0)
    if enter >= leave or beyond(chain[enter][1].start) > 0 or beyond(chain[leave][1].end) > 0:
        return sides
    (a, into), (b, back) = chain[enter], chain[leave]
    into = into.part(0, _crossing([beyond(into.at(t)) for t in (0, 1)], into, place, out))
    back = back.part(_crossing([beyond(back.at(t)) for t in (0, 1)], back, place, out), 1)
    return [
        *chain[:enter],
        (a, into),
        (-1, Edge(into.end, back.start)),
        (b, back),
        *chain[leave + 1 :],
        *sides[end + 1 :],
    ]


def _crossing(heights: Sequence[float], edge: Edge, place: Point, out: Point) -> float:
    """The fraction of an edge at which it crosses a line that its ends lie on either side of."""
    low, high = heights
    if not edge.is_arc:
        return low / (low - high)
    a, b = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = (a + b) / 2
        is_low = (dot(sub(edge.at(middle), place), out) > 0) == (low > 0)
        a, b = (middle, b) if is_low else (a, middle)
    return a


def common_cuts(cuts: Sequence[Sequence[CornerCut]]) -> tuple[CornerCut, ...]:
    """The cuts that all of several alike units have, each the least of them."""
    kept = []
    for cut in cuts[0]:
        same = [next((other for other in row if other.is_at(cut)), None) for row in cuts]
        found = [other for other in same if other]
        if len(found) == len(cuts):
            kept.append(max(found, key=lambda other: other.reach))
    return tuple(kept)

"""Templates at true size: cut line, sewing lines, numbers with their places, match ticks."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.cutting.adding import added_seams
from seamproof.cutting.corners import common_cuts, cut_line, matched_corners
from seamproof.cutting.pieces import LaidUnit, SewingLine, Template
from seamproof.cutting.ticks import printed, template_ticks
from seamproof.cutting.units import Units
from seamproof.errors import GeometryError
from seamproof.geometry.points import add, cross, distance, distance_to_segment, sides, sub, times, unit
from seamproof.sequence.kinds import check_sewn
from seamproof.tolerance import CHORD, SAME_POINT
from seamproof.units import ALLOWANCE

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from seamproof.block import Block
    from seamproof.geometry import Outline, Point
    from seamproof.sequence import Construction

RUN_ON: Final = 1 / 4
"""[in] How far a seam is sewn past its end where a later seam will pass. Common practice."""

_GOOD_ROOM: Final = 0.8
"""[1] A number stands in the middle of its patch where that has this share of the widest room, else in the widest."""

_FINE: Final = 1 / 64
"""[in] How nearly the widest place is found."""


def templates(block: Block, construction: Construction, allowance: float = ALLOWANCE) -> tuple[Template, ...]:
    """One template for each foundation that is printed, twins once, then one for each loose patch.

    Sewing lines run on to the cut line where they end on the foundation's outline, RUN_ON past their end where a later
    seam passes, and no farther than their end where a set-in seam stops.

    Raises:
        BlockError: a foundation patch is added without a seam.
        GeometryError: an inward curve that cannot take the allowance.
    """
    allowance = check_sewn(block, construction, allowance)
    units = Units(block, construction)
    copies = printed(units)
    corners = matched_corners(units, allowance)
    ticks = template_ticks(units, copies)
    seams = added_seams(block, construction)
    stops = [pivot for join in construction.joins for pivot in join.pivots]
    made = []
    for leaf, rows in copies.items():
        finished = units.outline(leaf)
        cuts = common_cuts([[cut.moved(move) for cut in corners.get(label, ())] for label, move in rows])
        try:
            cut = cut_line(finished, cuts, allowance)
        except GeometryError as error:
            raise GeometryError(f"template {leaf}: {error}") from None
        order = construction.foundation(leaf).order if leaf[0].isupper() else (leaf,)
        places = tuple(
            (part, number, *number_place(block.patch(part).outline))
            for number, part in enumerate(order, 1)
            if part not in construction.laid
        )
        laid = tuple(_laid(units, part, number) for number, part in enumerate(order, 1) if part in construction.laid)
        lines = _lines(order, seams, (finished, cut), stops)
        labels = tuple(label for label, _ in rows)
        made.append(Template(leaf, finished, cut, places, lines, ticks[leaf], labels, laid))
    return tuple(made)


def _laid(units: Units, label: str, number: int) -> LaidUnit:
    outline, patches = units.outline(label), units.patches(label)
    inside = (edge.edge for edge in units.map.edges if edge.left in patches and edge.right in patches)
    return LaidUnit(label, number, *number_place(outline), outline, tuple(inside))


def number_place(outline: Outline) -> tuple[Point, float]:
    """Where a patch's number stands, and the radius [in] of the room round it.

    It is the patch's middle, or where that is cramped the point farthest from its outline, the pole of inaccessibility.
    """
    import shapely

    shape = shapely.Polygon(outline.polygon)
    radius = shapely.maximum_inscribed_circle(shape, tolerance=_FINE)
    widest: Point = (float(radius.coords[0][0]), float(radius.coords[0][1]))
    middle = outline.centroid
    is_roomy = shape.contains(shapely.Point(middle)) and _room(outline, middle) >= _GOOD_ROOM * _room(outline, widest)
    place = middle if is_roomy else widest
    return place, _room(outline, place)


def _room(outline: Outline, place: Point) -> float:
    return min(distance_to_segment(place, p, q) for p, q in sides(outline.polygon))


def _lines(
    order: Sequence[str],
    seams: Mapping[str, tuple[Point, Point]],
    outlines: tuple[Outline, Outline],
    stops: list[Point],
) -> tuple[SewingLine, ...]:
    lines = []
    for number, part in enumerate(order[1:], 2):
        start, end = seams[part]
        ends = (_run_on(end, start, outlines, stops), _run_on(start, end, outlines, stops))
        lines.append(SewingLine(part, number, (start, end), ends))
    return tuple(lines)


def _run_on(start: Point, end: Point, outlines: tuple[Outline, Outline], stops: Sequence[Point]) -> Point:
    """Where a sewing line from start to end is printed to, past its end."""
    finished, cut = outlines
    along = unit(sub(end, start))
    if any(distance(end, stop) <= 2 * SAME_POINT for stop in stops):
        return end
    to_cut = _ahead(end, along, cut)
    is_outside = any(_touches(end, p, q) for p, q in sides(finished.polygon))
    return add(end, times(along, to_cut if is_outside else min(RUN_ON, to_cut)))


def _touches(place: Point, p: Point, q: Point) -> bool:
    return distance_to_segment(place, p, q) <= 2 * SAME_POINT + CHORD


def _ahead(place: Point, along: Point, outline: Outline) -> float:
    """How far [in] ahead of a place inside it an outline lies; 0 where it does not."""
    found = []
    for p, q in sides(outline.polygon):
        side, off = sub(q, p), sub(p, place)
        turn = cross(along, side)
        if turn == 0:
            continue
        t, share = cross(off, side) / turn, cross(off, along) / turn
        if t > 0 and 0 <= share <= 1:
            found.append(t)
    return min(found, default=0.0)

"""The shape of a unit already sewn together, with the allowance that still stands out round it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from seamproof.cutting.corners import cut_line
from seamproof.geometry import Outline
from seamproof.geometry.points import add, distance_to_segment, left, times
from seamproof.sheets.clip import left_of
from seamproof.sheets.leaves import raw_edge
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.geometry import Point
    from seamproof.pattern import Pattern
    from seamproof.sequence import Join


@dataclass(frozen=True)
class UnitShape:
    """A unit as it lies on the table, seen from the face.

    Attributes:
        label: What it is called.
        cut: Its raw edge, allowance included [in].
        cloth: (colour, ring) of what shows in the allowance, to be filled in this order.
        patches: (colour, ring) of its finished patches.
        seams: The seams sewn so far, as runs of points.
        papers: Rings of its parts that still have paper behind them.
        area: Its finished area [in²].
    """

    label: str
    cut: tuple[Point, ...]
    cloth: tuple[tuple[str, tuple[Point, ...]], ...]
    patches: tuple[tuple[str, tuple[Point, ...]], ...]
    seams: tuple[tuple[Point, ...], ...]
    papers: tuple[tuple[Point, ...], ...]
    area: float


@lru_cache(maxsize=256)
def unit_shape(pattern: Pattern, label: str) -> UnitShape:
    """The shape of a unit by its label: a patch id, a foundation's letter or a join's. Raises KeyError for another."""
    name = pattern.piecing.names.get(label, label) if pattern.piecing else label
    ids = pattern.construction.patches_of(label)
    rim = rings_round([pattern.block.patch(patch).outline for patch in ids])[0]
    return _shape(pattern, name, ids, rim, raw_edge(pattern, label, Outline.of(rim)))


def shape_round(pattern: Pattern, name: str, ids: Sequence[str]) -> UnitShape:
    """The shape of some patches sewn together that are no unit of their own, cut as templates are.

    Args:
        pattern: The pattern.
        name: What it is called.
        ids: The patches; of parts that lie apart the largest counts.
    """
    rim = rings_round([pattern.block.patch(patch).outline for patch in ids])[0]
    return _shape(pattern, name, ids, rim, cut_line(Outline.of(rim), (), pattern.recipe.make.allowance))


def _shape(pattern: Pattern, name: str, ids: Sequence[str], rim: Sequence[Point], cut: Outline) -> UnitShape:
    construction, allowance = pattern.construction, pattern.recipe.make.allowance
    patches = [pattern.block.patch(patch) for patch in ids]
    colours = {patch.id: pattern.fabric(patch.id).colour for patch in patches}
    whole = [(patch.id, _up_to_seams(patch.outline, allowance, rim)) for patch in patches]
    strips = [(patch.id, strip) for patch in patches for strip in _straight_out(patch.outline, allowance, rim)]
    cloth = tuple((colours[patch], ring) for patch, outline in (*whole, *strips) for ring in _within(outline, cut))
    papers = tuple(
        ring
        for foundation in construction.foundations
        if foundation.order[0] in colours and foundation.label not in construction.laid
        for ring in _within(
            _grown([pattern.block.patch(p).outline for p in construction.patches_of(foundation.label)], allowance), cut
        )
    )
    return UnitShape(
        name,
        cut.polygon,
        cloth,
        tuple((colours[patch.id], patch.outline.polygon) for patch in patches),
        _inner_seams([patch.outline for patch in patches]),
        papers,
        sum(patch.outline.area for patch in patches),
    )


def under_and_over(pattern: Pattern, join: Join) -> tuple[str, str]:
    """The unit of a join that stays face up, and the one that is flipped onto it.

    Flipped is the smaller, so that both are seen; along a curve the hollow one, which is eased in from above.
    """
    first, second = (
        sum(pattern.block.patch(patch).outline.area for patch in pattern.construction.patches_of(label))
        for label in (join.first, join.second)
    )
    turn = sum(edge.sweep for edge in join.seam) if join.kind == "curved" else 0.0
    is_first_over = turn < 0 if turn else first < second * (1 - SAME_POINT)
    return (join.second, join.first) if is_first_over else (join.first, join.second)


def _up_to_seams(outline: Outline, allowance: float, rim: Sequence[Point]) -> Outline:
    """A patch's cloth; with straight edges and in a convex unit it ends at its seams, prolonged."""
    whole = cut_line(outline, (), allowance)
    if not _ends_at_seams(outline, rim):
        return whole
    ring: Sequence[Point] = whole.polygon
    for edge in outline.edges:
        if not is_on(edge.middle, rim):
            ring = left_of(ring, edge.start, edge.end)
    return Outline.of(ring)


def _ends_at_seams(outline: Outline, rim: Sequence[Point]) -> bool:
    return outline.is_straight and outline.is_convex and Outline.of(rim).is_convex


def _straight_out(outline: Outline, allowance: float, rim: Sequence[Point]) -> list[Outline]:
    """A strip as wide as the allowance outside of each straight edge on the unit's rim: whose cloth it is for sure.

    None for a patch whose cloth is known to its corners.
    """
    if _ends_at_seams(outline, rim):
        return []
    strips = []
    for edge in outline.edges:
        if not edge.is_arc and edge.chord > SAME_POINT and is_on(edge.middle, rim):
            out = times(left(edge.direction(0)), -allowance)
            strips.append(Outline.of((edge.start, add(edge.start, out), add(edge.end, out), edge.end)))
    return strips


def is_on(place: Point, rim: Sequence[Point]) -> bool:
    """Whether a place lies on a ring of points."""
    sides = zip(rim, (*rim[1:], rim[0]), strict=True)
    return any(distance_to_segment(place, a, b) <= 3 * SAME_POINT for a, b in sides)


def rings_round(outlines: Sequence[Outline]) -> tuple[tuple[Point, ...], ...]:
    """The outer rings of what some outlines cover together [in], anticlockwise, the largest first."""
    import shapely

    joined = shapely.union_all(
        [shapely.Polygon(outline.polygon).buffer(SAME_POINT, join_style="mitre") for outline in outlines]
    ).buffer(-SAME_POINT, join_style="mitre")
    parts = sorted(getattr(joined, "geoms", [joined]), key=lambda part: -round(float(part.area), 6))
    plain = (shapely.Polygon(part.exterior).simplify(SAME_POINT) for part in parts)
    return tuple(Outline.of((float(x), float(y)) for x, y in ring.exterior.coords).points for ring in plain)


def _inner_seams(outlines: Sequence[Outline]) -> tuple[tuple[Point, ...], ...]:
    """Where the outlines meet one another, not where they lie on the outside."""
    import shapely

    rims = shapely.MultiLineString([(*ring, ring[0]) for ring in rings_round(outlines)])
    edges = shapely.MultiLineString([(*outline.polygon, outline.polygon[0]) for outline in outlines])
    inner = edges.difference(rims.buffer(2 * SAME_POINT))
    parts = [part for part in getattr(inner, "geoms", [inner]) if part.length > 4 * SAME_POINT]
    return tuple(sorted(tuple((float(x), float(y)) for x, y in part.coords) for part in parts))


def _grown(outlines: Sequence[Outline], allowance: float) -> Outline:
    """The outline round all of them with the allowance, tips cut as those of templates."""
    return cut_line(Outline.of(rings_round(outlines)[0]), (), allowance)


def _within(outline: Outline, cut: Outline) -> list[tuple[Point, ...]]:
    import shapely

    seen = shapely.Polygon(outline.polygon).intersection(shapely.Polygon(cut.polygon))
    parts = getattr(seen, "geoms", [seen])
    return [tuple((float(x), float(y)) for x, y in part.exterior.coords[:-1]) for part in parts if part.area > 0]

"""Laying a unit on one that is congruent to it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from seamproof.geometry import Transform
from seamproof.geometry.points import cross, distance, dot, sub
from seamproof.tolerance import LAID_ON, SAME_POINT, area_slack

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.cutting.units import Units
    from seamproof.geometry import Edge, Point


def laid_on(units: Units, label: str, model: str) -> Transform | None:
    """The turn and shift that lay a unit on a model, each patch on one of the same role; None where none does."""
    return next(moves_onto(units, label, model), None)


def moves_onto(units: Units, label: str, model: str) -> Iterator[Transform]:
    """Every turn and shift that lays a unit on a model, each patch on one of the same role.

    Mirror images are told apart. The model's longest edge is tried on each edge of the unit that is as long, so O(n²)
    for outlines of n edges.
    """
    ours, theirs = units.outline(label).edges, units.outline(model).edges
    if len(ours) != len(theirs):
        return
    at = max(range(len(theirs)), key=lambda i: (theirs[i].chord, -i))
    for shift in range(len(ours)):
        move = _onto(ours[(at + shift) % len(ours)], theirs[at])
        if move is None or not all(_fits(move, ours[(i + shift) % len(ours)], edge) for i, edge in enumerate(theirs)):
            continue
        if _is_same_inside(units, label, model, move):
            yield move


def _onto(edge: Edge, goal: Edge) -> Transform | None:
    if abs(edge.chord - goal.chord) > LAID_ON:
        return None
    d, e = sub(edge.end, edge.start), sub(goal.end, goal.start)
    turn = Transform.turn(_degrees(math.atan2(cross(d, e), dot(d, e))))
    shift = sub(goal.start, turn.point(edge.start))
    return turn.then(Transform.shift(*shift))


def _degrees(angle: float) -> float:
    """Degrees, quarter turns exact."""
    degrees = math.degrees(angle)
    nearest = round(degrees / 90) * 90
    return float(nearest) if abs(degrees - nearest) <= SAME_POINT else degrees


def _fits(move: Transform, edge: Edge, goal: Edge) -> bool:
    moved = move.edge(edge)
    pairs: list[tuple[Point, Point]] = [(moved.start, goal.start), (moved.middle, goal.middle)]
    return all(distance(p, q) <= LAID_ON for p, q in pairs)


def _is_same_inside(units: Units, label: str, model: str, move: Transform) -> bool:
    """Whether each patch, moved, has its middle on that of a patch of the model of the same role and area."""
    rest = [units.block.patches[index] for index in sorted(units.patches(model))]
    for index in sorted(units.patches(label)):
        patch = units.block.patches[index]
        place = move.point(patch.outline.centroid)
        alike = [other for other in rest if other.role == patch.role]
        found = min(alike, key=lambda other: distance(other.outline.centroid, place), default=None)
        slack = area_slack(patch.outline.perimeter)
        if found is None or distance(found.outline.centroid, place) > LAID_ON:
            return False
        if abs(found.outline.area - patch.outline.area) > slack:
            return False
        rest.remove(found)
    return not rest

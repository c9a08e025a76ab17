"""Match ticks: lettered marks on the sewing line of a join, the same letter on both sides."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import count, product
from typing import TYPE_CHECKING, Final

from seamproof.cutting.pieces import MatchTick
from seamproof.geometry import Transform
from seamproof.geometry.nodes import arc_fraction
from seamproof.geometry.points import distance
from seamproof.tolerance import LAID_ON, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from seamproof.cutting.units import Units
    from seamproof.geometry import Edge, Point

LETTERS: Final = "mnpqrstuvwxyz"
"""Fabrics take the letters from a on and foundations the capitals, so ticks take these; o reads as nought."""


@dataclass(frozen=True)
class Mark:
    """A place on a join where both sides must meet, and one leaf that has it on its sewing line."""

    number: int
    leaf: str
    join: str
    place: Point


def match_ticks(units: Units) -> tuple[MatchTick, ...]:
    """Every match tick of a block once, where it lies in the block, in the order of the joins.

    A tick stands at both ends of each join, wherever a seam of either side meets it or it turns, and at the quarter
    points of a curve; so it does on the line by which a finished unit is laid on a foundation. A place has one letter,
    whichever joins meet there. Units printed once for several share their letters, so that every copy fits whatever it
    is joined to: a letter may then stand at several places.
    """
    marks = _marks(units)
    letters = _lettered(units, marks)
    return tuple(dict.fromkeys(MatchTick(letters[mark.number], mark.place, mark.join) for mark in marks))


def template_ticks(
    units: Units, copies: Mapping[str, Sequence[tuple[str, Transform]]]
) -> dict[str, tuple[MatchTick, ...]]:
    """The ticks of each template, those of its copies laid on it; each with the join of the first copy that has it.

    Args:
        units: The construction.
        copies: For each printed leaf itself and its twins, each with the move that lays it on the leaf.
    """
    marks = _marks(units)
    letters = _lettered(units, marks)
    by_leaf: dict[str, list[Mark]] = {}
    for mark in marks:
        by_leaf.setdefault(mark.leaf, []).append(mark)
    found = {}
    for leaf, rows in copies.items():
        ticks: list[MatchTick] = []
        for label, move in rows:
            laid = [
                MatchTick(letters[mark.number], move.point(mark.place), mark.join) for mark in by_leaf.get(label, ())
            ]
            ticks += [tick for tick in laid if label == leaf or not _is_there(ticks, tick)]
        found[leaf] = tuple(dict.fromkeys(ticks))
    return found


def _is_there(ticks: Sequence[MatchTick], tick: MatchTick) -> bool:
    return any(distance(other.place, tick.place) <= LAID_ON for other in ticks)


def _marks(units: Units) -> list[Mark]:
    """Every mark on every leaf, in the order of the joins and along each; a place has one number."""
    pm = units.map
    places: dict[int, int] = {}
    numbers = count()
    marks: list[Mark] = []
    for name, seam, sides in units.matched:
        edges = units.join_edges[name]
        found = [(_along(seam, pm.nodes[node]), node, edge) for node, edge in _stops(units, edges)]
        for _, node, index in sorted(found):
            number = places[node] if node in places else places.setdefault(node, next(numbers))
            marks += _both_sides(units, Mark(number, "", name, pm.nodes[node]), index, sides)
        for place in (edge.at(t / 4) for edge in seam if edge.is_arc for t in (1, 2, 3)):
            here = [index for index in edges if _holds(pm.edges[index].edge, place)]
            if here:
                marks += _both_sides(units, Mark(next(numbers), "", name, place), here[0], sides)
    return marks


def _stops(units: Units, edges: Sequence[int]) -> Iterator[tuple[int, int]]:
    """(node, edge) for each edge of a join at each of its nodes where the join ends, turns, or is met."""
    pm = units.map
    for index in edges:
        for node in (pm.edges[index].start, pm.edges[index].end):
            onward = pm.onward(index, node)
            if len(pm.star(node)) > 2 or onward not in edges:
                yield node, index


def _both_sides(units: Units, mark: Mark, index: int, sides: tuple[str, str]) -> list[Mark]:
    """The mark on both of its leaves: those beside an edge, in the units on either side of the seam."""
    edge = units.map.edges[index]
    first = units.patches(sides[0])
    labels = [sides[0] if patch in first else sides[1] for patch in (edge.left, edge.right)]
    leaves = [units.leaf(patch, label) for patch, label in zip((edge.left, edge.right), labels, strict=True)]
    return [replace(mark, leaf=leaf) for leaf in leaves]


def _along(seam: Sequence[Edge], place: Point) -> tuple[int, float]:
    """Where on a seam a place lies: the edge nearest to it, and how far on along that."""
    number = min(range(len(seam)), key=lambda i: min(distance(place, p) for p in seam[i].flattened()))
    return number, distance(seam[number].start, place)


def _holds(edge: Edge, place: Point) -> bool:
    if not edge.is_arc:
        return False
    t = arc_fraction(edge, place)
    return 0 <= t <= 1 and distance(edge.at(t), place) <= SAME_POINT


def _lettered(units: Units, marks: Sequence[Mark]) -> dict[int, str]:
    """A letter for each number; numbers that fall on one place of a template printed for several share theirs."""
    parent = {mark.number: mark.number for mark in marks}

    def root(number: int) -> int:
        while parent[number] != number:
            number = parent[number]
        return number

    moves = {label: (model, move) for model, rows in printed(units).items() for label, move in rows}
    on_model: dict[str, list[tuple[Point, int]]] = {}
    for mark in marks:
        model, move = moves[mark.leaf]
        place = move.point(mark.place)
        for other, number in on_model.setdefault(model, []):
            if distance(other, place) <= LAID_ON:
                a, b = sorted((root(number), root(mark.number)))
                parent[b] = a
        on_model[model].append((place, mark.number))
    names = _names()
    letters: dict[int, str] = {}
    for number in sorted(parent):
        if root(number) not in letters:
            letters[root(number)] = next(names)
        letters[number] = letters[root(number)]
    return letters


def _names() -> Iterator[str]:
    for size in count(1):
        yield from map("".join, product(LETTERS, repeat=size))


def printed(units: Units) -> dict[str, tuple[tuple[str, Transform], ...]]:
    """For each leaf that is printed: itself, then each twin, with the move that lays it on the leaf.

    A twin that no turn lays on its model is printed by itself.
    """
    from seamproof.cutting.twins import laid_on

    found: dict[str, list[tuple[str, Transform]]] = {}
    for foundation in units.construction.foundations:
        model = foundation.twin_of
        move = laid_on(units, foundation.label, model) if model in found else None
        if model is None or move is None:
            found[foundation.label] = [(foundation.label, Transform())]
        else:
            found[model].append((foundation.label, move))
    found |= {patch: [(patch, Transform())] for patch in units.construction.loose}
    return {leaf: tuple(rows) for leaf, rows in found.items()}

"""The fewest foundations on outlines that are not convex, against an exhaustive search written apart."""

from __future__ import annotations

import math
from itertools import combinations, product
from typing import TYPE_CHECKING, TypeAlias

import shapely
from hypothesis import example, given
from hypothesis import strategies as st

import seamproof as sp

if TYPE_CHECKING:
    from collections.abc import Iterator

Cell: TypeAlias = tuple[int, int]
Box: TypeAlias = tuple[int, int, int, int]
Unit: TypeAlias = frozenset[int]
ALLOWANCE = 0.25
SLIGHT = 1e-6


class Exhaustive:
    """The least (foundations, lone patches) of rectangles with whole corners; None where straight seams do not serve.

    A seam is one straight stretch whose prolongation by an allowance runs nowhere inside the unit. On a foundation, all
    that is sewn lies on one side of the whole line of the new seam, and the new patch on the other.
    """

    def __init__(self, boxes: list[Box]) -> None:
        self.shapes = [shapely.box(*box) for box in boxes]
        self.known: dict[Unit, tuple[int, int] | None] = {}

    def whole(self, unit: Unit) -> shapely.Geometry:
        return shapely.union_all([self.shapes[patch] for patch in unit])

    def seam(self, part: Unit, rest: Unit) -> shapely.LineString | None:
        one, other = self.whole(part), self.whole(rest)
        if {one.geom_type, other.geom_type} != {"Polygon"}:
            return None
        line = shapely.line_merge(one.intersection(other))
        if line.geom_type != "LineString" or line.length < SLIGHT:
            return None
        (ax, ay), (bx, by) = line.coords[0], line.coords[-1]
        if math.dist((ax, ay), (bx, by)) < line.length - SLIGHT:
            return None
        ux, uy = (bx - ax) / line.length, (by - ay) / line.length
        inside = self.whole(part | rest).buffer(-SLIGHT)
        past = [
            shapely.LineString([(x, y), (x + ALLOWANCE * t * ux, y + ALLOWANCE * t * uy)])
            for x, y, t in ((ax, ay, -1), (bx, by, 1))
        ]
        return None if any(ray.intersects(inside) for ray in past) else line

    def folds(self, patch: int, rest: Unit) -> bool:
        line = self.seam(frozenset((patch,)), rest)
        if line is None:
            return False
        (ax, ay), (bx, by) = line.coords[0], line.coords[-1]

        def heights(unit: Unit) -> list[float]:
            corners = [corner for other in unit for corner in self.shapes[other].exterior.coords]
            return [(bx - ax) * (y - ay) - (by - ay) * (x - ax) for x, y in corners]

        own, others = heights(frozenset((patch,))), heights(rest)
        return min(own) >= max(others) or max(own) <= min(others)

    def is_one_foundation(self, unit: Unit) -> bool:
        return len(unit) == 1 or any(
            self.folds(patch, unit - {patch}) and self.is_one_foundation(unit - {patch}) for patch in unit
        )

    def pairs(self, unit: Unit) -> Iterator[tuple[int, int]]:
        first, *others = sorted(unit)
        for size in range(len(others)):
            for more in combinations(others, size):
                part = frozenset((first, *more))
                if self.seam(part, unit - part) is not None:
                    a, b = self.least(part), self.least(unit - part)
                    if a is not None and b is not None:
                        yield (a[0] + b[0], a[1] + b[1])

    def least(self, unit: Unit) -> tuple[int, int] | None:
        if unit not in self.known:
            if len(unit) == 1:
                self.known[unit] = (0, 1)
            elif self.is_one_foundation(unit):
                self.known[unit] = (1, 0)
            else:
                self.known[unit] = min(self.pairs(unit), default=None)
        return self.known[unit]


@st.composite
def patches_without_holes(draw: st.DrawFn) -> list[Box]:
    """Rectangles on part of a grid: in one piece, without a hole, touching themselves at no point."""
    grid: list[Cell] = list(product(range(4), range(4)))
    cells = draw(st.sets(st.sampled_from(grid), min_size=3, max_size=10))
    free = set(cells)
    boxes: list[Box] = []
    while free:
        x, y = min(free)
        right, top = x + 1, y + 1
        while (right, y) in free and draw(st.booleans()):
            right += 1
        while all((i, top) in free for i in range(x, right)) and draw(st.booleans()):
            top += 1
        free -= set(product(range(x, right), range(y, top)))
        boxes.append((x, y, right, top))
    return boxes


def is_disc(boxes: list[Box]) -> bool:
    whole = shapely.union_all([shapely.box(*box) for box in boxes])
    if whole.geom_type != "Polygon" or whole.interiors or len(boxes) > 7:
        return False
    return not shapely.buffer(whole, SLIGHT).interiors


@given(patches_without_holes().filter(is_disc))
@example([(0, 0, 3, 1), (0, 1, 1, 2), (2, 1, 3, 2)])
@example([(0, 0, 3, 1), (0, 1, 1, 2), (0, 2, 1, 3), (2, 1, 3, 2), (2, 2, 3, 3)])
@example([(0, 0, 1, 1), (1, 0, 2, 1), (0, 1, 1, 2), (2, 0, 3, 1), (0, 2, 1, 3)])
def test_no_search_finds_fewer_on_outlines_that_are_not_convex(boxes: list[Box]) -> None:
    block = sp.Block.from_polygons([[(a, b), (c, b), (c, d), (a, d)] for a, b, c, d in boxes])
    construction = sp.plan(block)
    sp.replay(block, construction)
    least = Exhaustive(boxes).least(frozenset(range(len(boxes))))
    assert (construction.technique == "straight") == (least is not None)
    if least is not None:
        assert construction.optimal
        assert (len(construction.foundations), len(construction.loose)) == least

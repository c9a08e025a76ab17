"""Constructions made by hand: the contacts are taken from shapely, never from the planner or the referee."""

from __future__ import annotations

from itertools import count, pairwise
from typing import TYPE_CHECKING, Any

import pytest
import shapely

from seamproof.block import Block
from seamproof.geometry import Edge
from seamproof.sequence import Construction, Foundation, Join, Step

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from seamproof.geometry import Point
    from seamproof.sequence import Technique


def path(*points: Point) -> tuple[Edge, ...]:
    return tuple(Edge(p, q) for p, q in pairwise(points))


class Sewing:
    """A construction put down seam by seam."""

    def __init__(self, block: Block) -> None:
        self.block = block
        self.foundations: list[Foundation] = []
        self.joins: list[Join] = []
        self.steps: list[Step] = []
        self._papered: set[str] = set()
        self._numbers = count(1)

    @staticmethod
    def path(*points: Point) -> tuple[Edge, ...]:
        return path(*points)

    def _shape(self, patches: Iterable[str]) -> Any:
        return shapely.union_all([shapely.Polygon(self.block.patch(p).outline.polygon) for p in patches])

    def contact(self, left: Iterable[str], right: Iterable[str]) -> tuple[Edge, ...]:
        """Where two sets of patches touch, as seen by shapely; its first stretch when there are several."""
        a, b = self._shape(left), self._shape(right)
        shared = a.intersection(b)
        lines = [part for part in shapely.get_parts(shared) if part.length > 0]
        if len(lines) > 1:
            lines = list(shapely.get_parts(shapely.line_merge(shapely.MultiLineString(lines))))
        if not lines:
            return ()
        points = [(x, y) for x, y in lines[0].coords]
        (x0, y0), (x1, y1) = points[:2]
        beside = shapely.Point((x0 + x1) / 2 - (y1 - y0) / 100, (y0 + y1) / 2 + (x1 - x0) / 100)
        return path(*(points if a.distance(beside) < 1e-9 else points[::-1]))

    def paper(
        self,
        label: str,
        order: Sequence[str],
        groups: Sequence[Sequence[str]] | None = None,
        precedes: Iterable[tuple[str, str]] = (),
        twin_of: str | None = None,
    ) -> Sewing:
        cut = tuple(map(tuple, groups)) if groups else tuple((patch,) for patch in order)
        self.foundations.append(Foundation(label, tuple(order), cut, frozenset(precedes), twin_of))
        self._papered.update(order)
        for place, patch in enumerate(order):
            seam = self.contact([patch], order[:place]) if place else ()
            self.steps.append(Step("add" if place else "first", seam, foundation=label, patch=patch))
        return self

    def join(
        self,
        first: str,
        second: str,
        seam: Sequence[Edge],
        kind: Technique = "straight",
        *,
        pivots: Sequence[Point] = (),
        passes: Sequence[Sequence[Edge]] = (),
    ) -> str:
        """Join two units; for a partial seam give its passes, and leave the later ones to `finish`."""
        join = Join(
            f"J{next(self._numbers)}", first, second, tuple(seam), kind, tuple(pivots), tuple(map(tuple, passes))
        )
        self.joins.append(join)
        self.steps.append(Step("start" if passes else "join", join.passes[0], join=join.label))
        return join.label

    def finish(self, label: str, number: int = 1) -> None:
        join = next(join for join in self.joins if join.label == label)
        self.steps.append(Step("finish", join.passes[number], join=label))

    @property
    def construction(self) -> Construction:
        loose = tuple(patch for patch in self.block.ids if patch not in self._papered)
        return Construction("foundation", tuple(self.foundations), loose, tuple(self.joins), tuple(self.steps))


@pytest.fixture
def sewing() -> Callable[..., Sewing]:
    """Begin a construction by hand over polygons."""

    def begin(polygons: Iterable[Iterable[Point]], roles: Sequence[str] | None = None) -> Sewing:
        return Sewing(Block.from_polygons(polygons, roles))

    return begin

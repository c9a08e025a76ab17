"""Pivots and partial seams are least: exhaustive searches, written apart from the planner, on small blocks."""

from __future__ import annotations

import heapq
import random
from functools import cache
from itertools import count
from typing import TYPE_CHECKING, Any, Final, TypeAlias

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from shapely import Point as Dot
from shapely import Polygon, box, unary_union

from seamproof.geometry import Outline
from seamproof.geometry.planar import PlanarMap
from seamproof.planning.hard import hard_seams, plan_hard

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Sequence

    from seamproof.planning.stages import Prefer

Ring: TypeAlias = list[tuple[float, float]]
Path: TypeAlias = tuple[list[int], list[int]]
Cost: TypeAlias = tuple[int, int]

PAST: Final = 1e-3
"""[in] How far a seam is run past its end to see what lies there."""

SEEDS: Final = st.integers(0, 10**6)


class Small:
    """A small block of straight-edged patches: who borders whom, and what lies beyond an end."""

    def __init__(self, polygons: Sequence[Ring]) -> None:
        self.shapes = [Polygon(polygon) for polygon in polygons]
        whole = unary_union(self.shapes)
        self.is_convex = whole.convex_hull.area - whole.area < PAST
        self.everything = frozenset(range(len(polygons)))
        self.pm = PlanarMap.of([Outline.of(polygon) for polygon in polygons])
        self.inner = [i for i, edge in enumerate(self.pm.edges) if edge.is_inner]
        self.stars = [[i for i in self.pm.star(node) if i in self.inner] for node in range(len(self.pm.nodes))]

    def ends(self, index: int) -> tuple[int, int]:
        return self.pm.edges[index].start, self.pm.edges[index].end

    def sides(self, index: int) -> set[int]:
        return {self.pm.edges[index].left, self.pm.edges[index].right}

    def is_inside(self, node: int) -> bool:
        return not self.pm.is_boundary(node)

    def is_disc(self, unit: frozenset[int]) -> bool:
        edges = [i for i in range(len(self.pm.edges)) if self.sides(i) & unit]
        nodes = {node for i in edges for node in self.ends(i)}
        is_whole = len(nodes) - len(edges) + len(unit) == 1
        return is_whole and self.grown({min(unit)}, unit, self.inner) == unit

    def grown(self, start: Iterable[int], unit: Collection[int], edges: Iterable[int]) -> set[int]:
        """The patches of a unit that hang together with the first ones by these edges."""
        rows = [self.sides(i) for i in edges if self.sides(i) <= set(unit)]
        found = set(start)
        while more := {patch for row in rows if row & found for patch in row} - found:
            found |= more
        return found

    def is_dead(self, index: int, node: int, sewn: Collection[int], unit: Collection[int]) -> bool:
        """Whether a seam run a little past its end at the outline enters cloth sewn together round that end."""
        if self.is_convex or self.is_inside(node):
            return False
        around = [i for i in self.stars[node] if i in sewn or i == index]
        cloth = self.grown(self.sides(index), unit, around)
        (x, y), far = self.pm.nodes[node], Dot(self.pm.nodes[self.pm.other_end(index, node)])
        t = PAST / far.distance(Dot(x, y))
        dot = Dot(x + t * (x - far.x), y + t * (y - far.y))
        return bool(unary_union([self.shapes[patch] for patch in cloth]).buffer(-PAST / 100).contains(dot))

    def path(self, edges: Sequence[int]) -> Path | None:
        """Edges as one path between two different nodes: edges and nodes in order."""
        at: dict[int, list[int]] = {}
        for i in edges:
            for node in self.ends(i):
                at.setdefault(node, []).append(i)
        tips = [node for node, row in at.items() if len(row) == 1]
        if len(tips) != 2 or max(map(len, at.values())) > 2:
            return None
        run: list[int] = []
        nodes = [tips[0]]
        while not run or len(at[nodes[-1]]) > 1:
            run.append(next(i for i in at[nodes[-1]] if not run or i != run[-1]))
            nodes.append(self.pm.other_end(run[-1], nodes[-1]))
        return (run, nodes) if len(run) == len(edges) else None

    def pivots(self, path: Path, sewn: Collection[int], unit: Collection[int]) -> int:
        run, nodes = path
        turns = sum(not self.pm.in_line(run[i], run[i + 1], node) for i, node in enumerate(nodes[1:-1]))
        return turns + sum(self.is_dead(run[end], nodes[end], sewn, unit) for end in (0, -1))


def least_pivots(polygons: Sequence[Ring]) -> tuple[int, int]:
    """Over every way to part the block in two by one seam, again and again: the fewest pivots and the most."""
    block = Small(polygons)

    @cache
    def counted(unit: frozenset[int]) -> tuple[int, int]:
        if len(unit) == 1:
            return (0, 0)
        found = []
        first, *rest = sorted(unit)
        for mask in range(2 ** len(rest) - 1):
            one = frozenset([first, *(patch for i, patch in enumerate(rest) if mask >> i & 1)])
            other = unit - one
            path = block.path([i for i in block.inner if block.sides(i) & one and block.sides(i) & other])
            if path and block.is_disc(one) and block.is_disc(other):
                pivots = block.pivots(path, block.inner, unit)
                (low, high), (least, most) = counted(one), counted(other)
                found.append((pivots + low + least, pivots + high + most))
        return min(low for low, _ in found), max(high for _, high in found)

    return counted(block.everything)


def least_passes(polygons: Sequence[Ring]) -> Cost | None:
    """Over every order of sewing one pass after another: the least (pivots, partial seams).

    A pass is a path of edges at whose inner nodes all else is sewn. It joins two units; or both its sides are in one
    unit, and it closes a gap from one inner end at which all else is sewn, carrying on an edge there in line.
    """
    block = Small(polygons)
    ticket = count()
    queue: list[tuple[Cost, int, frozenset[int]]] = [((0, 0), next(ticket), frozenset())]
    done = set()
    while queue:
        cost, _, sewn = heapq.heappop(queue)
        if len(sewn) == len(block.inner):
            return cost
        if sewn in done:
            continue
        done.add(sewn)
        for path in _passes(block, sewn):
            more = _cost(block, sewn, path)
            if more:
                total = (cost[0] + more[0], cost[1] + more[1])
                heapq.heappush(queue, (total, next(ticket), sewn | set(path[0])))
    return None


def _passes(block: Small, sewn: frozenset[int]) -> Iterator[Path]:
    """Every path of open edges at whose inner nodes nothing else is open."""
    found = set()
    for first in block.inner:
        for start in block.ends(first) if first not in sewn else ():
            run, nodes = [first], [start, block.pm.other_end(first, start)]
            while True:
                if frozenset(run) not in found:
                    found.add(frozenset(run))
                    yield list(run), list(nodes)
                onward = [i for i in block.stars[nodes[-1]] if i not in sewn and i != run[-1]]
                after = block.pm.other_end(onward[0], nodes[-1]) if len(onward) == 1 else nodes[0]
                if not block.is_inside(nodes[-1]) or after in nodes:
                    break
                run.append(onward[0])
                nodes.append(after)


def _cost(block: Small, sewn: frozenset[int], path: Path) -> Cost | None:
    """The (pivots, partial seams) of a pass; None where it cannot be sewn now."""
    run, nodes = path
    edge = block.pm.edges[run[0]]
    unit = block.grown({edge.left}, block.everything, sewn)
    is_gap = edge.right in unit
    if is_gap:
        tips = [
            (run[end], nodes[end])
            for end in (0, -1)
            if block.is_inside(nodes[end]) and all(i in sewn or i == run[end] for i in block.stars[nodes[end]])
        ]
        if len(tips) != 1 or not any(block.pm.in_line(tips[0][0], i, tips[0][1]) for i in block.stars[tips[0][1]]):
            return None
    cloth = unit | block.grown({edge.right}, block.everything, sewn)
    return block.pivots(path, sewn, cloth), int(is_gap)


def is_plain(shape: Any) -> bool:
    """Whether a shape is one piece without holes."""
    return bool(shape.geom_type == "Polygon" and not shape.interiors)


def corners(shape: Any) -> Ring:
    return [(x, y) for x, y in shape.simplify(0).exterior.coords[:-1]]


def merged(seed: int, most: int) -> list[Ring]:
    """Squares, some halved, put together at random to patches of any shape, on an outline of any shape."""
    rng = random.Random(seed)
    columns, rows = rng.choice([(3, 3), (3, 4), (2, 4)])
    halved, count_dropped = rng.choice([0, 0.3, 0.6]), rng.choice([0, 0, 1, 3])
    shapes = []
    for x in range(columns):
        for y in range(rows):
            a, b, c, d = (x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)
            ways = [[(a, b, c), (a, c, d)], [(a, b, d), (b, c, d)]]
            shapes += [Polygon(part) for part in (rng.choice(ways) if rng.random() < halved else [(a, b, c, d)])]
    for _ in range(count_dropped):
        at = rng.randrange(len(shapes))
        if is_plain(unary_union(shapes[:at] + shapes[at + 1 :])):
            shapes.pop(at)
    for _ in range(400):
        if len(shapes) <= most:
            break
        i, j = rng.sample(range(len(shapes)), 2)
        both = unary_union([shapes[i], shapes[j]])
        if shapes[i].intersection(shapes[j]).length and is_plain(both):
            shapes = [shape for at, shape in enumerate(shapes) if at not in (i, j)] + [both]
    return [corners(shape) for shape in shapes]


def rooms(seed: int, most: int) -> list[Ring]:
    """A pinwheel with its rooms cut in two at random; straight seams seldom serve."""
    rng = random.Random(seed)
    shapes = [box(0, 0, 4, 2), box(4, 0, 6, 4), box(2, 4, 6, 6), box(0, 2, 2, 6), box(2, 2, 4, 4)]
    while len(shapes) < most:
        room = shapes.pop(rng.randrange(len(shapes)))
        x0, y0, x1, y1 = room.bounds
        at = rng.choice([0.25, 0.5, 0.75])
        x, y = x0 + at * (x1 - x0), y0 + at * (y1 - y0)
        parts = (
            [box(x0, y0, x, y1), box(x, y0, x1, y1)] if rng.random() < 0.5 else [box(x0, y0, x1, y), box(x0, y, x1, y1)]
        )
        shapes += parts
    return [corners(shape) for shape in shapes]


def is_block(polygons: Sequence[Ring]) -> bool:
    pm = PlanarMap.of([Outline.of(polygon) for polygon in polygons])
    return len(pm.parts) == 1 and pm.holes == 0


def counted(polygons: Sequence[Ring], prefer: Prefer = "partial") -> Cost:
    found = hard_seams(PlanarMap.of([Outline.of(polygon) for polygon in polygons]), prefer=prefer)
    assert found.is_proven
    return found.pivots, found.partial_seams


@given(SEEDS)
@example(126)  # a seam must be sewn before a straight cut that it would run into
def test_pivots_are_least_where_there_are_no_partial_seams(seed: int) -> None:
    polygons = merged(seed, 7)
    if is_block(polygons):
        assert counted(polygons, prefer="pivot") == (least_pivots(polygons)[0], 0)


@given(SEEDS)
def test_pivots_then_partial_seams_are_least(seed: int) -> None:
    polygons = merged(seed, 6)
    if is_block(polygons):
        assert counted(polygons) == least_passes(polygons)


@pytest.mark.parametrize("seed", range(5))
def test_partial_seams_are_least_among_rooms_round_a_centre(seed: int) -> None:
    polygons = rooms(seed, 7)
    assert counted(polygons) == least_passes(polygons)
    assert counted(polygons, prefer="pivot") == (least_pivots(polygons)[0], 0)


@given(st.integers(2, 7), SEEDS)
def test_where_no_inner_junction_has_edges_in_line_every_construction_has_a_pivot_at_each(most: int, seed: int) -> None:
    polygons = merged(seed, most)
    pm = PlanarMap.of([Outline.of(polygon) for polygon in polygons])
    inner = [node for node in range(len(pm.nodes)) if not pm.is_boundary(node)]
    is_free = not any(pm.onward(edge, node) is not None for node in inner for edge in pm.star(node))
    if is_block(polygons) and is_free and Small(polygons).is_convex:
        assert least_pivots(polygons) == (len(inner), len(inner)) == (counted(polygons)[0],) * 2


def total(pm: PlanarMap, unit: int, prefer: Prefer) -> Cost:
    """What a unit costs when it is parted stage by stage, whichever stage is taken first."""
    if unit & (unit - 1) == 0:
        return (0, 0)
    found = plan_hard(pm, unit, prefer)
    for stage in found.stages[:3]:
        costs = [total(pm, part, prefer) for part in stage.parts]
        assert stage.pivots + sum(pivots for pivots, _ in costs) == found.pivots
        assert stage.partial_seams + sum(partial for _, partial in costs) == found.partial_seams
    return found.pivots, found.partial_seams


@given(SEEDS, st.sampled_from(["partial", "pivot"]))
def test_every_stage_begins_a_construction_of_the_least_cost(seed: int, prefer: Prefer) -> None:
    polygons = rooms(seed, 9) if seed % 2 else merged(seed, 9)
    if is_block(polygons):
        pm = PlanarMap.of([Outline.of(polygon) for polygon in polygons])
        assert total(pm, (1 << pm.count) - 1, prefer) == counted(polygons, prefer)


@given(SEEDS)
def test_the_seams_of_a_stage_join_its_parts_one_after_another(seed: int) -> None:
    polygons = rooms(seed, 9) if seed % 2 else merged(seed, 9)
    if not is_block(polygons):
        return
    pm = PlanarMap.of([Outline.of(polygon) for polygon in polygons])
    for stage in plan_hard(pm).stages:
        units = set(stage.parts)
        for number, at in stage.order:
            seam = stage.seams[number]
            if at == 0:
                units = units - {seam.left, seam.right} | {seam.left | seam.right}
            for index, is_forward in seam.passes[at]:
                edge = pm.edges[index]
                left, right = (edge.left, edge.right) if is_forward else (edge.right, edge.left)
                assert at or (seam.left >> left & 1 and seam.right >> right & 1)
                assert any(unit >> left & 1 and unit >> right & 1 for unit in units)
        assert units == {(1 << pm.count) - 1}

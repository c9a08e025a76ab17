"""The fewest foundations: known blocks, and every minimum against an exhaustive search written apart."""

from __future__ import annotations

import math
from itertools import chain, combinations, pairwise
from typing import TYPE_CHECKING, TypeAlias

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

import seamproof as sp
from seamproof.planning.bound import least_foundations, runs_needed
from seamproof.planning.fewest import Search
from seamproof.planning.frame import Frame
from seamproof.testing.strategies import slicing_tilings

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.geometry import Point

Ring: TypeAlias = "list[Point]"
Rings: TypeAlias = list[Ring]
Unit: TypeAlias = frozenset[int]

NEAR = 1e-6


def rectangle(x: float, y: float, width: float, height: float) -> Ring:
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def logs_round(patches: Rings, side: int, rounds: int) -> Rings:
    """Square patches in the middle, 4·rounds logs of width 1 round them."""
    low, high = 0, side
    for _ in range(rounds):
        patches.append(rectangle(high, low, 1, high - low))
        patches.append(rectangle(low, high, high + 1 - low, 1))
        patches.append(rectangle(low - 1, low, 1, high + 1 - low))
        patches.append(rectangle(low - 1, low - 1, high + 2 - low, 1))
        low, high = low - 1, high + 1
    return patches


def four_patch() -> Rings:
    return [rectangle(i, j, 1, 1) for j in range(2) for i in range(2)]


def ohio_star() -> Rings:
    """Nine squares, the four at the middles of the sides quartered corner to corner."""
    patches: Rings = []
    for j in range(3):
        for i in range(3):
            ring = rectangle(i, j, 1, 1)
            if (i + j) % 2:
                patches += [[a, b, (i + 0.5, j + 0.5)] for a, b in pairwise([*ring, ring[0]])]
            else:
                patches.append(ring)
    return patches


def points_round(count: int) -> Rings:
    """A many-sided patch, from each corner of which a point of two patches was cut off."""
    corners = [(5 * math.cos(math.tau * k / count), 5 * math.sin(math.tau * k / count)) for k in range(count)]
    patches: Rings = []
    middle: Ring = []
    for k, (x, y) in enumerate(corners):
        ends = [(x + 0.3 * (a - x), y + 0.3 * (b - y)) for a, b in (corners[k - 1], corners[(k + 1) % count])]
        foot = ((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2)
        patches += [[(x, y), ends[0], foot], [(x, y), foot, ends[1]]]
        middle += ends
    return [*patches, middle]


# Sources: grid and four-patch with twelve logs: derived (each foundation has no crossing inside; the cuts along one
# set of lines reach the bound); Ohio star: computed independently; log cabin and points: derived.
@pytest.mark.parametrize(
    ("patches", "foundations", "loose"),
    [
        (four_patch(), 2, 0),
        (logs_round(four_patch(), 2, 3), 2, 11),
        (logs_round([rectangle(0, 0, 1, 1)], 1, 5), 1, 0),
        (ohio_star(), 5, 0),
        ([rectangle(i, j, 1, 1) for j in range(7) for i in range(8)], 7, 0),
        (points_round(20), 20, 0),
    ],
    ids=["four-patch", "four-patch and logs", "log cabin", "Ohio star", "7 × 8 squares", "20 points"],
)
def test_known_blocks_take_their_fewest_foundations(patches: Rings, foundations: int, loose: int) -> None:
    block = sp.Block.from_polygons(patches)
    construction = sp.plan(block)
    sp.replay(block, construction)
    assert len(construction.foundations) == construction.bounds.foundations == foundations
    assert construction.optimal
    assert len(construction.loose) == loose


def shared_stretches(p: Ring, q: Ring) -> list[tuple[float, ...]]:
    """Where two straight-edged patches touch: (unit direction, offset, from, to) for each stretch."""
    found: list[tuple[float, ...]] = []
    for a, b in pairwise([*p, p[0]]):
        size = math.dist(a, b)
        ux, uy = (b[0] - a[0]) / size, (b[1] - a[1]) / size
        if (ux, uy) < (0, 0):
            ux, uy = -ux, -uy
        low, high = sorted((a[0] * ux + a[1] * uy, b[0] * ux + b[1] * uy))
        offset = a[0] * uy - a[1] * ux
        for c, d in pairwise([*q, q[0]]):
            if all(abs(x * uy - y * ux - offset) < NEAR for x, y in (c, d)):
                start, end = sorted((c[0] * ux + c[1] * uy, d[0] * ux + d[1] * uy))
                if min(high, end) - max(low, start) > NEAR:
                    found.append((round(ux, 6), round(uy, 6), offset, max(low, start), min(high, end)))
    return found


class Exhaustive:
    """The least (foundations, lone patches) over all ways to part few patches on a convex outline."""

    def __init__(self, patches: Rings) -> None:
        self.touching = {
            frozenset((i, j)): shared_stretches(patches[i], patches[j]) for i, j in combinations(range(len(patches)), 2)
        }
        self.known: dict[frozenset[int], tuple[int, int]] = {}

    def is_seam(self, part: Unit, rest: Unit) -> bool:
        """Whether two sets of patches touch along one straight stretch, and hang together each."""
        rows = [row for i in part for j in rest for row in self.touching[frozenset((i, j))]]
        if not rows or any(abs(a - b) > NEAR for row in rows for a, b in zip(row[:3], rows[0][:3], strict=True)):
            return False
        spans = sorted(row[3:] for row in rows)
        is_whole = all(after[0] - before[1] < NEAR for before, after in pairwise(spans))
        return is_whole and self.is_connected(part) and self.is_connected(rest)

    def is_connected(self, unit: Unit) -> bool:
        found = [min(unit)]
        for patch in found:
            found += [other for other in unit - set(found) if self.touching[frozenset((patch, other))]]
        return len(found) == len(unit)

    def cuts(self, unit: Unit) -> Iterator[tuple[Unit, Unit]]:
        first, *others = sorted(unit)
        for size in range(len(others)):
            for more in combinations(others, size):
                part = frozenset((first, *more))
                if self.is_seam(part, unit - part):
                    yield part, unit - part

    def least(self, unit: Unit) -> tuple[int, int]:
        if unit not in self.known:
            if len(unit) == 1:
                self.known[unit] = (0, 1)
            elif self.is_one_foundation(unit):
                self.known[unit] = (1, 0)
            else:
                pairs = [(self.least(part), self.least(rest)) for part, rest in self.cuts(unit)]
                self.known[unit] = min((a[0] + b[0], a[1] + b[1]) for a, b in pairs)
        return self.known[unit]

    def is_one_foundation(self, unit: Unit) -> bool:
        return len(unit) == 1 or any(
            self.is_seam(frozenset((patch,)), unit - {patch}) and self.is_one_foundation(unit - {patch})
            for patch in unit
        )


@st.composite
def tilings(draw: st.DrawFn, most: int = 9) -> Rings:
    """A square cut again and again, often along lines of a grid and its diagonals, so that cuts line up and cross."""
    patches = [rectangle(0, 0, 6, 6)]
    lines = [((k, 0), (k, 1)) for k in range(1, 6)] + [((0, k), (1, k)) for k in range(1, 6)]
    lines += [((0, k), (1, k + 1)) for k in (-3, 0, 3)] + [((0, k), (1, k - 1)) for k in (3, 6, 9)]
    for line in draw(st.lists(st.sampled_from(lines), min_size=1, max_size=5)):
        for ring in list(patches):
            halves = cut_convex(ring, *line)
            if halves and len(patches) < most and draw(st.integers(0, 3)):
                patches.remove(ring)
                patches += halves
    return patches


def cut_convex(ring: Ring, p: Point, q: Point) -> Rings | None:
    """The two parts of a convex ring on either side of a line, or None where it does not pass through its middle."""
    heights = [(q[0] - p[0]) * (y - p[1]) - (q[1] - p[1]) * (x - p[0]) for x, y in ring]
    if min(heights) > -NEAR or max(heights) < NEAR:
        return None
    parts: tuple[Ring, Ring] = ([], [])
    for (a, h), (b, k) in pairwise(list(zip([*ring, ring[0]], [*heights, heights[0]], strict=True))):
        for part, sign in zip(parts, (1, -1), strict=True):
            if h * sign > -NEAR:
                part.append(a)
            if h * k < -NEAR:
                t = h / (h - k)
                part.append((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])))
    return list(parts)


@given(tilings())
@example(four_patch())
@example(logs_round(four_patch(), 2, 1))
def test_no_search_finds_fewer(patches: Rings) -> None:
    block = sp.Block.from_polygons(patches)
    construction = sp.plan(block)
    sp.replay(block, construction)
    least = Exhaustive(patches).least(frozenset(range(len(patches))))
    assert construction.technique == "straight"
    assert construction.optimal
    assert (len(construction.foundations), len(construction.loose)) == least


@given(tilings())
@example(ohio_star())
@example(four_patch())
def test_beyond_its_limit_the_search_gives_its_best_and_a_bound(patches: Rings) -> None:
    # Source: computed independently: the exhaustive search; of the star, 5.
    frame = Frame.of(sp.Block.from_polygons(patches))
    search = Search(frame, limit=0, small=0)
    found = search.best(frame.all).foundations
    least = 5 if len(patches) == 21 else Exhaustive(patches).least(frozenset(range(len(patches))))[0]
    assert least_foundations(frame, frame.all) <= search.least(frame.all) <= least <= found
    assert search.is_exact == (search.least(frame.all) == found)


@given(slicing_tilings(most=40))
def test_cuts_that_are_joins_in_every_construction_lose_nothing(block: sp.Block) -> None:
    frame = Frame.of(block)
    exact, parted = Search(frame), Search(frame, limit=0, small=0)
    least = exact.best(frame.all).foundations
    assert exact.is_exact
    assert parted.best(frame.all).foundations >= least >= parted.least(frame.all)


@given(st.sets(st.frozensets(st.integers(0, 6), min_size=1, max_size=3), max_size=12))
def test_no_fewer_runs_than_bounded_pass_through_every_bad_node(bad: set[frozenset[int]]) -> None:
    # Source: computed independently: every set of runs.
    least = min(len(runs) for runs in subsets(range(7)) if all(node.intersection(runs) for node in bad))
    assert runs_needed(bad) <= least


@given(st.sets(st.tuples(st.integers(0, 4), st.integers(5, 9)).map(frozenset), max_size=14))
def test_the_bound_of_rows_and_columns_is_reached(bad: set[frozenset[int]]) -> None:
    # Source: König's theorem (see `bound`); computed independently: every set of runs.
    least = min(len(runs) for runs in subsets(range(10)) if all(node.intersection(runs) for node in bad))
    assert runs_needed(bad) == least


def subsets(runs: range) -> Iterator[tuple[int, ...]]:
    return chain.from_iterable(combinations(runs, size) for size in range(len(runs) + 1))


def test_twins_are_sewn_alike() -> None:
    block = sp.Block.from_polygons(ohio_star())
    construction = sp.plan(block)
    twins = [foundation for foundation in construction.foundations if foundation.twin_of]
    assert twins
    for twin in twins:
        assert twin.twin_of is not None
        model = construction.foundation(twin.twin_of)
        assert list(map(len, twin.groups)) == list(map(len, model.groups))
        assert len(twin.precedes) == len(model.precedes)


def leaning_pair(*, mirrored: bool) -> Rings:
    """A parallelogram's two halves and what squares them, left for right or not."""
    rings: Rings = [
        [(0, 0), (2, 0), (3, 1)],
        [(0, 0), (3, 1), (1, 1)],
        [(0, 0), (1, 1), (0, 1)],
        [(2, 0), (3, 0), (3, 1)],
    ]
    return [[(3 - x, y) for x, y in patch] for patch in rings] if mirrored else rings


def test_mirror_images_are_no_twins() -> None:
    from seamproof.planning.frame import Frame
    from seamproof.planning.shapes import Shapes

    patches = [
        *leaning_pair(mirrored=False),
        *[[(x, y + 1) for x, y in patch] for patch in leaning_pair(mirrored=True)],
        *[[(3 - x, 3 - y) for x, y in patch] for patch in leaning_pair(mirrored=False)],
    ]
    shapes = Shapes(Frame.of(sp.Block.from_polygons(patches)))
    plain, mirrored, turned = (shapes.class_of(0b1111 << 4 * k) for k in range(3))
    assert plain == turned != mirrored


def test_other_roles_are_no_twins() -> None:
    roles = ["dark", "light", "dark", "dark"]
    construction = sp.plan(sp.Block.from_polygons(four_patch(), roles))
    assert [foundation.twin_of for foundation in construction.foundations] == [None, None]

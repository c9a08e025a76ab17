"""How long the search for the fewest seams to add takes.

Run by hand: pytest tests/benchmarks/bench_repair.py
"""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING

import pytest

import seamproof as sp
from seamproof.planning.repair import repair

if TYPE_CHECKING:
    from pytest_benchmark.fixture import BenchmarkFixture

Room = tuple[float, float, float, float]


def ringed(room: Room) -> list[Room]:
    """Four oblongs that chase one another round a fifth, not quite evenly: no line is carried on by another's."""
    x0, y0, x1, y1 = room
    x = [x0, x0 + (x1 - x0) * 0.31, x0 + (x1 - x0) * 0.64, x1]
    y = [y0, y0 + (y1 - y0) * 0.36, y0 + (y1 - y0) * 0.71, y1]
    places = [(0, 0, 2, 1), (2, 0, 3, 2), (1, 2, 3, 3), (0, 1, 1, 3), (1, 1, 2, 2)]
    return [(x[a], y[b], x[c], y[d]) for a, b, c, d in places]


def strips(room: Room, count: int) -> list[Room]:
    x0, y0, x1, y1 = room
    return [(x0, y0 + (y1 - y0) * i / count, x1, y0 + (y1 - y0) * (i + 1) / count) for i in range(count)]


def rings_in_a_ring(inner: int, patches: int = 40) -> sp.Block:
    """A ring of five rooms, some of them rings themselves, the others strips: one unit that no seam parts."""
    rooms = ringed((0, 0, 12, 12))
    placed = [room for outer in rooms[:inner] for room in ringed(outer)]
    rest = rooms[inner:]
    for number, room in enumerate(rest):
        placed += strips(room, (patches - len(placed)) // (len(rest) - number))
    return sp.Block.from_polygons([[(a, b), (c, b), (c, d), (a, d)] for a, b, c, d in placed])


@pytest.mark.parametrize("inner", [0, 1, 2, 3])
def test_forty_patches(benchmark: BenchmarkFixture, inner: int) -> None:
    """Up to four additions and more, proven least."""
    block = rings_in_a_ring(inner)
    assert len(block.patches) == 40
    assert benchmark(repair, block).is_least


def test_forty_patches_in_eight_rings(benchmark: BenchmarkFixture) -> None:
    rooms = [room for i in range(4) for j in range(2) for room in ringed((3 * i, 3 * j, 3 * i + 3, 3 * j + 3))]
    block = sp.Block.from_polygons([[(a, b), (c, b), (c, d), (a, d)] for a, b, c, d in rooms])
    assert benchmark(repair, block).is_least


@pytest.mark.parametrize("seed", [5, 7])
def test_beyond_what_is_proven(benchmark: BenchmarkFixture, seed: int) -> None:
    """Rings in every room of a ring of rings: the search ends with the best found and its bound."""
    rooms = [(0.0, 0.0, 12.0, 12.0)]
    while len(rooms) < 41:
        rooms.sort(key=lambda room: (-(room[2] - room[0]) * (room[3] - room[1]), room[0] * seed % 1, room))
        rooms = [*rooms[1:], *ringed(rooms[0])]
    block = sp.Block.from_polygons([[(a, b), (c, b), (c, d), (a, d)] for a, b, c, d in rooms])
    mended = benchmark(repair, block)
    assert mended.solved
    assert mended.bound >= 4


def sliced(seed: int, count: int = 40) -> sp.Block:
    """A square parted into rooms by one straight cut after another, no two on one line."""
    rng = Random(seed)
    rooms: list[Room] = [(0.0, 0.0, 12.0, 12.0)]
    while len(rooms) < count:
        rooms.sort(key=lambda room: -(room[2] - room[0]) * (room[3] - room[1]) * rng.uniform(0.5, 1))
        a, b, c, d = rooms.pop(0)
        t = rng.uniform(0.3, 0.7)
        if c - a > d - b:
            rooms += [(a, b, a + (c - a) * t, d), (a + (c - a) * t, b, c, d)]
        else:
            rooms += [(a, b, c, b + (d - b) * t), (a, b + (d - b) * t, c, d)]
    return sp.Block.from_polygons([[(a, b), (c, b), (c, d), (a, d)] for a, b, c, d in rooms])


@pytest.mark.parametrize("seed", [0, 1])
@pytest.mark.parametrize(("foundations", "proven"), [(1, 12), (2, 4), (4, 4), (8, 2)])
def test_foundations_of_forty_patches(benchmark: BenchmarkFixture, seed: int, foundations: int, proven: int) -> None:
    """A block of 14 or 15 foundations asked for fewer: what is proven of the additions it takes."""
    block = sliced(seed)
    mended = benchmark(repair, block, foundations=foundations)
    assert mended.bound >= proven

"""How many tilings there are of each kind, by full enumeration, against published counts."""

from __future__ import annotations

from collections import Counter
from itertools import product
from typing import TYPE_CHECKING, TypeAlias

import pytest

import seamproof as sp

if TYPE_CHECKING:
    from collections.abc import Iterator

Rectangle: TypeAlias = tuple[int, int, int, int]
"""(left, bottom, right, top)."""
Tiling: TypeAlias = tuple[Rectangle, ...]


def rectangle_tilings(columns: int, rows: int) -> Iterator[Tiling]:
    """Every tiling of a grid by grid rectangles."""

    def extend(free: frozenset[tuple[int, int]], placed: list[Rectangle]) -> Iterator[Tiling]:
        if not free:
            yield tuple(placed)
            return
        x, y = min(free, key=lambda cell: (cell[1], cell[0]))
        for right, top in product(range(x + 1, columns + 1), range(y + 1, rows + 1)):
            cells = {(i, j) for i in range(x, right) for j in range(y, top)}
            if cells <= free:
                yield from extend(free - cells, [*placed, (x, y, right, top)])

    yield from extend(frozenset(product(range(columns), range(rows))), [])


def block_of(tiling: Tiling) -> sp.Block:
    return sp.Block.from_polygons([[(a, b), (c, b), (c, d), (a, d)] for a, b, c, d in tiling])


def verdict(tiling: Tiling) -> tuple[bool, bool]:
    """(whether straight seams serve, whether one foundation does), and the referee agrees with the plan."""
    block = block_of(tiling)
    construction = sp.plan(block)
    sp.replay(block, construction)
    is_one = len(tiling) == 1 or (len(construction.foundations), construction.loose) == (1, ())
    return construction.technique == "straight", is_one


def has_crossing(tiling: Tiling) -> bool:
    corners = Counter((x, y) for a, b, c, d in tiling for x, y in product((a, c), (b, d)))
    return 4 in corners.values()


def arrangement(tiling: Tiling) -> tuple[frozenset[tuple[int, int]], ...]:
    """Which room lies left of and which below which, the rooms numbered by that: sliding tees changes nothing."""
    rooms = range(len(tiling))

    def touches(p: int, q: int, low: int) -> bool:
        """Whether q follows p along one axis, both on one wall."""
        high, side_low, side_high = low + 2, 1 - low, 3 - low
        if tiling[p][high] != tiling[q][low]:
            return False
        wall = [room for room in tiling if tiling[p][high] in (room[low], room[high])]
        reach = [tiling[p][side_low], tiling[p][side_high]]
        for _ in wall:
            for room in wall:
                if room[side_low] <= reach[1] and room[side_high] >= reach[0]:
                    reach = [min(reach[0], room[side_low]), max(reach[1], room[side_high])]
        return tiling[q][side_low] < reach[1] and tiling[q][side_high] > reach[0]

    before = [{(p, q) for p in rooms for q in rooms if touches(p, q, axis)} for axis in (0, 1)]
    for relation in before:
        for k, i, j in product(rooms, rooms, rooms):
            if (i, k) in relation and (k, j) in relation:
                relation.add((i, j))
    order = sorted(rooms, key=lambda room: sum((other, room) in before[0] | before[1] for other in rooms))
    place = {room: number for number, room in enumerate(order)}
    return tuple(frozenset((place[p], place[q]) for p, q in relation) for relation in before)


def floorplans(rooms: int) -> dict[object, list[Tiling]]:
    """One drawing or more of every floorplan of so many rooms, by arrangement: each wall on its own grid line."""
    found: dict[object, list[Tiling]] = {}
    for columns in range(1, rooms + 1):
        for tiling in rectangle_tilings(columns, rooms + 1 - columns):
            if len(tiling) == rooms and not has_crossing(tiling):
                found.setdefault(arrangement(tiling), []).append(tiling)
    return found


# Sources: all: Baxter numbers, OEIS A001181; straight seams only: Schröder numbers, OEIS A006318;
# one foundation: derived, a(n) = 4a(n-1) - 2a(n-2), OEIS A006012.
@pytest.mark.parametrize(
    ("rooms", "every", "straight", "one"),
    [(1, 1, 1, 1), (2, 2, 2, 2), (3, 6, 6, 6), (4, 22, 22, 20), (5, 92, 90, 68)],
)
def test_floorplans(rooms: int, every: int, straight: int, one: int) -> None:
    verdicts = [{verdict(tiling) for tiling in drawings} for drawings in floorplans(rooms).values()]
    assert all(len(same) == 1 for same in verdicts), "sliding a tee past another must change nothing"
    served = [next(iter(same)) for same in verdicts]
    assert (len(served), sum(s for s, _ in served), sum(o for _, o in served)) == (every, straight, one)


# Sources: all: OEIS A116694; straight seams only: OEIS A222659; one foundation: computed independently.
@pytest.mark.parametrize(
    ("columns", "rows", "every", "straight", "one"), [(2, 2, 8, 8, 7), (2, 3, 34, 34, 22), (3, 3, 322, 320, 93)]
)
def test_grid_tilings(columns: int, rows: int, every: int, straight: int, one: int) -> None:
    served = [verdict(tiling) for tiling in rectangle_tilings(columns, rows)]
    assert (len(served), sum(s for s, _ in served), sum(o for _, o in served)) == (every, straight, one)

"""Repair held to an exhaustive search that knows nothing of stuck units, chords or the planar map."""

from __future__ import annotations

import math
from functools import cache
from itertools import combinations, pairwise
from random import Random
from typing import TYPE_CHECKING

import pytest
import shapely
from shapely.ops import split

import seamproof as sp
from seamproof.planning.repair import repair

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from shapely import Polygon

    Ring = list[tuple[float, float]]
    Rings = list[Ring]

NEAR = 1e-6


def pieces_of(block: Rings) -> list[Polygon]:
    return [shapely.Polygon(ring) for ring in block]


def seams(patches: list[Polygon]) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Maximal straight seams: what two patches share, joined end to end while in line."""
    found = [line for a, b in combinations(patches, 2) for line in shared_lines(a, b)]
    return joined(found)


def shared_lines(a: Polygon, b: Polygon) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """Stretches common to a side of one patch and a side of the other."""
    for p, q in sides(a):
        for r, s in sides(b):
            length = math.dist(p, q)
            d = ((q[0] - p[0]) / length, (q[1] - p[1]) / length)
            if max(abs(d[0] * (z[1] - p[1]) - d[1] * (z[0] - p[0])) for z in (r, s)) > NEAR:
                continue
            t = sorted((z[0] - p[0]) * d[0] + (z[1] - p[1]) * d[1] for z in (r, s))
            low, high = max(0.0, t[0]), min(length, t[1])
            if high - low > NEAR:
                yield (p[0] + d[0] * low, p[1] + d[1] * low), (p[0] + d[0] * high, p[1] + d[1] * high)


def sides(patch: Polygon) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    ring = list(patch.exterior.coords)
    return [(p, q) for p, q in pairwise(ring) if math.dist(p, q) > NEAR]


def joined(
    lines: list[tuple[tuple[float, float], tuple[float, float]]],
) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    lines = list(lines)
    while True:
        for i, j in combinations(range(len(lines)), 2):
            four = [*lines[i], *lines[j]]
            p, q = max(combinations(four, 2), key=lambda pair: math.dist(*pair))
            meet = min(math.dist(x, y) for x in lines[i] for y in lines[j])
            off = max(abs((q[0] - p[0]) * (z[1] - p[1]) - (q[1] - p[1]) * (z[0] - p[0])) for z in four)
            if meet < NEAR and off < NEAR * math.dist(p, q):
                lines = [line for k, line in enumerate(lines) if k not in (i, j)] + [(p, q)]
                break
        else:
            return lines


def is_straight(patches: tuple[Polygon, ...]) -> bool:
    """Whether a convex unit comes apart by lines that run through no patch."""
    if len(patches) == 1:
        return True
    for patch in patches:
        for p, q in sides(patch):
            left: list[Polygon] = []
            right: list[Polygon] = []
            for other in patches:
                heights = [
                    ((q[0] - p[0]) * (y - p[1]) - (q[1] - p[1]) * (x - p[0])) / math.dist(p, q)
                    for x, y in other.exterior.coords
                ]
                if max(heights) > NEAR and min(heights) < -NEAR:
                    break
                (left if max(heights) > NEAR else right).append(other)
            else:
                if left and right and is_straight(tuple(left)) and is_straight(tuple(right)):
                    return True
    return False


def carried(patches: list[Polygon]) -> Iterator[tuple[tuple[float, ...], list[Polygon]]]:
    """Every block that one seam carried on across one patch makes, with the stretch added."""
    for p, q in seams(patches):
        for start, end in ((p, q), (q, p)):
            size = math.dist(p, q)
            d = ((end[0] - start[0]) / size, (end[1] - start[1]) / size)
            just = shapely.Point(end[0] + d[0] * 1e-4, end[1] + d[1] * 1e-4)
            holder = next((patch for patch in patches if patch.buffer(-1e-5).contains(just)), None)
            if holder is None:
                continue
            # A seam that touches a corner on its way stops there: the inside is taken a hair smaller.
            ray = shapely.LineString([just.coords[0], (end[0] + d[0] * 99, end[1] + d[1] * 99)])
            way = ray.intersection(holder.buffer(-1e-7, join_style="mitre"))
            first = min(getattr(way, "geoms", [way]), key=lambda part: part.distance(just))
            far = first.coords[-1]
            cut = shapely.LineString(
                [(end[0] - d[0] * 1e-5, end[1] - d[1] * 1e-5), (far[0] + d[0] * 1e-5, far[1] + d[1] * 1e-5)]
            )
            halves = [part for part in split(holder, cut).geoms if part.area > 1e-6]
            if len(halves) == 2:
                key = tuple(round(v, 3) for z in sorted(((end[0], end[1]), (far[0], far[1]))) for v in z)
                yield key, [patch for patch in patches if patch is not holder] + halves


def least(block: Rings, is_met: Callable[[list[Polygon]], bool], most: int) -> int | None:
    """The fewest additions by breadth-first search over all of them; None where more than `most`."""
    layer: dict[frozenset[tuple[float, ...]], list[Polygon]] = {frozenset(): pieces_of(block)}
    for count in range(most + 1):
        if any(is_met(patches) for patches in layer.values()):
            return count
        if count < most:
            layer = {key | {added}: after for key, patches in layer.items() for added, after in carried(patches)}
    return None


def straight(patches: list[Polygon]) -> bool:
    return is_straight(tuple(patches))


def as_block(patches: list[Polygon]) -> sp.Block:
    return sp.Block.from_polygons([list(patch.exterior.coords)[:-1] for patch in patches])


@cache
def floorplans(side: int, rooms: int) -> tuple[Rings, ...]:
    """Every way to part a square of side × side unit squares into so many oblongs, no line running right across."""
    found: list[list[tuple[int, int, int, int]]] = []

    def place(taken: frozenset[tuple[int, int]], rects: list[tuple[int, int, int, int]]) -> None:
        free = next(((x, y) for y in range(side) for x in range(side) if (x, y) not in taken), None)
        if free is None:
            if len(rects) == rooms:
                found.append(rects)
            return
        if len(rects) == rooms:
            return
        x, y = free
        for right in range(x + 1, side + 1):
            for top in range(y + 1, side + 1):
                cells = {(i, j) for i in range(x, right) for j in range(y, top)}
                if not cells & taken:
                    place(taken | cells, [*rects, (x, y, right, top)])

    place(frozenset(), [])
    plans = [
        [
            [(float(x), float(y)), (float(r), float(y)), (float(r), float(t)), (float(x), float(t))]
            for x, y, r, t in rects
        ]
        for rects in found
    ]
    return tuple(plan for plan in plans if not straight(pieces_of(plan)))


def scattered(seed: int, points: int, *, triangles: bool) -> Rings:
    """A square parted about random points: into triangles between them, or into the places nearest to each."""
    rng = Random(seed)
    inner = [(round(rng.uniform(1, 5), 2), round(rng.uniform(1, 5), 2)) for _ in range(points)]
    square = shapely.box(0, 0, 6, 6)
    if triangles:
        shapes = shapely.delaunay_triangles(shapely.MultiPoint([*inner, (0, 0), (6, 0), (6, 6), (0, 6)])).geoms
        return [list(shape.exterior.coords)[:-1] for shape in shapes]
    cells = shapely.voronoi_polygons(shapely.MultiPoint(inner), extend_to=square).geoms
    return [list(shapely.set_precision(cell.intersection(square), 1e-9).exterior.coords)[:-1] for cell in cells]


def hexagon(x: float, y: float) -> Ring:
    return [(x + math.cos(math.radians(60 * i)), y + math.sin(math.radians(60 * i))) for i in range(6)]


def tumbling() -> Rings:
    """Three diamonds that meet at a wye, in a hexagon."""
    corner = hexagon(0, 0)
    return [[(0.0, 0.0), corner[i], corner[i + 1], corner[(i + 2) % 6]] for i in (0, 2, 4)]


def agree(block: Rings, most: int) -> None:
    mended = repair(sp.Block.from_polygons(block))
    expected = least(block, straight, most)
    if expected is None:
        assert len(mended.additions) > most
    else:
        assert (mended.solved, len(mended.additions), mended.is_least) == (True, expected, True)
    mended.block.check()
    assert sp.plan(mended.block).technique == "straight"


# Source of every count below: computed independently, by breadth-first search over all additions.


@pytest.mark.parametrize("rooms", [5, 6])
def test_floorplans_take_as_few_as_all_additions_tried(rooms: int) -> None:
    plans = floorplans(4, rooms)
    assert len(plans) >= 8
    for plan in Random(rooms).sample(plans, min(len(plans), 12)):
        agree(plan, 2)


@pytest.mark.parametrize("seed", range(6))
def test_triangles_about_random_points_take_as_few_as_all_additions_tried(seed: int) -> None:
    agree(scattered(seed, 2, triangles=True), 3)


@pytest.mark.parametrize("seed", range(6))
def test_places_nearest_to_random_points_take_as_few_as_all_additions_tried(seed: int) -> None:
    agree(scattered(seed, 5, triangles=False), 3)


def test_tumbling_blocks_take_as_few_as_all_additions_tried() -> None:
    agree(tumbling(), 2)


def planned(*, pivots: int | None = None, foundations: int | None = None) -> Callable[[list[Polygon]], bool]:
    def is_met(patches: list[Polygon]) -> bool:
        con = sp.plan(as_block(patches))
        hard = con.pivots + con.partial_seams if pivots is None else max(0, con.pivots - pivots)
        return not hard and (foundations is None or len(con.foundations) <= foundations)

    return is_met


def agree_on(
    block: Rings, most: int, *, pivots: int | None = None, foundations: int | None = None, looks: int = 300
) -> None:
    expected = least(block, planned(pivots=pivots, foundations=foundations), most)
    mended = repair(sp.Block.from_polygons(block), pivots=pivots, foundations=foundations, looks=looks)
    if expected is None:
        assert mended.bound > most
        assert not mended.solved or len(mended.additions) > most
    else:
        assert (mended.solved, len(mended.additions), mended.is_least) == (True, expected, True)


@pytest.mark.parametrize("pivots", [0, 1])
@pytest.mark.parametrize("seed", [0, 2])
@pytest.mark.parametrize("triangles", [True, False])
def test_so_many_pivots_take_as_few_as_all_additions_tried(seed: int, pivots: int, *, triangles: bool) -> None:
    agree_on(scattered(seed, 2 if triangles else 5, triangles=triangles), 2, pivots=pivots)


@pytest.mark.parametrize("foundations", [1, 2])
def test_so_many_foundations_take_as_few_as_all_additions_tried(foundations: int) -> None:
    agree_on(tumbling(), 2, foundations=foundations)
    for plan in Random(foundations).sample(floorplans(4, 6), 2):
        agree_on(plan, 1, foundations=foundations)


def sliced(seed: int, rooms: int) -> Rings:
    """A square parted into rooms by one straight cut after another, no two on one line."""
    rng = Random(seed)
    found = [(0.0, 0.0, 12.0, 12.0)]
    while len(found) < rooms:
        found.sort(key=lambda room: -(room[2] - room[0]) * (room[3] - room[1]) * rng.uniform(0.5, 1))
        a, b, c, d = found.pop(0)
        t = round(rng.uniform(0.3, 0.7), 3)
        if c - a > d - b:
            found += [(a, b, a + (c - a) * t, d), (a + (c - a) * t, b, c, d)]
        else:
            found += [(a, b, c, b + (d - b) * t), (a, b + (d - b) * t, c, d)]
    return [[(a, b), (c, b), (c, d), (a, d)] for a, b, c, d in found]


def columns_with_a_bar() -> Rings:
    """Two columns of strips at different heights above and below a bar that lies right across both."""
    heights = ((0, 1, 2.2), (0, 1.4, 2.2), (3, 4.1, 5.2), (3, 4.4, 5.2))
    strips = [
        (2 * (n % 2), low, 2 * (n % 2) + 2, high)
        for n, (a, b, c) in enumerate(heights)
        for low, high in ((a, b), (b, c))
    ]
    return [[(a, b), (c, b), (c, d), (a, d)] for a, b, c, d in [*strips, (0, 2.2, 4, 3)]]


def test_two_foundations_fewer_by_one_addition() -> None:
    # derived: a seam carried on across the bar makes of four pairs of strips two columns, each one foundation.
    block = sp.Block.from_polygons(columns_with_a_bar())
    assert len(sp.plan(block).foundations) == 4
    mended = repair(block, foundations=2)
    assert (mended.solved, len(mended.additions), mended.is_least) == (True, 1, True)
    assert len(sp.plan(mended.block).foundations) == 2


@pytest.mark.parametrize("fewer", [1, 2])
@pytest.mark.parametrize("seed", range(5))
def test_fewer_foundations_for_sliced_blocks_take_as_few_as_all_additions_tried(seed: int, fewer: int) -> None:
    block = sliced(seed, 9 if seed else 8)
    count = len(sp.plan(sp.Block.from_polygons(block)).foundations)
    if count > fewer:
        agree_on(block, 1 if seed else 2, foundations=count - fewer, looks=25)


def four_patch(x: float = 0.0) -> Rings:
    return [[(x + i, j), (x + i + 1, j), (x + i + 1, j + 1), (x + i, j + 1)] for i in (0, 1) for j in (0, 1)]


@pytest.mark.parametrize(
    ("block", "foundations"),
    # derived: through a crossing, or a wye, passes the join of two papers, whatever is added.
    [(four_patch(), 1), ([*four_patch(), *four_patch(2.0)], 1), (tumbling(), 1)],
)
def test_a_count_that_no_additions_reach_is_told_so_and_none_reaches_it(block: Rings, foundations: int) -> None:
    mended = repair(sp.Block.from_polygons(block), foundations=foundations)
    assert (mended.solved, mended.never) == (False, True)
    assert least(block, planned(foundations=foundations), 2) is None


@pytest.mark.parametrize("seed", range(4))
def test_no_addition_brings_a_block_below_what_is_said_never_to_be_reached(seed: int) -> None:
    for block in (scattered(seed, 2, triangles=True), sliced(seed, 7)):
        said = next(k for k in range(1, 20) if not repair(sp.Block.from_polygons(block), foundations=k, looks=1).never)
        for _, after in carried(pieces_of(block)):
            con = sp.plan(as_block(after))
            assert con.pivots + con.partial_seams or len(con.foundations) >= said


@pytest.mark.parametrize("count", [3, 4, 5])
def test_hexagons_take_as_few_as_all_additions_tried(count: int) -> None:
    cells = [(0, 0), (1, 0), (0, 1), (1, -1), (-1, 1)][:count]
    agree_on([hexagon(1.5 * q, math.sqrt(3) * (r + q / 2)) for q, r in cells], 3)


@pytest.mark.parametrize("seed", range(4))
def test_blocks_with_a_side_turned_inward_take_as_few_as_all_additions_tried(seed: int) -> None:
    """A triangle on the outline is left out: seams end where the outline turns inward, with cloth beyond."""
    shapes = scattered(seed, 3, triangles=True)
    corners = {(0.0, 0.0), (6.0, 0.0), (6.0, 6.0), (0.0, 6.0)}
    ear = next(ring for ring in shapes if len(corners & set(ring)) == 2 and is_one(shapes, ring))
    rest = [ring for ring in shapes if ring is not ear]
    agree_on(rest, 2)
    agree_on(rest, 2, pivots=1)


def is_one(shapes: Rings, left_out: Ring) -> bool:
    rest = shapely.union_all([shapely.Polygon(ring) for ring in shapes if ring is not left_out])
    return bool(rest.geom_type == "Polygon")


LETTERS = {
    "L": ("xxx", "x..", "x.."), "wide L": ("xxxx", "xx..", "xx.."), "U": ("x.x", "x.x", "xxx"),
    "deep U": ("xx.xx", "xx.xx", "xxxxx"), "plus": (".x.", "xxx", ".x."), "S": (".xx", "xx."),
}  # fmt: skip


@cache
def tilings(letter: str, most: int) -> tuple[Rings, ...]:
    """Every way to part a letter of unit squares into so many oblongs or fewer, and bent pieces of three squares."""
    cells = {(x, y) for y, row in enumerate(reversed(LETTERS[letter])) for x, mark in enumerate(row) if mark == "x"}
    ells = [frozenset({(0, 0), (1, 0), (0, 1), (1, 1)} - {gone}) for gone in ((0, 0), (1, 0), (0, 1), (1, 1))]
    oblongs = [frozenset((i, j) for i in range(w) for j in range(h)) for w in range(1, 5) for h in range(1, 4)]
    found: list[Rings] = []

    def place(rest: frozenset[tuple[int, int]], rings: Rings) -> None:
        if not rest:
            found.append(rings)
        elif len(rings) < most:
            x, y = min(rest, key=lambda cell: (cell[1], cell[0]))
            for shape in [*oblongs, *ells]:
                left = min(i for i, j in shape if j == 0)
                put = frozenset((x + i - left, y + j) for i, j in shape)
                if put <= rest:
                    place(rest - put, [*rings, ring_of(put)])

    place(frozenset(cells), [])
    return tuple(found)


def ring_of(cells: frozenset[tuple[int, int]]) -> Ring:
    whole = shapely.union_all([shapely.box(x, y, x + 1, y + 1) for x, y in sorted(cells)]).simplify(0)
    return [(float(x), float(y)) for x, y in whole.exterior.coords[:-1]]


def star(points: int) -> Rings:
    """A star of so many kites about its middle: its outline turns inward between them."""
    ring = [
        (r * math.cos(math.pi * k / points), r * math.sin(math.pi * k / points))
        for k, r in enumerate([2.0, 1.2] * points)
    ]
    return [[(0.0, 0.0), ring[2 * k - 1], ring[2 * k], ring[(2 * k + 1) % (2 * points)]] for k in range(points)]


def at_most_the_truth(block: Rings, most: int, *, pivots: int | None = None, foundations: int | None = None) -> None:
    expected = least(block, planned(pivots=pivots, foundations=foundations), most)
    mended = repair(sp.Block.from_polygons(block), pivots=pivots, foundations=foundations)
    if expected is not None:
        assert mended.bound <= expected
        assert mended.solved
        assert len(mended.additions) == expected or not mended.is_least
    assert not mended.solved or mended.bound <= len(mended.additions)


@pytest.mark.parametrize("letter", sorted(LETTERS))
def test_letters_are_bounded_by_no_more_than_all_additions_tried(letter: str) -> None:
    found = tilings(letter, 5)
    assert len(found) >= 4
    for block in Random(letter).sample(found, min(len(found), 4)):
        at_most_the_truth(block, 2)
        at_most_the_truth(block, 1, pivots=0)
        at_most_the_truth(block, 1, foundations=1)


@pytest.mark.parametrize("points", [4, 5, 6])
def test_stars_are_bounded_by_no_more_than_all_additions_tried(points: int) -> None:
    at_most_the_truth(star(points), 2)
    at_most_the_truth(star(points), 1, pivots=1)
    at_most_the_truth(star(points), 1, foundations=2)


@pytest.mark.parametrize("seed", range(4))
def test_blocks_with_a_corner_missing_take_as_few_as_all_additions_tried(seed: int) -> None:
    """Outlines that turn inward: seams that end on them may have cloth beyond, and must stop dead."""
    plan = Random(seed).choice(floorplans(4, 6))
    corner = next(ring for ring in plan if (0.0, 0.0) in ring)
    agree_on([ring for ring in plan if ring is not corner], 2)

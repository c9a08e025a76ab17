"""Seams that straight cuts alone do not serve: values from outside, and laws."""

from __future__ import annotations

import math
import random
from itertools import pairwise
from typing import TYPE_CHECKING, Final, TypeAlias, get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

import seamproof as sp
from seamproof.geometry import Edge, Outline, Transform
from seamproof.geometry.planar import PlanarMap
from seamproof.planning.hard import hard_seams, plan_hard
from seamproof.planning.stages import Prefer
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.sequence.construction import Method

Ring: TypeAlias = list[tuple[float, float]]

PINWHEEL: Final[list[Ring]] = [
    [(0, 0), (2, 0), (2, 1), (0, 1)],
    [(2, 0), (3, 0), (3, 2), (2, 2)],
    [(1, 2), (3, 2), (3, 3), (1, 3)],
    [(0, 1), (1, 1), (1, 3), (0, 3)],
    [(1, 1), (2, 1), (2, 2), (1, 2)],
]
L_AND_QUARTER: Final[list[Ring]] = [[(0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2)], [(1, 1), (2, 1), (2, 2), (1, 2)]]


def rectangle(x: float, y: float, width: float, height: float) -> Ring:
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def rosette(rings: int) -> list[Ring]:
    """Hexagons round a hexagon, so many rings of them."""
    reach = range(-rings, rings + 1)
    centres = [(math.sqrt(3) * (q + r / 2), 1.5 * r) for q in reach for r in reach if abs(q + r) <= rings]
    turns = [math.radians(30 + 60 * i) for i in range(6)]
    return [[(x + math.cos(t), y + math.sin(t)) for t in turns] for x, y in centres]


def _polar(radius: float, degrees: float) -> tuple[float, float]:
    return (radius * math.cos(math.radians(degrees)), radius * math.sin(math.radians(degrees)))


def eight_pointed_star(*, halved: bool = False) -> list[Ring]:
    """Eight diamonds of 45°, four triangles and four squares (halved: the squares and triangles cut in two)."""
    tip = 2 * math.cos(math.radians(22.5))
    patches: list[Ring] = [[(0, 0), _polar(1, a), _polar(tip, a + 22.5), _polar(1, a + 45)] for a in range(0, 360, 45)]
    for a in range(0, 360, 90):
        wye, before, after = _polar(1, a), _polar(tip, a - 22.5), _polar(tip, a + 22.5)
        middle = ((before[0] + after[0]) / 2, (before[1] + after[1]) / 2)
        patches += [[wye, before, middle], [wye, middle, after]] if halved else [[wye, before, after]]
        wye, before, after = _polar(1, a + 45), _polar(tip, a + 22.5), _polar(tip, a + 67.5)
        corner = _polar(1 + math.sqrt(2), a + 45)
        patches += [[wye, before, corner], [wye, corner, after]] if halved else [[wye, before, corner, after]]
    return patches


def squared_rectangle(width: int, rows: Sequence[Sequence[int]]) -> list[Ring]:
    """Squares placed row by row, each as low and then as far left as it goes (Bouwkamp's rule)."""
    sky = [0] * width
    patches: list[Ring] = []
    for side in (side for row in rows for side in row):
        low = min(sky)
        x = sky.index(low)
        patches.append(rectangle(x, low, side, side))
        for i in range(x, x + side):
            sky[i] += side
    return patches


def floorplans(columns: int, rows: int, rooms: int) -> Iterator[list[Ring]]:
    """Every way to cut a grid into so many rectangles."""

    def fill(free: frozenset[tuple[int, int]], left: int) -> Iterator[list[Ring]]:
        if not free or not left:
            if not free and not left:
                yield []
            return
        y, x = min(free)
        for width in range(1, columns - x + 1):
            if (y, x + width - 1) not in free:
                return
            for height in range(1, rows - y + 1):
                room = {(y + j, x + i) for i in range(width) for j in range(height)}
                for rest in fill(free - room, left - 1):
                    yield [rectangle(x, y, width, height), *rest]

    yield from fill(frozenset((y, x) for x in range(columns) for y in range(rows)), rooms)


def has_crossing(plan: Sequence[Ring]) -> bool:
    """Whether four rooms meet at a point."""
    corners = [corner for room in plan for corner in room]
    return any(corners.count(corner) == 4 for corner in corners)


def kind_of_floorplan(plan: Sequence[Ring]) -> tuple[int, ...]:
    """What two floorplans have in common when tees are only slid along walls: the two orders of their rooms.

    Of any two rooms one lies left of or above the other (over the walls between them, step by step); the order by
    "left of or above" read against the order by "left of or below" is a permutation.
    """
    left, above = _over(plan, 0), _over(plan, 1)
    rooms = range(len(plan))
    first = sorted(rooms, key=lambda a: sum((b, a) in left or (b, a) in above for b in rooms))
    second = sorted(rooms, key=lambda a: sum((b, a) in left or (a, b) in above for b in rooms))
    return tuple(first.index(room) for room in second)


def _over(plan: Sequence[Ring], axis: int) -> set[tuple[int, int]]:
    """Pairs of rooms on either side of a wall across an axis, the lower first, and what follows step by step."""
    low = [min(corner[axis] for corner in room) for room in plan]
    high = [max(corner[axis] for corner in room) for room in plan]
    spans = [(min(c[1 - axis] for c in room), max(c[1 - axis] for c in room)) for room in plan]
    rooms = range(len(plan))
    pairs: set[tuple[int, int]] = set()
    for at in sorted(set(high)):
        sides = [room for room in rooms if at in (low[room], high[room])]
        walls = [{room} for room in sides]
        for a in sides:
            for b in sides:
                if spans[a][0] < spans[b][1] and spans[b][0] < spans[a][1]:
                    one = next(wall for wall in walls if a in wall)
                    two = next(wall for wall in walls if b in wall)
                    if one is not two:
                        walls.remove(two)
                        one |= two
        pairs |= {(a, b) for wall in walls for a in wall for b in wall if high[a] == at == low[b]}
    while more := {(a, d) for a, b in pairs for c, d in pairs if b == c} - pairs:
        pairs |= more
    return pairs


def mapped(polygons: Sequence[Ring]) -> PlanarMap:
    return PlanarMap.of([Outline.of(polygon) for polygon in polygons])


def counted(polygons: Sequence[Ring], prefer: Prefer = "partial") -> tuple[int, int]:
    """(pivots, partial seams), proven least."""
    found = hard_seams(mapped(polygons), prefer=prefer)
    assert found.is_proven
    return found.pivots, found.partial_seams


def drunkards_path() -> sp.Block:
    arc = Edge((1, 0), (0, 1), math.tan(math.pi / 8))
    corner = Outline((Edge((0, 0), (1, 0)), arc, Edge((0, 1), (0, 0))))
    rest = ((1, 0), (2, 0), (2, 2), (0, 2), (0, 1))
    ground = Outline((*(Edge(p, q) for p, q in pairwise(rest)), arc.reversed()))
    return sp.Block("drunkard's path", (sp.Patch("1", corner), sp.Patch("2", ground)))


SQUARED: Final = squared_rectangle(33, [(18, 15), (7, 8), (14, 4), (10, 1), (9,)])


@pytest.mark.parametrize(
    ("polygons", "expected"),
    [
        (PINWHEEL, (0, 1)),  # derived: the four seams round the centre each end on the next, one ring
        (L_AND_QUARTER, (1, 0)),  # derived: one bend
        # the code: C. J. Bouwkamp, On the dissection of rectangles into squares, 1946; the 2 computed independently
        (SQUARED, (0, 2)),
        (rosette(1), (6, 0)),  # derived: six wyes, and no inner junction but these
        (rosette(2), (24, 0)),  # derived: 24 wyes, and no inner junction but these
        (eight_pointed_star(), (8, 0)),  # derived: eight wyes
        (eight_pointed_star(halved=True), (0, 0)),  # derived: wedges, each parted by straight seams
    ],
    ids=["pinwheel", "L and quarter", "squared", "rosette 1", "rosette 2", "star", "star halved"],
)
def test_known_blocks_take_the_known_pivots_and_partial_seams(polygons: list[Ring], expected: tuple[int, int]) -> None:
    assert counted(polygons) == expected


@pytest.mark.parametrize(("polygons", "pivots"), [(PINWHEEL, 1), (SQUARED, 2)])
def test_one_pivot_serves_instead_of_one_partial_seam(polygons: list[Ring], pivots: int) -> None:
    # pinwheel derived: the ring must be broken, and turning at one corner of the centre breaks it
    # squared rectangle computed independently: by the search in test_hard_least, run on it
    assert counted(polygons, prefer="pivot") == (pivots, 0)


@pytest.mark.parametrize("rings", [1, 2, 3])
def test_a_rosette_has_a_pivot_at_each_inner_junction(rings: int) -> None:
    # derived: no two edges are in line at any; patches: OEIS A003215
    pm = mapped(rosette(rings))
    assert pm.count == 3 * rings * (rings + 1) + 1
    inner = [node for node in range(len(pm.nodes)) if not pm.is_boundary(node)]
    found = hard_seams(pm)
    assert sorted(node for seam in found.last_seams for node in seam.pivots) == inner


@pytest.mark.parametrize(("rooms", "kinds", "straight"), [(4, 22, 22), (5, 92, 90), (6, 422, 394)])
def test_every_floorplan_that_straight_seams_cannot_sew_takes_one_partial_seam(
    rooms: int, kinds: int, straight: int
) -> None:
    # kinds: OEIS A001181 (Baxter numbers); straight seams only: OEIS A006318 (Schröder numbers)
    # that one partial seam is enough: computed independently, by the search in test_hard_least
    found = {}
    for columns in range(1, rooms + 1):
        for plan in floorplans(columns, rooms + 1 - columns, rooms):
            if not has_crossing(plan) and (kind := kind_of_floorplan(plan)) not in found:
                found[kind] = counted(plan)
    assert len(found) == kinds
    assert sorted(found.values()) == [(0, 0)] * straight + [(0, 1)] * (kinds - straight)


def test_two_tilings_of_a_grid_of_nine_take_a_partial_seam() -> None:
    # OEIS A116694: 322 tilings of 3 × 3; OEIS A222659: 320 of them by straight cuts
    found = [counted(plan) for rooms in range(1, 10) for plan in floorplans(3, 3, rooms)]
    assert sorted(found) == [(0, 0)] * 320 + [(0, 1)] * 2


def test_pinwheels_side_by_side_take_a_partial_seam_each() -> None:
    # derived: the blocks are joined by straight seams, each ring lies in one of them
    polygons = [[(x + 3 * i, y + 3 * j) for x, y in ring] for i in range(3) for j in range(2) for ring in PINWHEEL]
    assert counted(polygons) == (0, 6)


def test_a_set_of_patches_is_a_block_of_its_own() -> None:
    far = [[(x + 3, y) for x, y in ring] for ring in PINWHEEL]
    pm = mapped([*PINWHEEL, *far])
    found = hard_seams(pm, range(5, 10))
    assert (found.pivots, found.partial_seams) == (0, 1)
    assert all({pm.edges[e].left, pm.edges[e].right} <= set(range(5, 10)) for s in found.last_seams for e in s.edges)


def test_a_seam_that_would_run_into_its_own_unit_stops_dead() -> None:
    # derived: at the inward corner (2, 2) of an L the seam falls towards the right, run on it enters the lower patch
    upper: Ring = [(0, 2.5), (2, 2), (2, 3), (0, 3)]
    lower: Ring = [(0, 0), (3, 0), (3, 2), (2, 2), (0, 2.5)]
    assert counted([upper, lower]) == (1, 0)


def test_a_seam_is_sewn_before_the_one_that_it_would_run_into() -> None:
    # derived: as above, but beyond the corner lies a third patch, which can be joined afterwards
    upper: Ring = [(0, 2.5), (2, 2), (2, 3), (0, 3)]
    lower: Ring = [(0, 0), (2, 0), (2, 2), (0, 2.5)]
    right = rectangle(2, 0, 1, 2)
    assert counted([upper, lower, right]) == (0, 0)


def test_of_two_seams_that_run_into_one_another_the_later_stops_dead() -> None:
    # derived: the third patch is a wedge below (2, 2)–(3, 2); each seam, run on, passes the other into a patch beyond
    upper: Ring = [(0, 2.5), (2, 2), (2, 3), (0, 3)]
    lower: Ring = [(0, 0), (3, 0), (3, 1.6), (2, 2), (0, 2.5)]
    wedge: Ring = [(3, 1.6), (3, 2), (2, 2)]
    assert counted([upper, lower, wedge]) == (1, 0)


@pytest.mark.parametrize("method", ["foundation", "pieced", "hand"])
@pytest.mark.parametrize(
    ("polygons", "technique"),
    [(PINWHEEL, "partial"), (SQUARED, "partial"), (L_AND_QUARTER, "set-in"), (rosette(1), "set-in")],
    ids=["pinwheel", "squared", "L and quarter", "rosette"],
)
def test_the_referee_sews_what_is_planned(polygons: list[Ring], technique: str, method: Method) -> None:
    block = sp.Block.from_polygons(polygons)
    done = sp.plan(block, method)
    sp.replay(block, done)
    if method != "hand":
        assert done.technique == technique
        assert (done.pivots, done.partial_seams) == (done.bounds.pivots, done.bounds.partial_seams) == counted(polygons)


@pytest.mark.parametrize("method", ["foundation", "pieced"])
@pytest.mark.parametrize(("polygons", "pivots"), [(PINWHEEL, 1), (SQUARED, 2)], ids=["pinwheel", "squared"])
def test_the_maker_may_have_pivots_instead_of_partial_seams(polygons: list[Ring], pivots: int, method: Method) -> None:
    block = sp.Block.from_polygons(polygons)
    done = sp.plan(block, method, prefer="pivot")
    sp.replay(block, done)
    assert (done.technique, done.pivots, done.partial_seams, done.bounds.pivots) == ("set-in", pivots, 0, pivots)


def test_an_unknown_preference_is_refused_with_what_is_allowed() -> None:
    with pytest.raises(sp.NotSewable, match="partial, pivot"):
        sp.plan(sp.Block.from_polygons(PINWHEEL), prefer="neither")  # type: ignore[arg-type]


def test_a_drunkards_path_takes_a_curved_seam() -> None:
    block = drunkards_path()
    done = sp.plan(block)
    sp.replay(block, done)
    assert (done.technique, done.pivots, done.partial_seams) == ("curved", 0, 0)
    assert [seam.kind for seam in hard_seams(PlanarMap.of([p.outline for p in block.patches])).last_seams] == ["curved"]


def round_window() -> sp.Block:
    """A disc set into a square of two halves."""
    left, right = Edge((0, 1), (0, -1), 1.0), Edge((0, -1), (0, 1), 1.0)
    west = [Edge(p, q) for p, q in pairwise([(0, 1), (0, 2), (-2, 2), (-2, -2), (0, -2), (0, -1)])]
    east = [Edge(p, q) for p, q in pairwise([(0, -1), (0, -2), (2, -2), (2, 2), (0, 2), (0, 1)])]
    rings = [(left, right), (*west, left.reversed()), (*east, right.reversed())]
    return sp.Block("round window", tuple(sp.Patch(str(i), Outline(ring)) for i, ring in enumerate(rings, 1)))


def test_a_seam_cannot_run_all_the_way_round() -> None:
    # derived: both halves of the circle in one seam would be a closed seam, or one that ends on itself; so one half is
    # sewn first, and the other half of the square is set in over the disc, turning at both ends of the arc
    block = round_window()
    done = sp.plan(block)
    sp.replay(block, done)
    assert (done.pivots, done.partial_seams, done.bounds.pivots) == (2, 0, 2)


@pytest.mark.parametrize(
    "move",
    [Transform.turn(31), Transform.mirror(), Transform.scale(0.37), Transform.shift(1000, -333)],
    ids=["turned", "mirrored", "scaled", "shifted"],
)
@pytest.mark.parametrize("polygons", [PINWHEEL, SQUARED, eight_pointed_star()], ids=["pinwheel", "squared", "star"])
def test_a_move_changes_no_count(polygons: list[Ring], move: Transform) -> None:
    assert counted([[move.point(p) for p in ring] for ring in polygons]) == counted(polygons)


@given(st.integers(0, 10**6))
def test_corners_a_little_off_change_no_count(seed: int) -> None:
    rng = random.Random(seed)
    reach = SAME_POINT / 2 / math.sqrt(2)
    for polygons in (PINWHEEL, SQUARED, eight_pointed_star()):
        moved = [
            [(x + rng.uniform(-reach, reach), y + rng.uniform(-reach, reach)) for x, y in ring] for ring in polygons
        ]
        assert counted(moved) == counted(polygons)


@pytest.mark.parametrize("polygons", [PINWHEEL, SQUARED, eight_pointed_star()], ids=["pinwheel", "squared", "star"])
def test_the_order_of_the_list_changes_no_count(polygons: list[Ring]) -> None:
    assert counted(polygons[::-1]) == counted(polygons[3:] + polygons[:3]) == counted(polygons)


def test_the_same_search_gives_the_same_answer() -> None:
    assert plan_hard(mapped(SQUARED)) == plan_hard(mapped(SQUARED))


@pytest.mark.parametrize("rounds", [0, 1, 2])
def test_a_search_that_ends_early_gives_something_sewable_and_a_bound_below_it(rounds: int) -> None:
    found = hard_seams(mapped(SQUARED), rounds=rounds)
    assert len(found.last_seams) == len(SQUARED) - 1
    assert (found.pivots, found.partial_seams) >= (0, 2) >= (found.least_pivots, found.least_partial_seams)


def test_patches_round_a_hole_are_refused() -> None:
    with pytest.raises(sp.NotSewable, match="hole"):
        hard_seams(mapped(PINWHEEL[:4]))


def test_patches_in_two_parts_are_refused() -> None:
    with pytest.raises(sp.NotSewable, match="hang together"):
        hard_seams(mapped(PINWHEEL), [0, 2])


def test_a_circle_among_four_corners_is_sewn_in_two_halves() -> None:
    """Derived: one pivot would send a seam round the circle to its own side, which no unit without holes has."""
    ring = [(5.0, 3.0), (3.0, 5.0), (1.0, 3.0), (3.0, 1.0)]
    middle = [(6.0, 3.0), (3.0, 6.0), (0.0, 3.0), (3.0, 0.0)]
    corner = [(6.0, 6.0), (0.0, 6.0), (0.0, 0.0), (6.0, 0.0)]
    bulge = math.tan(math.pi / 8)
    outlines = [Outline(tuple(Edge(ring[i], ring[(i + 1) % 4], bulge) for i in range(4)))]
    for i in range(4):
        j = (i + 1) % 4
        sides = pairwise([ring[i], middle[i], corner[i], middle[j], ring[j]])
        outlines.append(Outline((*(Edge(p, q) for p, q in sides), Edge(ring[j], ring[i], -bulge))))
    block = sp.Block("circle", tuple(sp.Patch(str(n), outline) for n, outline in enumerate(outlines, 1)))
    for prefer in get_args(Prefer):
        con = sp.plan(block, prefer=prefer)
        sp.replay(block, con)
        assert (con.pivots, con.partial_seams, con.bounds.pivots) == (2, 0, 2)

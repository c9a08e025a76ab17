"""Repair of blocks with curved sides: arcs carried on along their circles."""

from __future__ import annotations

import math
from itertools import pairwise
from random import Random

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

import seamproof as sp
from seamproof.geometry import Edge, Outline
from seamproof.planning.carrying import carry_between, carry_on_curved
from seamproof.planning.carrying_curved import Onward, crossing, curved_ends, parted
from seamproof.planning.frame import Frame
from seamproof.planning.repair import repair
from seamproof.sheets.repair_svg import repair_sketch

Point = tuple[float, float]


def spokes(ends: list[Point], bulges: list[float], middle: Point = (0.0, 0.0)) -> sp.Block:
    """A square parted by arcs from one point to its sides, which come to them anticlockwise."""
    arcs = [Edge(middle, end, bulge) for end, bulge in zip(ends, bulges, strict=True)]
    patches = []
    for number, (arc, after) in enumerate(zip(arcs, arcs[1:] + arcs[:1], strict=True), 1):
        way = [arc.end, *_corners(arc.end, after.end), after.end]
        outside = [Edge(p, q) for p, q in pairwise(way)]
        patches.append(sp.Patch(str(number), Outline((arc, *outside, after.reversed())), "a"))
    return sp.Block("Spokes", tuple(patches))


def _corners(start: Point, end: Point) -> list[Point]:
    """The corners of the square from (−2, −2) to (2, 2) between two points on it, anticlockwise."""
    a, b = (math.atan2(p[1], p[0]) % math.tau for p in (start, end))
    b += math.tau if b <= a else 0
    angles = [math.pi / 4 + math.pi / 2 * k for k in range(8)]
    return [(math.copysign(2, math.cos(t)), math.copysign(2, math.sin(t))) for t in angles if a < t < b]


THREE: list[Point] = [(2.0, 0.3), (-1.0, 2.0), (-0.6, -2.0)]
FOUR: list[Point] = [(2.0, 0.3), (0.5, 2.0), (-2.0, -0.7), (0.9, -2.0)]


def fewest(block: sp.Block, most: int, *, pivots: int | None = None) -> int | None:
    """The fewest additions, by trying every one of them, breadth first; None where more than `most`."""
    layer = [block]
    for count in range(most + 1):
        for one in layer:
            con = sp.plan(one)
            if max(0, con.pivots - pivots) if pivots is not None else con.pivots + con.partial_seams:
                continue
            return count
        if count < most:
            layer = [after for one in layer for after in every(one)]
    return None


def every(block: sp.Block) -> list[sp.Block]:
    frame = Frame.of(block)
    found = []
    for _, way, patch in curved_ends(frame):
        try:
            found.append(carry_on_curved(block, frame.patches[patch].id, way)[0])
        except ValueError:
            continue
    return found


# Source of the counts: computed independently, by breadth-first search over all additions.
@pytest.mark.parametrize("bulges", [(0.2, 0.2, 0.2), (0.3, -0.2, 0.1), (0.0, 0.25, 0.25), (-0.15, 0.0, 0.0)])
def test_a_wye_of_arcs_is_mended_by_one_arc_carried_on(bulges: tuple[float, ...]) -> None:
    block = spokes(THREE, list(bulges))
    block.check()
    assert sp.plan(block).pivots == 1
    mended = repair(block)
    assert (mended.solved, len(mended.additions), mended.is_least) == (True, fewest(block, 1), True)
    mended.block.check()
    con = sp.plan(mended.block)
    assert (con.pivots, con.partial_seams) == (0, 0)
    sp.replay(mended.block, con)
    assert sum(patch.outline.area for patch in mended.block.patches) == pytest.approx(16)


@pytest.mark.parametrize("pivots", [None, 0, 1])
@pytest.mark.parametrize("seed", range(3))
def test_arcs_take_as_few_as_all_additions_tried(seed: int, pivots: int | None) -> None:
    rng = Random(seed)
    block = spokes(FOUR, [round(rng.uniform(-0.3, 0.3), 3) for _ in range(4)], (0.2, 0.1))
    block.check()
    mended = repair(block, pivots=pivots)
    expected = fewest(block, 2, pivots=pivots)
    if expected is None:
        assert mended.bound > 2
    else:
        assert (mended.solved, len(mended.additions), mended.bound) == (True, expected, expected)


def test_a_recipe_finds_the_arc_that_repair_carried_on() -> None:
    block = spokes(THREE, [0.3, -0.2, 0.1])
    (added,) = repair(block).additions
    assert added.bulge
    near = (added.start[0] + 0.02, added.start[1]), (added.end[0], added.end[1] - 0.02)
    again, found = carry_between(block, added.patch, *near, within=1 / 16)
    assert (again, found) == (repair(block).block, added)


@pytest.mark.parametrize("bulge", [0.0, 0.3])
def test_an_added_seam_is_drawn_from_ring_to_ring(bulge: float) -> None:
    block = spokes(THREE, [bulge, bulge, bulge])
    mended = repair(block)
    sketch = repair_sketch(block, mended, {"a": "#ffffff"})
    (drawn,) = [shape for shape in sketch.shapes if shape.kind == "added"]
    rings = [shape.bounds for shape in sketch.shapes if shape.kind == "added-end"]
    middles = sorted(((x0 + x1) / 2, (y0 + y1) / 2) for x0, y0, x1, y1 in rings)
    (run,) = drawn.runs
    ends = sorted([run[0].start, run[-1].end])
    assert [round(v, 4) for p in ends for v in p] == [round(v, 4) for p in middles for v in p]


def test_an_arc_goes_on_along_its_own_circle() -> None:
    block = spokes(THREE, [0.3, -0.2, 0.1])
    frame = Frame.of(block)
    for node, way, patch in curved_ends(frame):
        stretch = crossing(frame.patches[patch].outline, way)
        assert stretch is not None
        ring = next(
            edge.edge
            for edge in frame.map.edges
            if edge.is_inner and node in {edge.start, edge.end} and _goes_on(edge.edge, way)
        )
        assert (stretch.is_arc, ring.is_arc) == (bool(way.curvature), bool(way.curvature))
        if stretch.is_arc:
            assert math.dist(stretch.centre, ring.centre) < 1e-6
            assert stretch.radius == pytest.approx(ring.radius)


def _goes_on(edge: Edge, way: Onward) -> bool:
    for one in (edge, edge.reversed()):
        if math.dist(one.end, way.start) < 1e-6 and math.dist(one.direction(1), way.toward) < 1e-6:
            return True
    return False


@given(
    st.floats(0, math.tau),
    st.floats(-0.6, 0.6).filter(lambda bend: bend == 0 or abs(bend) > 0.02),
    st.floats(-0.5, 0.5).filter(lambda bulge: abs(bulge) > 0.02),
)
def test_a_crossing_ends_where_it_first_meets_the_outline_again(turn: float, bend: float, bulge: float) -> None:
    # computed independently: the seam as a chain of short chords, cut with the outline's polygon by shapely.
    ring = ((2.0, 0.0), (1.0, 2.0), (-2.0, 1.5), (-1.0, -1.5))
    outline = Outline(
        tuple(Edge(p, q, bulge * (n % 2)) for n, (p, q) in enumerate(zip(ring, ring[1:] + ring[:1], strict=True)))
    )
    start = outline.edges[0].middle
    way = Onward(start, (math.cos(turn), math.sin(turn)), bend)
    stretch = crossing(outline, way)
    shape = shapely.Polygon([p for edge in outline.edges for p in edge.flattened(1e-6)[:-1]])
    if stretch is None:
        near = shapely.Point(start[0] + 0.05 * way.toward[0], start[1] + 0.05 * way.toward[1])
        assert not shape.buffer(-0.02).contains(near)
        return
    inner = shapely.LineString(stretch.flattened(1e-6))
    assert inner.difference(shape.buffer(1e-3)).length < 1e-3
    assert shapely.Point(stretch.end).distance(shape.exterior) < 1e-4
    one, other = parted(outline, stretch)
    assert one.area + other.area == pytest.approx(outline.area)
    middle = shapely.LineString(stretch.part(0.02, 0.98).flattened(1e-6))
    assert not middle.intersects(shape.exterior)

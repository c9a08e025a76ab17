"""Which patches touch, held to counts and to the planar map, which the referee does not use."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.geometry import Edge, Outline, Transform
from seamproof.geometry.planar import PlanarMap
from seamproof.referee.touching import Touching
from seamproof.tolerance import SAME_POINT


def grid(across: int, up: int) -> list[Outline]:
    return [Outline.rectangle(1, 1, (x, y)) for y in range(up) for x in range(across)]


@given(st.integers(1, 5), st.integers(1, 5))
def test_a_grid_touches_along_its_inner_lines_alone(across: int, up: int) -> None:
    # Source: derived: up·(across − 1) upright stretches and across·(up − 1) level ones; corners alone do not count.
    assert len(Touching.of(grid(across, up)).touches) == up * (across - 1) + across * (up - 1)


@given(st.data())
def test_corners_moved_by_half_the_tolerance_touch_as_before(data: st.DataObject) -> None:
    half = st.floats(-SAME_POINT / 3, SAME_POINT / 3)
    moved = [
        Outline.of([(x + data.draw(half), y + data.draw(half)) for x, y in outline.points]) for outline in grid(3, 2)
    ]
    assert len(Touching.of(moved).touches) == 7


def test_a_tee_parts_the_bar_between_its_two_neighbours() -> None:
    found = Touching.of([Outline.rectangle(2, 1, (0, 1)), *grid(2, 1)])
    assert sorted(touch.edge.length for touch in found.touches) == pytest.approx([1, 1, 1])
    assert len({node for touch in found.touches for node in (touch.start, touch.end)}) == 4


def test_patches_that_meet_in_a_point_do_not_touch() -> None:
    assert not Touching.of([Outline.rectangle(1, 1), Outline.rectangle(1, 1, (1, 1))]).touches


def test_patches_a_hundredth_apart_do_not_touch() -> None:
    assert not Touching.of([Outline.rectangle(1, 1), Outline.rectangle(1, 1, (1.01, 0))]).touches


BOW = math.tan(math.pi / 8)
FAN = Outline((Edge((0, 0), (2, 0)), Edge((2, 0), (0, 2), BOW), Edge((0, 2), (0, 0))))


def test_an_arc_touches_the_arc_of_its_own_circle_alone() -> None:
    rest = [Edge((2, 0), (3, 0)), Edge((3, 0), (3, 3)), Edge((3, 3), (0, 3)), Edge((0, 3), (0, 2))]
    found = Touching.of([FAN, Outline((*rest, Edge((0, 2), (2, 0), -BOW)))])
    assert [touch.edge.length for touch in found.touches] == pytest.approx([math.pi])
    assert not Touching.of([FAN, Outline((*rest, Edge((0, 2), (2, 0))))]).touches


def test_a_tee_on_an_arc_parts_it() -> None:
    quarter, half = math.tan(math.pi / 16), (2 * math.cos(math.pi / 4), 2 * math.sin(math.pi / 4))
    low = Outline((Edge((2, 0), (3, 0)), Edge((3, 0), half), Edge(half, (2, 0), -quarter)))
    high = Outline((Edge(half, (0, 3)), Edge((0, 3), (0, 2)), Edge((0, 2), half, -quarter)))
    lengths = [touch.edge.length for touch in Touching.of([FAN, low, high]).touches]
    assert lengths == pytest.approx([math.pi / 2] * 2)


@given(st.integers(2, 6), st.integers(0, 10**6))
def test_the_planar_map_has_the_same_inner_edges(count: int, seed: int) -> None:
    # Source: computed independently (the planar map, which the referee never uses).
    outlines = _sliced(count, seed)
    mine = sorted((*sorted((t.left, t.right)), round(t.edge.length, 6)) for t in Touching.of(outlines).touches)
    pm = PlanarMap.of(outlines)
    theirs = sorted((*sorted((e.left, e.right)), round(e.edge.length, 6)) for e in pm.edges if e.is_inner)
    assert mine == theirs


def _sliced(count: int, seed: int) -> list[Outline]:
    """A square cut through by straight lines, patch by patch."""
    import random

    import shapely
    from shapely.ops import split

    rng = random.Random(seed)
    pieces = [shapely.box(0, 0, 6, 6)]
    while len(pieces) < count:
        piece = pieces.pop(rng.randrange(len(pieces)))
        x, y = piece.centroid.coords[0]
        angle = rng.choice([0, 30, 45, 90, 120]) * math.pi / 180
        dx, dy = 20 * math.cos(angle), 20 * math.sin(angle)
        pieces += split(piece, shapely.LineString([(x - dx, y - dy), (x + dx, y + dy)])).geoms
    return [Outline.of(piece.exterior.coords) for piece in pieces]


def test_arcs_across_one_circle_from_each_other_do_not_touch() -> None:
    # Source: derived: four quarter discs touch along four radii, and each the square's rest about it along its arc.
    quarter = Outline((Edge((0, 0), (2, 0)), Edge((2, 0), (0, 2), math.sqrt(2) - 1), Edge((0, 2), (0, 0))))
    rest = Outline((Edge((2, 0), (3, 0)), Edge((3, 0), (3, 3)), Edge((3, 3), (0, 3)), Edge((0, 3), (0, 2)),
                    Edge((0, 2), (2, 0), 1 - math.sqrt(2))))  # fmt: skip
    turns = [Transform.turn(90 * n) for n in range(4)]
    found = Touching.of([shape.transformed(turn) for turn in turns for shape in (quarter, rest)])
    assert len(found.touches) == 4 + 4 + 4

"""Laws of the planar map."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.errors import GeometryError
from seamproof.geometry import Edge, Outline, Transform
from seamproof.geometry.planar import PlanarMap
from seamproof.tolerance import SAME_POINT

PINWHEEL = [
    [(0, 0), (2, 0), (2, 1), (0, 1)], [(2, 0), (3, 0), (3, 2), (2, 2)], [(1, 2), (3, 2), (3, 3), (1, 3)],
    [(0, 1), (1, 1), (1, 3), (0, 3)], [(1, 1), (2, 1), (2, 2), (1, 2)],
]  # fmt: skip


def bricks(columns: int, rows: int) -> list[Outline]:
    return [Outline.rectangle(1, 1, (i + j % 2 / 2, j)) for j in range(rows) for i in range(columns)]


@given(st.integers(1, 6), st.integers(1, 6))
def test_nodes_less_edges_plus_patches_is_one(columns: int, rows: int) -> None:
    # Source: derived: Euler's formula for a connected plane map, the outer face left out.
    pm = PlanarMap.of(bricks(columns, rows))
    assert len(pm.nodes) - len(pm.edges) + pm.count == 1
    assert pm.holes == 0
    assert len(pm.parts) == 1


@given(st.integers(2, 5), st.integers(2, 5))
def test_a_grid_has_one_run_for_each_inner_line(columns: int, rows: int) -> None:
    pm = PlanarMap.of([Outline.rectangle(1, 1, (i, j)) for i in range(columns) for j in range(rows)])
    assert len(pm.runs) == columns - 1 + rows - 1


@given(st.floats(0, 360), st.integers(0, 2**32))
def test_corners_moved_by_half_the_tolerance_leave_the_map_as_it_is(turn: float, seed: int) -> None:
    rng = random.Random(seed)

    def moved(p: tuple[float, float]) -> tuple[float, float]:
        angle = rng.uniform(0, math.tau)
        return (p[0] + SAME_POINT / 2 * math.cos(angle), p[1] + SAME_POINT / 2 * math.sin(angle))

    rings = [*[Outline.of(points) for points in PINWHEEL]]
    move = Transform.turn(turn)
    still = PlanarMap.of(rings)
    shaken = PlanarMap.of([Outline.of([moved(move.point(p)) for p in ring.points]) for ring in rings])
    assert len(shaken.nodes) == len(still.nodes)
    assert sorted(map(len, shaken.runs)) == sorted(map(len, still.runs))


def test_both_sides_of_every_inner_edge_are_known() -> None:
    pm = PlanarMap.of([Outline.of(points) for points in PINWHEEL])
    sides = {frozenset((edge.left, edge.right)) for edge in pm.edges if edge.is_inner}
    assert sides == {frozenset(pair) for pair in [(0, 1), (1, 2), (2, 3), (3, 0), (4, 0), (4, 1), (4, 2), (4, 3)]}


def test_a_ring_of_patches_has_a_hole() -> None:
    assert PlanarMap.of([Outline.of(points) for points in PINWHEEL[:4]]).holes == 1


def test_patches_that_touch_at_a_point_are_two_parts() -> None:
    assert PlanarMap.of([Outline.rectangle(1, 1), Outline.rectangle(1, 1, (1, 1))]).parts == ((0,), (1,))


def test_the_star_of_a_node_runs_anticlockwise() -> None:
    pm = PlanarMap.of([Outline.rectangle(1, 1, (i, j)) for i in (0, 1) for j in (0, 1)])
    centre = pm.nodes.index((1.0, 1.0))
    turns = [pm.leaving(index, centre).direction(0) for index in pm.star(centre)]
    angles = [math.atan2(y, x) for x, y in turns]
    assert angles == sorted(angles)
    assert len(angles) == 4


def test_two_arcs_of_one_circle_are_in_line() -> None:
    bow = math.tan(math.pi / 16)
    half = math.sqrt(0.5)
    inner = [
        Outline((Edge((0, 0), (1, 0)), Edge((1, 0), (half, half), bow), Edge((half, half), (0, 0)))),
        Outline((Edge((0, 0), (half, half)), Edge((half, half), (0, 1), bow), Edge((0, 1), (0, 0)))),
    ]
    outer = Outline((Edge((1, 0), (2, 0)), Edge((2, 0), (2, 2)), Edge((2, 2), (0, 2)), Edge((0, 2), (0, 1)),
                     Edge((0, 1), (1, 0), -math.tan(math.pi / 8))))  # fmt: skip
    pm = PlanarMap.of([*inner, outer])
    assert sorted(map(len, pm.runs)) == [1, 2]
    assert len(pm.nodes) - len(pm.edges) + pm.count == 1


def test_a_chord_and_its_arc_are_two_edges() -> None:
    lens = Outline((Edge((0, 0), (2, 0), 0.3), Edge((2, 0), (0, 0))))
    above = Outline.rectangle(2, 1)
    below = Outline((Edge((0, -2), (2, -2)), Edge((2, -2), (2, 0)), Edge((2, 0), (0, 0), -0.3), Edge((0, 0), (0, -2))))
    pm = PlanarMap.of([lens, above, below])
    assert sum(edge.is_inner for edge in pm.edges) == 2
    assert pm.holes == 0


def test_the_same_outline_twice_is_refused() -> None:
    with pytest.raises(GeometryError, match="outlines 1 and 2 overlap"):
        PlanarMap.of([Outline.rectangle(1, 1), Outline.rectangle(1, 1)])


def test_a_flattened_circle_does_not_run_in_line() -> None:
    ring = [(math.cos(math.tau * i / 90), math.sin(math.tau * i / 90)) for i in range(90)]
    disc = Outline.of(ring)
    frame = Outline.of([*ring[:46], (-2, 0), (-2, 2), (2, 2), (2, 0)])
    assert max(len(run) for run in PlanarMap.of([disc, frame]).runs) == 1


@given(st.integers(9, 30), st.integers(0, 10_000))
def test_of_many_edges_at_a_node_those_are_in_line_that_stray_least(half: int, seed: int) -> None:
    # Source: computed independently: blades of even number meet tip to tip but for what each is turned.
    rng = random.Random(seed)
    turns = [math.pi * k / half for k in range(half)]
    off = [rng.choice([0.0, 1e-3]) for _ in turns]
    angles = [*turns, *(math.pi + a + o for a, o in zip(turns, off, strict=True))]
    tips = [(15 * math.cos(a), 15 * math.sin(a)) for a in angles]
    blades = [Outline.of([(0.0, 0.0), p, q]) for p, q in zip(tips, tips[1:] + tips[:1], strict=True)]
    pm = PlanarMap.of(blades)
    assert sum(len(run) == 2 for run in pm.runs) == off.count(0.0)

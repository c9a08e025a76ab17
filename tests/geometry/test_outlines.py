"""Laws of edges, outlines, transforms and offsets."""

from __future__ import annotations

import itertools
import math
from typing import Any

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from seamproof.block import Block
from seamproof.errors import GeometryError
from seamproof.geometry import Edge, Outline, Transform
from seamproof.geometry.offsets import offset
from seamproof.geometry.points import cross, distance, sub, unit

COORDINATE = st.floats(-20, 20, allow_nan=False).map(lambda x: round(x, 3))
POINT = st.tuples(COORDINATE, COORDINATE)
BULGE = st.floats(-1.5, 1.5).map(lambda b: round(b, 3))


@st.composite
def convex_outlines(draw: st.DrawFn) -> Outline:
    """Corners on a circle at angles at least 15° apart: convex, no sliver."""
    steps = draw(st.lists(st.integers(1, 6), min_size=3, max_size=10))
    size = draw(st.floats(0.5, 10))
    whole = sum(steps)
    angles = [math.tau * sum(steps[:i]) / whole for i in range(len(steps))]
    return Outline.of([(size * math.cos(a), size * math.sin(a)) for a in angles])


@st.composite
def edges(draw: st.DrawFn) -> Edge:
    start, end = draw(POINT), draw(POINT)
    if distance(start, end) < 0.1:
        end = (start[0] + 1, start[1])
    return Edge(start, end, draw(BULGE))


@given(edges())
def test_every_point_of_an_arc_is_a_radius_from_its_centre(edge: Edge) -> None:
    if edge.is_arc and abs(edge.bulge) > 0.01:
        for t in (0.0, 0.3, 0.5, 1.0):
            assert distance(edge.at(t), edge.centre) == pytest.approx(edge.radius, rel=1e-6)


@given(edges(), st.floats(0.1, 0.9))
def test_two_parts_of_an_edge_are_as_long_as_the_whole(edge: Edge, t: float) -> None:
    assert edge.part(0, t).length + edge.part(t, 1).length == pytest.approx(edge.length)


@given(edges())
def test_an_edge_reversed_has_the_same_middle_and_length(edge: Edge) -> None:
    assert edge.reversed().length == pytest.approx(edge.length)
    assert distance(edge.reversed().middle, edge.middle) < 1e-6


@given(edges())
def test_flattening_keeps_within_half_a_thousandth(edge: Edge) -> None:
    points = edge.flattened()
    if edge.is_arc and abs(edge.bulge) > 0.01:
        sagitta = max(edge.radius - distance(((p[0] + q[0]) / 2, (p[1] + q[1]) / 2), edge.centre)
                      for p, q in itertools.pairwise(points))  # fmt: skip
        assert sagitta <= 5e-4 + 1e-9


def test_a_quarter_circle_is_pi_over_four_of_its_square() -> None:
    # Source: derived: area of a quarter disc of radius 1 is π/4; its bulge is tan(90°/4).
    quarter = Outline((Edge((0, 0), (1, 0)), Edge((1, 0), (0, 1), math.tan(math.pi / 8)), Edge((0, 1), (0, 0))))
    assert quarter.area == pytest.approx(math.pi / 4)
    assert quarter.perimeter == pytest.approx(2 + math.pi / 2)


@given(convex_outlines())
def test_area_agrees_with_an_independent_library(outline: Outline) -> None:
    # Source: computed independently (shapely).
    polygon = shapely.Polygon(outline.polygon)
    assert outline.area == pytest.approx(polygon.area)
    assert outline.perimeter == pytest.approx(polygon.length)
    assert outline.centroid == pytest.approx((polygon.centroid.x, polygon.centroid.y), abs=1e-6)


@given(convex_outlines())
def test_an_outline_given_clockwise_is_turned_round(outline: Outline) -> None:
    assert Outline.of(reversed(outline.points)).area == pytest.approx(outline.area)
    assert outline.is_convex


def test_an_inward_corner_is_not_convex() -> None:
    assert not Outline.of([(0, 0), (2, 0), (2, 2), (1, 0.5)]).is_convex


@given(convex_outlines(), st.floats(0, 360), st.floats(0.5, 3))
def test_turning_keeps_area_and_scaling_squares_it(outline: Outline, turn: float, factor: float) -> None:
    moved = outline.transformed(Transform.turn(turn, (1, 2)).then(Transform.scale(factor)))
    assert moved.area == pytest.approx(outline.area * factor**2)


@given(edges(), POINT)
def test_mirrored_twice_is_itself(edge: Edge, p: tuple[float, float]) -> None:
    mirror = Transform.mirror(p[0])
    assert mirror.edge(mirror.edge(edge)).middle == pytest.approx(edge.middle)
    line = Transform.reflect(p, (p[0] + 1, p[1] + 2))
    assert line.edge(line.edge(edge)).middle == pytest.approx(edge.middle)
    assert line.point(p) == pytest.approx(p)


@given(convex_outlines(), st.sampled_from([1 / 4, 3 / 8, 6 / 25.4]))
def test_an_allowance_adds_the_area_of_its_closed_form(outline: Outline, s: float) -> None:
    # Source: derived: A' = A + P·s + s²·Σ cot(θ/2), each corner's kite being s²·cot(θ/2).
    ring = outline.points
    kites = 0.0
    for p, q, r in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True):
        a, b = unit(sub(p, q)), unit(sub(r, q))
        angle = math.atan2(abs(cross(a, b)), a[0] * b[0] + a[1] * b[1])
        kites += 1 / math.tan(angle / 2)
    assert offset(outline, s).area == pytest.approx(outline.area + outline.perimeter * s + s * s * kites)


@given(convex_outlines(), st.sampled_from([1 / 4, 3 / 8]))
def test_an_allowance_agrees_with_an_independent_library(outline: Outline, s: float) -> None:
    # Source: computed independently (shapely's mitred buffer).
    grown = shapely.Polygon(outline.polygon).buffer(s, join_style="mitre", mitre_limit=1000)
    assert shapely.Polygon(offset(outline, s).polygon).symmetric_difference(grown).area < 1e-6


def test_an_outward_arc_grows_and_an_inward_arc_shrinks_by_the_allowance() -> None:
    bow = math.tan(math.pi / 8)
    disc = Outline(tuple(Edge(p, q, bow) for p, q in [((1, 0), (0, 1)), ((0, 1), (-1, 0)), ((-1, 0), (0, -1)),
                                                      ((0, -1), (1, 0))]))  # fmt: skip
    assert offset(disc, 0.25).area == pytest.approx(math.pi * 1.25**2)
    bite = Outline((Edge((0, 0), (2, 0)), Edge((2, 0), (2, 2)), Edge((2, 2), (1, 2)), Edge((1, 2), (0, 1), -bow),
                    Edge((0, 1), (0, 0))))  # fmt: skip
    assert min(edge.radius for edge in offset(bite, 0.25).edges) == pytest.approx(0.75)


def test_an_inward_arc_no_wider_than_the_allowance_is_refused() -> None:
    bite = Outline((Edge((0, 0), (2, 0)), Edge((2, 0), (2, 2)), Edge((2, 2), (1.2, 2)), Edge((1.2, 2), (1, 2), -1.0),
                    Edge((1, 2), (0, 2)), Edge((0, 2), (0, 0))))  # fmt: skip
    with pytest.raises(GeometryError, match=r"inward arc of radius 0\.100"):
        offset(bite, 0.25)


@pytest.mark.parametrize(
    "points", [[], [(0, 0), (1, 1)], [(0, 0), (1, 0), (math.nan, 1)], [(0, 0), (1, 0), (math.inf, 1)]]
)
def test_what_is_no_outline_is_refused(points: list[tuple[float, float]]) -> None:
    with pytest.raises(GeometryError):
        Outline.of(points)


def test_points_beyond_the_reach_of_the_tolerance_are_refused() -> None:
    with pytest.raises(GeometryError, match="within 10,000,000 in"):
        Outline.rectangle(1e200, 1e200)
    with pytest.raises(GeometryError, match="too large"):
        Edge((0, 0), (3, 0), 1e9)


@pytest.mark.parametrize("bulge", [5e-324, 1e-300, 1e-12])
def test_an_arc_that_does_not_rise_from_its_chord_is_a_line(bulge: float) -> None:
    outline = Outline((Edge((0, 0), (3, 0), bulge), Edge((3, 0), (0, 3)), Edge((0, 3), (0, 0))))
    assert outline.is_straight
    assert outline.area == 4.5


@pytest.mark.parametrize(
    "points", [None, [(0, 0, 0), (1, 0, 0), (1, 1, 0)], ["ab", "cd", "ef"], [0, 1, 2], [(10**400, 0)] * 3]
)
def test_what_are_no_points_are_refused_in_words(points: Any) -> None:
    with pytest.raises(GeometryError, match=r"\(x, y\) points"):
        Outline.of(points)
    with pytest.raises(GeometryError):
        Block.from_polygons([points])
    with pytest.raises(GeometryError):
        Block.from_polygons(None)  # type: ignore[arg-type]

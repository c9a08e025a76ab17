from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof import Block, Edge, GeometryError, Outline, Patch, Transform, plan
from seamproof.cutting import CutPiece, cut_pieces, tight_curves
from seamproof.geometry.offsets import offset
from seamproof.units import MM_PER_INCH, Measure, round_up

Ring = list[tuple[float, float]]
ROOT2 = math.sqrt(2)
ALLOWANCES = [0.25, 0.375, 6 / MM_PER_INCH]
sizes = st.floats(0.5, 14)


def piece(block: Block, patch: str = "1", allowance: float = 0.25) -> CutPiece:
    construction = plan(block, method="pieced")
    assert construction.loose or len(block.patches) == 1
    return next(piece for piece in cut_pieces(block, construction, allowance) if piece.patch == patch)


def alone(ring: Ring, turn: float = 0.0, allowance: float = 0.25) -> CutPiece:
    """The piece of a block of one patch, turned."""
    return piece(Block.from_polygons([ring]).transformed(Transform.turn(turn)), "1", allowance)


def halved(leg: float) -> Block:
    return Block.from_polygons([[(0, 0), (leg, 0), (leg, leg)], [(0, 0), (leg, leg), (0, leg)]])


def quartered(side: float) -> Block:
    corners = [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)]
    middle = (side / 2, side / 2)
    return Block.from_polygons([[p, q, middle] for p, q in zip(corners, corners[1:] + corners[:1], strict=True)])


def regular(count: int, side: float) -> Ring:
    radius = side / 2 / math.sin(math.pi / count)
    return [(radius * math.cos(math.tau * i / count), radius * math.sin(math.tau * i / count)) for i in range(count)]


def diamond(side: float, degrees: float) -> Ring:
    x, y = side * math.cos(math.radians(degrees)), side * math.sin(math.radians(degrees))
    return [(0, 0), (side, 0), (side + x, y), (x, y)]


@given(sizes, sizes, st.sampled_from(ALLOWANCES), st.floats(0, 360))
def test_a_rectangle_is_cut_two_allowances_larger(width: float, height: float, s: float, turn: float) -> None:
    # finished + 2s; the trade says + 1/2. derived
    made = alone([(0, 0), (width, 0), (width, height), (0, height)], turn, s)
    assert sorted(made.sizes) == pytest.approx(sorted((width + 2 * s, height + 2 * s))[: len(made.sizes)], abs=0.001)
    assert made.shape == ("square" if len(made.sizes) == 1 else "rectangle")
    assert not made.bias


@given(sizes, st.sampled_from(ALLOWANCES))
def test_a_square_cut_once_is_the_leg_and_s_times_two_and_root_two(leg: float, s: float) -> None:
    # s(2 + √2): 0.853553 at 1/4 in, 1.2803 at 3/8 in, 20.485 mm at 6 mm. derived
    made = piece(halved(leg), allowance=s)
    assert (made.shape, made.bias) == ("half-square triangle", False)
    assert made.sizes == pytest.approx((leg + s * (2 + ROOT2),))


@given(sizes, st.sampled_from(ALLOWANCES))
def test_a_square_cut_twice_is_the_long_side_and_two_s_times_one_and_root_two(side: float, s: float) -> None:
    # 2s(1 + √2): 1.207107 at 1/4 in, 1.8107 at 3/8 in, 28.971 mm at 6 mm. derived
    made = piece(quartered(side), allowance=s)
    assert (made.shape, made.bias) == ("quarter-square triangle", False)
    assert made.sizes == pytest.approx((side + 2 * s * (1 + ROOT2),))


@pytest.mark.parametrize(
    ("s", "once", "twice"),
    [(0.25, 0.853553, 1.207107), (0.375, 1.2803, 1.8107), (6 / MM_PER_INCH, 20.485 / 25.4, 28.971 / 25.4)],
)
def test_the_constants_scale_with_the_allowance(s: float, once: float, twice: float) -> None:
    # derived; 7/8 in wired in would be wrong at 3/8 in and 6 mm
    assert piece(halved(3), allowance=s).sizes[0] - 3 == pytest.approx(once, abs=0.00005)
    assert piece(quartered(4), allowance=s).sizes[0] - 4 == pytest.approx(twice, abs=0.00005)


def test_trade_figures_are_no_smaller_than_the_exact_sizes() -> None:
    # The trade figures at 1/4 in (+1/2, +7/8, +1 1/4, 2f + 1 3/4, +3/4): common practice, no source
    square = [(0.0, 0.0), (3.0, 0.0), (3.0, 3.0), (0.0, 3.0)]
    triangle = regular(3, 4)
    height = 4 * math.sqrt(3) / 2
    rows = [
        (3 + 1 / 2, alone(square).sizes[0]),
        (3 + 7 / 8, piece(halved(3)).sizes[0]),
        (4 + 5 / 4, piece(quartered(4)).sizes[0]),
        (2 * 3 + 7 / 4, 2 * piece(halved(3)).sizes[0]),
        (height + 3 / 4, alone(triangle).sizes[1]),
        (3 * math.sin(math.radians(60)) + 1 / 2, alone(diamond(3, 60)).sizes[1]),
        (math.sqrt(3) * 2 + 1 / 2, alone(regular(6, 2)).sizes[1]),
    ]
    for trade, exact in rows:
        assert exact <= trade + 1 / 10000
        assert trade - exact < 1 / 16


def test_flying_geese_are_a_square_cut_twice_and_squares_cut_once() -> None:
    # 2h × h: one large square 2h + 1 1/4, small ones h + 7/8 (common practice); exact 2h + 1.207, h + 0.854. derived
    goose = Block.from_polygons([[(0, 0), (4, 0), (2, 2)], [(0, 0), (2, 2), (0, 2)], [(4, 0), (4, 2), (2, 2)]])
    assert piece(goose, "1").sizes == pytest.approx((4 + 1.207107,))
    assert piece(goose, "2").sizes == pytest.approx((2 + 0.853553,))


@given(sizes, st.sampled_from(ALLOWANCES), st.floats(0, 360))
def test_an_equilateral_triangle_is_cut_from_a_strip_of_its_height_and_three_s(a: float, s: float, turn: float) -> None:
    # height + 3s: exact. derived
    made = alone(regular(3, a), turn, s)
    assert made.shape == "equilateral triangle"
    assert made.sizes[1] == pytest.approx(a * math.sqrt(3) / 2 + 3 * s, abs=0.001)


@given(sizes, st.sampled_from([30.0, 45.0, 60.0, 72.0]), st.sampled_from(ALLOWANCES), st.floats(0, 360))
def test_a_diamond_is_cut_from_a_strip_of_a_sin_and_two_s(a: float, degrees: float, s: float, turn: float) -> None:
    # a·sin θ + 2s: exact. derived
    made = alone(diamond(a, degrees), turn, s)
    assert made.shape == "diamond"
    assert made.sizes[1] == pytest.approx(a * math.sin(math.radians(degrees)) + 2 * s, abs=0.001)


@given(sizes, st.sampled_from(ALLOWANCES), st.floats(0, 360))
def test_a_hexagon_is_root_three_a_and_two_s_from_flat_to_flat(a: float, s: float, turn: float) -> None:
    # √3·a + 2s: exact. derived
    made = alone(regular(6, a), turn, s)
    assert made.shape == "hexagon"
    assert made.sizes[1] == pytest.approx(math.sqrt(3) * a + 2 * s, abs=0.001)


@pytest.mark.parametrize(
    ("block", "side", "corner"),
    # rounded up to 1/8 in from the exact size, so rule-then-round may differ by 1/8. derived
    [(6, 9.75, 5.125), (8, 12.625, 6.625), (9, 14, 7.25), (12, 18.25, 9.375)],
)
def test_setting_triangles_of_blocks_on_point(block: float, side: float, corner: float) -> None:
    assert round_up(piece(quartered(block * ROOT2)).sizes[0], Measure.EIGHTHS.step) == side
    assert round_up(piece(halved(block / ROOT2)).sizes[0], Measure.EIGHTHS.step) == corner


@given(sizes, st.floats(0.5, 3), st.floats(0.2, 3))
def test_a_trapezium_is_cut_from_a_strip(base: float, height: float, lean: float) -> None:
    made = alone([(0, 0), (base + 2 * lean, 0), (base + lean, height), (lean / 2, height)])
    assert made.shape == "trapezium"
    assert made.sizes[1] == pytest.approx(height + 0.5)
    assert made.bias


def test_other_shapes_are_cut_by_their_template() -> None:
    kite = alone([(0, 0), (2, -1), (3, 0), (2, 1)])
    assert kite.shape == "template"
    assert kite.sizes[0] * kite.sizes[1] >= kite.cut.area


@given(st.floats(0.5, 6), st.lists(st.floats(0.2, 6), min_size=3, max_size=7), st.sampled_from(ALLOWANCES))
def test_the_law_of_allowances_on_round_polygons(radius: float, gaps: list[float], s: float) -> None:
    # Edge growth s(cot α/2 + cot β/2); area A + P·s + s²·Σ cot(θ/2). derived
    turns, total = [], 0.0
    for gap in gaps:
        turns.append(math.tau * total / sum(gaps))
        total += gap
    finished = Outline.of([(radius * math.cos(t), radius * math.sin(t)) for t in turns])
    heads = [edge.direction(0) for edge in finished.edges]
    angles = [
        math.pi - math.acos(max(-1, min(1, a[0] * b[0] + a[1] * b[1])))
        for a, b in zip(heads[-1:] + heads, heads, strict=False)
    ]
    cots = [1 / math.tan(angle / 2) for angle in angles]
    grown = offset(finished, s)
    area = finished.area + finished.perimeter * s + s * s * sum(cots)
    assert grown.area == pytest.approx(area, rel=0.001)
    for edge, new, a, b in zip(finished.edges, grown.edges, cots, cots[1:] + cots[:1], strict=True):
        assert new.length - edge.length == pytest.approx(s * (a + b), rel=0.001, abs=0.001)


def quarter_circle(radius: float, side: float = 4) -> Block:
    """A quarter of a circle in the corner of a square."""
    arc = Edge((radius, 0), (0, radius), math.tan(math.pi / 8))
    inner = Outline((Edge((0, 0), arc.start), arc, Edge(arc.end, (0, 0))))
    corners = [arc.start, (side, 0.0), (side, side), (0.0, side), arc.end]
    straight = tuple(Edge(p, q) for p, q in pairwise(corners))
    return Block("quarter circle", (Patch("1", inner), Patch("2", Outline((*straight, arc.reversed())))))


def test_a_curve_moves_by_the_allowance_on_either_side() -> None:
    # The convex side is cut on a radius r + s, the concave one on r − s. derived
    for patch, radius in (("1", 3.05), ("2", 2.55)):
        arcs = [edge for edge in piece(quarter_circle(2.8), patch).cut.edges if edge.is_arc]
        assert [arc.radius for arc in arcs] == pytest.approx([radius])


@pytest.mark.parametrize("radius", [0.25, 0.2])
def test_a_curve_of_a_radius_at_or_under_the_allowance_is_refused(radius: float) -> None:
    with pytest.raises(GeometryError, match=r"patch 2.*radius.*allowance"):
        piece(quarter_circle(radius))


def test_a_curve_under_an_inch_is_named_tight() -> None:
    assert [(patch, round(radius, 6)) for patch, radius in tight_curves(quarter_circle(0.75))] == [
        ("1", 0.75),
        ("2", 0.75),
    ]
    assert tight_curves(quarter_circle(1.25)) == ()

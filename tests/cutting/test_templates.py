from __future__ import annotations

import math
from collections import defaultdict
from itertools import pairwise

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from seamproof import Block, Construction, Outline, Transform, plan
from seamproof.cutting import Template, cut_pieces, match_ticks, templates, unfinished
from seamproof.cutting.corners import CornerCut, common_cuts, reach_past
from seamproof.cutting.templates import number_place
from seamproof.cutting.ticks import printed
from seamproof.cutting.units import Units, merged
from seamproof.geometry.points import add, cross, distance, distance_to_segment, dot, left, sub, times, unit
from seamproof.tolerance import SAME_POINT

S = 0.25
NEAR = 10 * SAME_POINT


def leaning(foot: float, head: float) -> Block:
    """A 6 × 3 rectangle parted by one seam from (foot, 0) to (head, 3)."""
    return Block.from_polygons([[(0, 0), (foot, 0), (head, 3), (0, 3)], [(foot, 0), (6, 0), (6, 3), (head, 3)]])


QUARTER: list[list[tuple[float, float]]] = [
    [(0, 0), (2, 0), (2, 1), (0, 1)],
    [(0, 1), (1, 1), (1, 3), (0, 3)],
    [(1, 1), (2, 1), (2, 3), (1, 3)],
    [(2, 0), (3, 0), (3, 3), (2, 3)],
]


def copied(moves: list[Transform]) -> Block:
    """Alike units of two strips, a band below and a band beside, each moved."""
    polygons = [[move.point(p) for p in ring] for move in moves for ring in QUARTER]
    return Block.from_polygons(polygons, [f"strip {n}" for _ in moves for n in range(4)])


def quadrants() -> Block:
    """Four such units, each a quarter turn from the last."""
    return copied([Transform.turn(90 * k, (3, 3)) for k in range(4)])


def row_of_three() -> Block:
    """Three such units in a row: only the middle one is joined on both sides."""
    return copied([Transform.shift(3 * k, 0) for k in range(3)])


def star() -> Block:
    """An eight-pointed star of 45° diamonds in a square of 8."""
    side = 8 / (2 + math.sqrt(2))

    def at(k: int) -> tuple[float, float]:
        return (4 + side * math.cos(math.pi / 4 * k), 4 + side * math.sin(math.pi / 4 * k))

    tips = [sub(add(at(k), at(k + 1)), (4, 4)) for k in range(8)]
    polygons = [[(4.0, 4.0), at(k), tips[k], at(k + 1)] for k in range(8)]
    for k in range(8):
        corner = (8.0 if at(k)[0] > 4 else 0.0, 8.0 if at(k)[1] > 4 else 0.0)
        polygons.append([at(k), tips[k - 1], *([corner] if k % 2 else []), tips[k]])
    return Block.from_polygons(polygons)


def made(block: Block, method: str = "foundation") -> tuple[Construction, dict[str, Template]]:
    construction = plan(block, method=method)  # type: ignore[arg-type]
    return construction, {template.label: template for template in templates(block, construction, S)}


def raw_edge(template: Template, start: tuple[float, float], end: tuple[float, float]) -> list[float]:
    """Where along a seam, from its start, the raw edge on the template's outer side begins and ends."""
    along = unit(sub(end, start))
    found = []
    for edge in template.cut.edges:
        heights = [cross(along, sub(p, start)) for p in (edge.start, edge.end)]
        if all(abs(abs(h) - S) < NEAR for h in heights) and abs(cross(along, edge.direction(0))) < NEAR:
            is_outer = not shapely.Polygon(template.finished.polygon).contains(shapely.Point(edge.middle))
            if is_outer:
                found += [dot(along, sub(p, start)) for p in (edge.start, edge.end)]
    return sorted(found)


@pytest.mark.parametrize(("degrees", "apart"), [(60, 0.289), (45, 0.5)])
def test_raw_corners_lie_two_s_cot_apart(degrees: float, apart: float) -> None:
    # 2s·cot α. derived
    alpha = math.radians(degrees)
    assert reach_past(alpha, S) - reach_past(math.pi - alpha, S) == pytest.approx(apart, abs=0.0005)


@given(st.floats(0.5, 5.5), st.floats(0.5, 5.5))
def test_both_sides_of_a_join_end_at_the_same_places(foot: float, head: float) -> None:
    _, sides = made(leaning(foot, head), "pieced")
    first, second = (raw_edge(sides[label], (foot, 0), (head, 3)) for label in ("1", "2"))
    assert first == pytest.approx(second, abs=NEAR)


@given(st.floats(0.5, 5.5), st.floats(0.5, 5.5))
def test_a_matched_corner_takes_nothing_farther_than_s_from_the_seam(foot: float, head: float) -> None:
    _, sides = made(leaning(foot, head), "pieced")
    for template in sides.values():
        mitred = shapely.Polygon(template.finished.polygon).buffer(S, join_style="mitre", mitre_limit=100)
        taken = mitred.difference(shapely.Polygon(template.cut.polygon).buffer(NEAR))
        along = unit((head - foot, 3))
        for part in getattr(taken, "geoms", [taken]):
            for p in part.exterior.coords:
                assert abs(cross(along, sub(p, (foot, 0)))) <= S + NEAR
        assert template.cut.area <= mitred.area + NEAR


def test_a_paper_printed_for_several_is_cut_only_where_all_are_and_as_little_as_any() -> None:
    here = CornerCut((0, 0), (1, 0), 0.2)
    there = CornerCut((5, 0), (1, 0), 0.3)
    less = CornerCut((0, 0), (1, 0), 0.4)
    assert common_cuts([[here, there], [less]]) == (less,)


def test_corners_of_a_square_join_are_left_alone() -> None:
    _, sides = made(leaning(3, 3), "pieced")
    assert {len(template.cut.edges) for template in sides.values()} == {4}


def test_a_plain_piece_is_cut_as_its_template() -> None:
    block = leaning(2, 4)
    construction, sides = made(block, "pieced")
    assert all(piece.cut == sides[piece.patch].cut for piece in cut_pieces(block, construction, S))


@pytest.mark.parametrize("degrees", [10, 20, 30, 44])
def test_a_tip_stands_no_farther_out_than_a_45_degree_tip(degrees: float) -> None:
    # A 45° tip stands s/sin 22.5° = 2.613·s out. derived
    tip = math.radians(degrees)
    ring = [(0.0, 0.0), (6.0, 0.0), (6 * math.cos(tip), 6 * math.sin(tip))]
    _, sides = made(Block.from_polygons([ring]), "pieced")
    reach = S / math.sin(math.radians(22.5))
    bisector = (math.cos(tip / 2), math.sin(tip / 2))
    assert min(dot(bisector, p) for p in sides["1"].cut.polygon) == pytest.approx(-reach)


def crossings() -> list[Block]:
    return [quadrants(), row_of_three(), star(), leaning(2, 4)]


@pytest.mark.parametrize("block", crossings())
def test_ticks_lie_on_the_sewing_line(block: Block) -> None:
    for method in ("foundation", "pieced"):
        construction, sides = made(block, method)
        for template in sides.values():
            assert bool(template.ticks) == bool(construction.joins)
            for tick in template.ticks:
                ring = template.finished.polygon
                ends = zip(ring, ring[1:] + ring[:1], strict=True)
                assert min(distance_to_segment(tick.place, p, q) for p, q in ends) <= NEAR


@pytest.mark.parametrize("block", crossings())
def test_both_sides_of_every_tick_have_its_letter(block: Block) -> None:
    for method in ("foundation", "pieced"):
        construction, sides = made(block, method)
        units = Units(block, construction)
        moves = {label: (leaf, move) for leaf, rows in printed(units).items() for label, move in rows}
        for tick in match_ticks(units):
            join = construction.join(tick.join)
            for unit_ in (join.first, join.second):
                leaves = {units.leaf_of[patch] for patch in units.patches(unit_)}
                bearers = 0
                for leaf, move in (moves[label] for label in leaves):
                    place = move.point(tick.place)
                    bearers += any(
                        distance(other.place, place) <= NEAR and other.letter == tick.letter
                        for other in sides[leaf].ticks
                    )
                assert bearers


@pytest.mark.parametrize("block", crossings())
def test_ticks_stand_at_both_ends_of_each_join(block: Block) -> None:
    construction, _ = made(block)
    places = defaultdict(list)
    for tick in match_ticks(Units(block, construction)):
        places[tick.join].append(tick.place)
    for join in construction.joins:
        for end in (join.seam[0].start, join.seam[-1].end):
            assert min(distance(end, place) for place in places[join.label]) <= NEAR


def test_a_tick_stands_where_a_seam_of_either_side_meets_a_join() -> None:
    # The bar of a tee that two stems meet from either side, one inch apart. derived
    block = Block.from_polygons([
        [(0, 0), (2, 0), (2, 2), (0, 2)], [(2, 0), (6, 0), (6, 2), (2, 2)],
        [(0, 2), (3, 2), (3, 4), (0, 4)], [(3, 2), (6, 2), (6, 4), (3, 4)],
    ])  # fmt: skip
    construction = plan(block, method="pieced")
    bar = construction.joins[-1].label
    ticks = [tick for tick in match_ticks(Units(block, construction)) if tick.join == bar]
    assert sorted(tick.place[0] for tick in ticks) == pytest.approx([0, 2, 3, 6])
    assert len({tick.letter for tick in ticks}) == 4


def test_letters_of_ticks_are_small_and_from_m_on() -> None:
    _, sides = made(star(), "hand")
    letters = {tick.letter for template in sides.values() for tick in template.ticks}
    assert all(set(letter) <= set("mnpqrstuvwxyz") for letter in letters)


@pytest.mark.parametrize(("block", "labels"), [(quadrants(), "ABCD"), (row_of_three(), "ABC")])
def test_alike_foundations_are_printed_once(block: Block, labels: str) -> None:
    _, sides = made(block)
    assert [template.stands_for for template in sides.values()] == [tuple(labels)]


def test_a_paper_printed_once_bears_the_ticks_of_every_copy() -> None:
    # In a row of three the left one is joined on its right, the right one on its left, so the paper has both. derived
    _, sides = made(row_of_three())
    (template,) = sides.values()
    x0, _, x1, _ = template.finished.bounds
    assert {round(tick.place[0], 6) for tick in template.ticks} == {round(x0, 6), round(x1, 6)}


def test_a_sewing_line_runs_to_the_cut_line_at_the_outline_and_a_quarter_past_at_a_later_seam() -> None:
    # Common practice, no source: sewn to the cut line at the outline, about 1/4 in past a later seam.
    block = Block.from_polygons(
        [[(0, 0), (2, 0), (2, 2), (0, 2)], [(0, 2), (2, 2), (2, 3), (0, 3)], [(2, 0), (4, 0), (4, 3), (2, 3)]]
    )
    _, sides = made(block)
    (template,) = sides.values()
    lines = {line.patch: line for line in template.lines}
    first, last = sorted(template.lines, key=lambda line: line.number)
    assert sorted(p[0] for p in first.printed) == pytest.approx([-S, 2 + 0.25])
    assert sorted(p[1] for p in last.printed) == pytest.approx([-S, 3 + S])
    assert set(lines) == {line.patch for line in (first, last)}
    assert [line.number for line in (first, last)] == [2, 3]


def test_a_sewing_line_stops_where_a_set_in_seam_stops() -> None:
    construction, sides = made(star())
    pivots = [pivot for join in construction.joins for pivot in join.pivots]
    lines = [line for template in sides.values() for line in template.lines]
    ends = [(end, printed_end) for line in lines for end, printed_end in zip(line.seam, line.printed, strict=True)]
    stopped = [distance(*pair) for pair in ends if any(distance(pair[0], pivot) <= NEAR for pivot in pivots)]
    assert stopped
    assert max(stopped) == 0
    assert all(distance(*pair) > 0 for pair in ends if all(distance(pair[0], pivot) > NEAR for pivot in pivots))


def test_the_patch_lies_on_the_left_of_its_sewing_line() -> None:
    block = quadrants()
    _, sides = made(block)
    for template in sides.values():
        for line in template.lines:
            middle = times(add(*line.seam), 0.5)
            outward = left(unit(sub(line.seam[1], line.seam[0])))
            patch = shapely.Polygon(block.patch(line.patch).outline.polygon)
            assert patch.contains(shapely.Point(add(middle, times(outward, 0.05))))


sixty_fourths = st.integers(0, 6 * 64).map(lambda n: n / 64)
hulls = (
    st.lists(st.tuples(sixty_fourths, sixty_fourths), min_size=3, max_size=7)
    .map(lambda points: shapely.convex_hull(shapely.MultiPoint(points)))
    .filter(lambda hull: hull.area > 0.25)
)


@given(hulls)
def test_a_number_stands_inside_its_patch_with_room(hull: shapely.Polygon) -> None:
    place, room = number_place(Outline.of(hull.exterior.coords))
    assert hull.contains(shapely.Point(place))
    assert room == pytest.approx(hull.exterior.distance(shapely.Point(place)))
    assert room >= 0.75 * shapely.maximum_inscribed_circle(hull, tolerance=0.001).length - 0.02


def test_unfinished_sizes_are_the_finished_and_two_allowances() -> None:
    # A 6 in finished block is 6 1/2 in overall: common practice, no source; + 2s. derived
    block = quadrants()
    construction, _ = made(block)
    sizes = unfinished(block, construction, S)
    assert sizes[construction.whole] == pytest.approx((6.5, 6.5))
    for foundation in construction.foundations:
        width, height = sizes[foundation.label]
        outline = Units(block, construction).outline(foundation.label)
        x0, y0, x1, y1 = outline.bounds
        assert (width, height) == pytest.approx((x1 - x0 + 2 * S, y1 - y0 + 2 * S))
    assert set(sizes) == {*"ABCD", *(join.label for join in construction.joins)}


def test_a_unit_is_measured_along_the_seam_by_which_it_is_joined() -> None:
    # Two rows of 2 × 4 of a four-patch, turned by 30°: each row is 2 1/2 × 4 1/2 along its seam. derived
    corners = [(0, 0), (2, 0), (0, 2), (2, 2)]
    block = Block.from_polygons([[(x, y), (x + 2, y), (x + 2, y + 2), (x, y + 2)] for x, y in corners])
    block = block.transformed(Transform.turn(30))
    construction = plan(block, method="pieced")
    sizes = unfinished(block, construction, S)
    rows = [sizes[label] for label in (construction.joins[-1].first, construction.joins[-1].second)]
    assert rows == [pytest.approx((4.5, 2.5)), pytest.approx((4.5, 2.5))]


@given(st.floats(0, 360), st.lists(st.floats(0.1, 0.9), min_size=1, max_size=4))
def test_edges_in_line_become_one(turn: float, cuts: list[float]) -> None:
    move = Transform.turn(turn)
    square = Outline.rectangle(4, 3)
    stops = [0.0, *sorted(set(cuts)), 1.0]
    ring = [square.edges[0].part(a, b) for a, b in pairwise(stops)] + list(square.edges[1:])
    for k in range(len(ring)):
        turned = [move.edge(edge) for edge in ring[k:] + ring[:k]]
        assert len(merged(turned)) == 4

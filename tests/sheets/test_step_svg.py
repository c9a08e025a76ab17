import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.errors import SeamproofError
from seamproof.geometry import Outline
from seamproof.geometry.points import distance_to_segment, height_over, is_inside, ring_area
from seamproof.pattern import Pattern
from seamproof.sheets.clip import inside_box, left_of, segment_in_box, segment_left_of, span_along
from seamproof.sheets.cloth_state import bench, faces_after
from seamproof.sheets.leaders import frame_of
from seamproof.sheets.step_svg import ROOM, SIDE_UP, Position, step_sketch
from seamproof.tolerance import SAME_POINT

LATER: tuple[Position, ...] = ("fold", "lay", "sew", "flip")
POINTS = st.tuples(st.floats(-3, 3), st.floats(-3, 3))


@pytest.mark.parametrize("position", LATER)
def test_a_picture_fits_its_room_and_says_which_side_is_up(lamp: Pattern, position: Position) -> None:
    for patch in ("2", "3", "4", "5", "6"):
        sketch = step_sketch(lamp, "A", patch, position)
        assert sketch.width <= ROOM[0] + SAME_POINT
        assert sketch.height <= ROOM[1] + SAME_POINT
        assert SIDE_UP[position] in sketch.alt
        assert position == "fold" or f"A{patch}" in [label.text for label in sketch.labels]


def test_a_folded_paper_shows_only_the_numbers_that_are_not_covered(lamp: Pattern) -> None:
    assert {label.text for label in step_sketch(lamp, "A", "6", "fold").labels} >= {"A1", "A2", "A3"}
    assert "A3" not in {label.text for label in step_sketch(lamp, "A", "3", "fold").labels}


def test_only_the_printed_side_is_mirrored(lamp: Pattern) -> None:
    for position in LATER:
        assert (step_sketch(lamp, "A", "3", position).place.a < 0) == (SIDE_UP[position] == "printed side up")
    assert step_sketch(lamp, "A", "1", "first").place.a > 0


def test_the_first_patch_has_a_picture_of_its_own(lamp: Pattern) -> None:
    with pytest.raises(SeamproofError, match="first patch"):
        step_sketch(lamp, "A", "2", "first")
    with pytest.raises(SeamproofError, match="first patch"):
        step_sketch(lamp, "A", "1", "sew")


def test_an_unknown_foundation_or_patch_is_refused(lamp: Pattern) -> None:
    with pytest.raises(SeamproofError, match="no template"):
        step_sketch(lamp, "B", "2", "sew")
    with pytest.raises(SeamproofError, match="not on foundation A"):
        step_sketch(lamp, "A", "7", "sew")


def test_the_sewn_line_is_the_template_s_from_end_to_end(lamp: Pattern) -> None:
    sketch = step_sketch(lamp, "A", "4", "sew")
    stitched = next(shape for shape in sketch.shapes if shape.kind == "stitched").runs[0][0]
    printed = next(line for line in lamp.templates[0].lines if line.patch == "4").printed
    assert {stitched.start, stitched.end} == set(map(sketch.place.point, printed))


def test_a_laid_piece_reaches_past_its_line_by_the_allowance_alone(lamp: Pattern) -> None:
    # common practice, no source: the new piece lies over the earlier patches, not over its own area
    for patch in ("2", "3", "4", "5", "6"):
        here = bench(lamp, "A", patch)
        heights = [height_over(corner, *here.seam) for corner in here.piece.laid]
        assert max(heights) == pytest.approx(lamp.recipe.make.allowance)
        assert min(heights) < -max(heights)


def test_earlier_cloth_is_trimmed_past_each_sewn_line(lamp: Pattern) -> None:
    here = bench(lamp, "A", "5")
    for lying in here.trimmed:
        for other in ("2", "3", "4", "5"):
            if other > lying.patch:
                piece = next(piece for piece in lamp.rough if piece.patch == other)
                assert piece.seam is not None
                assert max(height_over(p, *piece.seam) for p in lying.ring) <= piece.trim + SAME_POINT


def test_once_all_is_sewn_each_patch_shows_its_own_fabric(lamp: Pattern) -> None:
    lying = faces_after(lamp, "A", "6")
    for patch, _, at, _ in lamp.templates[0].patches:
        on_top = [piece.patch for piece in lying if is_inside(at, piece.face)][-1]
        assert on_top == patch


def test_no_picture_runs_out_of_its_frame(lamp: Pattern) -> None:
    for position in LATER:
        sketch = step_sketch(lamp, "A", "5", position)
        for shape in sketch.shapes:
            left, top, right, bottom = shape.bounds
            assert min(left, top) >= -0.02
            assert right <= sketch.width + 0.02
            assert bottom <= sketch.height + 0.02


@given(st.tuples(POINTS, POINTS).filter(lambda line: math.dist(*line) > 0.1))
def test_the_two_sides_of_a_line_make_the_whole(line: tuple[tuple[float, float], tuple[float, float]]) -> None:
    p, q = line
    ring = Outline.rectangle(2, 2, (-1, -1)).polygon
    parts = [ring_area(part) for part in (left_of(ring, p, q), left_of(ring, q, p)) if part]
    assert sum(parts) == pytest.approx(4)


def test_a_box_keeps_what_lies_in_it() -> None:
    assert ring_area(inside_box([(-5, 0), (5, 0), (5, 1), (-5, 1)], (-1, -1, 1, 2))) == pytest.approx(2)
    assert inside_box([(5, 5), (6, 5), (6, 6)], (-1, -1, 1, 2)) == ()


def test_a_stretch_is_cut_where_it_crosses_a_line() -> None:
    assert segment_left_of((0, -1), (0, 3), (0, 0), (1, 0)) == ((0, 0), (0, 3))
    assert segment_left_of((0, -1), (0, -3), (0, 0), (1, 0)) is None


def test_a_stretch_in_a_box_is_cut_at_its_sides() -> None:
    assert segment_in_box((-5, 1), (5, 1), (-1, 0, 2, 2)) == ((-1, 1), (2, 1))
    assert segment_in_box((-5, 3), (5, 3), (-1, 0, 2, 2)) is None


def test_labels_of_steps_stay_in_their_pictures(lamp: Pattern) -> None:
    for patch in ("2", "3", "4", "5", "6"):
        for position in LATER:
            sketch = step_sketch(lamp, "A", patch, position)
            for label in sketch.labels:
                left, top, right, bottom = frame_of(label, 0)
                assert min(left, top) >= 0
                assert right <= sketch.width
                assert bottom <= sketch.height


def test_no_name_stands_on_the_arrow(lamp: Pattern) -> None:
    for patch in ("2", "3", "4", "5"):
        sketch = step_sketch(lamp, "A", patch, "flip")
        arrows = [edge for shape in sketch.shapes if shape.kind == "arrow" for run in shape.runs for edge in run]
        points = [point for edge in arrows for point in edge.flattened(0.01)]
        for label in sketch.labels:
            left, top, right, bottom = frame_of(label, 0)
            assert not any(left < x < right and top < y < bottom for x, y in points)


def test_a_parallel_runs_from_side_to_side() -> None:
    ring = Outline.rectangle(4, 2).polygon
    span = span_along(ring, (0, 0), (4, 0), 0.5)
    assert span is not None
    assert max(distance_to_segment(p, (0, 0.5), (4, 0.5)) for p in span) == pytest.approx(0)
    assert span_along(ring, (0, 0), (4, 0), 3) is None

import gc
import re
import weakref
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof import work_out
from seamproof.cutting import MatchTick
from seamproof.cutting.ticks import printed
from seamproof.cutting.units import Units
from seamproof.geometry import Outline
from seamproof.geometry.offsets import offset
from seamproof.geometry.points import distance_to_segment, is_inside
from seamproof.pattern import Pattern
from seamproof.recipe.loading import read_recipe
from seamproof.recipe.writing import new_recipe
from seamproof.sheets.leaders import frame_of, lead_out
from seamproof.sheets.lettering import box_inside, text_height, text_width, upright
from seamproof.sheets.template_svg import template_drawing, template_sketch, template_svg
from seamproof.tolerance import SAME_POINT

SVG = "{http://www.w3.org/2000/svg}"


def test_the_cut_line_is_drawn_at_true_size(lamp: Pattern) -> None:
    for template in lamp.templates:
        left, top, right, bottom = next(
            shape for shape in template_sketch(lamp, template).shapes if shape.kind == "cut-line"
        ).bounds
        x0, y0, x1, y1 = template.cut.bounds
        assert (right - left, bottom - top) == pytest.approx((x1 - x0, y1 - y0), abs=SAME_POINT)


def test_a_foundation_is_mirrored_and_a_loose_patch_is_not(lamp: Pattern) -> None:
    foundation, loose = (template_sketch(lamp, template) for template in lamp.templates)
    assert foundation.place.a < 0
    assert loose.place.a > 0


def test_patch_numbers_stand_in_their_mirrored_patches(lamp: Pattern) -> None:
    template = lamp.templates[0]
    sketch = template_sketch(lamp, template)
    for patch, number, _, _ in template.patches:
        ring = tuple(map(sketch.place.point, lamp.block.patch(patch).outline.polygon))
        label = next(label for label in sketch.labels if label.text.split(" ")[0] == f"A{number}")
        assert is_inside((label.x, label.y), ring)


def test_mirroring_moves_labels_and_never_turns_their_letters(lamp: Pattern) -> None:
    template = lamp.templates[0]
    faces = template_sketch(lamp, template, mirrored=False)
    behind = template_sketch(lamp, template, mirrored=True)
    assert sorted(label.text for label in faces.labels) == sorted(label.text for label in behind.labels)
    assert "scale(-1" not in template_svg(lamp, template)
    assert all(-90 < label.angle <= 90 for label in behind.labels)


def test_the_test_square_is_one_closed_path_of_an_inch(lamp: Pattern) -> None:
    root = ET.fromstring(template_svg(lamp, lamp.templates[0]))
    squares = [path for path in root.iter(SVG + "path") if path.get("id") == "test-square"]
    assert len(squares) == 1
    path = squares[0].get("d") or ""
    assert path.count("M") == 1
    assert path.endswith("Z")
    points = [tuple(map(float, pair)) for pair in re.findall(r"(-?[\d.]+) (-?[\d.]+)", path)]
    xs, ys = zip(*points, strict=True)
    # W3C CSS Values and Units: 1 in = 96 px
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((96, 96), abs=0.002)


def test_nothing_on_a_template_is_filled(lamp: Pattern) -> None:
    for template in lamp.templates:
        assert {shape.ink.fill for shape in template_sketch(lamp, template).shapes} == {None}


def test_cut_line_and_finished_line_differ_without_colour(lamp: Pattern) -> None:
    inks = {shape.kind: shape.ink for shape in template_sketch(lamp, lamp.templates[0]).shapes}
    assert not inks["cut-line"].dash
    assert inks["finished-line"].dash
    assert inks["cut-line"].weight > 1.5 * inks["finished-line"].weight
    assert inks["sewing-line"].weight < inks["cut-line"].weight


def test_a_match_tick_is_lettered_alike_on_both_sides(lamp: Pattern) -> None:
    # common practice, no source
    for template in lamp.templates:
        sketch = template_sketch(lamp, template)
        marks = [shape for shape in sketch.shapes if shape.kind == "match-tick"]
        letters = sorted(label.text for label in sketch.labels if label.text in {"a", "b", "c"} and label.size == 7)
        assert letters == ["a", "b", "c"]
        middles = [
            tuple(round((lo + hi) / 2, 6) for lo, hi in ((box[0], box[2]), (box[1], box[3])))
            for box in (shape.bounds for shape in marks)
        ]
        places = [sketch.place.point(tick.place) for tick in template.ticks]
        assert sorted(middles) == sorted((round(x, 6), round(y, 6)) for x, y in places)


def test_letters_of_ticks_stand_in_the_allowance_and_not_on_one_another(lamp: Pattern) -> None:
    for template in lamp.templates:
        sketch = template_sketch(lamp, template)
        letters = [label for label in sketch.labels if label.text in {"a", "b", "c"} and label.size == 7]
        finished = tuple(map(sketch.place.point, template.finished.polygon))
        cut = tuple(map(sketch.place.point, template.cut.polygon))
        assert all(is_inside((x.x, x.y), cut) and not is_inside((x.x, x.y), finished) for x in letters)
        assert len({(round(label.x, 3), round(label.y, 3)) for label in letters}) == len(letters)


def test_a_tick_in_the_middle_of_a_join_is_lettered_on_its_own_side_of_it(lamp: Pattern) -> None:
    # derived: the upper half of the right side, its tick where the join of both halves is exactly half way
    upper = Outline.rectangle(1, 1.9, (4, 2.0))
    template = replace(
        lamp.templates[1], finished=upper, cut=offset(upper, 0.25), ticks=(MatchTick("q", (4, 2.0), "J1"),), patches=()
    )
    sketch = template_sketch(lamp, template)
    label = next(label for label in sketch.labels if label.text == "q")
    x, y = sketch.place.point((4, 2.0))
    assert label.x < x
    assert label.y < y


def test_a_number_without_room_stands_outside_at_the_end_of_a_leader(lamp: Pattern) -> None:
    template = lamp.templates[0]
    sketch = template_sketch(lamp, template, large=True)
    label = next(label for label in sketch.labels if label.text == "A6 · d")
    cut = tuple(map(sketch.place.point, template.cut.polygon))
    assert not is_inside((label.x, label.y), cut)
    assert [shape.kind for shape in sketch.shapes].count("leader") == 1


def test_every_label_is_within_its_drawing(lamp: Pattern) -> None:
    for template in lamp.templates:
        for large in (False, True):
            drawing = template_drawing(lamp, template, large=large)
            for label in drawing.labels:
                left, top, right, bottom = frame_of(label, 0)
                assert left >= 0
                assert top >= 0
                assert right <= drawing.width
                assert bottom <= drawing.height


@given(st.integers(1, 12), st.floats(0.3, 0.7))
def test_leaders_never_stand_on_one_another(count: int, x: float) -> None:
    outline = Outline.rectangle(1, 3).polygon
    taken: list[tuple[float, float, float, float]] = []
    for i in range(count):
        start = (x, 3 * (i + 0.5) / count)
        at, _ = lead_out(start, outline, "A10 · b", 8, taken)
        half = (text_width("A10 · b", 8) / 2, text_height(8) / 2)
        box = (at[0] - half[0], at[1] - half[1], at[0] + half[0], at[1] + half[1])
        assert not any(box[0] < b[2] and b[0] < box[2] and box[1] < b[3] and b[1] < box[3] for b in taken)
        assert not is_inside(at, outline)
        taken.append(box)


@given(st.floats(-720, 720))
def test_text_is_never_upside_down(angle: float) -> None:
    turned = upright(angle)
    assert -90 < turned <= 90
    assert (turned - angle) / 180 == pytest.approx(round((turned - angle) / 180), abs=1e-6)


def test_a_box_fits_in_a_ring_only_where_its_sides_do_not_cross_it() -> None:
    ring = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 1.0), (0.0, 4.0)]  # derived: a notch from above, down to (2, 1)
    assert box_inside(ring, (2, 0.5), 1.5, 0.4)
    assert not box_inside(ring, (2, 1.2), 1.5, 0.5)


def test_the_template_of_a_twin_bears_the_first_ones_numbers(lamp: Pattern) -> None:
    template = replace(lamp.templates[0], stands_for=("A", "B"))
    assert any(label.text == "A1" for label in template_sketch(lamp, template).labels)


@pytest.mark.parametrize(
    ("slug", "design"),
    [("checks", "sixteen-patch"), ("ladder", "Jacob's ladder"), ("string-diamond", "string diamond")],
)
def test_a_tick_that_only_a_turned_copy_has_stands_square_to_that_copys_seam(slug: str, design: str) -> None:
    # computed independently: every join is carried over with the copy that it belongs to
    pattern = work_out(read_recipe(new_recipe(slug, design).encode()))
    copies = printed(Units(pattern.block, pattern.construction))
    turned = 0
    for template in pattern.templates:
        moves = [move for _, move in copies[template.label]]
        seams = [move.edge(edge) for move in moves for join in pattern.construction.joins for edge in join.seam]
        marks = [shape for shape in template_sketch(pattern, template).shapes if shape.kind == "match-tick"]
        for tick, mark in zip(template.ticks, marks, strict=True):
            x0, y0, x1, y1 = mark.bounds
            here = [seam for seam in seams if distance_to_segment(tick.place, seam.start, seam.end) <= 8 * SAME_POINT]
            heads = [seam.direction(0) for seam in here]
            assert any((x1 - x0, y1 - y0) == pytest.approx((0.16 * abs(v), 0.16 * abs(u)), abs=0.001) for u, v in heads)
            own = pattern.construction.join(tick.join).seam
            turned += all(distance_to_segment(tick.place, edge.start, edge.end) > 0.1 for edge in own)
    assert turned


def test_a_template_is_drawn_once_for_all_that_show_it_and_forgotten_with_its_pattern(lamp: Pattern) -> None:
    mine = replace(lamp)
    foundation, loose = mine.templates
    assert template_sketch(mine, foundation) is template_sketch(mine, foundation, mirrored=True)
    assert template_sketch(mine, foundation, mirrored=False) != template_sketch(mine, foundation)
    assert template_sketch(mine, loose, large=True) != template_sketch(mine, loose)
    shorter = replace(foundation, lines=foundation.lines[:1])
    assert template_sketch(mine, shorter, mirrored=True) != template_sketch(mine, foundation)
    seen = weakref.ref(mine)
    del mine
    gc.collect()
    assert seen() is None

from dataclasses import replace
from pathlib import Path

import pytest

from seamproof import work_out
from seamproof.geometry import Edge, Transform
from seamproof.geometry.points import ring_area
from seamproof.pattern import Pattern
from seamproof.recipe.loading import read_recipe
from seamproof.recipe.writing import new_recipe
from seamproof.sheets.join_svg import ROOM, JoinPosition, join_sketch
from seamproof.sheets.unit_shapes import rings_round, unit_shape
from seamproof.tolerance import SAME_POINT

OYSTER_FAN = Path(__file__).parents[2] / "gallery" / "curves" / "oyster-fan.recipe.toml"


def with_seam(pattern: Pattern, **changes: object) -> Pattern:
    join = replace(pattern.construction.joins[0], **changes)  # type: ignore[arg-type]
    return replace(pattern, construction=replace(pattern.construction, joins=(join,)))


@pytest.mark.parametrize("position", ["beside", "pinned", "pressed"])
def test_a_picture_of_a_join_fits_its_room(lamp: Pattern, position: JoinPosition) -> None:
    sketch = join_sketch(lamp, "J1", position)
    assert sketch.width <= ROOM[0] + SAME_POINT
    assert sketch.height <= ROOM[1] + SAME_POINT
    for shape in sketch.shapes:
        left, top, right, bottom = shape.bounds
        assert min(left, top) >= -SAME_POINT
        assert right <= sketch.width + SAME_POINT
        assert bottom <= sketch.height + SAME_POINT


def test_a_unit_is_its_patches_with_the_allowance_round_them(lamp: Pattern) -> None:
    # derived: 4 by 4 in finished is 4.5 by 4.5 in with 1/4 in on each side
    assert ring_area(unit_shape(lamp, "A").cut) == pytest.approx(4.5**2, rel=1 / 1000)
    assert unit_shape(lamp, "A").area == pytest.approx(16)
    assert ring_area(unit_shape(lamp, "J1").cut) == pytest.approx(5.5 * 4.5, rel=1 / 1000)


def test_cloth_fills_a_unit_to_its_raw_edge(lamp: Pattern) -> None:
    import shapely

    for label in ("A", "7", "J1"):
        shape = unit_shape(lamp, label)
        cloth = shapely.union_all([shapely.Polygon(ring) for _, ring in (*shape.cloth, *shape.patches)])
        assert shapely.Polygon(shape.cut).difference(cloth).area < 16 * SAME_POINT


def test_the_smaller_unit_is_flipped_onto_the_larger(lamp: Pattern) -> None:
    assert join_sketch(lamp, "J1", "pinned").alt.startswith("7 lies face down on A")
    assert "7 is flipped onto A" in join_sketch(lamp, "J1", "beside").alt


def test_a_pin_goes_through_each_match_point_and_is_lettered(lamp: Pattern) -> None:
    sketch = join_sketch(lamp, "J1", "pinned")
    assert [shape.kind for shape in sketch.shapes].count("pin") == 4
    assert {label.text for label in sketch.labels} >= {"m", "n", "p", "q"}


def test_both_units_are_lettered_side_by_side(lamp: Pattern) -> None:
    texts = [label.text for label in join_sketch(lamp, "J1", "beside").labels]
    assert sorted(texts) == sorted([*"7A", *"mmnnppqq"])


def test_pressing_is_told_in_words_too(lamp: Pattern) -> None:
    assert "pressed toward 7" in join_sketch(lamp, "J1", "pressed", toward="first").alt
    assert "pressed toward A" in join_sketch(lamp, "J1", "pressed", toward="second").alt
    assert "pressed open" in join_sketch(lamp, "J1", "pressed", toward="open").alt


def test_a_pivot_is_a_dot_on_both_units(lamp: Pattern) -> None:
    bent = (Edge((4, 4), (4, 1.9)), Edge((4, 1.9), (4.2, 0)))
    pattern = with_seam(lamp, seam=bent, passes=(bent,), kind="set-in", pivots=((4, 1.9),))
    sketch = join_sketch(pattern, "J1", "beside")
    assert [shape.kind for shape in sketch.shapes].count("pivot") == 2


def test_a_seam_that_bends_is_pinned_along_one_stretch_with_a_dot_where_the_needle_stops(lamp: Pattern) -> None:
    bent = (Edge((4, 4), (4, 1.9)), Edge((4, 1.9), (4.2, 0)))
    pattern = with_seam(lamp, seam=bent, passes=(bent,), kind="set-in", pivots=((4, 1.9),))
    sketch = join_sketch(pattern, "J1", "pinned")
    kinds = [shape.kind for shape in sketch.shapes]
    assert (kinds.count("stitched"), kinds.count("sewn-next"), kinds.count("pivot")) == (1, 1, 1)
    assert "At a dot stop" in sketch.alt


def test_a_curve_is_pinned_at_its_middle() -> None:
    pattern = work_out(read_recipe(new_recipe("drunkards-path").encode()))
    label = next(join.label for join in pattern.construction.joins if join.kind == "curved")
    sketch = join_sketch(pattern, label, "pinned")
    assert [shape.kind for shape in sketch.shapes].count("pin") == 1
    assert "middle of the curve" in sketch.alt


@pytest.mark.parametrize(("slug", "design"), [("string-diamond", "string diamond"), ("compass", "compass of eight")])
def test_every_join_has_ticks_though_its_units_are_twins_that_are_not_printed(slug: str, design: str) -> None:
    pattern = work_out(read_recipe(new_recipe(slug, design).encode()))
    for join in pattern.construction.joins:
        sketch = join_sketch(pattern, join.label, "pinned")
        assert [shape.kind for shape in sketch.shapes].count("pin") >= 2


@pytest.mark.parametrize("design", ["lone star", "eight-pointed star"])
def test_a_leaf_is_drawn_with_the_cut_line_of_its_template(design: str) -> None:
    pattern = work_out(read_recipe(new_recipe("eight-pointed-star", design).encode()))
    for template in pattern.templates:
        for label in template.stands_for:
            assert ring_area(unit_shape(pattern, label).cut) == pytest.approx(template.cut.area, abs=SAME_POINT)


def test_a_partial_seam_shows_what_is_left_open(lamp: Pattern) -> None:
    start, rest = (Edge((4, 4), (4, 1.9)),), (Edge((4, 1.9), (4, 0)),)
    kinds = [shape.kind for shape in join_sketch(with_seam(lamp, passes=(start, rest)), "J1", "beside").shapes]
    assert kinds.count("left-open") == 2
    assert kinds.count("stitched") == 2


def test_an_unknown_join_is_a_key_error(lamp: Pattern) -> None:
    with pytest.raises(KeyError):
        join_sketch(lamp, "J9", "beside")


def test_rings_round_patches_lose_the_seams_between_them(lamp: Pattern) -> None:
    rings = rings_round([patch.outline for patch in lamp.block.patches])
    assert len(rings) == 1
    assert ring_area(rings[0]) == pytest.approx(20, rel=1 / 1000)


def test_a_unit_moves_without_changing_its_shape(lamp: Pattern) -> None:
    moved = replace(lamp, block=lamp.block.transformed(Transform.shift(3, -2)))
    assert unit_shape(moved, "A").area == pytest.approx(unit_shape(lamp, "A").area)


def test_letters_on_the_hollow_side_of_a_tight_curve_are_all_written() -> None:
    pattern = work_out(read_recipe(OYSTER_FAN.read_bytes()))
    for join in pattern.construction.joins:
        wanted = {tick.letter for template in pattern.templates for tick in template.ticks if tick.join == join.label}
        written = {label.text for label in join_sketch(pattern, join.label, "beside").labels}
        assert wanted
        assert wanted <= written

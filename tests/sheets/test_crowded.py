"""Letters and numbers in crowded pictures stand clear of one another and of what is drawn."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest

from seamproof import Pattern, load_recipe, work_out
from seamproof.geometry.points import distance
from seamproof.sheets.join_svg import join_sketch
from seamproof.sheets.leaders import frame_of, overlap
from seamproof.sheets.step_svg import step_sketch

GALLERY = Path(__file__).parents[2] / "gallery"


@pytest.fixture(scope="module")
def lane() -> Pattern:
    """A block whose last units meet at nine match points, of two letters each."""
    return work_out(load_recipe(GALLERY / "curves" / "harbour-lane.recipe.toml"))


@pytest.fixture(scope="module")
def lantern() -> Pattern:
    return work_out(load_recipe(GALLERY / "rings" / "storm-lantern.recipe.toml"))


@pytest.mark.parametrize("position", ["beside", "pinned"])
def test_no_letter_of_a_join_stands_on_another(lane: Pattern, position: str) -> None:
    for join in lane.construction.joins:
        sketch = join_sketch(lane, join.label, position)  # type: ignore[arg-type]
        frames = [(label.text, frame_of(label, -0.01)) for label in sketch.labels]
        clash = [(a, b) for (a, one), (b, other) in combinations(frames, 2) if overlap(one, other)]
        assert not clash, join.label
        for _, (left, top, right, bottom) in frames:
            assert min(left, top) >= 0
            assert right <= sketch.width
            assert bottom <= sketch.height


def test_each_letter_is_nearest_to_its_own_tick(lane: Pattern) -> None:
    for label in ("J29", "J30", "J31"):
        sketch = join_sketch(lane, label, "beside")
        ticks = [shape.runs[0][0].middle for shape in sketch.shapes if shape.kind == "match-tick"]
        letters = [label for label in sketch.labels if label.weight == "regular"]
        assert len(ticks) == len(letters)
        for tick, letter in zip(ticks, letters, strict=True):
            at = (letter.x, letter.y)
            assert min(distance(at, other) for other in ticks) == pytest.approx(distance(at, tick))


def test_no_number_stands_under_the_ends_of_the_line_that_is_sewn(lantern: Pattern) -> None:
    (foundation,) = lantern.construction.foundations
    for patch in foundation.order[1:]:
        sketch = step_sketch(lantern, foundation.label, patch, "sew")
        needles = [shape.bounds for shape in sketch.shapes if shape.kind == "needle"]
        small = [frame_of(label, -0.005) for label in sketch.labels if label.weight == "regular"]
        assert len(needles) == 2
        assert not any(overlap(needle, frame) for needle in needles for frame in small), patch


def test_numbers_moved_aside_are_still_there(lantern: Pattern) -> None:
    sketch = step_sketch(lantern, "A", lantern.construction.foundations[0].order[1], "sew")
    assert {"A1", "A2", "A6", "A9"} <= {label.text for label in sketch.labels}

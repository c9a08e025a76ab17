"""The frames of the sewing player are the steps of the construction, and its end is the whole block."""

from __future__ import annotations

from itertools import chain
from pathlib import Path

import pytest

from seamproof import Pattern, load_recipe, work_out
from seamproof.gallery import pictures
from seamproof.gallery.player import frames

GALLERY = Path(__file__).parents[2] / "gallery"
SOME = (
    "rings/storm-lantern",
    "stars/ferrymans-star",
    "grids/five-boathouses",
    "curves/harbour-lane",
    "hexagons/buoy-field",
)


@pytest.fixture(scope="module", params=SOME)
def pattern(request: pytest.FixtureRequest) -> Pattern:
    return work_out(load_recipe(GALLERY / f"{request.param}.recipe.toml"))


def test_every_step_is_a_frame_and_the_finished_block_is_the_last(pattern: Pattern) -> None:
    assert len(frames(pattern)) == len(pattern.construction.steps) + 1


def test_every_patch_is_sewn_once(pattern: Pattern) -> None:
    sewn = list(chain.from_iterable(frame.sewn for frame in frames(pattern)))
    assert sorted(sewn) == sorted(pattern.block.ids)


def test_a_patch_is_sewn_where_its_step_stands(pattern: Pattern) -> None:
    for step, frame in zip(pattern.construction.steps, frames(pattern), strict=False):
        if step.patch is not None:
            assert frame.sewn == (step.patch,)
            assert frame.number == pattern.construction.foundation(step.foundation or "").order.index(step.patch) + 1


def test_every_frame_is_told(pattern: Pattern) -> None:
    assert all(frame.head and frame.text for frame in frames(pattern))


def test_what_a_frame_shows_is_drawn_on_its_sheet(pattern: Pattern) -> None:
    sheets = {template.label: pictures.paper_sketch(pattern, template) for template in pattern.templates
              if template.lines}  # fmt: skip
    sheets["back"] = pictures.back_sketch(pattern)
    kinds = {label: [set(shape.kind.split()) for shape in sketch.shapes] for label, sketch in sheets.items()}
    for frame in frames(pattern)[:-1]:
        assert any(set(frame.shown.split()) <= kind for kind in kinds[frame.sheet]), frame.head


def test_closing_a_partial_seam_shows_where_it_begins_and_ends_and_what_lies_along_it() -> None:
    pattern = work_out(load_recipe(GALLERY / "grids/five-boathouses.recipe.toml"))
    (join,) = (join for join in pattern.construction.joins if len(join.passes) > 1)
    (frame,) = (frame for frame in frames(pattern) if frame.head.endswith("close the partial seam"))
    (left,), (right,) = frame.first, frame.second
    assert f"between {' and '.join(sorted((left, right)))} is still open" in frame.text
    kinds = [set(shape.kind.split()) for shape in pictures.back_sketch(pattern).shapes]
    begun, closed = ({join.label, f"p{number}"} for number in (0, 1))
    assert sum(begun | {"start"} <= kind for kind in kinds) == 1
    assert sum(closed | {"start"} <= kind for kind in kinds) == 1
    assert sum(closed | {"stop"} <= kind for kind in kinds) == 1
    assert sum("stop" in kind for kind in kinds) == 1

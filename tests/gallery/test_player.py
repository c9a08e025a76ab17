"""The frames of the sewing player are the steps of the construction, and its end is the whole block."""

from __future__ import annotations

from itertools import chain
from pathlib import Path

import pytest

from seamproof import Pattern, load_recipe, work_out
from seamproof.gallery import pictures
from seamproof.gallery.card import card_of
from seamproof.gallery.player import frames
from seamproof.geometry.points import height_over
from seamproof.sheets import words_front

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


@pytest.fixture(scope="module")
def laid() -> Pattern:
    """A star in which a finished unit is laid on a foundation."""
    recipe = load_recipe(GALLERY / "stars/frost-on-the-mole.recipe.toml")
    make = recipe.make.model_copy(update={"prepieced": True})
    return work_out(recipe.model_copy(update={"make": make}))


def test_a_laid_unit_is_told_and_shown_from_the_front_and_from_the_printed_side(laid: Pattern) -> None:
    ((unit, paper),) = laid.construction.laid.items()
    (frame,) = (frame for frame in frames(laid) if frame.laid)
    assert frame.head == f"{paper}{frame.number} · unit {unit}, finished"
    assert frame.text.startswith(f"Unit {unit} is laid as if it were one patch; no piece is cut.")
    assert frame.laid == laid.construction.patches_of(unit)
    assert frame.sewn == ()
    template = next(template for template in laid.templates if template.label == frame.sheet)
    shown = [shape for shape in pictures.paper_sketch(laid, template).shapes
             if {"laid", frame.shown} <= set(shape.kind.split())]  # fmt: skip
    letters = {kind for shape in shown for kind in shape.kind.split() if kind.startswith("fabric-")}
    assert letters == {f"fabric-{laid.fabric(patch).letter}" for patch in frame.laid}


def test_a_laid_unit_lies_over_what_is_sewn_before_the_flip_and_on_its_area_after_it(laid: Pattern) -> None:
    ((unit, paper),) = laid.construction.laid.items()
    template = next(template for template in laid.templates if template.label == paper)
    sketch = pictures.paper_sketch(laid, template)
    (line,) = (line for line in template.lines if line.patch == unit)
    (area,) = (part for part in template.laid if part.label == unit)
    p, q = (sketch.place.point(end) for end in line.seam)
    heights = {}
    for kind in ("laid", "under"):
        boxes = [shape.bounds for shape in sketch.shapes if {kind, f"s{area.number}"} <= set(shape.kind.split())]
        x0, y0, x1, y1 = max(boxes, key=lambda box: (box[2] - box[0]) * (box[3] - box[1]))
        heights[kind] = height_over(((x0 + x1) / 2, (y0 + y1) / 2), p, q)
    assert heights["laid"] * heights["under"] < 0
    assert abs(heights["laid"]) == pytest.approx(abs(heights["under"]), rel=0.2)


def test_every_frame_of_a_block_with_laid_units_is_drawn(laid: Pattern) -> None:
    test_what_a_frame_shows_is_drawn_on_its_sheet(laid)
    test_every_patch_is_sewn_once(laid)


def test_cards_and_facts_count_laid_units(laid: Pattern) -> None:
    figures = dict(card_of(laid, "frost", (1, 1)).figures)
    assert figures["Finished units laid on foundations"] == "1"
    assert ("Finished units laid on paper", "1") in words_front.facts(laid)

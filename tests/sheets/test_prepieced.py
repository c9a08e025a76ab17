"""Handouts of blocks in which finished units are laid on papers, and of those to which it is offered."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from seamproof import load_recipe, work_out
from seamproof.cli.facing import check_faces
from seamproof.geometry.points import ring_area
from seamproof.pattern.data import pattern_data
from seamproof.sheets import words_front, words_pressing, words_steps
from seamproof.sheets.cloth_state import bench
from seamproof.sheets.handout import handout_data
from seamproof.sheets.options import HandoutOptions
from seamproof.sheets.step_svg import step_sketch
from seamproof.sheets.template_svg import template_sketch

if TYPE_CHECKING:
    from seamproof.pattern import Pattern

STAR = Path(__file__).parents[2] / "gallery" / "stars" / "frost-on-the-mole.recipe.toml"


@pytest.fixture(scope="module")
def grown() -> Pattern:
    return work_out(load_recipe(str(STAR)))


@pytest.fixture(scope="module")
def plain(grown: Pattern) -> Pattern:
    make = grown.recipe.make.model_copy(update={"prepieced": False})
    return work_out(grown.recipe.model_copy(update={"make": make}))


def test_a_recipe_may_ask_for_units_on_papers(plain: Pattern, grown: Pattern) -> None:
    assert len(grown.construction.foundations) == len(plain.construction.foundations)
    assert len(plain.construction.loose) > 0
    assert grown.construction.loose == ()
    assert grown.ok
    assert {patch for patch, _, _, _ in (row for t in grown.templates for row in t.patches)} <= set(grown.block.ids)


def test_loose_pieces_are_offered_a_paper_in_one_line(plain: Pattern, grown: Pattern) -> None:
    count = len(plain.construction.loose)
    paper = next(iter(grown.construction.laid.values()))
    offer = words_front.offer(plain)
    assert offer.startswith("With prepieced = true in the recipe, ")
    assert f"the {count} loose pieces are sewn on paper {paper}" in offer
    assert words_front.offer(grown) == ""
    assert "prepieced = true" in str(handout_data(plain, HandoutOptions()))


def test_the_step_says_how_the_unit_is_laid(grown: Pattern) -> None:
    (unit, paper) = next(iter(grown.construction.laid.items()))
    number = grown.construction.foundation(paper).order.index(unit) + 1
    words = " ".join(map(str, words_steps.unit_words(grown, paper, unit, number)))
    for told in ("out of the allowance", "right side down", "match points", f"line {number}", "Flip"):
        assert told in words


def test_the_unit_lies_on_the_paper_in_its_own_colours(grown: Pattern) -> None:
    (unit, paper) = next(iter(grown.construction.laid.items()))
    here = bench(grown, paper, unit)
    colours = {grown.fabric(patch).colour for patch in grown.construction.patches_of(unit)}
    assert {lying.colour for lying in here.unit} == colours
    after = next(part for part in grown.construction.foundation(paper).order[here.number :])
    assert unit in {lying.patch for lying in bench(grown, paper, after).earlier}


def test_a_unit_is_pinned_at_its_match_points_its_paper_out_of_the_allowance(grown: Pattern) -> None:
    unit, paper = next(iter(grown.construction.laid.items()))
    here = bench(grown, paper, unit)
    sketch = step_sketch(grown, paper, unit, "lay")
    letters = {tick.letter for tick in here.ticks}
    assert [shape.kind for shape in sketch.shapes].count("pin") == len(here.ticks) >= 3
    assert letters <= {label.text for label in sketch.labels}
    assert sketch.alt.startswith(f"Unit {unit} lies face down over the earlier patches")
    assert all(letter in sketch.alt.split("pinned at")[1] for letter in letters)
    # Behind the unit is its own paper, out to the cut line.
    (own,) = here.papers
    assert ring_area(own) == pytest.approx(next(t for t in grown.templates if t.label == unit).cut.area, rel=1e-6)
    assert sum(shape.kind == "printed-line" for shape in sketch.shapes) == len(here.seams)


def test_a_foundation_that_stays_in_is_not_drawn_taken_out(grown: Pattern) -> None:
    unit, paper = next(iter(grown.construction.laid.items()))
    make = grown.recipe.make.model_copy(update={"foundation": "leave-in"})
    other = replace(grown, recipe=grown.recipe.model_copy(update={"make": make}))
    assert bench(other, paper, unit).papers == ()


def test_points_on_the_line_of_a_laid_unit_are_forecast(grown: Pattern, plain: Pattern) -> None:
    unit = next(iter(grown.construction.laid))
    assert any(point.join == f"+{unit}" for point in grown.forecast.points)
    places = [{point.place for point in pattern.forecast.points} for pattern in (grown, plain)]
    assert places[1] <= places[0]


def test_a_template_shows_the_units_seams_and_label(grown: Pattern) -> None:
    template = next(t for t in grown.templates if t.laid)
    sketch = template_sketch(grown, template)
    assert any(f"unit {template.laid[0].label}" in label.text for label in sketch.labels)
    assert "unit-seam" in sketch.svg


def test_templates_with_units_show_the_face(grown: Pattern) -> None:
    assert check_faces(grown, HandoutOptions()) >= len(grown.construction.foundations)


def test_the_data_name_the_unit(grown: Pattern) -> None:
    data = pattern_data(grown)
    steps = [step for step in data["construction"]["steps"] if step["unit"]]
    assert {step["unit"] for step in steps} == set(grown.construction.laid)
    assert all(step["patch"] is None for step in steps)
    assert {u["label"] for t in data["templates"] for u in t["units"]} == set(grown.construction.laid)
    json.dumps(data)


def told_dark(pattern: Pattern, *dark: str) -> str:
    """What is said where the seams of these patches and units have dark under light."""
    seams = tuple(replace(s, dark=(s.patch or s.unit or s.join) in dark) for s in pattern.pressing.seams)
    other = replace(pattern, pressing=replace(pattern.pressing, seams=seams))
    return " ".join(map(str, words_pressing.dark_words(other) or ()))


def test_a_unit_laid_over_darker_cloth_is_named(grown: Pattern) -> None:
    unit, paper = next(iter(grown.construction.laid.items()))
    patch = next(part for part in grown.construction.foundation(paper).order[1:] if part != unit)
    named = words_steps.named_unit(grown, unit)
    alone, both = told_dark(grown, unit), told_dark(grown, unit, patch)
    assert f"where {named} is laid, a darker allowance lies" in alone
    assert f"where {grown.names[patch]} is sewn on, and where {named} is laid, a darker allowance" in both
    assert words_pressing.dark_words(replace(grown, pressing=replace(grown.pressing, seams=()))) is None


def test_what_is_said_of_pressing_knows_of_laid_units(plain: Pattern, grown: Pattern) -> None:
    assert "or the finished unit laid there" in words_pressing.paper_words(grown)
    assert "laid" not in words_pressing.paper_words(plain)
    assert "the line of a laid unit" in words_pressing.meeting_words(grown)

"""Sizes as a page prints them: in the recipe's own measure, adding up, and with "about" where they are rounded."""

from __future__ import annotations

import io
import re
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

import pdfplumber
import pytest

from seamproof import work_out
from seamproof.recipe.loading import read_recipe
from seamproof.sheets.handout import handout_pdf
from seamproof.sheets.template_svg import template_sketch
from seamproof.sheets.words_front import facts

if TYPE_CHECKING:
    from seamproof.pattern import Pattern

RECIPE = """
title = "Well"
family = "square-in-a-square"
finished = "{}"
[fabrics.amber]
colour = "#d99a2b"
[fabrics.navy]
colour = "#14284b"
[roles]
centre = "amber"
round = "navy"
[make]
{}
"""


@cache
def pattern(finished: str, make: str = "") -> Pattern:
    return work_out(read_recipe(RECIPE.format(finished, make).encode()))


def size(told: str) -> Fraction:
    """The first length of a size, as a reader adds it up."""
    return sum((Fraction(part) for part in re.findall(r"[\d./]+", told.split("×", maxsplit=1)[0])), Fraction(0))


@pytest.mark.parametrize(
    ("finished", "make", "told"),
    [
        ("15 cm", "", ("150 × 150 mm", "162.7 × 162.7 mm", "6.35 mm")),  # derived: 1/4 in is 6.35 mm
        ("15 cm", "allowance = '6 mm'", ("150 × 150 mm", "162 × 162 mm", "6 mm")),
        ("15 cm", "allowance = '7.5 mm'", ("150 × 150 mm", "165 × 165 mm", "7.5 mm")),
        ("6 in", "measure = 'millimetres'", ("152.4 × 152.4 mm", "165.1 × 165.1 mm", "6.35 mm")),
        ("6 in", "", ("6 × 6 in", "6 1/2 × 6 1/2 in", "1/4 in")),
        ("15 cm", "measure = 'eighths'", ("about 5 7/8 × 5 7/8 in", "about 6 3/8 × 6 3/8 in", "1/4 in")),
        ("6 in", "allowance = '6 mm'", ("6 × 6 in", "about 6 1/2 × 6 1/2 in", "about 1/4 in")),
    ],
)
def test_the_front_adds_up_in_the_recipes_own_measure(finished: str, make: str, told: tuple[str, str, str]) -> None:
    found = dict(facts(pattern(finished, make)))
    assert (found["Finished size"], found["Before it is joined"], found["Seam allowance"]) == told
    assert size(told[0]) + 2 * size(told[2]) == size(told[1])


def test_a_metric_handout_says_nothing_in_inches_but_what_the_printer_is_proven_by() -> None:
    with pdfplumber.open(io.BytesIO(handout_pdf(pattern("15 cm")))) as pdf:
        texts = [page.extract_text() for page in pdf.pages]
    words = "\n".join(text for text in texts if "print this page" not in text)
    assert set(re.findall(r"[\d/]+ (?:in|yd)\b(?! any)", words)) == {"1 in"}  # the test square


@pytest.mark.parametrize(("finished", "told"), [("15 cm", "162.7 × 162.7 mm"), ("6 in", "6 1/2 × 6 1/2 in")])
def test_a_template_is_described_in_the_recipes_own_measure(finished: str, told: str) -> None:
    made = pattern(finished)
    assert f"at true size: {told} along the cut line" in template_sketch(made, made.templates[0]).alt

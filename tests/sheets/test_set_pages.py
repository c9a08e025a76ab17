"""Pages as they are set: nothing lies on anything else, sticks out, or is parted that belongs together."""

from __future__ import annotations

import io
import re
from collections import defaultdict
from pathlib import Path
from typing import Any

import pdfplumber
import pytest

from seamproof import load_recipe, work_out
from seamproof.sheets.handout import handout_pdf
from seamproof.sheets.options import HandoutOptions

GALLERY = Path(__file__).parents[2] / "gallery"
LARGE = HandoutOptions(large_print=True)
SETTINGS = {
    "large print, on paper": ("rings/storm-lantern", LARGE),
    "large print, pieced": ("stars/star-over-the-customs-house", LARGE),
    "large print, joined": ("stars/six-oars", LARGE),
    "large print, metric": ("rings/tide-glass", LARGE),
    "print as usual": ("grids/eddy", HandoutOptions()),
}
SIDE = 0.8 * 72
"""[pt] The margin of the text's pages at either side."""


@pytest.fixture(scope="module", params=SETTINGS)
def pages(request: pytest.FixtureRequest) -> list[Any]:
    """Every page but those of templates, which have margins of their own."""
    name, options = SETTINGS[request.param]
    pdf = handout_pdf(work_out(load_recipe(GALLERY / f"{name}.recipe.toml")), options)
    document = pdfplumber.open(io.BytesIO(pdf))
    return [page for page in document.pages if "print this page" not in page.extract_text()[:300]]


def heart(char: dict[str, Any]) -> tuple[float, float, float, float]:
    """The middle of a character, half as high as its size: where ink is, whatever the letter."""
    middle, side = (char["top"] + char["bottom"]) / 2, (char["x1"] - char["x0"]) / 10
    return char["x0"] + side, middle - char["size"] / 4, char["x1"] - side, middle + char["size"] / 4


def is_on(char: dict[str, Any], other: dict[str, Any]) -> bool:
    a, b = heart(char), heart(other)
    across, down = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
    return min(across, down) > 0 and abs(char["bottom"] - other["bottom"]) > 1


def test_no_line_of_text_lies_on_another(pages: list[Any]) -> None:
    for page in pages:
        near: dict[tuple[int, int], list[dict[str, Any]]] = defaultdict(list)
        for char in page.chars:
            if char["text"].strip() and char["upright"]:
                cell = int(char["x0"] // 30), int(char["top"] // 30)
                around = [(cell[0] + i, cell[1] + j) for i in (-1, 0, 1) for j in (-1, 0, 1)]
                under = [other["text"] for one in around for other in near[one] if is_on(char, other)]
                assert not under, f"page {page.page_number}: {char['text']} on {under}"
                near[cell].append(char)


def test_nothing_sticks_out_of_the_texts_width(pages: list[Any]) -> None:
    for page in pages:
        inked = [char for char in page.chars if char["text"].strip()]
        things = [*inked, *page.lines, *page.rects, *page.curves]
        assert min(thing["x0"] for thing in things) >= SIDE - 1, page.page_number
        assert max(thing["x1"] for thing in things) <= page.width - SIDE + 1, page.page_number


def test_no_size_is_parted_between_lines(pages: list[Any]) -> None:
    sizes = 0
    for page in pages:
        chars = [char for char in page.chars if char["upright"]]
        text = "".join(char["text"] for char in chars)
        levels_of = [char["bottom"] for char in chars for _ in char["text"]]
        for found in re.finditer(r"/\d+\s*(in|yd)\b|\d\s*(mm|cm)\b|\d\s*×\s*\d", text):
            levels = levels_of[found.start() : found.end()]
            assert max(levels) - min(levels) < 2, f"page {page.page_number}: {found[0]}"
            sizes += 1
    assert sizes > 20

"""Drawings as they stand inside a page: sized by the page, coloured by its style, with no id of their own."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from seamproof.pages.templating import as_is

if TYPE_CHECKING:
    from markupsafe import Markup

    from seamproof.sheets.sketch import Sketch


def inline(sketch: Sketch, kind: str, *, told: bool = False) -> Markup:
    """A sketch for the inside of a page.

    Args:
        sketch: What is drawn.
        kind: Its class in the page.
        told: Whether a text beside it says all of it; it is then passed by in reading aloud.
    """
    svg = sketch.svg.strip()
    svg = re.sub(r' id="patch-([0-9]+[a-z]?)"', r' data-patch="\1"', svg)
    head, rest = svg.split(">", 1)
    head = re.sub(r' (?:width|height|baseProfile|version|xmlns(?::\w+)?)="[^"]*"', "", head)
    if told:
        head = head.replace(' role="img"', ' aria-hidden="true"')
        rest = re.sub(r"^\s*<title>.*?</title>\s*<desc>.*?</desc>", "", rest, flags=re.DOTALL)
    return as_is(f'{head} class="{kind}" focusable="false">{rest}')


def inside(sketch: Sketch) -> Markup:
    """What a sketch is made of, for the inside of another drawing of the page."""
    svg = re.sub(r' id="patch-[0-9]+[a-z]?"', "", sketch.svg.strip())
    body = svg.split(">", 1)[1].removesuffix("</svg>")
    return as_is(re.sub(r"^\s*<title>.*?</title>\s*<desc>.*?</desc>", "", body, flags=re.DOTALL))

"""The sections of a handout, in the order in which they are read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from seamproof.sheets.block_svg import block_drawing
from seamproof.sheets.handout_nodes import Drawings, Node, draw, heading, para, row, table, title
from seamproof.sheets.words_front import facts, rights, subtitle

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.pattern import Pattern
    from seamproof.sheets.options import HandoutOptions
    from seamproof.sheets.pages import TemplatePage


def body(pattern: Pattern, pages: Sequence[TemplatePage], options: HandoutOptions, drawings: Drawings) -> list[Node]:
    """Everything before the template pages."""
    return [*_front(pattern, options, drawings)]


def _front(pattern: Pattern, options: HandoutOptions, drawings: Drawings) -> list[Node]:
    return [
        title(pattern.recipe.title),
        para(subtitle(pattern), "lead"),
        draw(drawings.add("block", block_drawing(pattern, "cloth", width=3.4, hatched=True, lettered=True))),
    ]

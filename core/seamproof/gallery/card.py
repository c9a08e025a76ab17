"""What the index and the comparison know of a block: its card."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from seamproof.gallery.words import TECHNIQUE
from seamproof.pattern.level import LEVELS
from seamproof.sequence import TECHNIQUES
from seamproof.sheets.gallery_svg import finished_size
from seamproof.sheets.words_say import Say, capital, counted

if TYPE_CHECKING:
    from seamproof.pattern import Pattern
    from seamproof.pattern.level import Figure


@dataclass(frozen=True)
class Card:
    """One block among others.

    Attributes:
        name: The name of its page and of its picture.
        title: What it is called.
        designer: Who drew it, or "".
        family: Its family's slug.
        family_title: Its family's name on pages.
        size: Its longer finished side [in].
        finished: Its finished size in words.
        patches: How many patches.
        foundations: How many foundations.
        technique: The hardest technique, as a place in the order of techniques.
        technique_words: The same in words.
        level: How hard it is, as a place in the order of levels.
        level_words: The same in words.
        shape: The width and height of its picture [px].
        figures: Each figure to compare blocks by: its name and what it comes to.
    """

    name: str
    title: str
    designer: str
    family: str
    family_title: str
    size: float
    finished: str
    patches: int
    foundations: int
    technique: int
    technique_words: str
    level: int
    level_words: str
    shape: tuple[int, int]
    figures: tuple[tuple[str, str], ...]

    @classmethod
    def read(cls, data: dict[str, Any]) -> Card:
        """A card from what JSON has kept of it. Raises TypeError or KeyError where that is no card."""
        shape = (int(data["shape"][0]), int(data["shape"][1]))
        figures = tuple((str(name), str(value)) for name, value in data["figures"])
        return cls(**(data | {"shape": shape, "figures": figures}))


def card_of(pattern: Pattern, name: str, shape: tuple[int, int]) -> Card:
    """The card of a worked-out pattern."""
    recipe, construction = pattern.recipe, pattern.construction
    return Card(
        name=name,
        title=recipe.title,
        designer=recipe.pattern.designer or "",
        family=pattern.family.slug,
        family_title=pattern.family.title,
        size=round(max(pattern.block.size), 3),
        finished=finished_size(pattern),
        patches=len(pattern.block.patches),
        foundations=len(construction.foundations),
        technique=TECHNIQUES.index(construction.technique),
        technique_words=TECHNIQUE[construction.technique],
        level=LEVELS.index(pattern.level.name),
        level_words=pattern.level.name,
        shape=shape,
        figures=_figures(pattern),
    )


def _figures(pattern: Pattern) -> tuple[tuple[str, str], ...]:
    say, construction = Say(pattern), pattern.construction
    copies = pattern.recipe.make.copies
    cloth = sum(need.buy for need in pattern.cloth.needs)
    nested = sum(meeting.nests for meeting in pattern.pressing.meetings)
    meetings = len(pattern.pressing.meetings)
    return (
        ("Family", pattern.family.title),
        ("Finished size", finished_size(pattern)),
        ("Level", pattern.level.name),
        ("Technique", TECHNIQUE[construction.technique]),
        ("Patches", str(len(pattern.block.patches))),
        ("Fabrics", str(len(pattern.legend))),
        ("Foundations", str(len(construction.foundations))),
        ("Finished units laid on foundations", str(len(construction.laid))),
        ("Patches joined plain", str(len(construction.loose))),
        ("Joins", str(len(construction.joins))),
        *((capital(figure.name), figure_words(pattern, figure)) for figure in pattern.level.figures),
        ("Points whose allowances nest", f"{nested} of {meetings}" if meetings else "none to nest"),
        ("Cloth in all", f"{say.cloth(cloth)} for {counted(copies, 'block')}"),
    )


def figure_words(pattern: Pattern, figure: Figure, value: float | None = None) -> str:
    """A figure of the level, or another value of it, with its unit."""
    shown = figure.value if value is None else value
    if figure.unit == "in":
        return Say(pattern).fine_size(shown)
    return f"{shown:.0f}{figure.unit}"

"""The words on template pages."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from seamproof.sheets.handout_nodes import Words, bold
from seamproof.sheets.options import PAPER_NAMES, RULE
from seamproof.sheets.words_say import Say, counted, listed, times

if TYPE_CHECKING:
    from seamproof.pattern import Pattern
    from seamproof.recipe.model import Paper
    from seamproof.sheets.pages import Placed, TemplatePage


def page_title(page: TemplatePage) -> str:
    """The title of a template page: what lies on it and how often it is printed."""
    counts = Counter(item.name for item in page.placed)
    names = [name if count == 1 else f"{name} (× {count})" for name, count in counts.items()]
    kind = "Foundation" if all(item.template.lines for item in page.placed) else "Template"
    return f"{kind}{'s' if len(names) > 1 else ''} {listed(names)}: print this page {times(page.prints)}"


def page_words(pattern: Pattern, page: TemplatePage, paper: Paper) -> Words:
    """Which side is printed, how it is used and how it is printed."""
    words: list[str | dict[str, str]] = []
    behind = [item for item in page.placed if item.template.lines]
    plain = [item for item in page.placed if not item.template.lines]
    if behind:
        which = f" of {_labels(behind)}" if plain else ""
        words += [
            bold(f"This is the printed side{which}, the mirror image of the block. "),
            "Sew on this side; the cloth lies on the other. ",
        ]
    if plain and pattern.construction.method == "hand":
        words += [
            bold("This side lies away from the cloth: it is the mirror image of the block. "),
            "Cut papers on the dashed line, cloth on the solid one. ",
        ]
    elif plain:
        words += [
            bold(f"The right side of the cloth is up on {_labels(plain)}: "),
            "lay it on the right side and cut along the outer line. ",
        ]
    words.append(
        f"Print on {PAPER_NAMES[paper]} at “actual size” (100 %), on one side only. Measure the rules and the square "
        "before you sew. Solid outer line: cut. Dashed line: finished edge."
    )
    if page.stretch != (1.0, 1.0):
        across, down = (RULE / stretch for stretch in page.stretch)
        words.append(
            bold(
                f" Corrected for one printer, whose 6 in rules measured {across:.2f} in across and {down:.2f} in down; "
                "another printer prints it wrong."
            )
        )
    return [*words, *_kinds_of_marks(page)]


def _labels(items: list[Placed]) -> str:
    return listed(list(dict.fromkeys(item.template.label for item in items)))


def _kinds_of_marks(page: TemplatePage) -> list[str]:
    kinds = {shape.kind for item in page.placed for shape in item.sketch.shapes}
    told = {
        "page-join": " Dash-and-dot line: page join.",
        "piece-mark": " Arrowhead: the middle of the piece’s edge.",
        "stop": " Dot: stop sewing here.",
    }
    return [words for kind, words in told.items() if kind in kinds]


def template_caption(pattern: Pattern, item: Placed) -> Words:
    """What stands under a template: its name, its size, for what it is printed."""
    say = Say(pattern)
    x0, y0, x1, y1 = item.template.cut.bounds
    size = say.fine_pair(x1 - x0, y1 - y0)
    twins = item.template.stands_for[1:]
    also = f", also used as {listed(list(twins))}" if twins else ""
    count = len(item.template.stands_for) * pattern.recipe.make.copies
    cut = "" if item.template.lines or count == 1 else f"; {counted(count, 'piece')} in all"
    words: list[str | dict[str, str]] = [bold(item.name), f"{also}: {size} along the cut line{cut}"]
    if item.tile:
        words.append(". " + " ".join(item.tile.joins) if item.tile.joins else "")
    return words

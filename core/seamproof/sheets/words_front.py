"""The words of the front page and of the foot of every page."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from seamproof.sheets.ink import POINT
from seamproof.sheets.words_say import Say, counted, listed, shortened

if TYPE_CHECKING:
    from seamproof.pattern import Pattern
    from seamproof.recipe.model import Front

FOOT_SIZE: Final = 6.8
FOOT_LARGE: Final = 10.0
"""[pt] The letters at the foot of a page, and in large print."""
_LONGEST_FOOT: Final = 420
"""Characters that fit in the foot of a page; beyond that each part is shortened (the front page has it whole)."""
_SHORTENED: Final = 95
_WIDTH_OF_LETTER: Final = 0.52
"""[1] How wide a letter of running text is at the most, as a share of its size."""

_TECHNIQUE: Final = {
    "straight": "straight seams only",
    "curved": "curved seams",
    "partial": "a partial seam",
    "set-in": "set-in seams",
}


def subtitle(pattern: Pattern) -> str:
    """One line under the title: how large it is and how it is sewn."""
    say, construction = Say(pattern), pattern.construction
    width, height = pattern.block.size
    if construction.foundations:
        how = f"sewn on {counted(len(construction.foundations), 'paper foundation')}"
    elif construction.method == "hand":
        how = "sewn by hand over papers"
    else:
        how = "pieced from cut patches"
    return f"A quilt block, {say.fine_pair(width, height)} finished, {how}"


def facts(pattern: Pattern) -> list[tuple[str, str]]:
    """What the block is, in figures."""
    say, construction, make = Say(pattern), pattern.construction, pattern.recipe.make
    width, height = pattern.block.size
    seam = 2 * make.allowance
    found = [
        ("Finished size", say.fine_pair(width, height)),
        ("Before it is joined", say.fine_pair(width + seam, height + seam)),
        ("Seam allowance", say.fine_size(make.allowance)),
        ("Patches", str(len(pattern.block.patches))),
    ]
    if construction.foundations:
        found.append(("Paper foundations", str(len(construction.foundations))))
    if construction.laid:
        found.append(("Finished units laid on paper", str(len(construction.laid))))
    if construction.loose:
        found.append(("Patches joined plain", str(len(construction.loose))))
    found += [("Technique", _TECHNIQUE[construction.technique]), ("This handout makes", counted(make.copies, "block"))]
    return found


def offer(pattern: Pattern) -> str:
    """One line that offers to sew loose pieces on paper; empty where that would change nothing."""
    other = pattern.offered
    if other is None:
        return ""
    saved, papers = len(pattern.construction.loose) - len(other.loose), sorted(set(other.laid.values()))
    pieces = "the loose piece is" if saved == 1 else f"the {saved} loose pieces are"
    return f"With prepieced = true in the recipe, {pieces} sewn on paper {listed(papers)}, after finished units."


def rights(front: Front) -> list[tuple[str, str]]:
    """Who made it and what may be done with it, as far as the recipe says."""
    version = front.version + (f", {front.date}" if front.date else "")
    lines = (
        ("Designed by", front.designer),
        ("Version", version),
        ("Licence", front.licence),
        ("Printing", front.may_print),
        ("Credit", front.credit),
        ("Corrections", front.corrections),
    )
    return [(head, text) for head, text in lines if text]


def footer_lines(pattern: Pattern) -> list[str]:
    """The two lines at the foot of every page."""
    front = pattern.recipe.pattern
    version = f"version {front.version}" + (f", {front.date}" if front.date else "")
    first = [pattern.recipe.title, f"by {front.designer}" if front.designer else "", version]
    named = (("Corrections: ", front.corrections), ("", front.licence), ("", front.may_print), ("", front.credit))
    second = [f"{head}{text}" for head, text in named if text]
    if sum(map(len, [*first, *second])) > _LONGEST_FOOT:
        first, second = [[shortened(part, _SHORTENED) for part in line] for line in (first, second)]
    return [" · ".join(filter(None, line)) for line in (first, second) if any(line)]


def footer_height(pattern: Pattern, width: float, size: float) -> float:
    """How high the foot of a page stands [in] at a width [in] and a size of letters [pt]; rather too high."""
    first, *rest = footer_lines(pattern)
    per_line = width / (_WIDTH_OF_LETTER * size * POINT)
    lines = max(1, math.ceil((len(first) + 20) / per_line)) + sum(math.ceil(len(line) / per_line) for line in rest)
    return lines * 1.62 * size * POINT + 0.04

"""The page of one block."""

from __future__ import annotations

import re
from dataclasses import asdict
from typing import TYPE_CHECKING, Any, Final

from seamproof.gallery import pictures
from seamproof.gallery.card import figure_words
from seamproof.gallery.downloads import packed
from seamproof.gallery.inline import inline, inside
from seamproof.gallery.player import frames
from seamproof.gallery.templating import page
from seamproof.gallery.vision import MATRICES, SIGHTS, TELLABLE, alike, neighbours
from seamproof.gallery.words import JUNCTION, plain
from seamproof.pattern.cut_list import cut_list_parts
from seamproof.pattern.level import LEVELS
from seamproof.recipe.positions import Positions
from seamproof.sheets import words_before, words_cutting, words_front, words_joins, words_pressing
from seamproof.sheets.block_svg import WIDTH, block_sketch
from seamproof.sheets.gallery_svg import finished_size
from seamproof.sheets.ink import BORDER
from seamproof.sheets.svg import UNITS_PER_INCH
from seamproof.sheets.words_say import Say, capital, counted, listed
from seamproof.tones import grey
from seamproof.units import Measure

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.gallery.card import Card
    from seamproof.gallery.downloads import Download
    from seamproof.pattern import Pattern
    from seamproof.proof import Claim

PLATE: Final = 5.0
"""[in] How large the block's own pictures are drawn, at the most."""

_FIXED: Final = {"the handout": ".pdf", "the DXF": ".dxf"}
"""What keeps the recipe's colours, with how its file's name ends."""

_CLAIMS: Final = {
    "tiles": "The patches tile the block",
    "wide-enough": "No patch is too narrow to sew",
    "sews": "It can be sewn as written",
    "covers": "Every piece covers its patch",
    "laid-units": "Every laid unit covers its area",
    "foundations": "No way has fewer foundations",
    "pivots": "No way has fewer pivots",
    "partial-seams": "No way has fewer partial seams",
    "nests": "The allowances nest where they can",
    "fits-the-cloth": "The pieces fit the cloth",
}


def block_page(pattern: Pattern, card: Card, source: str, figures: str, downloads: Sequence[Download]) -> str:
    """The whole page.

    Args:
        pattern: What was worked out.
        card: Its card.
        source: The text of its recipe.
        figures: The text of its pattern.json.
        downloads: What lies beside the page.
    """
    pairs = neighbours(pattern)
    recipe = pattern.recipe
    return page(
        "block.html",
        root="../",
        card=card,
        recipe=recipe,
        subtitle=words_front.subtitle(pattern),
        facts=[*words_front.facts(pattern), ("Level", pattern.level.name)],
        rights=words_front.rights(recipe.pattern),
        plates=_plates(pattern),
        fabrics=_fabrics(pattern),
        sights=list(SIGHTS.items()),
        matrices=MATRICES,
        tellable=TELLABLE,
        pairs=[" and ".join(pair) for pair in pairs],
        alike=_alike(pattern, pairs),
        sewing=_sewing(pattern),
        seams=_seam_map(pattern),
        pressing=_pressing(pattern),
        cutting=_cutting(pattern),
        level=_level(pattern),
        claims=[_claim(claim) for claim in pattern.claims],
        cautions=words_before.cautions(pattern),
        quilt=_quilt(pattern),
        recipe_parts=list(recipe_parts(source, {line.key: line.letter for line in pattern.legend})),
        downloads=downloads,
        fixed=[word for word, end in _FIXED.items() if any(one.address.endswith(end) for one in downloads)],
        colours=[
            {"letter": line.letter, "name": line.name, "colour": line.colour, "value": grey(line.colour)}
            for line in pattern.legend
        ],
        data={
            "name": card.name,
            "title": recipe.title,
            "fabrics": {line.letter: {"name": line.name, "colour": line.colour} for line in pattern.legend},
            "pairs": [list(pair) for pair in pairs],
            "limit": TELLABLE,
            "matrices": {sight: list(matrix) for sight, matrix in MATRICES.items()},
            "sights": dict(SIGHTS),
            "size": [round(side, 4) for side in pattern.block.size],
            "wide": WIDTH,
            "cutList": list(cut_list_parts(pattern)),
            "figures": packed(figures),
            "millimetres": recipe.make.measure is Measure.MILLIMETRES,
        },
    )


def _plates(pattern: Pattern) -> dict[str, Any]:
    width, height = pattern.block.size
    wide = PLATE * min(1.0, width / height)
    return {
        "cloth": inline(block_sketch(pattern, "cloth", width=wide), "block cloth"),
        "line": inline(block_sketch(pattern, "line", width=wide), "block line lines"),
        "values": inline(block_sketch(pattern, "values", width=wide), "block values"),
    }


def _fabrics(pattern: Pattern) -> list[dict[str, str]]:
    say = Say(pattern)
    needs = {need.fabric: need for need in pattern.cloth.needs}
    return [
        {
            "letter": line.letter,
            "name": line.name,
            "colour": line.colour,
            "roles": ", ".join(line.roles),
            "buy": say.cloth(needs[line.key].buy) if line.key in needs else "",
        }
        for line in pattern.legend
    ]


def _alike(pattern: Pattern, pairs: tuple[tuple[str, str], ...]) -> list[dict[str, str]]:
    names = {line.letter: f"{line.letter} {line.name}" for line in pattern.legend}
    found: dict[tuple[str, str], list[str]] = {}
    for one in alike(pattern, pairs):
        found.setdefault((one.first, one.second), []).append(f"{SIGHTS[one.sight]} ({one.difference:.1f})")
    return [
        {"first": names[pair[0]], "second": names[pair[1]], "sights": listed(sights)} for pair, sights in found.items()
    ]


def _sewing(pattern: Pattern) -> dict[str, Any]:
    every = frames(pattern)
    sheets = {frame.sheet for frame in every}
    papers = [
        {
            "label": template.label,
            "also": listed(list(template.stands_for[1:])),
            "svg": inline(pictures.paper_sketch(pattern, template), "sheet paper-sheet", told=True),
        }
        for template in pattern.templates
        if template.label in sheets
    ]
    back = inline(pictures.back_sketch(pattern), "sheet back-sheet", told=True) if "back" in sheets else None
    wide = PLATE * min(1.0, pattern.block.size[0] / pattern.block.size[1])
    front = inline(block_sketch(pattern, "cloth", width=wide), "block cloth", told=True)
    told = [{key: value for key, value in asdict(frame).items() if value and key != "text"} for frame in every]
    return {"frames": every, "papers": papers, "back": back, "front": front, "data": told}


def _seam_map(pattern: Pattern) -> dict[str, Any]:
    seams = pattern.seam_map
    rows = [
        {
            "mark": inline(pictures.junction_sketch(kind), "mark lines", told=True),
            "name": name,
            "what": what,
            "count": seams.count(kind),
        }
        for kind, (name, what) in JUNCTION.items()
        if seams.count(kind)
    ]
    return {
        "svg": inline(pictures.seam_map_sketch(pattern), "map lines"),
        "lines": counted(len(seams.lines), "seam line"),
        "rows": rows,
    }


def _pressing(pattern: Pattern) -> dict[str, Any]:
    plan, construction = pattern.pressing, pattern.construction
    rows = []
    for join in construction.joins:
        toward = plan.toward(join.label)
        side = {"left": join.first, "right": join.second}.get(toward)
        where = "open" if side is None else f"toward {words_joins.unit_words(pattern, side)}"
        rows.append({"join": words_joins.join_head(pattern, join), "where": where})
    told = [
        words_pressing.paper_words(pattern) or None,
        words_pressing.meeting_words(pattern),
        words_pressing.dark_words(pattern),
        words_pressing.row_words(pattern),
        words_pressing.SPIN if words_pressing.may_spin(pattern) else None,
    ]
    thickest = pattern.layers[0] if pattern.layers else None
    return {
        "svg": inline(pictures.pressing_sketch(pattern), "map lines"),
        "rows": rows,
        "told": [plain(words) for words in told if words is not None],
        "layers": thickest.layers if thickest else 1,
        "at": pattern.names[thickest.patch] if thickest else "",
    }


def _cutting(pattern: Pattern) -> dict[str, Any]:
    names = {line.key: f"{line.letter} {line.name}" for line in pattern.legend}
    say = Say(pattern)
    return {
        "words": words_cutting.cutting_words(pattern, left_handed=False),
        "bias": words_before.bias_words(pattern),
        "needs": [
            {
                "fabric": names[need.fabric],
                "buy": say.cloth(need.buy),
                "rows": words_cutting.group_rows(pattern, need),
            }
            for need in pattern.cloth.needs
        ],
        "copies": counted(pattern.cloth.copies, "block"),
        "usable": say.size(pattern.cloth.usable),
    }


def _level(pattern: Pattern) -> dict[str, Any]:
    rows, is_easiest = [], pattern.level.name == LEVELS[0]
    for figure in pattern.level.figures:
        word = "at least" if figure.falls else "at most"
        easy, some = (figure_words(pattern, figure, limit) for limit in figure.limits)
        rows.append(
            {
                "name": capital(figure.name),
                "value": figure_words(pattern, figure),
                "easy": f"{word} {easy}",
                "some": f"{word} {some}",
                "level": figure.level,
            }
        )
    return {
        "name": pattern.level.name,
        "rows": rows,
        "levels": LEVELS,
        "hardest": listed([f"its {figure.name}" for figure in pattern.level.hardest] if not is_easiest else []),
    }


def _claim(claim: Claim) -> dict[str, str]:
    said = claim.claim.removeprefix("expect.").replace(".", ", ").replace("-", " ")
    own = f"The designer’s word: {said}" if claim.claim.startswith("expect.") else said
    name = _CLAIMS.get(claim.claim, own)
    unit = "" if claim.unit in str(claim.value) else claim.unit
    bound = "" if claim.bound is None else _with_unit(claim.bound, unit)
    return {"name": name, "figure": _with_unit(claim.value, unit), "bound": bound, "proof": capital(claim.proof)}


def _with_unit(value: float | str, unit: str) -> str:
    """A figure with its unit, one of a thing without the plural's ending.

    >>> _with_unit(1, "match points"), _with_unit(1, "patches"), _with_unit(0.75, "in")
    ('1 match point', '1 patch', '0.75 in')
    """
    if value == 1:
        unit = unit.removesuffix("es") if unit.endswith("ches") else unit.removesuffix("s")
    return f"{_number(value)} {unit}".strip()


def _number(value: float | str) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".") if isinstance(value, float) else str(value)


def _quilt(pattern: Pattern) -> dict[str, Any]:
    width, height = pattern.block.size
    wide = 2.0 * min(1.0, width / height)
    sketch = block_sketch(pattern, "cloth", width=wide)
    return {
        "block": inside(sketch),
        "box": [round((side - 2 * BORDER.weight) * UNITS_PER_INCH, 3) for side in (sketch.width, sketch.height)],
        "margin": round(BORDER.weight * UNITS_PER_INCH, 3),
        "square": abs(width - height) < 1 / 32,
        "finished": finished_size(pattern),
    }


def recipe_parts(source: str, letters: dict[str, str]) -> Iterator[tuple[str, str]]:
    """The recipe in parts: (text, "") as it stands, and (colour, letter) for the colour of each fabric."""
    places = Positions.of(source).values
    lines = source.split("\n")
    starts = [0]
    for line in lines:
        starts.append(starts[-1] + len(line) + 1)
    found = []
    for key, letter in letters.items():
        row, column = places.get(("fabrics", key, "colour"), (0, 0))
        match = re.compile(r"[\"']{1,3}(#[0-9a-fA-F]{6})").match(source, starts[row - 1] + column - 1) if row else None
        if match:
            found.append((match.start(1), match.end(1), letter))
    last = 0
    for start, end, letter in sorted(found):
        yield source[last:start], ""
        yield source[start:end], letter
        last = end
    yield source[last:], ""

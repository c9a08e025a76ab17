"""The sections of a handout, in the order in which they are read."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from seamproof.cutting.pieces import HALVED, QUARTERED
from seamproof.sheets import words_before, words_cutting, words_front, words_hand, words_piecing, words_steps
from seamproof.sheets.block_svg import block_drawing
from seamproof.sheets.cutting_svg import halved_square_sketch, key_sketch, quartered_square_sketch, strip_sketch
from seamproof.sheets.handout_after import Afterword
from seamproof.sheets.handout_hand import hand_sewing
from seamproof.sheets.handout_nodes import (
    Drawings,
    Node,
    bold,
    bullets,
    draw,
    facts,
    figures,
    gap,
    heading,
    keep,
    numbered,
    para,
    row,
    span,
    table,
    terms,
    title,
)
from seamproof.sheets.handout_piecing import PiecedSewing
from seamproof.sheets.handout_steps import Sewing
from seamproof.sheets.overview_svg import overview_drawing, swatch_drawing
from seamproof.sheets.words_say import Say, listed, shortened

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.cloth import FabricNeed
    from seamproof.pattern import Pattern
    from seamproof.sheets.handout_nodes import Words
    from seamproof.sheets.options import HandoutOptions
    from seamproof.sheets.pages import TemplatePage


def body(pattern: Pattern, pages: Sequence[TemplatePage], options: HandoutOptions, drawings: Drawings) -> list[Node]:
    """Everything before the template pages."""
    return [
        *_front(pattern, options, drawings),
        *_before(pattern, pages, options),
        *_cutting(pattern, options, drawings),
        *_sewing(pattern, options, drawings),
        *Afterword(pattern, options, drawings).sections(),
        *_colouring(pattern, options, drawings),
    ]


def _front(pattern: Pattern, options: HandoutOptions, drawings: Drawings) -> Iterator[Node]:
    front = pattern.recipe.pattern
    yield title(pattern.recipe.title)
    yield para(words_front.subtitle(pattern), "lead")
    picture = drawings.add(
        "block", block_drawing(pattern, "cloth", width=2.9 if options.large_print else 3.4, hatched=True, lettered=True)
    )
    figures_ = facts(words_front.facts(pattern))
    if options.large_print:
        yield draw(picture)
        yield gap(0.2)
        yield figures_
    else:
        yield row([[draw(picture)], [figures_]], [0, 1])
    offer = words_front.offer(pattern)
    if offer:
        yield para(offer, "small")
    if front.story:
        yield gap(0.05)
        yield para(front.story)
    yield heading(1, "Fabrics")
    yield _legend(pattern, drawings)
    lines = words_front.rights(front)
    yield keep([heading(2, "About this pattern"), facts(lines)])


def _legend(pattern: Pattern, drawings: Drawings) -> Node:
    needs = {need.fabric: need for need in pattern.cloth.needs}
    say = Say(pattern)
    rows = [
        [
            {"draw": drawings.add(f"swatch-{line.letter}", swatch_drawing(line))},
            [bold(line.letter)],
            line.name,
            ", ".join(line.roles),
            say.cloth(needs[line.key].buy) if line.key in needs else "",
        ]
        for line in pattern.legend
    ]
    return table(["", "Letter", "Fabric", "Used for", "To buy"], rows, [0, 0, 1, 1.6, 0], ["left"] * 4 + ["right"])


def _before(pattern: Pattern, pages: Sequence[TemplatePage], options: HandoutOptions) -> Iterator[Node]:
    paper = options.paper or pattern.recipe.make.paper
    say = Say(pattern)
    yield heading(1, "What you need", new_page=True)
    copies = pattern.recipe.make.copies
    blocks = "one block" if copies == 1 else f"{copies} blocks"
    cloth = listed([f"{say.cloth(need.buy)} of {_lettered(pattern, need)}" for need in pattern.cloth.needs])
    if cloth:
        yield para(f"Cloth for {blocks}, {say.size(pattern.cloth.usable)} usable width: {cloth}.")
    yield bullets(words_before.tools(pattern, pages, paper))
    printing = words_before.printing(pattern, pages, paper)
    if printing:
        yield heading(2, "Printing the templates")
        yield bullets(printing)
    yield from _apart("Take care", words_before.cautions(pattern), options)
    yield from _apart("The words of this handout", words_before.explained(pattern), options)


def _apart(head: str, items: Sequence[tuple[str, Words]], options: HandoutOptions) -> Iterator[Node]:
    """Words and what they mean, under a heading, in two columns on one page; in large print in one column."""
    if options.large_print:
        yield from (heading(1, head), terms(items, 1))
    else:
        yield keep([heading(1, head), terms(items, 2)])


def _named(pattern: Pattern, need: FabricNeed) -> str:
    line = next(line for line in pattern.legend if line.key == need.fabric)
    return f"{line.letter} {shortened(line.name)}"


def _lettered(pattern: Pattern, need: FabricNeed) -> str:
    line = next(line for line in pattern.legend if line.key == need.fabric)
    return f"{shortened(line.name)} ({line.letter})"


def _cutting(pattern: Pattern, options: HandoutOptions, drawings: Drawings) -> Iterator[Node]:
    if not pattern.cloth.needs:
        return
    yield heading(1, "Cutting")
    yield para(words_cutting.cutting_words(pattern, left_handed=options.left_handed))
    bias = words_before.bias_words(pattern)
    if bias:
        yield para(bias)
    shown = _cutting_pictures(pattern, options, drawings)
    if shown:
        yield figures(shown, 1 if options.large_print else len(shown))
    rows: list[list[Any]] = []
    for need in pattern.cloth.needs:
        told: list[list[Any]] = words_cutting.group_rows(pattern, need)
        named = span([bold(_named(pattern, need)), f", {Say(pattern).cloth(need.buy)}"], len(told))
        rows += [[named, *told[0]], *told[1:]]
    yield table(["Fabric", "Cut", "From the strips", "For patches"], rows, [1.1, 1.25, 1.9, 1.35])


def _cutting_pictures(pattern: Pattern, options: HandoutOptions, drawings: Drawings) -> list[tuple[str, Any]]:
    """A picture of each way of cutting that this block takes, with its first sizes."""
    say, left = Say(pattern), options.left_handed
    shown: dict[str, tuple[str, Any]] = {}
    for need in pattern.cloth.needs:
        for strip in need.strips:
            group = need.groups[strip.group]
            along = group.height if strip.width == group.width else group.width
            if "strip" not in shown:
                sketch = strip_sketch(say.size(strip.width), say.size(along), pieces=min(strip.each, group.cut),
                                      ratio=along / strip.width, left_handed=left)  # fmt: skip
                shown["strip"] = (
                    drawings.add("cut-strip", sketch.drawing),
                    "Square the end of the strip, then cut it up.",
                )
            if group.shape in HALVED and "half" not in shown:
                sketch = halved_square_sketch(say.size(group.width))
                shown["half"] = (drawings.add("cut-half", sketch.drawing), "Cut once, corner to corner.")
            if group.shape in QUARTERED and "quarter" not in shown:
                sketch = quartered_square_sketch(say.size(group.width))
                shown["quarter"] = (drawings.add("cut-quarter", sketch.drawing), "Cut twice, corner to corner.")
    return list(shown.values())


def _sewing(pattern: Pattern, options: HandoutOptions, drawings: Drawings) -> Iterator[Node]:
    construction = pattern.construction
    sewing = Sewing(pattern, options, drawings)
    overview = overview_drawing(pattern, width=2.3, tinted=True)
    yield heading(1, "Sewing", new_page=True)
    picture = draw(drawings.add("overview", overview))
    told = [para("The block from the front, with the name of every patch.", "small")]
    if construction.foundations:
        told += [para("On paper, each patch after the first is sewn in the same four moves:"),
                 numbered(words_steps.MOVES)]  # fmt: skip
    if pattern.piecing:
        told.append(bullets(words_piecing.intro(pattern)))
    if options.large_print:
        yield from (picture, *told)
    else:
        yield row([[picture], told], [0, 1])
    if construction.foundations:
        if not options.text_only:
            yield gap(0.1)
            key = key_sketch(columns=2 if options.large_print else 4)
            yield draw(drawings.add("key", key.drawing))
        yield from sewing.foundations()
    if construction.method == "hand":
        yield from hand_sewing(pattern, options, drawings)
    elif pattern.piecing:
        yield from PiecedSewing(pattern, options, drawings).nodes(pattern.piecing)
    elif sewing.has_joins_left:
        yield heading(1, "Joining")
        yield from sewing.joins()
    yield from _finish(pattern)


def _finish(pattern: Pattern) -> Iterator[Node]:
    say, seam = Say(pattern), 2 * pattern.recipe.make.allowance
    width, height = pattern.block.size
    items: list[Any] = []
    if pattern.construction.foundations:
        items += words_steps.paper_words(pattern)
    elif pattern.construction.method == "hand":
        items.append(words_hand.OUTER)
    items.append([
        "The block measures ", bold(f"{say.fine_pair(width + seam, height + seam)} unfinished"),
        f" and finishes {say.fine_pair(width, height)} in the quilt.",
    ])  # fmt: skip
    by_hand = pattern.construction.method == "hand"
    head = "Taking the paper out" if pattern.construction.foundations or by_hand else "The finished block"
    yield keep([heading(2, head), numbered(items)])


def _colouring(pattern: Pattern, options: HandoutOptions, drawings: Drawings) -> Iterator[Node]:
    width = 3.4 if options.large_print else 5.8
    high = pattern.block.size[1] / pattern.block.size[0]
    drawing = block_drawing(pattern, "line", width=min(width, 1.2 * width / high))
    yield keep([
        heading(1, "To colour"),
        para("Try your own fabrics here before you cut."),
        draw(drawings.add("line", drawing)),
    ])  # fmt: skip

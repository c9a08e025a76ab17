"""The sewing of a block that is sewn by hand over papers."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.sheets import words_hand
from seamproof.sheets.hand_svg import grown_sketch, paper_sketches
from seamproof.sheets.handout_nodes import Node, figures, heading, keep, numbered, para, step, steps

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.pattern import Pattern
    from seamproof.sheets.handout_nodes import Drawings, Words
    from seamproof.sheets.options import HandoutOptions

_ROOM: Final = 1.75
_GROWN: Final = 1.5


def hand_sewing(pattern: Pattern, options: HandoutOptions, drawings: Drawings) -> Iterator[Node]:
    """Basting, whipping, then one step for each patch."""
    body: list[Node] = [heading(1, "Baste each patch over its paper")]
    if not options.text_only:
        patch = pattern.block.patches[0]
        colour, seam = pattern.fabric(patch.id).colour, pattern.recipe.make.allowance
        shown = zip(paper_sketches(patch.outline, colour, seam, _ROOM), ("Paper on cloth", "Basted"), strict=True)
        items: list[tuple[str, Words]] = [
            (drawings.add(f"paper-{n}", sketch.drawing), caption) for n, (sketch, caption) in enumerate(shown)
        ]
        body.append(figures(items, 2))
    yield keep([*body, numbered(words_hand.basting(pattern))])
    yield keep([heading(1, "Whip the edges together"), numbered(words_hand.whipping(pattern))])
    joins = pattern.construction.joins
    if not joins:
        return
    yield heading(1, "The order")
    yield para("Each picture shows the front as it grows: the new patch strong, the edges that are sewn now dashed.")
    cards = []
    for number, join in enumerate(joins):
        new = words_hand.new_patch(pattern, join)
        head, words = words_hand.step_words(pattern, join, new) if number else words_hand.first_words(pattern, join)
        name = None
        if not options.text_only:
            sketch = grown_sketch(pattern, join, new, _GROWN)
            name = drawings.add(f"hand-{join.label}", sketch.drawing)
        cards.append(step(head, words, name))
    yield steps(cards, 1 if options.large_print else 2)

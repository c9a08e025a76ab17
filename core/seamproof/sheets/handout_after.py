"""What a handout says of the whole block: pressing, layers, level, forecast and rescue."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from seamproof.sheets import words_forecast, words_layers, words_pressing, words_rescue
from seamproof.sheets.handout_nodes import bullets, draw, gap, heading, keep, para, row, table
from seamproof.sheets.layers_svg import layers_drawing
from seamproof.sheets.pressing_svg import pressing_drawing, sign_drawing, signs_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.pattern import Pattern
    from seamproof.sheets.handout_nodes import Drawings, Node, Words
    from seamproof.sheets.options import HandoutOptions

_CROWDED = 40
"""From so many patches on, the pressing map takes the whole width of its page."""
_SHORT = 46
"""[characters] Lists no longer than this stand in two columns."""


class Afterword:
    """Writes these pages of one handout.

    Args:
        pattern: The pattern.
        options: How the handout is made.
        drawings: Where its drawings are kept.
    """

    def __init__(self, pattern: Pattern, options: HandoutOptions, drawings: Drawings) -> None:
        self.pattern, self.options, self.drawings = pattern, options, drawings

    def sections(self) -> Iterator[Node]:
        """All of them; over papers by hand nothing is pressed before the papers are out."""
        if len(self.pattern.block.patches) < 2:
            return
        by_machine = self.pattern.construction.method != "hand"
        if by_machine:
            yield from self._pressing()
            yield from self._layers()
        yield from self._level()
        if by_machine:
            yield from self._forecast()
        yield from self._rescue()

    def _pressing(self) -> Iterator[Node]:
        pattern = self.pattern
        head = heading(1, "Pressing")
        yield from [head] if self.options.text_only else self._map(head)
        rows = words_pressing.join_rows(pattern)
        if rows:
            sets = 1 if self.options.large_print or len(rows) < 6 else 2
            yield table(["Join", "Press"] * sets, _side_by_side(rows, sets), [0, 1] * sets)
        told: list[Words | None] = [
            words_pressing.paper_words(pattern) or None,
            words_pressing.meeting_words(pattern),
            words_pressing.SPIN if words_pressing.may_spin(pattern) else None,
            words_pressing.dark_words(pattern),
            words_pressing.row_words(pattern),
        ]
        yield bullets([words for words in told if words is not None])

    def _map(self, head: Node) -> Iterator[Node]:
        """The map under its head, and the key of its signs."""
        pattern, options = self.pattern, self.options
        across, up = pattern.block.size
        crowded = len(pattern.block.patches) > _CROWDED
        most = 4.4 if options.large_print else 6.0 if crowded else 4.1
        picture = pressing_drawing(pattern, width=min(most, 1.1 * most * across / up))
        signs = [
            [{"draw": self.drawings.add(f"sign-{sign}", sign_drawing(sign))}, words_pressing.KEY[sign]]
            for sign in signs_of(pattern)
        ]
        about = para(words_pressing.MAP_SIDE, "small")
        sets = 2 if crowded and not options.large_print else 1
        key = table(["Sign", "What it says"] * sets, _side_by_side(signs, sets), [0, 1] * sets)
        shown = draw(self.drawings.add("pressing", picture))
        if crowded or options.large_print:
            yield from (keep([head, about, shown]), key)
        else:
            yield keep([head, about, row([[shown], [key]], [0, 1])])

    def _layers(self) -> Iterator[Node]:
        told = [heading(1, "Layers"), bullets(words_layers.layers_words(self.pattern))]
        if self.options.text_only:
            yield keep(told)
            return
        across, up = self.pattern.block.size
        picture = layers_drawing(self.pattern, words_layers.thickest(self.pattern), width=2.2 * min(1.0, across / up))
        shown = draw(self.drawings.add("layers", picture))
        about = para("Every seam allowance, seen from the back: the darker, the more layers.", "small")
        if self.options.large_print:
            yield keep([told[0], shown, about])
            yield told[1]
        else:
            yield keep([told[0], row([[shown, about], [told[1]]], [2.4, 4.5]), gap(0.05)])

    def _level(self) -> Iterator[Node]:
        level = self.pattern.level
        rows = words_forecast.level_rows(self.pattern)
        told = [heading(1, f"Level: {level.name}"), para(words_forecast.RULE)]
        if self.options.large_print:
            yield from (*told, bullets(words_forecast.level_lines(rows)))
        else:
            head = ["What is measured", "Here", "Beginner", "Intermediate", "Asks for"]
            yield keep([*told, table(head, rows, [1, 0, 0, 0, 0])])

    def _forecast(self) -> Iterator[Node]:
        pattern = self.pattern
        head, rows = words_forecast.forecast_rows(pattern)
        told: list[Words | None] = [words_forecast.setting_words(pattern)]
        if pattern.construction.foundations:
            told.append(words_forecast.why_paper(pattern))
        said = [words for words in told if words is not None]
        yield keep([
            heading(1, "How true it comes out"),
            table(head, rows, [1.1, *[1] * (len(head) - 1)]),
            *([bullets(said)] if said else []),
            para(words_forecast.assumed(pattern), "small"),
        ])  # fmt: skip

    def _rescue(self) -> Iterator[Node]:
        rows = words_rescue.rescue_rows(self.pattern)
        if not rows:
            return
        yield heading(1, "If a patch went wrong")
        yield para(f"{words_rescue.ABOUT} {words_rescue.named_words(self.pattern)}")
        short = max(len(patches) + len(seams) for patches, seams in rows) <= _SHORT
        sets = 2 if short and len(rows) > 3 and not self.options.large_print else 1
        yield table(["Patch", "Unpick"] * sets, _side_by_side(rows, sets), [0, 1] * sets)
        yield para(words_rescue.how_words(self.pattern))


def _side_by_side(rows: Sequence[Sequence[Any]], sets: int) -> list[list[Any]]:
    """Rows of a table parted into so many sets that stand side by side, read down."""
    deep = -(-len(rows) // sets)
    filled = [*rows, *[("", "")] * (deep * sets - len(rows))]
    return [[cell for part in range(sets) for cell in filled[part * deep + line]] for line in range(deep)]

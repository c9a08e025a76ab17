"""The sewing of a block that is cut and pieced: units in batches, then the block from them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.sheets import words_joins, words_piecing, words_ways
from seamproof.sheets.handout_closing import Closings
from seamproof.sheets.handout_nodes import Node, figures, heading, keep, numbered
from seamproof.sheets.join_svg import POSITIONS, join_drawing
from seamproof.sheets.piecing_svg import (
    Cloth,
    corner_sketch,
    crossed_sketch,
    geese_sketches,
    pair_sketch,
    strips_sketch,
)
from seamproof.sheets.words_say import Say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.cutting.piecing import Batch, Piecing
    from seamproof.cutting.ways import Way
    from seamproof.pattern import Pattern
    from seamproof.sheets.handout_nodes import Drawings, Words
    from seamproof.sheets.options import HandoutOptions
    from seamproof.sheets.sketch import Sketch

_ROOM: Final = 1.75
_STRIP_ROOM: Final = (3.3, 1.5)
_JOIN_ROOM: Final = (2.1, 1.5)


class PiecedSewing:
    """Writes the sewing pages of a handout for a block that is cut and pieced.

    Args:
        pattern: The pattern.
        options: How the handout is made.
        drawings: Where its drawings are kept.
    """

    def __init__(self, pattern: Pattern, options: HandoutOptions, drawings: Drawings) -> None:
        self.pattern = pattern
        self.options = options
        self.drawings = drawings

    def nodes(self, piecing: Piecing) -> Iterator[Node]:
        """Every batch in sewing order, with the finishing of partial seams where it comes."""
        told: set[str] = set()
        latest = ""
        parted = self._first_single(piecing)
        by_label = {batch.model: batch for batch in piecing.batches}
        is_single = not any(batch.way or len(batch.labels) > 1 for batch in piecing.batches)
        yield heading(2, "The block" if is_single else "The units")
        closings = Closings(self.pattern, self.options, self.drawings)
        for step in self.pattern.construction.steps:
            if step.join is None:
                continue
            join = self.pattern.construction.join(step.join)
            if step.kind == "finish":
                name = words_joins.unit_words(self.pattern, join.label)
                yield closings.close(join, latest, heading(3, f"Close the partial seam of {name}"))
            elif join.label in by_label:
                latest = join.label
                if join.label == parted:
                    yield heading(2, "The block")
                yield self._batch(by_label[join.label], told)
                told.add(join.kind)

    def _first_single(self, piecing: Piecing) -> str:
        """The batch with which the block itself begins: after the last of which a block holds several; "" for none."""
        several = [n for n, batch in enumerate(piecing.batches) if batch.way or len(batch.labels) > 1]
        after = several[-1] + 1 if several else 0
        return piecing.batches[after].model if 0 < after < len(piecing.batches) else ""

    def _batch(self, batch: Batch, told: set[str]) -> Node:
        body: list[Node] = [heading(3, words_piecing.batch_head(self.pattern, batch))]
        if not self.options.text_only:
            shown = self._of_way(batch, batch.way) if batch.way else self._of_join(batch)
            body.append(figures(shown, 2 if self.options.large_print else len(shown)))
        body.append(numbered(words_piecing.batch_words(self.pattern, batch, told)))
        return keep(body)

    def _of_join(self, batch: Batch) -> list[tuple[str, Words]]:
        captions = {"beside": "Side by side, face up", "pinned": "Right sides together", "pressed": "Pressed"}
        toward = words_joins.toward_of(self.pattern, self.pattern.construction.join(batch.model))
        shown: list[tuple[str, Words]] = []
        for position in POSITIONS:
            drawing = join_drawing(self.pattern, batch.model, position, toward=toward, room=_JOIN_ROOM)
            shown.append((self.drawings.add(f"join-{batch.model}-{position}", drawing), captions[position]))
        return shown

    def _of_way(self, batch: Batch, way: Way) -> list[tuple[str, Words]]:
        made: list[tuple[Sketch, str]] = {
            "half-square": self._halves, "eight half-squares": self._eight, "quarter-square": self._quarters,
            "half and quarters": self._three, "geese": self._geese, "corners": self._corners, "strip set": self._strips,
        }[way.kind](way)  # fmt: skip
        shown: list[tuple[str, Words]] = [
            (self.drawings.add(f"way-{batch.model}-{n}", sketch.drawing), caption)
            for n, (sketch, caption) in enumerate(made)
        ]
        drawing = join_drawing(self.pattern, batch.model, "pressed", room=(1.5, 1.4))
        caption = "One unit, face up, as it lies in the block"
        return [*shown, (self.drawings.add(f"unit-{batch.model}", drawing), caption)]

    def _cloth(self, fabric: str) -> Cloth:
        line = next(line for line in self.pattern.legend if line.key == fabric)
        return Cloth(line.letter, line.colour)

    def _pair(self, a: str, b: str, side: float, *, eight: bool = False) -> Sketch:
        upper, lower = map(self._cloth, words_ways.lighter_first(self.pattern, [a, b]))
        size, seam = Say(self.pattern).size(side), self.pattern.recipe.make.allowance
        return pair_sketch(upper, lower, side, seam, size, room=_ROOM, eight=eight)

    def _halves(self, way: Way) -> list[tuple[Sketch, str]]:
        a, b = way.cuts
        return [(self._pair(a.fabric, b.fabric, a.width), "Line drawn; a seam on either side. Cut on the line")]

    def _eight(self, way: Way) -> list[tuple[Sketch, str]]:
        a, b = way.cuts
        pair = self._pair(a.fabric, b.fabric, a.width, eight=True)
        return [(pair, "Both lines drawn; seams beside them. Cut in four, then on the lines")]

    def _three(self, way: Way) -> list[tuple[Sketch, str]]:
        half, first, second = way.cuts
        cloths = self._cloth(first.fabric), self._cloth(second.fabric)
        whole = self._cloth(half.fabric)
        pair = self._pair(first.fabric, second.fabric, first.width)
        crossed = crossed_sketch((whole, whole), cloths, half.width, self.pattern.recipe.make.allowance, _ROOM)
        return [(pair, "A pair. Cut on the line"), (crossed, "A square on each. Cut on the line")]

    def _corners(self, way: Way) -> list[tuple[Sketch, str]]:
        base, *squares = way.cuts
        say = Say(self.pattern)
        size = say.size(base.width) if base.width == base.height else say.pair(base.width, base.height)
        shown = []
        for cut in squares:
            sketch = corner_sketch(
                self._cloth(base.fabric),
                self._cloth(cut.fabric),
                (base.width, base.height, cut.width),
                self.pattern.recipe.make.allowance,
                (size, say.size(cut.width)),
                room=_ROOM,
            )
            shown.append((sketch, f"A square of {say.size(cut.width)} on a corner. Sew, trim, turn over"))
        return shown

    def _quarters(self, way: Way) -> list[tuple[Sketch, str]]:
        side = way.cuts[0].width
        pairs = words_ways.quarter_pairs(way)
        seam = self.pattern.recipe.make.allowance
        first, other = self._cloth(pairs[0][0]), self._cloth(pairs[0][1])
        last = self._cloth(pairs[-1][1])
        crossed = crossed_sketch((first, other), (last, first), side - seam, seam, _ROOM)
        shown = [(self._pair(a, b, side), "A pair. Cut on the line") for a, b, _ in pairs]
        return [*shown, (crossed, "Seam on seam. Cut on the line")]

    def _geese(self, way: Way) -> list[tuple[Sketch, str]]:
        large, small = way.cuts
        say = Say(self.pattern)
        first, second = geese_sketches(
            self._cloth(large.fabric),
            self._cloth(small.fabric),
            (large.width, small.width),
            self.pattern.recipe.make.allowance,
            (say.size(large.width), say.size(small.width)),
            room=_ROOM,
        )
        return [(first, "Two small squares. Cut on the line"), (second, "The third, on a half. Cut on the line")]

    def _strips(self, way: Way) -> list[tuple[Sketch, str]]:
        say = Say(self.pattern)
        sketch = strips_sketch(
            [self._cloth(cut.fabric) for cut in way.cuts],
            [cut.height for cut in way.cuts],
            way.length,
            self.pattern.recipe.make.allowance,
            (say.fine_size(way.size[0]), say.size(way.length)),
            room=_STRIP_ROOM,
            left_handed=self.options.left_handed,
        )
        return [(sketch, "The set, squared at one end. Cut across")]

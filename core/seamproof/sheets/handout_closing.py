"""The closing of a partial seam, in pictures and words."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from seamproof.sheets import words_joins
from seamproof.sheets.closing_svg import CLOSING, closing_drawing
from seamproof.sheets.handout_nodes import Node, figures, keep, numbered

if TYPE_CHECKING:
    from seamproof.pattern import Pattern
    from seamproof.sequence import Join
    from seamproof.sheets.handout_nodes import Drawings, Words
    from seamproof.sheets.options import HandoutOptions

_ROOM = (2.1, 1.7)


class Closings:
    """Tells the closing of partial seams, pass by pass.

    Args:
        pattern: The pattern.
        options: How the handout is made.
        drawings: Where its drawings are kept.
    """

    def __init__(self, pattern: Pattern, options: HandoutOptions, drawings: Drawings) -> None:
        self.pattern, self.options, self.drawings = pattern, options, drawings
        self._passed: Counter[str] = Counter()

    def close(self, join: Join, unit: str, head: Node) -> Node:
        """The next pass of a seam.

        Args:
            join: The seam.
            unit: The unit that has been joined by then.
            head: What stands over it.
        """
        self._passed[join.label] += 1
        number = self._passed[join.label]
        body = [head]
        if not self.options.text_only:
            shown: list[tuple[str, Words]] = []
            for position, caption in CLOSING.items():
                toward = words_joins.toward_of(self.pattern, join)
                drawing = closing_drawing(self.pattern, join.label, number, unit, position, toward=toward, room=_ROOM)
                shown.append((self.drawings.add(f"close-{join.label}-{number}-{position}", drawing), caption))
            body.append(figures(shown, 2 if self.options.large_print else len(shown)))
        body.append(numbered(words_joins.finish_words(self.pattern, join, unit, number)))
        return keep(body)

"""The sewing of a block as frames: one for each step in sewing order, and one for the finished block."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamproof.gallery.words import plain
from seamproof.sheets import words_joins, words_steps
from seamproof.sheets.leaves import open_stretch, sides_of
from seamproof.sheets.words_say import Say

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.cutting import RoughPiece
    from seamproof.pattern import Pattern
    from seamproof.sequence import Step


@dataclass(frozen=True)
class Frame:
    """What the player shows of one step.

    Attributes:
        head: What is done, in a few words.
        text: How, in a sentence or two.
        sheet: Which picture of the printed side it is seen on: a foundation's letter, "back", or "" for none.
        shown: The classes of what is sewn now on that sheet.
        number: Its place on the foundation; 0 for a join.
        sewn: The patches that lie in the block from this frame on.
        first: The patches of the one unit of a join; where a partial seam is closed, those along it on one side.
        second: The patches of the other, or of the other side.
        laid: The patches of the finished unit that is laid on a foundation.
    """

    head: str
    text: str
    sheet: str
    shown: str = ""
    number: int = 0
    sewn: tuple[str, ...] = ()
    first: tuple[str, ...] = ()
    second: tuple[str, ...] = ()
    laid: tuple[str, ...] = ()


def frames(pattern: Pattern) -> tuple[Frame, ...]:
    """Every step of the construction as a frame, then the finished block."""
    return (*_Telling(pattern).all(), _last(pattern))


class _Telling:
    def __init__(self, pattern: Pattern) -> None:
        self.pattern = pattern
        self.construction = pattern.construction
        self.pieces = {piece.patch: piece for piece in pattern.rough}
        self.printed = {label: t.label for t in pattern.templates if t.lines for label in t.stands_for}
        self.passed: dict[str, int] = {}
        self.lying: set[str] = set()
        self.latest = ""

    def all(self) -> Iterator[Frame]:
        for step in self.construction.steps:
            frame = self._join(step, step.join) if step.join else self._patch(step)
            self.lying.update(frame.sewn)
            yield frame

    def _patch(self, step: Step) -> Frame:
        label, patch = step.foundation or "", step.added or ""
        number = self.construction.foundation(label).order.index(patch) + 1
        if step.unit:
            return Frame(
                words_steps.unit_head(self.pattern, label, patch, number),
                " ".join(map(plain, words_steps.unit_words(self.pattern, label, patch, number))),
                self.printed.get(label, ""),
                f"s{number}",
                number,
                laid=self.construction.patches_of(patch),
            )
        piece = self.pieces[patch]
        return Frame(
            words_steps.step_head(self.pattern, piece),
            self._patch_words(piece, number),
            self.printed.get(label, ""),
            f"s{number}",
            number,
            (patch,),
        )

    def _patch_words(self, piece: RoughPiece, number: int) -> str:
        if number == 1:
            return plain(words_steps.first_words(self.pattern, piece))
        return plain(words_steps.short_words(self.pattern, piece, number, pressed=True))

    def _join(self, step: Step, label: str) -> Frame:
        join = self.construction.join(label)
        number = self.passed.get(label, 0)
        self.passed[label] = number + 1
        if number:
            head = f"{label}: close the partial seam"
            told = words_joins.finish_words(self.pattern, join, self.latest, number)
        else:
            head = words_joins.join_head(self.pattern, join)
            told = words_joins.join_words(self.pattern, join, briefly=step.kind == "join")
        self.latest = label if not number else self.latest
        first, second = (self.construction.patches_of(unit) for unit in (join.first, join.second))
        if number:
            first, second = sides_of(self.pattern, open_stretch(join, number))
        sewn = tuple(patch for patch in (*first, *second) if patch not in self.lying)
        shown = f"{label} p{number}"
        return Frame(head, " ".join(map(plain, told)), "back", shown, 0, sewn, first, second)


def _last(pattern: Pattern) -> Frame:
    say, seam = Say(pattern), 2 * pattern.recipe.make.allowance
    width, height = pattern.block.size
    return Frame(
        "The finished block",
        plain(
            f"It measures {say.fine_pair(width + seam, height + seam)} unfinished, and "
            f"{say.fine_pair(width, height)} finished in the quilt."
        ),
        "",
    )

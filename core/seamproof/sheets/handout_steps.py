"""The sewing of a handout: foundations step by step, then joins."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Final

from seamproof.sheets import words_joins, words_steps
from seamproof.sheets.handout_closing import Closings
from seamproof.sheets.handout_nodes import Node, bold, figures, heading, keep, numbered, para, step, steps
from seamproof.sheets.join_svg import POSITIONS, join_drawing
from seamproof.sheets.step_svg import SIDE_UP, step_drawing

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.cutting import RoughPiece, Template
    from seamproof.pattern import Pattern
    from seamproof.sequence import Foundation, Join, Step
    from seamproof.sheets.handout_nodes import Drawings, Words
    from seamproof.sheets.options import HandoutOptions
    from seamproof.sheets.step_svg import Position

_ALL: Final[tuple[Position, ...]] = ("fold", "lay", "sew", "flip")
_LITTLE = (1.15, 1.15)
_JOIN_ROOM = (2.1, 1.7)


class Sewing:
    """Writes the sewing pages of one handout.

    Args:
        pattern: The pattern.
        options: How the handout is made.
        drawings: Where its drawings are kept.
    """

    def __init__(self, pattern: Pattern, options: HandoutOptions, drawings: Drawings) -> None:
        self.pattern = pattern
        self.options = options
        self.drawings = drawings
        self.columns = 1 if options.large_print else 2
        self._rough = {piece.patch: piece for piece in pattern.rough}
        self._shown: set[tuple[str, bool]] = set()
        self._told = 0
        self._told_kinds: set[str] = set()
        self._latest = ""
        self._closings = Closings(pattern, options, drawings)

    def foundations(self) -> Iterator[Node]:
        """Every foundation that is printed, patch by patch."""
        printed = {template.label: template for template in self.pattern.templates if template.lines}
        construction = self.pattern.construction
        for foundation in construction.foundations:
            yield from self._joins_before(foundation)
            if foundation.label in printed:
                yield from self._foundation(foundation, printed[foundation.label])

    def _joins_before(self, foundation: Foundation) -> Iterator[Node]:
        """The joins of the units that are laid on a foundation, as far as they have not been told."""
        steps_ = self.pattern.construction.steps
        begun = next((n for n, s in enumerate(steps_) if s.foundation == foundation.label), 0)
        laid = [n for n, s in enumerate(steps_[:begun]) if s.join in self._laid_joins and n >= self._told]
        if laid and any(part in self._laid_joins for part in foundation.order):
            yield from self._joins(steps_[self._told : laid[-1] + 1])
            self._told = laid[-1] + 1

    @cached_property
    def _laid_joins(self) -> frozenset[str]:
        """The joins whose units are laid on foundations."""
        construction = self.pattern.construction
        return frozenset(join.label for join in construction.joins if join.label in construction.laid)

    @property
    def has_joins_left(self) -> bool:
        """Whether any join is still to be told."""
        return any(step_.join for step_ in self.pattern.construction.steps[self._told :])

    def _foundation(self, foundation: Foundation, template: Template) -> Iterator[Node]:
        yield heading(2, f"Foundation {foundation.label}")
        yield para(words_steps.foundation_words(self.pattern, foundation, template))
        pending: list[Node] = []
        number = 0
        for group in foundation.groups:
            free = len(group) > 1
            if free:
                yield from self._cards(pending)
                pending = []
                yield heading(3, words_steps.group_words(self.pattern, group))
            for patch in group:
                number += 1
                if patch not in self._rough:
                    yield from self._cards(pending)
                    pending = []
                    yield self._unit(foundation.label, patch, number)
                    continue
                piece = self._rough[patch]
                if number > 1 and words_steps.kind_of(piece) not in self._shown:
                    self._shown.add(words_steps.kind_of(piece))
                    yield from self._cards(pending)
                    pending = []
                    yield self._in_full(foundation.label, piece, number)
                else:
                    pending.append(self._card(foundation.label, piece, number, pressed=not free))
            if free:
                yield from self._cards(pending)
                pending = []
        yield from self._cards(pending)
        whole = foundation.label == self.pattern.construction.whole
        done = words_steps.finish_words(self.pattern, template, whole=whole)
        yield keep([heading(3, f"Finish foundation {foundation.label}"), numbered(done)])

    def _unit(self, label: str, unit: str, number: int) -> Node:
        """A finished unit laid on a foundation, in all its positions."""
        head = para([bold(words_steps.unit_head(self.pattern, label, unit, number))])
        told = words_steps.unit_words(self.pattern, label, unit, number)
        if self.options.text_only:
            return keep([head, numbered(told)])
        shown: list[tuple[str, Words]] = []
        for position in _ALL:
            drawing = step_drawing(self.pattern, label, unit, position)
            named = self.drawings.add(f"step-{label}-{unit}-{position}-full", drawing)
            shown.append((named, [bold(f"{position.capitalize()}, {SIDE_UP[position]}.")]))
        return keep([head, figures(shown, 2 if self.options.large_print else 4), numbered(told)])

    def _cards(self, items: list[Node]) -> Iterator[Node]:
        if items:
            yield steps(items, self.columns)

    def _card(self, label: str, piece: RoughPiece, number: int, *, pressed: bool) -> Node:
        head = words_steps.step_head(self.pattern, piece)
        if number == 1:
            words = words_steps.first_words(self.pattern, piece)
            return step(head, words, *self._little(label, piece.patch, "first"))
        words = words_steps.short_words(self.pattern, piece, number, pressed=pressed)
        return step(head, words, *self._little(label, piece.patch, "lay"))

    def _little(self, label: str, patch: str, position: Position) -> tuple[str | None, str]:
        if self.options.text_only:
            return None, ""
        drawing = step_drawing(self.pattern, label, patch, position, room=_LITTLE)
        return self.drawings.add(f"step-{label}-{patch}-{position}", drawing), SIDE_UP[position]

    def _in_full(self, label: str, piece: RoughPiece, number: int) -> Node:
        """A step of a new kind, in all its positions."""
        told: dict[Position, tuple[str, str]] = {
            "fold": ("Fold and trim", words_steps.fold_words(self.pattern, piece, number)),
            "lay": ("Lay", words_steps.lay_words(piece)),
            "sew": ("Sew", words_steps.sew_words(self.pattern, number)),
            "flip": ("Flip and press", words_steps.flip_words(self.pattern, piece)),
        }
        size = words_steps.piece_words(self.pattern, piece)
        head = para([bold(f"{words_steps.step_head(self.pattern, piece)} · {size}")])
        if self.options.text_only:
            return keep(
                [head, numbered([[bold(f"{name} ({SIDE_UP[p]}). "), words] for p, (name, words) in told.items()])]
            )
        shown: list[tuple[str, Words]] = []
        for position in _ALL:
            name, words = told[position]
            drawing = step_drawing(self.pattern, label, piece.patch, position)
            named = self.drawings.add(f"step-{label}-{piece.patch}-{position}-full", drawing)
            shown.append((named, [bold(f"{name}, {SIDE_UP[position]}. "), words]))
        return keep([head, figures(shown, 2 if self.options.large_print else 4)])

    def joins(self) -> Iterator[Node]:
        """Every join not told so far in sewing order, with the finishing of partial seams where it comes."""
        yield from self._joins(self.pattern.construction.steps[self._told :])

    def _joins(self, steps_: Sequence[Step]) -> Iterator[Node]:
        joins = {join.label: join for join in self.pattern.construction.joins}
        for step_ in steps_:
            if step_.join is None:
                continue
            join = joins[step_.join]
            if step_.kind == "finish":
                yield self._closings.close(join, self._latest, heading(2, f"{join.label}: close the partial seam"))
                continue
            self._latest = join.label
            yield self._join(join, briefly=join.kind in self._told_kinds)
            self._told_kinds.add(join.kind)

    def _join(self, join: Join, *, briefly: bool) -> Node:
        body = [heading(2, words_joins.join_head(self.pattern, join))]
        if not self.options.text_only:
            shown: list[tuple[str, Words]] = []
            for position in POSITIONS:
                toward = words_joins.toward_of(self.pattern, join)
                drawing = join_drawing(self.pattern, join.label, position, toward=toward, room=_JOIN_ROOM)
                caption = {"beside": "Side by side, face up", "pinned": "Right sides together", "pressed": "Pressed"}
                shown.append((self.drawings.add(f"join-{join.label}-{position}", drawing), caption[position]))
            body.append(figures(shown, 2 if self.options.large_print else len(shown)))
        body.append(numbered(words_joins.join_words(self.pattern, join, briefly=briefly)))
        return keep(body)

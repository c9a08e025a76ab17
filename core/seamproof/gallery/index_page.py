"""The pages that show all blocks: the index, and the comparison."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from seamproof.gallery.templating import page
from seamproof.sheets.words_say import counted

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from seamproof.gallery.card import Card

_ORDERS: Final = (
    ("title", "name"),
    ("family", "family"),
    ("size", "finished size"),
    ("patches", "patches"),
    ("foundations", "foundations"),
    ("technique", "technique"),
    ("level", "level"),
)
_STEPS: Final = (12, 24, 48, 96)
"""Up to how many patches each choice goes."""
_SINGLE: Final = 8
"""So many numbers of foundations stand as choices of their own."""


@dataclass(frozen=True)
class Choice:
    """One thing to choose blocks by: its key, its words, and each value with its words."""

    key: str
    label: str
    options: tuple[tuple[str, str], ...]


def index_page(title: str, cards: Sequence[Card], failed: Sequence[tuple[str, str]]) -> str:
    """The index: every card, with what cards can be chosen and ordered by, and the recipes that have a fault."""
    families = len({card.family for card in cards})
    lead = f"{counted(len(cards), 'block')} of {counted(families, 'family', 'families')}, each proven to be sewable."
    return page(
        "index.html",
        root="",
        title=title,
        lead=lead if cards else "No block could be made.",
        cards=cards,
        choices=choices(cards),
        orders=_ORDERS,
        failed=failed,
    )


def compare_page(cards: Sequence[Card]) -> str:
    """The comparison: every block's figures, from which a few are laid side by side."""
    names = list(dict.fromkeys(name for card in cards for name, _ in card.figures))
    rows = [[dict(card.figures).get(name, "–") for name in names] for card in cards]
    return page("compare.html", root="", cards=cards, names=names, rows=rows)


def choices(cards: Sequence[Card]) -> list[Choice]:
    """What the cards can be chosen by; only values that some card has."""
    found = [
        Choice("family", "Family", _distinct((card.family, card.family_title) for card in cards)),
        Choice("size", "Finished size", tuple(_sizes(cards))),
        Choice("patches", "Patches", tuple(_patches(cards))),
        Choice("foundations", "Foundations", tuple(_foundations(cards))),
        Choice("technique", "Technique", _distinct((card.technique, card.technique_words) for card in cards)),
        Choice("level", "Level", _distinct((card.level, card.level_words) for card in cards)),
    ]
    return [choice for choice in found if len(choice.options) > 1]


def _distinct(pairs: Iterable[tuple[Any, str]]) -> tuple[tuple[str, str], ...]:
    return tuple((str(value), words) for value, words in sorted(set(pairs)))


def _sizes(cards: Sequence[Card]) -> Iterable[tuple[str, str]]:
    by: dict[float, str] = {}
    for card in cards:
        by.setdefault(card.size, card.finished)
    for size in sorted(by):
        yield f"{size:g}", by[size]


def _patches(cards: Sequence[Card]) -> Iterable[tuple[str, str]]:
    low = 1
    for high in _STEPS:
        if any(low <= card.patches <= high for card in cards):
            yield f"{low}-{high}", f"{low} to {high}" if low > 1 else f"up to {high}"
        low = high + 1
    if any(card.patches >= low for card in cards):
        yield f"{low}-", f"{low} and more"


def _foundations(cards: Sequence[Card]) -> Iterable[tuple[str, str]]:
    counts = sorted({card.foundations for card in cards})
    for count in counts[:_SINGLE]:
        yield str(count), str(count) if count else "none"
    if len(counts) > _SINGLE:
        yield f"{counts[_SINGLE]}-", f"{counts[_SINGLE]} and more"

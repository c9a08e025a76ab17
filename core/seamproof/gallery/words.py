"""How the gallery says what a block is."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from seamproof.units import MM_PER_INCH, Measure, inches

if TYPE_CHECKING:
    from collections.abc import Mapping

    from seamproof.pattern import Pattern
    from seamproof.seams.seam_map import JunctionKind
    from seamproof.sequence import Technique

TECHNIQUE: Final[Mapping[Technique, str]] = {
    "straight": "straight seams",
    "curved": "curved seams",
    "partial": "partial seam",
    "set-in": "set-in seams",
}
JUNCTION: Final[Mapping[JunctionKind, tuple[str, str]]] = {
    "tee": ("T", "a seam ends on another that runs on"),
    "crossing": ("crossing", "two seams run across each other"),
    "wye": ("Y", "three seams or more meet and none runs on: it is set in"),
    "bend": ("corner", "a seam turns a corner: it is set in"),
    "other": ("many seams", "more seams meet than two that cross"),
    "edge": ("outer edge", "a seam ends at the edge of the block"),
}
"""The kinds of junction as a page says them, and what each is."""


def finished_words(pattern: Pattern) -> str:
    """The finished size: one length for a square."""
    width, height = pattern.block.size
    is_square = abs(width - height) < 1 / 32
    if pattern.recipe.make.measure is Measure.MILLIMETRES:
        sizes = [f"{length * MM_PER_INCH / 10:.1f}".removesuffix(".0") for length in (width, height)]
        return f"{sizes[0]} cm" if is_square else f"{sizes[0]} × {sizes[1]} cm"
    across, down = inches(width, 1 / 16), inches(height, 1 / 16)
    return f"{across} in" if is_square else f"{across} × {down} in"


def plain(words: Any) -> str:
    """Words of a handout as one plain text.

    >>> plain(["Fold on ", {"b": "line 2"}, "."])
    'Fold on line 2.'
    """
    if isinstance(words, dict):
        return str(words["b"])
    return words if isinstance(words, str) else "".join(plain(part) for part in words)

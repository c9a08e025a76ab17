"""How the gallery says what a block is."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from collections.abc import Mapping

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
_FRACTION: Final = re.compile(r"(?<=\d) (?=\d+/\d)")


def plain(words: Any) -> str:
    """Words of a handout as one plain text, mixed fractions kept on one line.

    >>> plain(["Fold on ", {"b": "line 2"}, "."])
    'Fold on line 2.'
    """
    if isinstance(words, dict):
        return plain(words["b"])
    if isinstance(words, str):
        return _FRACTION.sub("\u00a0", words)
    return "".join(plain(part) for part in words)

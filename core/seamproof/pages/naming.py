"""Names of pages: short, safe on every system, each once."""

from __future__ import annotations

import re
import unicodedata
from typing import TYPE_CHECKING, Final

from seamproof.recipe.finding import SUFFIX

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

_LONGEST: Final = 60
_KEPT_BY_WINDOWS: Final = frozenset(
    {"con", "prn", "aux", "nul", *(f"{d}{n}" for d in ("com", "lpt") for n in range(10))}
)


def page_name(*texts: str) -> str:
    """The first of the texts that leaves anything as small ASCII letters, digits and hyphens; else "block".

    >>> page_name("Lamplighter’s hut"), page_name("מגדלור", "lighthouse.recipe.toml"), page_name("…")
    ('lamplighters-hut', 'lighthouse', 'block')
    """
    for text in texts:
        bare = unicodedata.normalize("NFKD", text.removesuffix(SUFFIX)).lower()
        bare = re.sub(r"['\u2019\u02bc\u0300-\u036f]", "", bare)
        name = "-".join(re.findall(r"[a-z0-9]+", bare))[:_LONGEST].strip("-")
        if name:
            return f"{name}-block" if name in _KEPT_BY_WINDOWS else name
    return "block"


def each_once(names: Iterable[str]) -> Iterator[str]:
    """The names in order; one that was given before gets a number.

    >>> list(each_once(["bell", "bell", "lamp", "bell"]))
    ['bell', 'bell-2', 'lamp', 'bell-3']
    """
    names = list(names)
    asked, given = set(names), set[str]()
    for name in names:
        free, number = name, 2
        while free in given or (free != name and free in asked):
            free, number = f"{name}-{number}", number + 1
        given.add(free)
        yield free

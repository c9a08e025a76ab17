"""What hangs together: the connected parts of a graph."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping


def connected(beside: Mapping[int, Iterable[int]]) -> list[list[int]]:
    """The connected parts, each ascending, by their lowest member; O(n log n) for so many members and links.

    Args:
        beside: For each member those it is linked with; each link stands at both of its ends.

    >>> connected({0: [2], 1: [], 2: [0]})
    [[0, 2], [1]]
    """
    parts: list[list[int]] = []
    seen: set[int] = set()
    for first in sorted(beside):
        if first in seen:
            continue
        seen.add(first)
        part = [first]
        for member in part:
            fresh = set(beside[member]) - seen
            seen |= fresh
            part.extend(fresh)
        parts.append(sorted(part))
    return parts

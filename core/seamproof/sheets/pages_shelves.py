"""Boxes put on shelves, shelf under shelf, page after page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamproof.tolerance import ROUND_OFF

if TYPE_CHECKING:
    from collections.abc import Sequence


@dataclass(frozen=True, slots=True)
class Spot:
    """Where the box of this index lies in its page's room [in], from the upper left corner."""

    index: int
    x: float
    y: float


@dataclass
class _Shelf:
    y: float
    height: float
    used: float


@dataclass
class _Page:
    shelves: list[_Shelf]
    spots: list[Spot]


def shelve(sizes: Sequence[tuple[float, float]], room: tuple[float, float], gap: float) -> list[tuple[Spot, ...]]:
    """Lay boxes on pages, `gap` [in] apart; each box fits in the room.

    Source: first-fit decreasing height, a common heuristic for shelf packing; boxes of one height keep their order.
    """
    pages: list[_Page] = []
    for index in sorted(range(len(sizes)), key=lambda i: -sizes[i][1]):
        size = sizes[index]
        if not any(_put(page, index, size, room, gap) for page in pages):
            pages.append(_Page([], []))
            _put(pages[-1], index, size, room, gap)
    return [tuple(sorted(page.spots, key=lambda spot: spot.index)) for page in pages]


def _put(page: _Page, index: int, size: tuple[float, float], room: tuple[float, float], gap: float) -> bool:
    width, height = size
    for shelf in page.shelves:
        if height <= shelf.height and shelf.used + gap + width <= room[0] + ROUND_OFF:
            page.spots.append(Spot(index, shelf.used + gap, shelf.y))
            shelf.used += gap + width
            return True
    top = page.shelves[-1].y + page.shelves[-1].height + gap if page.shelves else 0.0
    if top + height > room[1] + ROUND_OFF:
        return False
    page.shelves.append(_Shelf(top, height, width))
    page.spots.append(Spot(index, 0.0, top))
    return True

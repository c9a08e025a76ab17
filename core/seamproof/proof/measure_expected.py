"""What a handout says of itself: where each template lies and how large it is. It travels inside the PDF."""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from seamproof.errors import PrintError

if TYPE_CHECKING:
    from seamproof.geometry import Point

ATTACHED: Final = "seamproof-print.json"
_FORMAT: Final = 1
_LARGEST: Final = 20_000_000
_KINDS: Final = frozenset({"template", "square", "rule"})


@dataclass(frozen=True)
class Expected:
    """One thing that must lie on a page [in, from the page's upper left corner].

    Attributes:
        kind: "template", "square" or "rule".
        name: What it is called.
        label: A template's label, else "".
        box: Left, top, width and height.
        path: Its points: a ring, or a line.
        closed: Whether the path is a ring.
        lines: Lines that belong to it: the sewing lines of a template, the end ticks of a rule.
        window: What is seen of it where it is a part of a larger template: upper left, lower right corner.
    """

    kind: str
    name: str
    label: str
    box: tuple[float, float, float, float]
    path: tuple[Point, ...]
    closed: bool
    lines: tuple[tuple[Point, Point], ...]
    window: tuple[Point, Point] | None


@dataclass(frozen=True)
class ExpectedPage:
    """One template page: its number in the document from 1, its size [in], its correction and what lies on it."""

    number: int
    width: float
    height: float
    stretch: tuple[float, float]
    items: tuple[Expected, ...]


def read_expected(text: bytes) -> tuple[ExpectedPage, ...]:
    """Read the attached sizes.

    Raises:
        PrintError: they are not what a handout holds.
    """
    if len(text) > _LARGEST:
        raise PrintError("the sizes inside this PDF are too long: make the handout again")
    try:
        data = json.loads(text)
        if data["format"] != _FORMAT or data["unit"] != "in":
            raise PrintError("this handout was made by another version: measure it with that, or make it again")
        first = _whole(data["first"])
        return tuple(_page(page, first + n) for n, page in enumerate(data["pages"]))
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        if isinstance(error, PrintError):
            raise
        raise PrintError("the sizes inside this PDF are damaged: make the handout again") from None


def _page(page: dict[str, Any], number: int) -> ExpectedPage:
    across, down = map(_number, page["stretch"])
    items = tuple(map(_item, page["items"]))
    return ExpectedPage(number, _number(page["width"]), _number(page["height"]), (across, down), items)


def _item(item: dict[str, Any]) -> Expected:
    left, top, width, height = map(_number, item["box"])
    if item["kind"] not in _KINDS or not isinstance(item["closed"], bool) or len(item["path"]) < 2:
        raise ValueError(item["kind"])
    return Expected(
        kind=item["kind"],
        name=str(item["name"]),
        label=str(item.get("label", "")),
        box=(left, top, width, height),
        path=tuple(map(_point, item["path"])),
        closed=item["closed"],
        lines=tuple(map(_pair, item["lines"])),
        window=_pair(item["window"]) if item["window"] is not None else None,
    )


def _pair(value: Any) -> tuple[Point, Point]:
    first, second = value
    return (_point(first), _point(second))


def _point(value: Any) -> Point:
    x, y = value
    return (_number(x), _number(y))


def _number(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        raise ValueError(value)
    return float(value)


def _whole(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or value < 1:
        raise ValueError(value)
    return value

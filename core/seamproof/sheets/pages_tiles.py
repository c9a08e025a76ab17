"""A template larger than the paper, parted into tiles that are glued together."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from seamproof.errors import PrintError
from seamproof.geometry import Edge
from seamproof.geometry.points import distance
from seamproof.sheets.drawing import Label
from seamproof.sheets.ink import BLADE, HIDDEN, POINT, TICK
from seamproof.sheets.sketch import Shape
from seamproof.units import text_pair

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.geometry import Point
    from seamproof.sheets.sketch import Sketch

GLUE: Final = 0.375
"""[in] The strip by which the later tile lies under the earlier one."""
CLEAR: Final = 0.25
"""[in] A page join keeps this far from every seam it does not cross."""
_STEP: Final = 1 / 16
_MARK: Final = 0.09
_OUT: Final = 0.2
"""[in] How far a page join is drawn beyond the template's cut line."""
MOST: Final = 25
"""More tiles than this are no template any more but a mistake."""


@dataclass(frozen=True)
class Tile:
    """One page's share of a template.

    Attributes:
        number: Which it is, from 1, row by row.
        count: Of how many.
        sketch: What is seen of the template on it.
        left: Where its window begins in the whole sketch, from the left [in].
        top: The same from the top [in].
        joins: How it is joined, in words.
    """

    number: int
    count: int
    sketch: Sketch
    left: float
    top: float
    joins: tuple[str, ...]


def tiles_of(sketch: Sketch, room: tuple[float, float], lines: Sequence[tuple[Point, Point]], name: str) -> list[Tile]:
    """Part a template's sketch into tiles no larger than `room` [in].

    Args:
        sketch: The whole template.
        room: The width and height of a page's room [in].
        lines: Its sewing lines, in the sketch's inches; page joins stay clear of them where they can.
        name: What it is called in an error.

    Raises:
        PrintError: it takes more than 25 tiles.
    """
    count = tile_count((sketch.width, sketch.height), room)
    if count > MOST:
        raise PrintError(
            f"template {name} is {text_pair(sketch.width, sketch.height)} and takes {count} pages, of which "
            f"{MOST} are allowed: make the block smaller"
        )
    columns = _cuts(sketch, room[0], lines, axis=0)
    rows = _cuts(sketch, room[1], lines, axis=1)
    marked = _marked(sketch, columns, rows, lines)
    return [
        Tile(number, count, marked.window(x0, y0, x1 - x0, y1 - y0), x0, y0, words)
        for number, (x0, y0, x1, y1, words) in enumerate(_windows(sketch, columns, rows), 1)
    ]


def tile_count(size: tuple[float, float], room: tuple[float, float]) -> int:
    """Into how many tiles a sketch of this size [in] is parted."""
    return _parts(size[0], room[0]) * _parts(size[1], room[1])


def _parts(length: float, room: float) -> int:
    return 1 if length <= room else math.ceil((length - GLUE) / (room - _OUT - GLUE))


def _cuts(sketch: Sketch, room: float, lines: Sequence[tuple[Point, Point]], axis: int) -> list[float]:
    """Where the page joins lie along one axis [in].

    Each lies where the least seam runs in the glued strip or beside it, then where it crosses no number, then the
    nearest to equal shares.
    """
    length = sketch.height if axis else sketch.width
    parts, usable = _parts(length, room), room - _OUT
    labels = [(label.y if axis else label.x, label.size * POINT) for label in sketch.labels]
    cuts: list[float] = []
    for i in range(1, parts):
        before = cuts[-1] if cuts else GLUE
        high = before - GLUE + usable
        low = max(before + GLUE + CLEAR, length - (parts - i) * (usable - GLUE))
        wanted = length * i / parts
        steps = range(math.ceil(low / _STEP), math.floor(high / _STEP) + 1)
        places = [step * _STEP for step in steps] or [high]
        cuts.append(min(places, key=lambda place: _worth(place, lines, labels, axis) + abs(place - wanted)))
    return cuts


def _worth(cut: float, lines: Sequence[tuple[Point, Point]], labels: Sequence[tuple[float, float]], axis: int) -> float:
    """How bad a place for a page join is: an inch of seam counts as four inches off the middle, a number as one."""
    crossed = sum(abs(at - cut) < high for at, high in labels)
    return 4 * _seam_near(cut, lines, axis) + crossed


def _seam_near(cut: float, lines: Sequence[tuple[Point, Point]], axis: int) -> float:
    """How much seam [in] lies in the glued strip or too near it."""
    low, high = cut - GLUE - CLEAR, cut + CLEAR
    total = 0.0
    for p, q in lines:
        a, b = sorted((p[axis], q[axis]))
        inside = min(b, high) - max(a, low)
        if b - a > 0:
            total += distance(p, q) * max(0.0, inside) / (b - a)
        elif inside >= 0:
            total += distance(p, q)
    return total


def _windows(
    sketch: Sketch, columns: Sequence[float], rows: Sequence[float]
) -> Iterator[tuple[float, float, float, float, tuple[str, ...]]]:
    across = len(columns) + 1
    tops = (0.0, *(cut - GLUE for cut in rows))
    bottoms = (*(cut + _OUT for cut in rows), sketch.height)
    lefts = (0.0, *(cut - GLUE for cut in columns))
    rights = (*(cut + _OUT for cut in columns), sketch.width)
    for j, (top, bottom) in enumerate(zip(tops, bottoms, strict=True)):
        for i, (left, right) in enumerate(zip(lefts, rights, strict=True)):
            words = []
            if i < len(columns):
                words.append(f"Cut along page join {_letter(i)} and glue this part on part {j * across + i + 2}.")
            if j < len(rows):
                join = _letter(len(columns) + j)
                words.append(f"Cut along page join {join} and glue this row on the row of part {(j + 1) * across + 1}.")
            yield left, top, right, bottom, tuple(words)


def _marked(
    sketch: Sketch, columns: Sequence[float], rows: Sequence[float], lines: Sequence[tuple[Point, Point]]
) -> Sketch:
    """The sketch with its page joins: a line to cut along, the edge of the glued strip, and diamonds that must meet."""
    shapes, labels = list(sketch.shapes), list(sketch.labels)
    joins = [(0, cut) for cut in columns] + [(1, cut) for cut in rows]
    for n, (axis, cut) in enumerate(joins):
        end = sketch.height if axis == 0 else sketch.width
        shapes.append(Shape(((_edge(axis, cut, 0.0, end),),), BLADE, kind="page-join"))
        shapes.append(Shape(((_edge(axis, cut - GLUE, 0.0, end),),), HIDDEN, kind="glue-edge"))
        for place in _mark_places(axis, cut, end, lines, sketch.labels):
            shapes.append(Shape((_diamond(axis, cut, place),), TICK, closed=True, kind="join-mark"))
            x, y = _point(axis, cut - GLUE / 2 - 0.02, place - 0.12)
            labels.append(Label(_letter(n), x, y, 7.0, halo=True))
    return replace(sketch, shapes=tuple(shapes), labels=tuple(labels))


def _mark_places(
    axis: int, cut: float, end: float, lines: Sequence[tuple[Point, Point]], labels: Sequence[Label]
) -> list[float]:
    """Three places along a page join, each the nearest to its quarter that is clear of seams and of numbers."""
    crossings = [l.x if axis else l.y for l in labels if abs((l.y if axis else l.x) - cut) < 2 * GLUE]
    for p, q in lines:
        a, b = p[axis], q[axis]
        if min(a, b) <= cut <= max(a, b) and a != b:
            t = (cut - a) / (b - a)
            crossings.append(p[1 - axis] + (q[1 - axis] - p[1 - axis]) * t)
    places = [step * _STEP for step in range(round(0.5 / _STEP), round((end - 0.5) / _STEP))]
    free = [y for y in places if all(abs(y - c) > CLEAR for c in crossings)] or places
    return sorted({min(free, key=lambda y: abs(y - end * k / 4)) for k in (1, 2, 3)})


def _diamond(axis: int, cut: float, place: float) -> tuple[Edge, ...]:
    ring = [_point(axis, cut + a, place + b) for a, b in ((-_MARK, 0), (0, -_MARK), (_MARK, 0), (0, _MARK))]
    return tuple(Edge(p, q) for p, q in zip(ring, ring[1:] + ring[:1], strict=True))


def _edge(axis: int, cut: float, start: float, end: float) -> Edge:
    return Edge(_point(axis, cut, start), _point(axis, cut, end))


def _point(axis: int, first: float, second: float) -> Point:
    return (first, second) if axis == 0 else (second, first)


def _letter(n: int) -> str:
    return f"p{n + 1}"

"""Templates measured in the coordinates of a page's lines. The only user of pdfplumber."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from seamproof.geometry.points import bounds, distance, distance_to_segment
from seamproof.units import POINTS_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.geometry import Point
    from seamproof.proof.measure_expected import Expected

_CURVE_PARTS: Final = 24
_FAR: Final = 9.0
"""[in] Stands for a line that is nowhere on the page."""


@dataclass(frozen=True)
class Found:
    """What was found in a page's coordinates: width, height and the farthest any point is off [in]."""

    width: float
    height: float
    off: float


def paths_of(page: Any) -> list[tuple[Point, ...]]:
    """Every path of a pdfplumber page as points [in, from the upper left corner], curves flattened."""
    found = []
    for path in _drawn(page.layout, float(page.height)):
        points = tuple(_flattened(path))
        if len(points) > 1:
            found.append(points)
    return found


def _drawn(things: Any, height: float) -> Iterator[list[Any]]:
    """The operators of every path of a page's layout, y down [pt]: pdfplumber's own lists cost as much again."""
    from pdfminer.layout import LTContainer, LTCurve

    for thing in things:
        if isinstance(thing, LTContainer):
            yield from _drawn(thing, height)
        elif isinstance(thing, LTCurve):
            path: list[Any] = thing.original_path or []
            yield [(operator, *((x, height - y) for x, y in places)) for operator, *places in path]


def find(item: Expected, paths: Sequence[tuple[Point, ...]]) -> Found | None:
    """The path that comes nearest to what is expected; None where the page has no path of about its size and place."""
    wanted = _ringed(item)
    near = [path for path in paths if _is_near(path, wanted, item.closed)]
    if not near:
        return None
    path = min(near, key=lambda path: _box_off(path, wanted))
    x0, y0, x1, y1 = bounds(path)
    off = max(_away(wanted, path), _away(path, wanted), _box_off(path, wanted))
    lines = [line for line in item.lines if _is_seen(line, item)]
    segments = list(_segments(paths)) if lines else []
    for line in lines:
        here = min((_segment_off(line, segment) for segment in segments), default=_FAR)
        off = max(off, here)
    return Found(x1 - x0, y1 - y0, off)


def _ringed(item: Expected) -> tuple[Point, ...]:
    return (*item.path, item.path[0]) if item.closed else item.path


def _flattened(path: Sequence[Any]) -> Iterator[Point]:
    """The points of a path of PDF operators. A cubic curve is cut into chords far shorter than any tolerance."""
    start: Point | None = None
    last: Point = (0.0, 0.0)
    for operator, *places in path:
        points = [(x / POINTS_PER_INCH, y / POINTS_PER_INCH) for x, y in places]
        if operator == "h":
            if start is not None and distance(start, last) > 0:
                yield start
            continue
        if operator in {"c", "v", "y"}:
            first, second, end = _controls(operator, last, points)
            for i in range(1, _CURVE_PARTS + 1):
                yield _cubic((last, first, second, end), i / _CURVE_PARTS)
            last = end
            continue
        last = points[-1]
        start = last if operator == "m" or start is None else start
        yield last


def _controls(operator: str, last: Point, points: Sequence[Point]) -> tuple[Point, Point, Point]:
    if operator == "v":
        return last, points[0], points[1]
    if operator == "y":
        return points[0], points[1], points[1]
    return points[0], points[1], points[2]


def _cubic(p: tuple[Point, Point, Point, Point], t: float) -> Point:
    s = 1 - t
    a, b, c, d = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
    return (
        a * p[0][0] + b * p[1][0] + c * p[2][0] + d * p[3][0],
        a * p[0][1] + b * p[1][1] + c * p[2][1] + d * p[3][1],
    )


def _is_near(path: Sequence[Point], wanted: Sequence[Point], closed: bool) -> bool:
    """Whether a path could be the one that is looked for: of its kind, and within an eighth of its size and place."""
    is_ring = distance(path[0], path[-1]) < _rough(wanted) / 100 and len(path) > 3
    if is_ring is not closed:
        return False
    return _box_off(path, wanted) <= _rough(wanted) / 8


def _rough(points: Sequence[Point]) -> float:
    x0, y0, x1, y1 = bounds(points)
    return math.hypot(x1 - x0, y1 - y0)


def _box_off(path: Sequence[Point], wanted: Sequence[Point]) -> float:
    return max(abs(a - b) for a, b in zip(bounds(path), bounds(wanted), strict=True))


def _away(points: Sequence[Point], line: Sequence[Point]) -> float:
    """The farthest any of the points is from a run of segments [in]."""
    sides = list(pairwise(line))
    return max(min(distance_to_segment(point, a, b) for a, b in sides) for point in points)


def _segments(paths: Sequence[tuple[Point, ...]]) -> Iterator[tuple[Point, Point]]:
    for path in paths:
        yield from pairwise(path)


def _segment_off(line: tuple[Point, Point], segment: tuple[Point, Point]) -> float:
    (p, q), (a, b) = line, segment
    return min(max(distance(p, a), distance(q, b)), max(distance(p, b), distance(q, a)))


def _is_seen(line: tuple[Point, Point], item: Expected) -> bool:
    """Whether a line meets the window through which its template is seen."""
    if item.window is None:
        return True
    (x0, y0), (x1, y1) = item.window
    left, top, right, bottom = bounds(line)
    return right >= x0 and bottom >= y0 and left <= x1 and top <= y1

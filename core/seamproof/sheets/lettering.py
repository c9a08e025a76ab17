"""Where a label fits inside a patch."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING, Final, TypeAlias

from seamproof.geometry.points import add, distance, is_inside, sides
from seamproof.sheets.ink import POINT

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.geometry import Point

Segment: TypeAlias = "tuple[Point, Point]"
_SHARES: Final[tuple[tuple[frozenset[str], float], ...]] = (
    (frozenset("ijlJ .,:;'!()[]-·"), 0.35),
    (frozenset("crstzfI/"), 0.52),
    (frozenset("0123456789×+"), 0.58),
    (frozenset("mwMW@%—"), 1.0),
    (frozenset("ADGHNOQU"), 0.82),
)
"""Characters and how wide they are at the most, as a share of the letters' size, in a bold sans."""
_OTHERS: Final = 0.68
_CAP_HEIGHT: Final = 0.73
"""[1] The height of capitals and figures, as a share of the letters' size."""


@dataclass(frozen=True, slots=True)
class Fit:
    """Where a text stands: its middle [in], its size [pt] and its turn clockwise [°]; y down."""

    at: Point
    size: float
    angle: float


def text_width(text: str, size: float) -> float:
    """How wide a text is at the most [in], at a size [pt], in a usual bold sans."""
    shares = (next((share for chars, share in _SHARES if char in chars), _OTHERS) for char in text)
    return sum(shares) * size * POINT


def text_height(size: float) -> float:
    """How high capitals and figures stand [in] at a size [pt]."""
    return _CAP_HEIGHT * size * POINT


def fit_text(
    text: str,
    ring: Sequence[Point],
    places: Sequence[Point],
    sizes: Sequence[float],
    *,
    clear: float = 0.03,
    turned: bool = True,
    avoid: Sequence[Segment] = (),
) -> Fit | None:
    """The largest of `sizes` [pt, falling] at which a text fits inside a ring of points [in, y down], or None.

    It is set level where it fits so at three quarters of the largest size or more; else, where `turned`, along an edge
    of the ring or half way between two; else smaller. `clear` [in] is kept free round it, and it stands on none of the
    lines to `avoid`.
    """
    good = [size for size in sizes if size >= 0.75 * sizes[0]]
    angles = (0.0, *(_angles(ring) if turned else ()))
    for some in (good, sizes[len(good) :]):
        for angle, size, place in product(angles, some, places):
            box = (place, text_width(text, size) / 2 + clear, text_height(size) / 2 + clear, angle)
            if box_inside(ring, *box) and not crosses_box(avoid, *box):
                return Fit(place, size, angle)
    return None


def box_inside(ring: Sequence[Point], at: Point, half_width: float, half_height: float, angle: float = 0.0) -> bool:
    """Whether a box turned by `angle` [°, clockwise, y down] about its middle lies inside a ring of points [in]."""
    corners = _corners(at, half_width, half_height, angle)
    return all(is_inside(corner, ring) for corner in corners) and not crosses_box(
        list(sides(ring)), at, half_width, half_height, angle
    )


def crosses_box(lines: Sequence[Segment], at: Point, half_width: float, half_height: float, angle: float = 0.0) -> bool:
    """Whether any of the lines crosses a side of a box, or lies inside it."""
    corners = _corners(at, half_width, half_height, angle)
    rim = list(sides(corners))
    return any(is_inside(p, corners) or any(segments_cross(p, q, *side) for side in rim) for p, q in lines)


def _corners(at: Point, half_width: float, half_height: float, angle: float) -> list[Point]:
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    w, h = half_width, half_height
    return [add(at, (x * cos - y * sin, x * sin + y * cos)) for x, y in ((-w, -h), (w, -h), (w, h), (-w, h))]


def segments_cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether the segments a b and c d cross in a point inside both."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = a, b, c, d
    x, y, u, v = bx - ax, by - ay, dx - cx, dy - cy
    return (x * (cy - ay) - y * (cx - ax) > 0) != (x * (dy - ay) - y * (dx - ax) > 0) and (
        (u * (ay - cy) - v * (ax - cx) > 0) != (u * (by - cy) - v * (bx - cx) > 0)
    )


def upright(angle: float) -> float:
    """The same direction [°] as a turn from −90 (not included) to 90, so that text is never upside down."""
    return 90.0 - (90.0 - angle) % 180.0


def _angles(ring: Sequence[Point]) -> Iterator[float]:
    edges = sorted(sides(ring), key=lambda edge: -round(distance(*edge), 3))[:6]
    found = [upright(math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))) for a, b in edges]
    between = [upright((p + q) / 2) for i, p in enumerate(found) for q in found[i + 1 :] if 0 < abs(p - q) < 40]
    yield from dict.fromkeys(round(angle, 2) for angle in (*between, *found))

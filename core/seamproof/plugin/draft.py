"""What families draft with: collecting patches, cutting polygons, regular shapes."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from seamproof.block import Block, Patch
from seamproof.errors import GeometryError
from seamproof.geometry import Outline, Transform
from seamproof.geometry.points import along, height_over
from seamproof.tolerance import ROUND_OFF

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from seamproof.geometry import Point


class Draft:
    """Collects patches in any unit of length, in a natural order, and fits the block to the size asked.

    >>> draft = Draft([(0, 0), (2, 0), (2, 1), (0, 1)])
    >>> draft.add("light", [(0, 0), (1, 0), (1, 1), (0, 1)])
    >>> draft.add("dark", [(1, 0), (2, 0), (2, 1), (1, 1)])
    >>> draft.block("Two squares", 6.0).size
    (6.0, 3.0)
    """

    def __init__(self, outline: Iterable[Point] | Outline) -> None:
        """Start with the outline that the patches will tile."""
        self._outline = outline if isinstance(outline, Outline) else Outline.of(outline)
        self._patches: list[tuple[str, Outline]] = []

    @classmethod
    def square(cls, side: float = 1.0) -> Draft:
        """Start with a square whose lower left corner is (0, 0)."""
        return cls(Outline.rectangle(side, side))

    def add(self, role: str, shape: Iterable[Point] | Outline) -> None:
        """Add the next patch. Raises GeometryError where the shape is none."""
        self._patches.append((role, shape if isinstance(shape, Outline) else Outline.of(shape)))

    def block(self, title: str, size: float) -> Block:
        """The block, its lower left corner at (0, 0) and the longer side of its box `size` [in]; ids from 1."""
        left, bottom, right, top = self._outline.bounds
        fit = Transform.shift(-left, -bottom).then(Transform.scale(size / max(right - left, top - bottom)))
        patches = tuple(
            Patch(str(number), outline.transformed(fit), role)
            for number, (role, outline) in enumerate(self._patches, 1)
        )
        return Block(title, patches, self._outline.transformed(fit))


def letter_plan(plan: str) -> list[str]:
    """The rows of a plan of letters, written one after the other with a blank between, the top one first.

    Raises:
        ValueError: the rows are not equally long; the message begins with the parameter's name, "plan".

    >>> letter_plan("ab ba")
    ['ab', 'ba']
    """
    rows = plan.split(" ")
    width = len(rows[0])
    for number, row in enumerate(rows, 1):
        if len(row) != width:
            raise ValueError(f"plan: row {number} has {len(row)} letters and row 1 has {width}: make it {width}")
    return rows


def cut(polygon: Sequence[Point], p: Point, q: Point) -> tuple[list[Point], list[Point]]:
    """The two parts of a convex polygon on the left and on the right of the line through p and q; [] for none.

    Source: I. Sutherland, G. Hodgman, Reentrant polygon clipping, Communications of the ACM 17(1), 1974.
    """
    heights = [height_over(point, p, q) for point in polygon]
    heights = [0.0 if abs(height) < ROUND_OFF else height for height in heights]
    parts: tuple[list[Point], list[Point]] = ([], [])
    for i, (a, h) in enumerate(zip(polygon, heights, strict=True)):
        b, k = polygon[(i + 1) % len(polygon)], heights[(i + 1) % len(polygon)]
        if h >= 0:
            parts[0].append(a)
        if h <= 0:
            parts[1].append(a)
        if h * k < 0:
            meet = along(a, b, h / (h - k))
            parts[0].append(meet)
            parts[1].append(meet)
    return (parts[0] if max(heights) > 0 else [], parts[1] if min(heights) < 0 else [])


def regular(corners: int, radius: float = 1.0, first: float = 0.0, centre: Point = (0.0, 0.0)) -> list[Point]:
    """The corners of a regular polygon, anticlockwise, the first in the direction `first` [°] from its centre."""
    return [polar(radius, first + 360 * i / corners, centre) for i in range(corners)]


def polar(radius: float, degrees: float, centre: Point = (0.0, 0.0)) -> Point:
    """The point at this distance and in this direction from a centre. Quarter turns are exact."""
    quarter, rest = divmod(degrees, 90)
    if rest == 0:
        x, y = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    else:
        x, y = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return (centre[0] + radius * x, centre[1] + radius * y)


def peel(polygon: Sequence[Point], lines: Iterable[tuple[Point, Point]]) -> list[list[Point]]:
    """Cut one patch after another off a convex polygon; each line keeps what is on its left.

    Given are the core that is left, then the patches from the last cut to the first: an order in which one foundation
    is sewn, since every patch was parted from all that stay by one straight cut.

    Raises:
        GeometryError: a line cuts nothing off, or everything.
    """
    rest, patches = list(polygon), []
    for number, (p, q) in enumerate(lines, 1):
        kept, off = cut(rest, p, q)
        if not kept or not off:
            raise GeometryError(f"line {number}, from {p} to {q}, does not part what is left")
        rest = kept
        patches.append(off)
    return [rest, *reversed(patches)]


def side_line(reach: float, direction: float) -> tuple[Point, Point]:
    """Two points of the line that looks in this direction [°], this far from (0, 0), with (0, 0) on its left."""
    foot, along_it = polar(reach, direction), polar(1.0, direction + 90)
    return foot, (foot[0] + along_it[0], foot[1] + along_it[1])


def facing(directions: Sequence[float], reach: float = 1.0) -> list[Point]:
    """The convex polygon whose sides look in these directions [°], in order round it, each this far from (0, 0)."""
    corners = []
    for one, other in zip(directions, [*directions[1:], directions[0]], strict=True):
        turn = (other - one) % 360
        corners.append(polar(reach / math.cos(math.radians(turn / 2)), one + turn / 2))
    return corners


def rectangle(x: float, y: float, width: float, height: float | None = None) -> list[Point]:
    """The corners of a rectangle by its lower left corner; without a height, of a square."""
    height = width if height is None else height
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def turned(shape: Iterable[Point], quarters: int, about: Point = (0.0, 0.0)) -> list[Point]:
    """A shape turned anticlockwise by quarter turns about a point, exactly."""
    move = Transform.turn(90.0 * quarters, about)
    return [move.point(p) for p in shape]


def half_square(x: float, y: float, side: float, corner: int) -> tuple[list[Point], list[Point]]:
    """The triangle in one corner of a square and the one across, the corners counted from 0, lower left, round."""
    ring = rectangle(x, y, side)
    return [ring[corner - 1], ring[corner], ring[(corner + 1) % 4]], [
        ring[(corner + 1) % 4],
        ring[corner - 2],
        ring[corner - 1],
    ]


def quarter_square(x: float, y: float, side: float) -> list[list[Point]]:
    """The four triangles of a square cut along both diagonals: bottom, right, top, left."""
    ring = rectangle(x, y, side)
    middle = (x + side / 2, y + side / 2)
    return [[middle, p, q] for p, q in zip(ring, ring[1:] + ring[:1], strict=True)]


def goose(x: float, y: float, base: float, quarters: int = 0) -> tuple[list[Point], list[Point], list[Point]]:
    """A flying goose base × base / 2 pointing up, from its lower left corner: goose, left wing, right wing.

    Turned by quarter turns, the corner given stays that of the box it stands in.
    """
    half = base / 2
    shapes = (
        [(0.0, 0.0), (base, 0.0), (half, half)],
        [(0.0, 0.0), (half, half), (0.0, half)],
        [(base, 0.0), (base, half), (half, half)],
    )
    dx, dy = ((0.0, 0.0), (half, 0.0), (base, half), (0.0, base))[quarters % 4]
    first, second, third = ([(x + dx + px, y + dy + py) for px, py in turned(shape, quarters)] for shape in shapes)
    return first, second, third

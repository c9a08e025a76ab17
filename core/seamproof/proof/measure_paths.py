"""The lines of a page as its content draws them, read with qpdf: another reader than the one that makes the ink.

Of a content stream only what draws paths and what moves them is read: no text, no colours. Source: ISO 32000-1, 8.3.4
(transformation), 8.4.2 (the stack of states), 8.5.2 and 8.5.3 (paths and their painting), 8.10.1 (form XObjects).
"""

from __future__ import annotations

import io
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from seamproof.errors import PrintError
from seamproof.geometry.points import distance
from seamproof.units import POINTS_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.geometry import Point

    Matrix: TypeAlias = tuple[float, float, float, float, float, float]

_CURVE_PARTS: Final = 24
_DEEPEST: Final = 12
"""So deep may forms lie within forms."""
_READ: Final = "q Q cm m l c v y h re S s f F f* B B* b b* n Do"
_STROKED: Final = frozenset({"S", "s", "B", "B*", "b", "b*"})
_CLOSED_FIRST: Final = frozenset({"s", "b", "b*"})
_DONE: Final = frozenset({"f", "F", "f*", "n"})
_UNMOVED: Final = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


class LinedPages:
    """The pages of a PDF, for their lines.

    Raises:
        PrintError: the document, or what is asked of a page, is not as it must be.
    """

    def __init__(self, content: bytes) -> None:
        import pikepdf

        with _damage_told():
            self._document = pikepdf.open(io.BytesIO(content))

    def close(self) -> None:
        """Let the document go."""
        self._document.close()

    def unit(self, number: int) -> float:
        """How many points a page's unit is long; 1 unless the page says otherwise. Source: ISO 32000-1, table 30."""
        with _damage_told():
            (unit,) = _numbers([self._document.pages[number - 1].obj.get("/UserUnit", 1)], 1)
            if not unit > 0:
                raise ValueError(unit)
            return unit

    def stroked(self, number: int) -> list[tuple[Point, ...]]:
        """Every stroked path of a page as points [in, from the upper left corner], curves flattened."""
        with _damage_told():
            page = self._document.pages[number - 1]
            x0, y0, x1, y1 = _numbers(page.mediabox, 4)
            inch = 1 / POINTS_PER_INCH
            reader = _Reader((inch, 0.0, 0.0, -inch, -min(x0, x1) * inch, max(y0, y1) * inch))
            reader.read(page, page.resources, 0)
            return reader.paths


@contextmanager
def _damage_told() -> Iterator[None]:
    import pikepdf

    theirs = (pikepdf.PdfError, pikepdf.PasswordError, pikepdf.ForeignObjectError, pikepdf.DeletedObjectError)
    try:
        yield
    except (*theirs, ValueError, TypeError, LookupError, AttributeError, RuntimeError, ArithmeticError) as error:
        raise PrintError("this PDF is damaged and cannot be measured: make the handout again") from error


class _Reader:
    """Follows the operators of a content stream."""

    def __init__(self, matrix: Matrix) -> None:
        self.matrix = matrix
        self.paths: list[tuple[Point, ...]] = []
        self._drawn: list[list[Point]] = []

    def read(self, stream: Any, resources: Any, depth: int) -> None:
        """Read a page's or a form's content; what it moves is as it was afterwards."""
        import pikepdf

        kept: list[Matrix] = []
        before = self.matrix
        for one in pikepdf.parse_content_stream(stream, _READ):
            name, operands = str(one.operator), list(one.operands)
            if name == "q":
                kept.append(self.matrix)
            elif name == "Q":
                self.matrix = kept.pop() if kept else self.matrix
            elif name == "cm":
                self.matrix = _after(_numbers(operands, 6), self.matrix)
            elif name == "Do":
                self._form(str(operands[0]), resources, depth + 1)
            elif name in _STROKED or name in _DONE:
                self._paint(name)
            else:
                self._draw(name, operands)
        self.matrix = before

    def _form(self, name: str, resources: Any, depth: int) -> None:
        form = resources.get("/XObject", {}).get(name)
        if form is None or form.get("/Subtype") != "/Form":
            return
        if depth > _DEEPEST:
            raise ValueError(name)
        before = self.matrix
        self.matrix = _after(_numbers(form.get("/Matrix", _UNMOVED), 6), before)
        self.read(form, form.get("/Resources", resources), depth)
        self.matrix = before

    def _draw(self, name: str, operands: Sequence[Any]) -> None:
        if name == "h":
            self._close()
        elif name == "re":
            x, y, width, height = _numbers(operands, 4)
            self._drawn.append([])
            self._drawn[-1] += map(self._at, (x, x + width, x + width, x), (y, y, y + height, y + height))
            self._close()
        elif name == "m":
            self._drawn.append([self._at(*_numbers(operands, 2))])
        elif self._drawn:
            values = _numbers(operands, {"l": 2, "c": 6}.get(name, 4))
            self._on(name, [self._at(x, y) for x, y in zip(values[::2], values[1::2], strict=True)])

    def _on(self, name: str, points: Sequence[Point]) -> None:
        """Draw on from where the pen is. A cubic curve is cut into chords far shorter than any tolerance."""
        path = self._drawn[-1]
        if name == "l":
            path += points
            return
        first, second = {"c": points[:2], "v": (path[-1], points[0]), "y": points}[name]
        path += _cubic((path[-1], first, second, points[-1]))

    def _close(self) -> None:
        if self._drawn and distance(self._drawn[-1][0], self._drawn[-1][-1]) > 0:
            self._drawn[-1].append(self._drawn[-1][0])

    def _paint(self, name: str) -> None:
        if name in _CLOSED_FIRST:
            self._close()
        if name in _STROKED:
            self.paths += (tuple(path) for path in self._drawn if len(path) > 1)
        self._drawn = []

    def _at(self, x: float, y: float) -> Point:
        a, b, c, d, e, f = self.matrix
        return (a * x + c * y + e, b * x + d * y + f)


def _after(first: Sequence[float], then: Matrix) -> Matrix:
    """The matrix that moves by one matrix and then by another."""
    a, b, c, d, e, f = first
    ta, tb, tc, td, te, tf = then
    return (
        a * ta + b * tc, a * tb + b * td, c * ta + d * tc, c * tb + d * td, e * ta + f * tc + te, e * tb + f * td + tf
    )  # fmt: skip


def _numbers(operands: Any, count: int) -> list[float]:
    """The numbers an operator was given. Raises ValueError where they are not so many, or no numbers."""
    try:
        values = [float(value) for value in operands]
    except (TypeError, ArithmeticError) as error:
        raise ValueError(str(error)) from error
    if len(values) != count:
        raise ValueError(values)
    return values


def _cubic(curve: tuple[Point, Point, Point, Point]) -> Iterator[Point]:
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = curve
    for part in range(1, _CURVE_PARTS + 1):
        t = part / _CURVE_PARTS
        s = 1 - t
        a, b, c, d = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        yield (a * ax + b * bx + c * cx + d * dx, a * ay + b * by + c * cy + d * dy)

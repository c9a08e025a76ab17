"""A sketch written as SVG. No other module writes it.

Numbers are finite and rounded, texts hold no control character and no markup, ids are given and never counted. The same
sketch gives the same bytes.
"""

from __future__ import annotations

import math
import unicodedata
from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING, Final

from seamproof.errors import GeometryError
from seamproof.sheets.ink import BLACK, POINT, WHITE

if TYPE_CHECKING:
    from seamproof.geometry import Edge, Point
    from seamproof.sheets.drawing import Label
    from seamproof.sheets.ink import Ink
    from seamproof.sheets.sketch import Shape, Sketch

UNITS_PER_INCH: Final = 96
"""[1/in] One user unit is a CSS pixel, so that a program that overlooks width and height still shows true size.

Source: W3C CSS Values and Units, absolute lengths (1 in = 96 px).
"""

_CAP_HEIGHT: Final = 0.7
"""[1] How high a capital stands, as a share of the letters' size, in a usual sans."""


def number(inches: float) -> str:
    """A length [in] in user units, with three decimals at the most (a hundred-thousandth of an inch).

    Raises:
        GeometryError: it is not finite.
    """
    return _written(inches * UNITS_PER_INCH)


_LETTERS: Final = "Noto Sans, Helvetica, Arial, sans-serif"
_SPACES: Final = {
    "xmlns": "http://www.w3.org/2000/svg",
    "xmlns:ev": "http://www.w3.org/2001/xml-events",
    "xmlns:xlink": "http://www.w3.org/1999/xlink",
}
_NO_CHARACTERS: Final = frozenset("\ufffe\uffff")


def plain(text: str) -> str:
    """A text without control characters and halves of characters, which XML cannot hold; each becomes a space."""
    return "".join(
        " " if char in _NO_CHARACTERS or unicodedata.category(char) in {"Cc", "Cs"} else char for char in text
    )


def write_svg(sketch: Sketch, *, text: bool) -> str:
    """The sketch as an SVG file; its labels only where `text` is true.

    Raises:
        GeometryError: a number in it is not finite.
    """
    frame = {
        "baseProfile": "full",
        "height": f"{_written(sketch.height)}in",
        "role": "img",
        "version": "1.1",
        "viewBox": f"0 0 {number(sketch.width)} {number(sketch.height)}",
        "width": f"{_written(sketch.width)}in",
        **_SPACES,
    }
    parts = [f"<svg{_attributes(frame)}>"]
    parts += (
        f"<{tag}>{_escaped(plain(said))}</{tag}>" for tag, said in (("title", sketch.title), ("desc", sketch.alt))
    )
    for ink, shapes in groupby(sketch.shapes, key=lambda shape: shape.ink):
        parts += (_pen(ink), *map(_path, shapes), "</g>")
    if text and sketch.labels:
        parts += (f"<g{_attributes({'fill': BLACK, 'font-family': _LETTERS})}>", *map(_text, sketch.labels), "</g>")
    return "".join((*parts, "</svg>\n"))


def _attributes(values: dict[str, str]) -> str:
    """Attributes in the order of their names; an empty one is left out."""
    return "".join(f' {name}="{_escaped(value, quoted=True)}"' for name, value in sorted(values.items()) if value)


def _escaped(text: str, *, quoted: bool = False) -> str:
    safe = text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return safe.replace('"', "&quot;") if quoted else safe


def _written(value: float) -> str:
    if not math.isfinite(value):
        raise GeometryError(f"a drawing holds the number {value}: every number must be finite")
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


@lru_cache(maxsize=512)
def _pen(ink: Ink) -> str:
    """The group in which all that is drawn by an ink stands."""
    pen = {"fill": ink.fill or "none", "stroke": ink.stroke or "none"}
    if ink.stroke:
        pen["stroke-width"] = number(ink.weight)
        pen["stroke-linejoin"] = "round" if ink.round else "miter"
    if ink.stroke and ink.round:
        pen["stroke-linecap"] = "round"
    if ink.fill and ink.opacity < 1:
        pen["fill-opacity"] = _written(ink.opacity)
    if ink.dash:
        pen["stroke-dasharray"] = " ".join(map(number, ink.dash))
    return f"<g{_attributes(pen)}>"


def _path(shape: Shape) -> str:
    drawn = "".join(_run(run, closed=shape.closed) for run in shape.runs)
    kind, name = _attributes({"class": shape.kind}), _attributes({"id": shape.id})
    return f'<path{kind} d="{drawn}"{name} />'


def _run(run: tuple[Edge, ...], *, closed: bool) -> str:
    drawn = run[:-1] if closed and not run[-1].is_arc else run
    return f"M{_pair(run[0].start)}" + "".join(map(_segment, drawn)) + ("Z" if closed else "")


def _segment(edge: Edge) -> str:
    if not edge.is_arc:
        return f"L{_pair(edge.end)}"
    radius = number(edge.radius)
    return f"A{radius} {radius} 0 {int(abs(edge.bulge) > 1)} {int(edge.bulge > 0)} {_pair(edge.end)}"


def _pair(point: Point) -> str:
    return f"{number(point[0])} {number(point[1])}"


def _text(label: Label) -> str:
    size = label.size * POINT
    attributes = {
        "x": number(label.x),
        "y": number(label.y + _CAP_HEIGHT / 2 * size),
        "font-size": number(size),
        "text-anchor": label.anchor,
    }
    if label.weight == "bold":
        attributes["font-weight"] = "bold"
    if label.angle:
        attributes["transform"] = f"rotate({_written(label.angle)} {number(label.x)} {number(label.y)})"
    said = _escaped(plain(label.text))
    written = f"<text{_attributes(attributes)}>{said}</text>"
    if not label.halo:
        return written
    ground = {"stroke": WHITE, "stroke-width": number(0.22 * size), "stroke-linejoin": "round", "fill": WHITE}
    return f"<text{_attributes(attributes | ground | {'aria-hidden': 'true'})}>{said}</text>{written}"

"""A sketch written as SVG. No other module uses svgwrite.

svgwrite's own validator is off, since it refuses `role` and `aria-*`; what it guarded is guarded here: numbers are
finite and rounded, texts hold no control character, ids are given and never counted. The same sketch gives the same
bytes.
"""

from __future__ import annotations

import math
import unicodedata
from itertools import groupby
from typing import TYPE_CHECKING, Any, Final

from seamproof.errors import GeometryError
from seamproof.sheets.ink import BLACK, POINT, WHITE

if TYPE_CHECKING:
    from collections.abc import Iterable

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


_NO_CHARACTERS: Final = frozenset("\ufffe\uffff")


def plain(text: str) -> str:
    """A text without control characters and halves of characters, which XML cannot hold; each becomes a space."""
    return "".join(
        " " if char in _NO_CHARACTERS or unicodedata.category(char) in {"Cc", "Cs"} else char for char in text
    )


def write_svg(sketch: Sketch, *, text: bool) -> str:
    """The sketch as an SVG file; its labels only where `text` is true.

    Without them it is to be printed, and nobody looks for its shapes: they have no names, and lines of one ink are one.

    Raises:
        GeometryError: a number in it is not finite.
    """
    import svgwrite

    size = (f"{_written(sketch.width)}in", f"{_written(sketch.height)}in")
    drawing = svgwrite.Drawing(size=size, debug=False)
    drawing["viewBox"] = f"0 0 {number(sketch.width)} {number(sketch.height)}"
    drawing["role"] = "img"
    drawing.set_desc(title=plain(sketch.title), desc=plain(sketch.alt))
    for ink, shapes in groupby(sketch.shapes, key=lambda shape: shape.ink):
        if not text:
            for drawn in _joined(ink, map(_path, shapes)):
                drawing.add(drawing.path(d=drawn, **_pen(ink)))
            continue
        group = drawing.g(**_pen(ink))
        for shape in shapes:
            group.add(drawing.path(d=_path(shape), **_names(shape)))
        drawing.add(group)
    if text and sketch.labels:
        group = drawing.g(font_family="Noto Sans, Helvetica, Arial, sans-serif", fill=BLACK)
        for label in sketch.labels:
            _add_text(drawing, group, label)
        drawing.add(group)
    written: str = drawing.tostring()
    return written.replace("<defs />", "") + "\n"


def _written(value: float) -> str:
    if not math.isfinite(value):
        raise GeometryError(f"a drawing holds the number {value}: every number must be finite")
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def _pen(ink: Ink) -> dict[str, str]:
    pen = {"fill": ink.fill or "none", "stroke": ink.stroke or "none"}
    if ink.stroke:
        pen["stroke_width"] = number(ink.weight)
        pen["stroke_linejoin"] = "round" if ink.round else "miter"
    if ink.stroke and ink.round:
        pen["stroke_linecap"] = "round"
    if ink.fill and ink.opacity < 1:
        pen["fill_opacity"] = _written(ink.opacity)
    if ink.dash:
        pen["stroke_dasharray"] = " ".join(map(number, ink.dash))
    return pen


def _joined(ink: Ink, paths: Iterable[str]) -> Iterable[str]:
    """Paths of one ink: lines as one, fills each by itself, since within one path they may cut one another out."""
    return paths if ink.fill else ("".join(paths),)


def _names(shape: Shape) -> dict[str, str]:
    return {key: value for key, value in (("id", shape.id), ("class_", shape.kind)) if value}


def _path(shape: Shape) -> str:
    return "".join(_run(run, closed=shape.closed) for run in shape.runs)


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


def _add_text(drawing: Any, group: Any, label: Label) -> None:
    size = label.size * POINT
    attributes = {
        "x": number(label.x),
        "y": number(label.y + _CAP_HEIGHT / 2 * size),
        "font_size": number(size),
        "text_anchor": label.anchor,
    }
    if label.weight == "bold":
        attributes["font_weight"] = "bold"
    if label.angle:
        attributes["transform"] = f"rotate({_written(label.angle)} {number(label.x)} {number(label.y)})"
    x, y = attributes.pop("x"), attributes.pop("y")
    if label.halo:
        ground = {"stroke": WHITE, "stroke_width": number(0.22 * size), "stroke_linejoin": "round", "fill": WHITE}
        group.add(drawing.text(plain(label.text), x=[x], y=[y], **attributes, **ground, aria_hidden="true"))
    group.add(drawing.text(plain(label.text), x=[x], y=[y], **attributes))

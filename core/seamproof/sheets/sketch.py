"""What a drawing is made of, before it is written as SVG: shapes and labels in inches from its top left corner."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeAlias

from seamproof.geometry import Edge, Outline, Transform
from seamproof.geometry.points import bounds
from seamproof.sheets.drawing import Drawing, Label

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from seamproof.geometry import Point
    from seamproof.sheets.drawing import Anchor, Weight
    from seamproof.sheets.ink import Ink

Box: TypeAlias = tuple[float, float, float, float]
"""(left, bottom, right, top) [in]."""


@dataclass(frozen=True)
class Shape:
    """Runs of edges [in], drawn as one path.

    Attributes:
        runs: Each run is drawn without lifting the pen.
        ink: How it is drawn.
        closed: Whether each run is closed.
        id: Its name in the SVG, if it needs one.
        kind: Its class in the SVG, such as "cut-line".
    """

    runs: tuple[tuple[Edge, ...], ...]
    ink: Ink
    closed: bool = False
    id: str = ""
    kind: str = ""

    @property
    def bounds(self) -> Box:
        """The least box round it."""
        return bounds(point for run in self.runs for edge in run for point in edge.flattened())

    def moved(self, move: Transform) -> Shape:
        """The same shape elsewhere."""
        return replace(self, runs=tuple(tuple(map(move.edge, run)) for run in self.runs))


@dataclass(frozen=True)
class Sketch:
    """A finished sketch.

    Attributes:
        width: Its width [in].
        height: Its height [in].
        shapes: From back to front.
        labels: The texts on it.
        title: Its title in the SVG.
        alt: What it shows, in words.
        place: Where a point of the block stands on it: (x, y) of the block, y up → (x, y) of the sketch, y down.
    """

    width: float
    height: float
    shapes: tuple[Shape, ...]
    labels: tuple[Label, ...]
    title: str
    alt: str
    place: Transform

    @property
    def drawing(self) -> Drawing:
        """The lines as SVG without text, and the labels beside them."""
        from seamproof.sheets.svg import write_svg

        return Drawing(write_svg(self, text=False), self.width, self.height, self.labels, self.alt)

    @property
    def svg(self) -> str:
        """The whole as one SVG file, labels as text."""
        from seamproof.sheets.svg import write_svg

        return write_svg(self, text=True)

    def window(self, left: float, top: float, width: float, height: float) -> Sketch:
        """What is seen of it through a window [in]; shapes that cross its edge are kept whole, and hidden there."""
        move = Transform.shift(-left, -top)
        shapes = [shape.moved(move) for shape in self.shapes]
        labels = [replace(label, x=label.x - left, y=label.y - top) for label in self.labels]
        return replace(
            self,
            width=width,
            height=height,
            shapes=tuple(shape for shape in shapes if _meets(shape.bounds, width, height)),
            labels=tuple(label for label in labels if 0 <= label.x <= width and 0 <= label.y <= height),
            place=self.place.then(move),
        )


class Pad:
    """A sheet that is drawn on, in the block's coordinates; `sketch` finishes it.

    Args:
        box: What of the block is to be seen, (left, bottom, right, top) [in].
        scale: How many inches an inch of the block is drawn as.
        mirrored: Whether it is seen from behind. Geometry is then mirrored, lettering never.
        margin: Clear space all round [in], as drawn; or (left, top, right, bottom).
    """

    def __init__(
        self,
        box: Box,
        *,
        scale: float = 1.0,
        mirrored: bool = False,
        margin: float | tuple[float, float, float, float] = 0.0,
    ) -> None:
        left, bottom, right, top = box
        m_left, m_top, m_right, m_bottom = margin if isinstance(margin, tuple) else (margin,) * 4
        self.scale = scale
        self.width = (right - left) * scale + m_left + m_right
        self.height = (top - bottom) * scale + m_top + m_bottom
        across = Transform(-scale, 0, 0, -scale, right * scale + m_left, top * scale + m_top)
        plain = Transform(scale, 0, 0, -scale, m_left - left * scale, top * scale + m_top)
        self.place = across if mirrored else plain
        self.shapes: list[Shape] = []
        self.labels: list[Label] = []

    def edges(
        self,
        edges: Iterable[Edge],
        ink: Ink,
        *,
        closed: bool = False,
        name: str = "",
        kind: str = "",
    ) -> None:
        """Draw a run of edges of the block."""
        self.shapes.append(Shape((tuple(map(self.place.edge, edges)),), ink, closed, name, kind))

    def outline(
        self,
        outline: Outline | Sequence[Point],
        ink: Ink,
        *,
        name: str = "",
        kind: str = "",
    ) -> None:
        """Draw a closed outline of the block; fewer than three points draw nothing."""
        if isinstance(outline, Outline):
            self.edges(outline.edges, ink, closed=True, name=name, kind=kind)
        elif len(outline) > 2:
            ring = zip(outline, [*outline[1:], outline[0]], strict=True)
            self.edges((Edge(p, q) for p, q in ring), ink, closed=True, name=name, kind=kind)

    def line(self, p: Point, q: Point, ink: Ink, *, kind: str = "") -> None:
        """Draw a straight line of the block."""
        self.edges((Edge(p, q),), ink, kind=kind)

    def marks(self, segments: Iterable[tuple[Point, Point]], ink: Ink, *, kind: str = "") -> None:
        """Draw segments given in the sketch's own inches, as one path."""
        runs = tuple((Edge(p, q),) for p, q in segments)
        if runs:
            self.shapes.append(Shape(runs, ink, closed=False, kind=kind))

    def stroke(self, edges: Sequence[Edge], ink: Ink, *, closed: bool = False, kind: str = "") -> None:
        """Draw a run of edges given in the sketch's own inches."""
        self.shapes.append(Shape((tuple(edges),), ink, closed, kind=kind))

    def square(self, corner: Point, side: float, ink: Ink, *, name: str = "") -> None:
        """Draw a square whose upper left corner and side are given in the sketch's own inches, as one closed path."""
        x, y = corner
        ring = ((x, y), (x + side, y), (x + side, y + side), (x, y + side))
        edges = tuple(Edge(p, q) for p, q in zip(ring, (*ring[1:], ring[0]), strict=True))
        self.shapes.append(Shape((edges,), ink, closed=True, id=name, kind=name))

    def ring(self, centre: Point, radius: float, ink: Ink, *, kind: str = "") -> None:
        """Draw a circle given in the sketch's own inches."""
        (x, y) = centre
        a, b = (x - radius, y), (x + radius, y)
        self.stroke((Edge(a, b, 1.0), Edge(b, a, 1.0)), ink, closed=True, kind=kind)

    def add(self, sketch: Sketch, move: Transform) -> None:
        """Draw all of another sketch, moved by a shift [in]."""
        self.shapes.extend(shape.moved(move) for shape in sketch.shapes)
        for label in sketch.labels:
            x, y = move.point((label.x, label.y))
            self.labels.append(replace(label, x=x, y=y))

    def dot(self, centre: Point, radius: float, ink: Ink, *, kind: str = "") -> None:
        """Draw a circle round a point of the block, its radius in the sketch's inches."""
        self.ring(self.place.point(centre), radius, ink, kind=kind)

    def write(
        self,
        text: str,
        at: Point,
        size: float,
        *,
        anchor: Anchor = "middle",
        angle: float = 0.0,
        weight: Weight = "regular",
        halo: bool = False,
    ) -> None:
        """Put a text [pt] at a point of the sketch, in its own inches."""
        self.labels.append(Label(text, at[0], at[1], size, anchor, angle, weight, halo))

    def sketch(self, title: str, alt: str = "") -> Sketch:
        """The finished sketch; without `alt`, its title says what it shows."""
        return Sketch(self.width, self.height, tuple(self.shapes), tuple(self.labels), title, alt or title, self.place)


def around(points: Iterable[Point], by: float = 0.0) -> Box:
    """The least box round points, grown by `by` [in] on every side."""
    left, bottom, right, top = bounds(points)
    return (left - by, bottom - by, right + by, top + by)


def _meets(box: Box, width: float, height: float) -> bool:
    left, bottom, right, top = box
    return right >= 0 and top >= 0 and left <= width and bottom <= height

"""A drawing: lines and fills as SVG, its words beside it, so that they are set as real text in the shipped font."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

Anchor: TypeAlias = Literal["start", "middle", "end"]
Weight: TypeAlias = Literal["regular", "bold"]


@dataclass(frozen=True)
class Label:
    """A short text on a drawing, never mirrored.

    Attributes:
        text: What it says.
        x: How far right of the drawing's left edge its anchor stands [in].
        y: How far below the drawing's top edge the middle of its letters' height stands [in].
        size: The height of the letters [pt].
        anchor: Which part of the text stands at (x, y): its start, its middle or its end.
        angle: How far it is turned about (x, y), clockwise as seen on the page [°].
        weight: "regular" or "bold".
        halo: Whether it stands on a small white ground, so that it can be read over lines and fills.
    """

    text: str
    x: float
    y: float
    size: float = 8.0
    anchor: Anchor = "middle"
    angle: float = 0.0
    weight: Weight = "regular"
    halo: bool = False


@dataclass(frozen=True)
class Drawing:
    """A picture of known size.

    Attributes:
        svg: The drawing without any text; its viewBox covers the whole of width × height.
        width: Its width [in].
        height: Its height [in].
        labels: The texts that stand on it.
        alt: What it shows, in words, for those who do not see it.
    """

    svg: str | bytes
    width: float
    height: float
    labels: tuple[Label, ...] = ()
    alt: str = ""

    def scaled(self, factor: float) -> Drawing:
        """The same drawing larger or smaller; its letters keep their size."""
        labels = tuple(
            Label(label.text, label.x * factor, label.y * factor, label.size, label.anchor, label.angle, label.weight,
                  label.halo)
            for label in self.labels
        )  # fmt: skip
        return Drawing(self.svg, self.width * factor, self.height * factor, labels, self.alt)

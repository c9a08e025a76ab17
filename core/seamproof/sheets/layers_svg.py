"""The layer map: the block from the back, every allowance laid over the others, darker where more lie."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from seamproof.sheets.ink import BLACK, BORDER, POINT, SEAM, WHITE, Ink
from seamproof.sheets.sketch import Pad
from seamproof.sheets.unit_shapes import rings_round

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.geometry import Point
    from seamproof.pattern import Pattern
    from seamproof.planning.layers import Thickness
    from seamproof.sequence.pressing import PressedSeam
    from seamproof.sheets.drawing import Drawing
    from seamproof.sheets.sketch import Sketch

WIDTH: Final = 2.9
"""[in] How wide the block is drawn unless told otherwise."""
_ONE: Final = 0.13
"""How dark one allowance is."""
_RING: Final = 0.085
_FIGURE: Final = 8.0


def layers_sketch(pattern: Pattern, marked: Sequence[Thickness], *, width: float = WIDTH) -> Sketch:
    """The block from the back, `width` inches wide, the places given numbered from 1."""
    import shapely

    block = pattern.block
    outline = rings_round([patch.outline for patch in block.patches])[0]
    whole = shapely.Polygon(outline)
    pad = Pad(block.bounds, scale=width / block.size[0], mirrored=True, margin=_RING + 0.02)
    for seam in pattern.pressing.seams:
        for ring, layers in _strips(seam, pattern.recipe.make.allowance, whole):
            shade = Ink(fill=BLACK, stroke=None, opacity=1 - (1 - _ONE) ** layers)
            pad.outline(ring, shade, kind="allowance")
    for patch in block.patches:
        pad.outline(patch.outline, SEAM, kind="patch")
    pad.outline(outline, BORDER, kind="outline")
    for number, thick in enumerate(marked, 1):
        at = pad.place.point(thick.place)
        pad.ring(at, _RING, Ink(fill=WHITE, stroke=BLACK, weight=1.0 * POINT), kind="thick")
        pad.write(str(number), at, _FIGURE, weight="bold")
    most = marked[0].layers if marked else 3
    told = f"The block from the back with every allowance laid over it; at most {most} layers of cloth lie at a point."
    return pad.sketch(f"{pattern.recipe.title}, layer map", f"{told} The places named beside it are numbered.")


def layers_drawing(pattern: Pattern, marked: Sequence[Thickness], *, width: float = WIDTH) -> Drawing:
    """The layer map as a drawing with its labels beside it: see `layers_sketch`."""
    return layers_sketch(pattern, marked, width=width).drawing


def _strips(seam: PressedSeam, allowance: float, whole: Any) -> Iterator[tuple[tuple[Point, ...], int]]:
    """What a seam's allowances cover, and with how many layers: both on one side, or one on each."""
    import shapely

    points = [seam.seam[0].start, *(point for edge in seam.seam for point in edge.flattened()[1:])]
    line = shapely.LineString(points)
    ways = {"left": ((1, 2),), "right": ((-1, 2),), "open": ((1, 1), (-1, 1))}[seam.toward]
    for side, layers in ways:
        strip = line.buffer(side * allowance, single_sided=True, join_style="mitre").intersection(whole)
        for part in getattr(strip, "geoms", [strip]):
            if part.geom_type == "Polygon" and part.area > 0:
                yield tuple((float(x), float(y)) for x, y in part.exterior.coords[:-1]), layers

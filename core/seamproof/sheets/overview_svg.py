"""The block in numbers: its sections by letter, its patches by number; and the swatches of the fabric legend."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.sheets.block_svg import fill_of, hatch_ink
from seamproof.sheets.cropping import cropped
from seamproof.sheets.hatches import hatch, hatch_name
from seamproof.sheets.ink import BORDER, LEADER, POINT, SEAM, SECTION
from seamproof.sheets.leaders import frame_of, lead_out
from seamproof.sheets.lettering import fit_text
from seamproof.sheets.sketch import Pad
from seamproof.sheets.unit_shapes import rings_round
from seamproof.tones import tint

if TYPE_CHECKING:
    from seamproof.geometry import Point
    from seamproof.pattern import FabricLegend, Pattern
    from seamproof.sheets.drawing import Drawing
    from seamproof.sheets.sketch import Sketch

WIDTH: Final = 5.0
"""[in] How wide the block is drawn unless told otherwise."""
_SIZES: Final = (9.0, 8.0, 7.0, 6.0)
_OUTSIDE: Final = 7.0
_ROOM: Final = 1.0
_STRENGTH: Final = 0.35


def overview_sketch(pattern: Pattern, *, width: float = WIDTH, tinted: bool = False, large: bool = False) -> Sketch:
    """The block from the face with every patch's name as the pages call it, and the sections' outlines heavier.

    Args:
        pattern: The pattern.
        width: How wide the block is drawn [in]; names outside it come on top.
        tinted: Whether patches show a light tint of their fabrics.
        large: Whether letters are a half larger.
    """
    block = pattern.block
    grow = 1.5 if large else 1.0
    pad = Pad(block.bounds, scale=width / block.size[0], margin=_ROOM)
    for patch in block.patches:
        fill = tint(pattern.fabric(patch.id).colour, _STRENGTH) if tinted else None
        pad.outline(patch.outline, SEAM.filled(fill), kind="patch")
    for foundation in pattern.construction.foundations:
        for ring in rings_round([block.patch(p).outline for p in pattern.construction.patches_of(foundation.label)]):
            pad.outline(ring, SECTION, kind="section")
    if block.outline is not None:
        pad.outline(block.outline, SECTION, kind="outline")
    outside = [(name, at) for name, at in _placed(pad, pattern, grow)]
    ring = tuple(map(pad.place.point, rings_round([patch.outline for patch in block.patches])[0]))
    for name, start in outside:
        at, foot = lead_out(start, ring, name, _OUTSIDE * grow, [frame_of(label) for label in pad.labels])
        pad.ring(start, 1.2 * POINT, LEADER)
        pad.marks([(start, foot)], LEADER, kind="leader")
        pad.write(name, at, _OUTSIDE * grow)
    count = len(pattern.construction.foundations)
    return cropped(
        pad.sketch(
            f"{pattern.recipe.title} in numbers",
            f"The block from the face: {len(block.patches)} patches with their numbers, "
            f"{count} {'section' if count == 1 else 'sections'} sewn on paper.",
        )
    )


def overview_drawing(pattern: Pattern, *, width: float = WIDTH, tinted: bool = False, large: bool = False) -> Drawing:
    """The block in numbers as a drawing with its labels beside it: see `overview_sketch`."""
    return overview_sketch(pattern, width=width, tinted=tinted, large=large).drawing


def swatch_sketch(fabric: FabricLegend, *, size: tuple[float, float] = (0.5, 0.3), hatched: bool = True) -> Sketch:
    """A swatch of one fabric, with its hatch as the block pictures draw it."""
    width, height = size
    margin = BORDER.weight / 2
    ring: tuple[Point, ...] = ((0, 0), (width - 2 * margin, 0), (width - 2 * margin, height - 2 * margin),
                               (0, height - 2 * margin))  # fmt: skip
    pad = Pad((0, 0, width - 2 * margin, height - 2 * margin), margin=margin)
    fill = fill_of(fabric, "cloth")
    pad.outline(ring, SEAM.filled(fill))
    if hatched:
        pad.marks(hatch(fabric.hatch, tuple(map(pad.place.point, ring))), hatch_ink(fill), kind="hatch")
    pad.outline(ring, SEAM)
    words = f", {hatch_name(fabric.hatch)}" if hatched else ""
    return pad.sketch(f"Fabric {fabric.letter}", f"Fabric {fabric.letter}, {fabric.name}{words}.")


def swatch_drawing(fabric: FabricLegend, *, size: tuple[float, float] = (0.5, 0.3), hatched: bool = True) -> Drawing:
    """A swatch of one fabric as a drawing: see `swatch_sketch`."""
    return swatch_sketch(fabric, size=size, hatched=hatched).drawing


def _placed(pad: Pad, pattern: Pattern, grow: float) -> list[tuple[str, Point]]:
    """Write the names that fit; give the others with the middle of their patches."""
    outside = []
    for patch in pattern.block.patches:
        name = pattern.names[patch.id]
        ring = tuple(map(pad.place.point, patch.outline.polygon))
        centre = pad.place.point(patch.outline.centroid)
        fit = fit_text(name, ring, [centre], [size * grow for size in _SIZES], clear=0.02)
        if fit is None:
            outside.append((name, centre))
        else:
            pad.write(name, fit.at, fit.size, angle=fit.angle)
    return outside

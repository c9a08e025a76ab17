"""Pictures of the whole block, seen from the face: in cloth, in line and in values."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from seamproof.sheets.hatches import hatch
from seamproof.sheets.ink import BORDER, LINE, POINT, SEAM, SHADE, WHITE, Ink
from seamproof.sheets.lettering import fit_text
from seamproof.sheets.sketch import Pad
from seamproof.tones import grey, is_dark

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.block import Patch
    from seamproof.geometry import Point
    from seamproof.pattern import FabricLegend, Pattern
    from seamproof.sheets.drawing import Drawing
    from seamproof.sheets.sketch import Sketch

Look: TypeAlias = Literal["cloth", "line", "values"]

WIDTH: Final = 3.5
"""[in] How wide a block is drawn unless told otherwise."""
_SIZES: Final = (9.0, 8.0, 7.0, 6.0)
_ABOUT: Final[dict[Look, str]] = {
    "cloth": "in its fabrics",
    "line": "in lines, to colour",
    "values": "in greys, as light or dark as its fabrics",
}


def block_sketch(
    pattern: Pattern, look: Look = "cloth", *, width: float = WIDTH, hatched: bool = False, lettered: bool = False
) -> Sketch:
    """The block from the face, `width` inches wide.

    Args:
        pattern: What is drawn.
        look: "cloth": in its fabrics' colours; "line": lines alone; "values": greys as light as the fabrics.
        width: How wide it is drawn [in].
        hatched: Whether each fabric has its hatch too.
        lettered: Whether each patch that has room shows its fabric's letter.
    """
    block = pattern.block
    margin = BORDER.weight
    left, _, right, _ = block.bounds
    pad = Pad(block.bounds, scale=(width - 2 * margin) / (right - left), margin=margin)
    for patch in block.patches:
        fabric = pattern.fabric(patch.id)
        fill = fill_of(fabric, look)
        pen = (LINE if look == "line" else SEAM).filled(fill)
        pad.outline(patch.outline, pen, name=f"patch-{patch.id}", kind=f"patch fabric-{fabric.letter}")
        ring = tuple(map(pad.place.point, patch.outline.polygon))
        if hatched:
            pad.marks(hatch(fabric.hatch, ring), hatch_ink(fill), kind="hatch")
        if lettered:
            _letter(pad, fabric, patch, ring)
    if block.outline is not None:
        pad.outline(block.outline, BORDER, kind="outline")
    title = f"{pattern.recipe.title}, {_ABOUT[look]}"
    return pad.sketch(title, f"{title}: {len(block.patches)} patches, seen from the face.")


def block_drawing(
    pattern: Pattern, look: Look = "cloth", *, width: float = WIDTH, hatched: bool = False, lettered: bool = False
) -> Drawing:
    """The block as a drawing with its labels beside it: see `block_sketch`."""
    return block_sketch(pattern, look, width=width, hatched=hatched, lettered=lettered).drawing


def block_svg(
    pattern: Pattern, look: Look = "cloth", *, width: float = WIDTH, hatched: bool = False, lettered: bool = False
) -> str:
    """The block as one SVG file: see `block_sketch`."""
    return block_sketch(pattern, look, width=width, hatched=hatched, lettered=lettered).svg


def fill_of(fabric: FabricLegend, look: Look) -> str | None:
    """What a patch is filled with in a look."""
    return {"cloth": fabric.colour, "values": grey(fabric.colour), "line": None}[look]


def hatch_ink(fill: str | None) -> Ink:
    """The ink of a hatch on this fill: light on dark, dark on light."""
    stroke = WHITE if fill and is_dark(fill) else SHADE
    return replace(SEAM, stroke=stroke, weight=0.4 * POINT)


def _letter(pad: Pad, fabric: FabricLegend, patch: Patch, ring: Sequence[Point]) -> None:
    centre = pad.place.point(patch.outline.centroid)
    fit = fit_text(fabric.letter, ring, (centre,), _SIZES, clear=0.025, turned=False)
    if fit:
        pad.write(fabric.letter, fit.at, fit.size, weight="bold", halo=True)

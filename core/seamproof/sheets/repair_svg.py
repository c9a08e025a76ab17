"""A block before and after seams are added, side by side."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from seamproof.geometry import Edge, Transform
from seamproof.sheets.ink import BLACK, BORDER, POINT, SEAM, WHITE, Ink
from seamproof.sheets.sketch import Pad
from seamproof.tones import is_dark

if TYPE_CHECKING:
    from collections.abc import Mapping

    from seamproof.block import Block
    from seamproof.planning.repair import Repair
    from seamproof.sheets.sketch import Sketch

WIDTH: Final = 3.25
"""[in] How wide each of the two blocks is drawn."""
_GAP: Final = 0.4
_HEAD: Final = 0.35
_MARGIN: Final = 0.06
_LABEL: Final = 0.4
"""How far along an added seam its number stands: off the middle, where others often end."""
_UNDER: Final = Ink(stroke=WHITE, weight=4.2 * POINT)
_ADDED: Final = Ink(stroke=BLACK, weight=2.2 * POINT, dash=(5 * POINT, 2.5 * POINT))
_END: Final = Ink(fill=WHITE, stroke=BLACK, weight=0.8 * POINT)


def repair_sketch(before: Block, mended: Repair, colours: Mapping[str, str]) -> Sketch:
    """The block as it was and as it is with the seams added.

    Added seams are heavy and dashed on a white ground, ringed at both ends, and numbered in their order.

    Args:
        before: The block as drafted.
        mended: What was found for it.
        colours: For each role the colour of its cloth, #rrggbb.
    """
    count = len(mended.additions)
    left = _one(before, colours, WIDTH)
    right = _one(mended.block, colours, WIDTH)
    for added in mended.additions:
        stretch = [Edge(added.start, added.end, added.bulge)]
        right.edges(stretch, _UNDER, kind="ground")
        right.edges(stretch, _ADDED, kind="added")
    for number, added in enumerate(mended.additions, 1):
        for end in (added.start, added.end):
            right.dot(end, 0.03, _END, kind="added-end")
        right.write(
            str(number),
            right.place.point(Edge(added.start, added.end, added.bulge).at(_LABEL)),
            9,
            weight="bold",
            halo=True,
        )
    said = f"{count} seam{'' if count == 1 else 's'} added"
    pad = Pad((0, 0, 2 * WIDTH + _GAP, left.height + _HEAD))
    for sheet, x, head in ((left, 0.0, "Before"), (right, WIDTH + _GAP, f"After: {said}")):
        pad.add(sheet.sketch(head), Transform.shift(x, _HEAD))
        pad.write(head, (x, _HEAD / 2), 11, anchor="start", weight="bold")
    sizes = (len(before.patches), len(mended.block.patches))
    alt = f"{before.title} before, with {sizes[0]} patches, and after, with {sizes[1]}: {said}"
    return pad.sketch(
        f"{before.title}, before and after", f"{alt}, drawn heavy and dashed, and numbered in their order."
    )


def _one(block: Block, colours: Mapping[str, str], width: float) -> Pad:
    left, _, right, _ = block.bounds
    pad = Pad(block.bounds, scale=(width - 2 * _MARGIN) / (right - left), margin=_MARGIN)
    for patch in block.patches:
        fill = colours.get(patch.role, WHITE)
        pen = replace(SEAM, fill=fill, stroke=WHITE if is_dark(fill) else BLACK, weight=0.8 * POINT)
        pad.outline(patch.outline, pen, kind="patch")
    if block.outline is not None:
        pad.outline(block.outline, BORDER, kind="outline")
    return pad

"""Pictures of sewing by hand over papers: a patch basted over its paper, and the block as it grows."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from seamproof.cutting.corners import cut_line
from seamproof.geometry.points import add, along, left, times
from seamproof.sheets.ink import BLACK, PAPER, POINT, RAW, SEAM, STITCHED, WHITE, Ink
from seamproof.sheets.lettering import fit_text
from seamproof.sheets.materials import WRONG, hatch_wrong_side
from seamproof.sheets.sketch import Pad, around
from seamproof.tones import tint

if TYPE_CHECKING:
    from seamproof.geometry import Outline, Point
    from seamproof.pattern import Pattern
    from seamproof.sequence import Join
    from seamproof.sheets.sketch import Sketch

_BASTED: Final = Ink(weight=0.9 * POINT, dash=(5 * POINT, 4 * POINT))
_SEWN_ALREADY: Final = 0.3
_NEW: Final = 0.75
_NAMES: Final = (10.0, 9.0, 8.0, 7.0, 6.0)


def paper_sketches(outline: Outline, colour: str, allowance: float, room: float) -> tuple[Sketch, Sketch]:
    """A paper on the wrong side of its cloth, and the same basted.

    Args:
        outline: The finished patch.
        colour: Its fabric's colour.
        allowance: The seam allowance [in].
        room: The most width and height each may have [in].
    """
    cut = cut_line(outline, (), allowance)
    return _laid(outline, cut, colour, room), _basted(outline, cut, colour, allowance, room)


def _pad(cut: Outline, room: float) -> Pad:
    x0, y0, x1, y1 = box = around(cut.polygon)
    return Pad(box, scale=(room - 0.06) / max(x1 - x0, y1 - y0), margin=0.03)


def _laid(outline: Outline, cut: Outline, colour: str, room: float) -> Sketch:
    pad = _pad(cut, room)
    pad.outline(cut, Ink(fill=tint(colour, WRONG), stroke=None), kind="wrong-side")
    hatch_wrong_side(pad, cut.polygon)
    pad.outline(cut, RAW)
    pad.outline(outline, RAW.filled(WHITE), kind="paper")
    pad.write("paper", pad.place.point(outline.centroid), 8.0)
    return pad.sketch("Paper on cloth", "The paper lies on the wrong side of the cloth, which stands out all round.")


def _basted(outline: Outline, cut: Outline, colour: str, allowance: float, room: float) -> Sketch:
    pad = _pad(cut, room)
    pad.outline(outline, RAW.filled(PAPER), kind="paper")
    stitches = []
    for edge in outline.edges:
        inward = [times(left(edge.direction(t)), allowance) for t in (0.0, 1.0)]
        a, b = edge.at(min(0.45, 0.6 * allowance / edge.length)), edge.at(1 - min(0.45, 0.6 * allowance / edge.length))
        flap = [*edge.flattened(), add(b, inward[1]), add(a, inward[0])]
        pad.outline(flap, RAW.filled(tint(colour, _NEW)), kind="flap")
        stitches.append((add(along(a, b, 0.08), times(inward[0], 0.5)), add(along(a, b, 0.92), times(inward[1], 0.5))))
    for p, q in stitches:
        pad.line(p, q, _BASTED, kind="basting")
    pad.outline(outline, replace(RAW, weight=1.0 * POINT))
    return pad.sketch("Basted", "The allowance is folded over the paper, edge by edge, and basted with long stitches.")


def grown_sketch(pattern: Pattern, join: Join, new: str, room: float) -> Sketch:
    """The block as far as it is sewn, the new patch strong, the edges that are whipped now as a heavy dashed line.

    Args:
        pattern: The pattern.
        join: The join by which the patch is sewn on.
        new: The patch.
        room: The most width and height it may have [in].
    """
    ids = pattern.construction.patches_of(join.label)
    points: list[Point] = [p for patch in ids for p in pattern.block.patch(patch).outline.polygon]
    x0, y0, x1, y1 = box = around(points)
    pad = Pad(box, scale=(room - 0.06) / max(x1 - x0, y1 - y0, 1.0), margin=0.03)
    for patch in ids:
        strength = _NEW if patch == new else _SEWN_ALREADY
        outline = pattern.block.patch(patch).outline
        pad.outline(outline, SEAM.filled(tint(pattern.fabric(patch).colour, strength)), kind="patch")
    pad.edges(join.seam, STITCHED, kind="stitched")
    for pivot in join.pivots:
        pad.dot(pivot, 2.2 * POINT, RAW.filled(BLACK), kind="pivot")
    for patch in ids:
        outline = pattern.block.patch(patch).outline
        ring = tuple(map(pad.place.point, outline.polygon))
        fit = fit_text(pattern.names[patch], ring, (pad.place.point(outline.centroid),), _NAMES, turned=False)
        if fit:
            pad.write(pattern.names[patch], fit.at, fit.size, weight="bold" if patch == new else "regular", halo=True)
    count = len(join.pivots)
    turns = "" if not count else f", turning {'once' if count == 1 else f'{count} times'}, at the dots"
    return pad.sketch(
        f"Patch {pattern.names[new]} sewn on",
        f"Patch {pattern.names[new]} is whipped to the {len(ids) - 1} sewn before along the dashed line{turns}.",
    )

"""The sheet of a DXF file: the finished block, and beside it every template, at true size, none over another."""

from __future__ import annotations

import math
import textwrap
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from seamproof.cutting.templates import number_place
from seamproof.geometry import Transform
from seamproof.sheets.dxf import Layer, write_dxf
from seamproof.sheets.dxf_names import layer_name
from seamproof.sheets.ink import LINE, TEST
from seamproof.sheets.lettering import text_height, text_width
from seamproof.sheets.pages_shelves import shelve
from seamproof.sheets.sketch import Pad
from seamproof.sheets.template_svg import is_mirrored, template_sketch
from seamproof.sheets.words_say import Say, counted, listed
from seamproof.units import Measure

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.cutting import Template
    from seamproof.geometry import Point
    from seamproof.pattern import FabricLegend, Pattern
    from seamproof.sheets.sketch import Shape, Sketch

GAP: Final = 0.5
"""[in] Clear between what lies on the sheet."""
_ROOM: Final = 24.0
"""[in] How wide the templates lie: a usual cutting mat's length."""
_LEAST_WIDTH: Final = 4.6
_SIZE: Final = 10.0
_LEAST: Final = 2.0
_LEADING: Final = 0.22
_NOTE_WIDTH: Final = 64
_RED, _BLUE, _GREEN, _BLACK, _GREY = 1, 5, 3, 7, 8

_PAPER: Final = "CUT-PAPER"
_KINDS: Final = {
    "finished-line": "SEW",
    "sewing-line": "SEW",
    "match-tick": "MARK",
    "piece-mark": "MARK",
    "stop": "MARK",
    "unit-seam": "MARK",
    "leader": "MARK",
}
"""On which layer each kind of line on a template lies; its cut line lies on one of its cloth's, or its paper's."""


def pattern_dxf(pattern: Pattern) -> bytes:
    """The finished block and its templates as one DXF file, in inches, or in millimetres where the recipe is.

    Raises:
        OutputError: what writes DXF is not installed.
    """
    return write_dxf(dxf_sheet(pattern), dxf_layers(pattern), metric=_is_metric(pattern))


def dxf_layers(pattern: Pattern) -> dict[str, Layer]:
    """The layers by their names: two for each fabric, its patches and its cut lines, then those of all."""
    layers = [Layer(fabric_layer(line), line.colour) for line in pattern.legend]
    cut = {_cut_layer(pattern, template) for template in pattern.templates}
    layers += [Layer(name, _RED) for name in sorted(cut)]
    layers += [Layer("BLOCK", _BLACK), Layer("SEW", _BLUE), Layer("MARK", _GREEN), Layer("TEST", _GREY)]
    return {layer.name: layer for layer in layers}


def fabric_layer(line: FabricLegend, *use: str) -> str:
    """The name of a fabric's layer: its letter, then as much of its name as is plain letters."""
    return layer_name(*use, line.letter, line.name)


def dxf_sheet(pattern: Pattern) -> Sketch:
    """Everything on one sheet, each shape's kind being the name of its layer."""
    parts = [_template(pattern, template) for template in pattern.templates]
    left = _beside(_block(pattern), _notes(pattern))
    widest = max([_ROOM, *(part.width for part in parts)])
    height = sum(part.height + GAP for part in parts) + GAP
    (spots,) = shelve([(part.width, part.height) for part in parts], (widest, height), GAP) or [()]
    right = max((spot.x + parts[spot.index].width for spot in spots), default=0.0)
    low = max((spot.y + parts[spot.index].height for spot in spots), default=0.0)
    pad = Pad((0.0, 0.0, left.width + GAP + right, max(left.height, low)))
    pad.add(left, Transform())
    for spot in spots:
        pad.add(parts[spot.index], Transform.shift(left.width + GAP + spot.x, spot.y))
    return pad.sketch(pattern.recipe.title)


def _is_metric(pattern: Pattern) -> bool:
    return pattern.recipe.make.measure is Measure.MILLIMETRES


def _beside(block: Sketch, notes: Sketch) -> Sketch:
    """The block with the notes under it."""
    pad = Pad((0.0, 0.0, max(block.width, notes.width), block.height + GAP + notes.height))
    pad.add(block, Transform())
    pad.add(notes, Transform.shift(0.0, block.height + GAP))
    return pad.sketch("block")


def _block(pattern: Pattern) -> Sketch:
    """The finished block from the face, each patch with its name and its fabric's letter."""
    block = pattern.block
    pad = Pad(block.bounds)
    for patch in block.patches:
        fabric = pattern.fabric(patch.id)
        pad.outline(patch.outline, LINE, kind=fabric_layer(fabric))
        at, room = number_place(patch.outline)
        text = f"{pattern.names[patch.id]} {fabric.letter}"
        across, high = text_width(text, 1.0), text_height(1.0)
        pad.write(text, pad.place.point(at), min(_SIZE, 1.8 * room / math.hypot(across, high)))
    if block.outline is not None:
        pad.outline(block.outline, LINE, kind="BLOCK")
    return pad.sketch("block")


def _template(pattern: Pattern, template: Template) -> Sketch:
    """A template as it is printed, mirrored where its use asks for that, with what it is under it."""
    drawn = template_sketch(pattern, template)
    words = [line for text in _caption(pattern, template) for line in textwrap.wrap(text, _NOTE_WIDTH)]
    width = max(drawn.width, *(text_width(line, _SIZE) for line in words))
    pad = Pad((0.0, 0.0, width, drawn.height + 0.1 + _LEADING * len(words)))
    cut = _cut_layer(pattern, template)
    shapes = tuple(replace(shape, kind=_layer_of(shape, cut)) for shape in drawn.shapes)
    pad.add(replace(drawn, shapes=shapes), Transform())
    _write(pad, words, (0.0, drawn.height + 0.1))
    return pad.sketch(template.label)


def _layer_of(shape: Shape, cut: str) -> str:
    return cut if shape.kind == "cut-line" else _KINDS.get(shape.kind, "MARK")


def _cut_layer(pattern: Pattern, template: Template) -> str:
    return _PAPER if template.lines else fabric_layer(pattern.fabric(template.label), "CUT")


def _caption(pattern: Pattern, template: Template) -> tuple[str, str]:
    """What a template is, how many are needed, and which side is up."""
    count = len(template.stands_for) * pattern.recipe.make.copies
    twins = template.stands_for[1:]
    also = f" (and {listed(list(twins))})" if twins else ""
    if template.lines:
        return (
            f"{template.label}{also}: {counted(count, 'paper section')}",
            "Mirrored: this printed side is up when you sew.",
        )
    cloth = Say(pattern).fabric(template.label)
    side = (
        "Mirrored: the wrong side of the cloth is up. Dashed: the paper."
        if is_mirrored(template, pattern.construction.method)
        else "Not mirrored: the right side of the cloth is up."
    )
    return f"{template.label}{also}: {counted(count, 'piece')} of {cloth}", side


def _notes(pattern: Pattern) -> Sketch:
    """What the file is, a square to cut and measure first, and what is on which layer."""
    metric = _is_metric(pattern)
    unit, side = ("millimetres", "25.4 mm") if metric else ("inches", "1 in")
    there = dxf_layers(pattern)
    lines = [
        pattern.recipe.title,
        f"True size, drawn in {unit}.",
        f"Cut the square first and measure it: {side} each way.",
    ]
    for line in pattern.legend:
        own, cut = fabric_layer(line), fabric_layer(line, "CUT")
        lines.append(f"{f'{own}, {cut}' if cut in there else own}: {line.letter} {line.name}")
    lines += [
        "CUT: cut here, seam allowance is included. A fabric's other layer: its finished patches, not to cut.",
        "SEW: seams, and dashed the finished size. MARK: match points and other marks.",
    ]
    return _noted(lines)


def _noted(lines: Sequence[str]) -> Sketch:
    words = [line for text in lines for line in textwrap.wrap(text, _NOTE_WIDTH)]
    width = max(_LEAST_WIDTH, *(text_width(line, _SIZE) for line in words))
    pad = Pad((0.0, 0.0, width, 1.0 + 0.2 + _LEADING * len(words)))
    pad.square((0.0, 0.0), 1.0, TEST, name="TEST")
    _write(pad, words, (0.0, 1.2))
    return pad.sketch("notes")


def _write(pad: Pad, words: Sequence[str], at: Point) -> None:
    for n, line in enumerate(words):
        pad.write(line, (at[0], at[1] + _LEADING * (n + 0.5)), _SIZE, anchor="start")

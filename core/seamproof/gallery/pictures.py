"""Pictures that only the gallery shows: the card, the seam map, the pressing map, the printed side step by step."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from seamproof.geometry import Edge, Transform
from seamproof.geometry.points import add, left, sub, times, unit
from seamproof.sheets.cropping import cropped
from seamproof.sheets.ink import BLACK, BORDER, GREY, HIDDEN, POINT, PRINTED, RAW, SEAM, STITCHED, WHITE, Ink
from seamproof.sheets.leaves import open_stretch
from seamproof.sheets.lettering import fit_text
from seamproof.sheets.numbering import number_patches
from seamproof.sheets.sketch import Pad, Shape, around
from seamproof.sheets.unit_shapes import rings_round, unit_shape

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.cutting import Template
    from seamproof.cutting.pieces import LaidUnit
    from seamproof.geometry import Outline, Point
    from seamproof.pattern import Pattern
    from seamproof.seams.seam_map import JunctionKind
    from seamproof.sequence import Join
    from seamproof.sequence.pressing import PressedSeam
    from seamproof.sheets.sketch import Sketch

CARD: Final = 2.5
"""[in] How large a block is drawn on its card, at the most."""
MAP: Final = 4.4
"""[in] How large maps and the printed side are drawn, at the most."""

_PALE_LINE: Final = replace(SEAM, stroke=GREY)
_RING: Final = 3.0 * POINT
_NOW: Final = Ink(weight=2.4 * POINT, round=True)
_ARROW: Final = Ink(weight=1.8 * POINT, round=True)
_PRESS: Final = Ink(weight=1.1 * POINT, round=True)
_NAMES: Final = (13.0, 11.0, 9.0, 7.0)


def card_sketch(pattern: Pattern) -> Sketch:
    """The block small: one shape for each fabric, so that a page of many stays light."""
    block = pattern.block
    margin = BORDER.weight
    pad = Pad(block.bounds, scale=_scale(block.size, CARD - 2 * margin), margin=margin)
    for line in pattern.legend:
        runs = tuple(
            tuple(map(pad.place.edge, patch.outline.edges))
            for patch in block.patches
            if pattern.fabric(patch.id).key == line.key
        )
        pad.shapes.append(Shape(runs, SEAM.filled(line.colour), closed=True))
    return pad.sketch(pattern.recipe.title, f"{pattern.recipe.title} in its fabrics.")


def seam_map_sketch(pattern: Pattern) -> Sketch:
    """Every seam of the block, with a mark at each junction for its kind."""
    pad = _map_pad(pattern)
    for line in pattern.seam_map.lines:
        pad.edges((line.edge,), replace(SEAM, weight=0.8 * POINT), kind="seam")
    _border(pad, pattern)
    for junction in pattern.seam_map.junctions:
        junction_mark(pad, pad.place.point(junction.place), junction.kind)
    title = f"{pattern.recipe.title}, seam map"
    return pad.sketch(title, f"{len(pattern.seam_map.lines)} seam lines, with a mark where they meet.")


def junction_sketch(kind: JunctionKind) -> Sketch:
    """The mark of one kind of junction, for the legend."""
    pad = Pad((0, 0, 0.2, 0.2))
    junction_mark(pad, (0.1, 0.1), kind)
    return pad.sketch(kind)


def junction_mark(pad: Pad, at: Point, kind: JunctionKind) -> None:
    """A mark for a junction: open ring, disc, triangle, square, diamond; none on the block's outline."""
    ink = Ink(fill=BLACK, stroke=WHITE, weight=0.6 * POINT)
    r = 0.042
    if kind == "tee":
        pad.ring(at, r, Ink(fill=WHITE, weight=0.9 * POINT), kind="tee")
    elif kind == "crossing":
        pad.ring(at, r, ink, kind="crossing")
    elif kind in {"wye", "bend", "other"}:
        turns = {
            "wye": ((0.0, -1.5 * r), (1.3 * r, 0.8 * r), (-1.3 * r, 0.8 * r)),
            "bend": ((0.0, -1.4 * r), (1.4 * r, 0.0), (0.0, 1.4 * r), (-1.4 * r, 0.0)),
            "other": ((-r, -r), (r, -r), (r, r), (-r, r)),
        }[kind]
        ring = [add(at, turn) for turn in turns]
        edges = [Edge(p, q) for p, q in zip(ring, [*ring[1:], ring[0]], strict=True)]
        pad.stroke(edges, ink, closed=True, kind=kind)


def pressing_sketch(pattern: Pattern) -> Sketch:
    """Every seam with an arrow to the side its allowances lie on; a double bar where they lie open."""
    pad = _map_pad(pattern)
    for patch in pattern.block.patches:
        pad.outline(patch.outline, _PALE_LINE)
    _border(pad, pattern)
    for seam in pattern.pressing.seams:
        _press_mark(pad, seam)
    opened = pattern.pressing.open_seams
    title = f"{pattern.recipe.title}, pressing map"
    return pad.sketch(title, f"An arrow at every seam points to where its allowances lie; {opened} are pressed open.")


def _press_mark(pad: Pad, seam: PressedSeam) -> None:
    """An arrow across the middle of the seam's longest straight stretch."""
    edge = max(seam.seam, key=lambda edge: edge.length)
    at = pad.place.point(edge.middle)
    ahead = pad.place.vector(edge.direction(0.5))
    side = unit(pad.place.vector(left(edge.direction(0.5))))
    reach = min(0.13, 0.35 * edge.length * pad.scale)
    if seam.toward == "open":
        step = times(unit(ahead), 0.035)
        for move in (step, times(step, -1)):
            middle = add(at, move)
            pad.stroke((Edge(sub(middle, times(side, reach / 2)), add(middle, times(side, reach / 2))),), _PRESS)
        return
    way = side if seam.toward == "left" else times(side, -1)
    start, tip = sub(at, times(way, reach / 3)), add(at, times(way, reach))
    pad.stroke((Edge(start, tip),), _PRESS)
    pad.stroke(_arrow_head(tip, way, 0.5 * reach), _PRESS)


def paper_sketch(pattern: Pattern, template: Template) -> Sketch:
    """The printed side of a foundation, with everything that any of its steps shows; a page shows one step at a time.

    Shapes of step n have the class "s" and n: "laid", the piece, or the finished unit, as it lies behind the paper;
    "under", what is sewn so far; "now", the line that is sewn, with its arrow. A unit shows through.
    """
    box = around(template.cut.polygon, 0.35)
    pad = Pad(box, scale=_scale((box[2] - box[0], box[3] - box[1]), MAP), mirrored=True)
    pieces = {piece.patch: piece for piece in pattern.rough}
    numbered = [(number, pieces[patch]) for patch, number, _, _ in sorted(template.patches, key=lambda row: row[1])]
    units = [_LaidUnit(pattern, template, laid) for laid in template.laid]
    for number, piece in numbered:
        kind = f"laid s{number} fabric-{pattern.fabric(piece.patch).letter}"
        pad.outline(piece.laid, RAW.filled(pattern.fabric(piece.patch).colour), kind=kind)
    for one in units:
        one.draw_laid(pad)
    for number, piece in reversed(numbered):
        kind = f"under s{number} fabric-{pattern.fabric(piece.patch).letter}"
        pad.outline(piece.placed, RAW.filled(WHITE), kind=kind)
    for one in reversed(units):
        pad.outline(one.shape.cut, RAW.filled(WHITE), kind=f"under s{one.number}")
    pad.outline(template.cut, RAW.filled(WHITE), kind="paper")
    for one in units:
        one.draw_through(pad)
    pad.outline(template.finished, replace(PRINTED, dash=(3 * POINT, 2 * POINT)), kind="finished-line")
    for line in template.lines:
        pad.line(*line.printed, PRINTED, kind=f"line s{line.number}")
    for line in template.lines:
        _sewn_now(pad, (Edge(*line.printed),), f"now s{line.number}")
    avoid = [(pad.place.point(line.printed[0]), pad.place.point(line.printed[1])) for line in template.lines]
    number_patches(pad, pattern, template, avoid, 0.9)
    title = f"{pattern.recipe.title}, printed side of foundation {template.label}"
    return cropped(pad.sketch(title, f"Mirrored, as it lies under the needle: {len(template.lines)} lines to sew."))


class _LaidUnit:
    """A finished unit as it is laid on a foundation, before the flip."""

    def __init__(self, pattern: Pattern, template: Template, unit: LaidUnit) -> None:
        self.pattern, self.number, self.label = pattern, unit.number, unit.label
        self.shape = unit_shape(pattern, unit.label)
        line = next(line for line in template.lines if line.patch == unit.label)
        self._mirror = Transform.reflect(*line.seam)

    def laid(self, ring: Sequence[Point]) -> tuple[Point, ...]:
        """A ring of the unit, face down on what is sewn."""
        return tuple(map(self._mirror.point, ring))

    def draw_laid(self, pad: Pad) -> None:
        """Its cloth, patch by patch and out to its raw edge."""
        letters = {line.colour: line.letter for line in reversed(self.pattern.legend)}
        for colour, ring in self.shape.cloth:
            pad.outline(self.laid(ring), Ink(fill=colour, stroke=None), kind=self._kind(letters[colour]))
        for patch, (colour, ring) in zip(
            self.pattern.construction.patches_of(self.label), self.shape.patches, strict=True
        ):
            kind = self._kind(self.pattern.fabric(patch).letter)
            pad.outline(self.laid(ring), Ink(fill=colour, stroke=None), kind=kind)
        pad.outline(self.laid(self.shape.cut), RAW, kind=f"laid s{self.number}")

    def draw_through(self, pad: Pad) -> None:
        """Its raw edge and its seams as they lie behind the paper."""
        pad.outline(self.laid(self.shape.cut), HIDDEN, kind=f"laid s{self.number}")
        for seam in map(self.laid, self.shape.seams):
            pad.edges([Edge(p, q) for p, q in pairwise(seam)], HIDDEN, kind=f"laid s{self.number}")

    def _kind(self, letter: str) -> str:
        return f"laid s{self.number} fabric-{letter}"


def back_sketch(pattern: Pattern) -> Sketch:
    """The whole block from behind, with every join; a page shows one at a time.

    Shapes of the pass p of join J have the classes "now", "J" and its number, and "p" and p; of a partial seam a ring
    stands where it is left open and taken up again, a dot where it ends.
    """
    block, construction = pattern.block, pattern.construction
    pad = Pad(block.bounds, scale=_scale(block.size, MAP - 0.1), mirrored=True, margin=0.05)
    for patch in block.patches:
        kind = f"wrong fabric-{pattern.fabric(patch.id).letter}"
        pad.outline(patch.outline, _PALE_LINE.filled(WHITE), name=f"patch-{patch.id}", kind=kind)
    units = [(f.label, construction.patches_of(f.label)) for f in construction.foundations]
    for _, order in units:
        for ring in rings_round([block.patch(patch).outline for patch in order]):
            pad.outline(ring, replace(BORDER, weight=0.8 * POINT), kind="unit")
    _border(pad, pattern)
    for join in construction.joins:
        for number, stretch in enumerate(join.passes):
            _sewn_now(pad, open_stretch(join, number) if number else stretch, f"now {join.label} p{number}")
            _pass_marks(pad, join, number)
        for pivot in join.pivots:
            pad.dot(pivot, 2.6 * POINT, RAW.filled(BLACK), kind=f"now pivot {join.label} p0")
    for label, order in (*units, *((pattern.names[patch], (patch,)) for patch in construction.loose)):
        _name(pad, label, [block.patch(patch).outline for patch in order])
    title = f"{pattern.recipe.title} from behind"
    return pad.sketch(title, f"Mirrored, the wrong side up: {len(construction.joins)} joins.")


def _pass_marks(pad: Pad, join: Join, number: int) -> None:
    """A ring where a partial seam is left open, and where it is taken up again; a dot where that pass ends."""
    kind = f"{join.label} p{number}"
    if number + 1 < len(join.passes):
        pad.dot(open_stretch(join, number + 1)[0].start, _RING, RAW.filled(WHITE), kind=f"now start {kind}")
    if number:
        stretch = open_stretch(join, number)
        pad.dot(stretch[0].start, _RING, RAW.filled(WHITE), kind=f"now start {kind}")
        pad.dot(stretch[-1].end, 0.7 * _RING, RAW.filled(BLACK), kind=f"now stop {kind}")


def _name(pad: Pad, label: str, outlines: Sequence[Outline]) -> None:
    """A unit's name in its largest patch."""
    outline = max(outlines, key=lambda outline: outline.area)
    ring = tuple(map(pad.place.point, outline.polygon))
    fit = fit_text(label, ring, (pad.place.point(outline.centroid),), _NAMES, clear=0.02, turned=False)
    if fit:
        pad.write(label, fit.at, fit.size, weight="bold", halo=True)


def _sewn_now(pad: Pad, edges: Sequence[Edge], kind: str) -> None:
    """A line in the sewing, bold, with an arrow head past its middle the way the needle goes."""
    drawn = tuple(map(pad.place.edge, edges))
    pad.stroke(drawn, replace(_NOW, stroke=WHITE, weight=_NOW.weight + 2 * POINT), kind=kind)
    pad.stroke(drawn, replace(_NOW, dash=STITCHED.dash), kind=kind)
    edge = max(drawn, key=lambda edge: edge.length)
    way = unit(edge.direction(0.62))
    tip = add(edge.at(0.62), times(way, 0.06))
    pad.stroke(_arrow_head(tip, way, min(0.13, edge.length / 2)), _ARROW, kind=kind)


def _arrow_head(tip: Point, way: Point, size: float) -> tuple[Edge, Edge]:
    back, side = times(way, -0.88 * size), times(left(way), 0.5 * size)
    return Edge(add(add(tip, back), side), tip), Edge(tip, sub(add(tip, back), side))


def _map_pad(pattern: Pattern) -> Pad:
    return Pad(pattern.block.bounds, scale=_scale(pattern.block.size, MAP - 0.2), margin=0.1)


def _border(pad: Pad, pattern: Pattern) -> None:
    if pattern.block.outline is not None:
        pad.outline(pattern.block.outline, BORDER, kind="outline")


def _scale(size: tuple[float, float], room: float) -> float:
    return room / max(size)

"""Templates at true size: cut line, finished line, sewing lines, numbers and match ticks."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Final
from weakref import WeakKeyDictionary

from seamproof.geometry.nodes import arc_fraction
from seamproof.geometry.points import add, distance, distance_to_segment, left, sub, times
from seamproof.geometry.transforms import Transform
from seamproof.sheets.cropping import cropped
from seamproof.sheets.ink import CUT, FINISHED, PRINTED, SEWING, TEST, TICK
from seamproof.sheets.leaders import frame_of
from seamproof.sheets.lettering import crosses_box, text_height, text_width
from seamproof.sheets.numbering import number_patches
from seamproof.sheets.piece_marks import draw_piece_marks, draw_stops
from seamproof.sheets.sketch import Pad, Sketch
from seamproof.sheets.words_say import Say
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.cutting import MatchTick, Template
    from seamproof.geometry import Edge, Point
    from seamproof.pattern import Pattern
    from seamproof.sequence.construction import Method
    from seamproof.sheets.drawing import Drawing
    from seamproof.sheets.lettering import Segment

_TICK_SIZE: Final = 7.0
_TICK_REACH: Final = 0.08
"""[in] How far a match tick reaches to either side of the sewing line."""
_PROBE: Final = 0.04
"""[in] How far along a side it is asked whether a seam runs there."""
_ROOM: Final = 1.5
"""[in] Room round the cut line while a template is drawn; what stays empty is cropped."""
_FOOT: Final = 1.45
"""[in] Room under a template that stands alone."""
_LEAST_WIDTH: Final = 4.6


def is_mirrored(template: Template, method: Method = "foundation") -> bool:
    """Whether a template's use asks for its mirror image.

    A foundation is sewn from its printed side, with the cloth behind it, and is mirrored; so is a paper over which a
    patch is basted by hand, which is seen from behind. The template of a loose patch is laid on the cloth's right side
    and is not.
    """
    return bool(template.lines) or method == "hand"


def template_sketch(
    pattern: Pattern, template: Template, *, mirrored: bool | None = None, large: bool = False
) -> Sketch:
    """A template at true size; its lines are mirrored, its lettering never is.

    Args:
        pattern: The pattern it is from.
        template: What is drawn.
        mirrored: Whether it is seen from behind; None: as its use asks, see `is_mirrored`.
        large: Whether letters are a half larger.
    """
    behind = is_mirrored(template, pattern.construction.method) if mirrored is None else mirrored
    mine = _DRAWN.setdefault(pattern, {})
    key = (id(template), behind, large)
    if key not in mine:
        mine[key] = template, _drawn(pattern, template, behind=behind, grow=1.5 if large else 1.0)
    return mine[key][1]


_DRAWN: Final[WeakKeyDictionary[Pattern, dict[tuple[int, bool, bool], tuple[Template, Sketch]]]] = WeakKeyDictionary()
"""The sketches of each pattern as long as it lives: handout, SVG and DXF show the same; with each its template, which
keeps the id its own."""


def _drawn(pattern: Pattern, template: Template, *, behind: bool, grow: float) -> Sketch:
    pad = Pad(template.cut.bounds, mirrored=behind, margin=_ROOM)
    for unit in template.laid:
        for edge in unit.seams:
            for part in pairwise(edge.flattened()):
                pad.line(*part, PRINTED, kind="unit-seam")
    for line in template.lines:
        pad.line(*line.printed, SEWING, kind="sewing-line")
    pad.outline(template.finished, FINISHED, kind="finished-line")
    pad.outline(template.cut, CUT, kind="cut-line")
    avoid = [(pad.place.point(line.printed[0]), pad.place.point(line.printed[1])) for line in template.lines]
    avoid += draw_piece_marks(pad, pattern, template)
    avoid += _ticks(pad, pattern, template, avoid, grow)
    draw_stops(pad, pattern, template)
    number_patches(pad, pattern, template, avoid, grow)
    title = f"{pattern.recipe.title}, template {template.label}"
    return cropped(pad.sketch(title, f"{title}, {_in_words(pattern, template, behind=behind)}"))


def template_drawing(
    pattern: Pattern, template: Template, *, mirrored: bool | None = None, large: bool = False
) -> Drawing:
    """A template at true size as a drawing with its labels beside it: see `template_sketch`."""
    return template_sketch(pattern, template, mirrored=mirrored, large=large).drawing


def template_svg(pattern: Pattern, template: Template, *, mirrored: bool | None = None) -> str:
    """A template at true size as one SVG file, with its name and a 1 in test square under it."""
    behind = is_mirrored(template, pattern.construction.method) if mirrored is None else mirrored
    sketch = template_sketch(pattern, template, mirrored=behind)
    width = max(sketch.width, _LEAST_WIDTH)
    pad = Pad((0.0, 0.0, width, sketch.height + _FOOT))
    shift = Transform.shift((width - sketch.width) / 2, 0.0)
    pad.add(sketch, shift)
    _foot(pad, pattern, template, sketch.height + 0.2, behind=behind)
    drawn = pad.sketch(sketch.title, sketch.alt)
    return Sketch(
        drawn.width, drawn.height, drawn.shapes, drawn.labels, drawn.title, drawn.alt, sketch.place.then(shift)
    ).svg


def _ticks(pad: Pad, pattern: Pattern, template: Template, lines: Sequence[Segment], grow: float) -> list[Segment]:
    """Draw the match ticks across the sewing lines, each with its letter beside it in the allowance; give the ticks."""
    marks = []
    seams = {step.name: step.seam for step in pattern.construction.steps if step.unit}
    seams |= {join.label: join.seam for join in pattern.construction.joins}
    ways = [_along_and_out(seams[tick.join], template, tick) for tick in template.ticks]
    for tick, (_, outward) in zip(template.ticks, ways, strict=True):
        reach = times(outward, _TICK_REACH)
        marks.append((pad.place.point(add(tick.place, reach)), pad.place.point(sub(tick.place, reach))))
        pad.marks(marks[-1:], TICK, kind="match-tick")
    rim = tuple(map(pad.place.point, template.cut.polygon))
    avoid = [*lines, *marks, *zip(rim, (*rim[1:], rim[0]), strict=True)]
    for tick, (forward, outward) in zip(template.ticks, ways, strict=True):
        middle = add(tick.place, times(outward, pattern.recipe.make.allowance / 2))
        step = times(forward, 0.075 * grow)
        places = [pad.place.point(add(middle, times(step, n))) for n in (1, -1, 1.6, -1.6, 2.4, 3.2, 4, 5)]
        _letter(pad, tick.letter, places, avoid, _TICK_SIZE * grow)
    return marks


def _letter(pad: Pad, letter: str, places: Sequence[Point], avoid: Sequence[Segment], size: float) -> None:
    """Write a letter at the first of the places where it stands on no line and no other letter."""
    half = (text_width(letter, size) / 2, text_height(size) / 2)
    others = [((box[0], box[1]), (box[2], box[3])) for box in map(frame_of, pad.labels)]
    clear = (at for at in places if not crosses_box([*avoid, *others], at, *half))
    pad.write(letter, next(clear, places[0]), size, weight="bold")


def _along_and_out(seam: Sequence[Edge], template: Template, tick: MatchTick) -> tuple[Point, Point]:
    """The directions along the template's own side at a tick, toward that side's middle, and out of the template.

    At a corner it is the side that is sewn in the tick's join. A tick that only a turned copy has lies on no seam of
    its join: there it is the side that has another tick of the same join, else any other, else the longer.
    """
    place = tick.place
    if tick.join.removeprefix("+") in {unit.label for unit in template.laid}:
        return seam[0].direction(0.0), left(seam[0].direction(0.0))
    sides = [edge for edge in template.finished.edges if _is_on(place, edge)]
    if not sides:
        sides = sorted(template.finished.edges, key=lambda edge: _off(place, edge))[:1]
    others = [other for other in template.ticks if distance(other.place, place) > SAME_POINT]

    def worth(edge: Edge) -> tuple[bool, bool, bool, float]:
        is_sewn = any(_is_on(place, sewn) and _is_on(_beside(edge, place), sewn) for sewn in seam)
        on_it = [other.join for other in others if _is_on(other.place, edge)]
        return is_sewn, tick.join in on_it, bool(on_it), edge.length

    edge = max(sides, key=worth)
    share = 0.0 if distance(place, edge.start) < distance(place, edge.end) else 1.0
    if edge.is_arc:
        share = min(1.0, max(0.0, arc_fraction(edge, place)))
    onward = edge.direction(share)
    ahead = distance(place, edge.end) >= distance(place, edge.start)
    return (onward if ahead else times(onward, -1)), times(left(onward), -1)


def _beside(edge: Edge, place: Point) -> Point:
    """A point of an edge a little way from one of its places, toward its middle."""
    step = min(_PROBE / edge.length, 0.5)
    return edge.at(step if distance(place, edge.start) < distance(place, edge.end) else 1 - step)


def _off(place: Point, edge: Edge) -> float:
    return min(distance_to_segment(place, p, q) for p, q in pairwise(edge.flattened()))


def _is_on(place: Point, edge: Edge) -> bool:
    return _off(place, edge) < _PROBE / 8


def _in_words(pattern: Pattern, template: Template, *, behind: bool) -> str:
    x0, y0, x1, y1 = template.cut.bounds
    count = len(template.patches)
    laid = "".join(f", unit {unit.label} laid on it" for unit in template.laid)
    return (
        f"at true size: {Say(pattern).fine_pair(x1 - x0, y1 - y0)} along the cut line, "
        f"{'mirrored' if behind else 'as seen from the face'}, {count} {'patch' if count == 1 else 'patches'}{laid}."
    )


def _foot(pad: Pad, pattern: Pattern, template: Template, top: float, *, behind: bool) -> None:
    """Name, notes and the test square, from `top` [in] down."""
    pad.square((0.06, top), 1.0, TEST, name="test-square")
    pad.write("1 in", (0.56, top + 0.5), 8)
    notes = (
        "Mirrored: this printed side is up when you sew." if behind else "Not mirrored: lay it on the right side.",
        "Heavy line: cut. Dashed line: finished size.",
        *(("Thin lines: sew, from end to end.",) if template.lines else ()),
        *(("Grey lines: seams that are sewn in a finished unit before.",) if template.laid else ()),
        "Print at 100 %: the square must measure 1 in.",
    )
    pad.write(f"{template.label} · {pattern.recipe.title}", (1.25, top + 0.1), 12, anchor="start", weight="bold")
    for n, note in enumerate(notes):
        pad.write(note, (1.25, top + 0.36 + 0.19 * n), 9, anchor="start")

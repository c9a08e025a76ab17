"""Marks on a template: where a piece goes that is not centred on its line, and dots where a seam stops."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.geometry.points import add, distance_to_segment, is_inside, left, midpoint, sides, sub, times, unit
from seamproof.sheets.ink import BLACK, POINT, Ink
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.cutting import Template
    from seamproof.geometry import Point
    from seamproof.pattern import Pattern
    from seamproof.sheets.lettering import Segment
    from seamproof.sheets.sketch import Pad

_MARK: Final = Ink(weight=0.8 * POINT, round=True)
_DEEP: Final = 0.085
"""[in] How far a mark reaches from the line into the patch that is added along it."""
_HALF: Final = 0.05
_DOT: Final = 2 * POINT


def draw_piece_marks(pad: Pad, pattern: Pattern, template: Template) -> list[Segment]:
    """Draw for each piece that is not centred an arrowhead at its middle, and ticks at those of its ends on the paper.

    They stand on the side of the patch that is added. Gives the lines drawn, in the sketch's inches, for lettering to
    keep clear of.
    """
    drawn: list[Segment] = []
    here = {patch for patch, _, _, _ in template.patches}
    for piece in pattern.rough:
        if piece.ticks is None or piece.seam is None or piece.patch not in here:
            continue
        along = unit(sub(piece.seam[1], piece.seam[0]))
        inward = times(left(along), _DEEP)
        middle, aside = midpoint(*piece.ticks), times(along, _HALF)
        wings = [add(add(middle, inward), aside), sub(add(middle, inward), aside)]
        strokes = [(wings[0], middle), (middle, wings[1]), (wings[1], wings[0])]
        strokes += [(end, add(end, inward)) for end in piece.ticks if is_inside(end, template.cut.polygon)]
        drawn += [_placed(pad, stroke) for stroke in strokes]
    pad.marks(drawn, _MARK, kind="piece-mark")
    return drawn


def draw_stops(pad: Pad, pattern: Pattern, template: Template) -> None:
    """Draw a dot where the needle stops on the finished outline: at pivots, and at the end of a partial stretch.

    None on a paper for sewing by hand, where every corner is an end.
    """
    if pattern.construction.method == "hand":
        return
    rim = list(sides(template.finished.polygon))
    for stop in dict.fromkeys(_stops(pattern)):
        if any(distance_to_segment(stop, a, b) <= SAME_POINT for a, b in rim):
            pad.dot(stop, _DOT, _MARK.filled(BLACK), kind="stop")


def _stops(pattern: Pattern) -> Iterator[Point]:
    for join in pattern.construction.joins:
        yield from join.pivots
        ends = {join.seam[0].start, join.seam[-1].end}
        for stretch in join.passes[:-1]:
            yield from (end for end in (stretch[0].start, stretch[-1].end) if end not in ends)


def _placed(pad: Pad, stroke: tuple[Point, Point]) -> Segment:
    return (pad.place.point(stroke[0]), pad.place.point(stroke[1]))

"""Pictures of joins: the two units side by side, pinned right sides together, and pressed."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from seamproof.cutting.units import merged
from seamproof.geometry import Edge, Transform
from seamproof.geometry.points import add, along, distance_to_segment, dot, left, sub, times, unit
from seamproof.sheets.arrows import draw_arrow
from seamproof.sheets.clip import span_along
from seamproof.sheets.ink import BLACK, HIDDEN, POINT, PRINTED, RAW, SEAM, STITCHED, TICK, WHITE, Ink
from seamproof.sheets.leaders import frame_of
from seamproof.sheets.leaves import ticks_now
from seamproof.sheets.lettering import fit_text
from seamproof.sheets.materials import WRONG, hatch_wrong_side
from seamproof.sheets.sketch import Pad, around
from seamproof.sheets.unit_shapes import under_and_over, unit_shape
from seamproof.tolerance import LAID_ON
from seamproof.tones import tint

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.cutting import MatchTick
    from seamproof.geometry import Point
    from seamproof.pattern import Pattern
    from seamproof.sequence import Join
    from seamproof.sheets.drawing import Drawing
    from seamproof.sheets.lettering import Segment
    from seamproof.sheets.sketch import Sketch
    from seamproof.sheets.unit_shapes import UnitShape

JoinPosition: TypeAlias = Literal["beside", "pinned", "pressed"]
Toward: TypeAlias = Literal["first", "second", "open"]

ROOM: Final = (2.1, 1.6)
"""[in] The width and height a picture of a join has at the most."""

_STRENGTH: Final = 0.6
_APART: Final = 0.34
"""[in] How far apart the units lie side by side, as drawn."""
_PIN: Final = Ink(weight=0.7 * POINT, round=True)
_LETTER: Final = 7.0
_NAMES: Final = (10.0, 9.0, 8.0, 7.0)
_ONE_WAY: Final = math.cos(math.radians(1.25))
"""[1] Directions whose cosine is more are one: no picture of this size shows so small a bend."""


POSITIONS: Final[tuple[JoinPosition, ...]] = ("beside", "pinned", "pressed")
"""The positions there are pictures of, in order."""


def join_sketch(
    pattern: Pattern,
    label: str,
    position: JoinPosition,
    *,
    toward: Toward | None = None,
    room: tuple[float, float] = ROOM,
) -> Sketch:
    """One position of a join.

    Args:
        pattern: The pattern.
        label: The join's label.
        position: "beside": both units face up, an arrow showing which is flipped onto which; "pinned": right sides
            together, pins through the match points, of a seam with pivots as its longest stretch is sewn and of a
            curve as its middle is pinned, a dot wherever the needle stops; "pressed": opened out, face up.
        toward: Which unit the allowances are pressed toward, drawn as an arrow in the last.
        room: The most width and height it may have [in].

    Raises:
        KeyError: no such join.
    """
    join = pattern.construction.join(label)
    scene = _Scene(
        join,
        unit_shape(pattern, join.first),
        unit_shape(pattern, join.second),
        ticks_now(pattern, join),
        pattern.recipe.make.allowance,
        under_and_over(pattern, join)[1] == join.first,
    )
    if position == "beside":
        return _beside(scene, room)
    if position == "pinned":
        return _pinned(scene, room)
    return _pressed(scene, unit_shape(pattern, label), room, toward)


def join_drawing(
    pattern: Pattern,
    label: str,
    position: JoinPosition,
    *,
    toward: Toward | None = None,
    room: tuple[float, float] = ROOM,
) -> Drawing:
    """One position of a join as a drawing with its labels beside it: see `join_sketch`."""
    return join_sketch(pattern, label, position, toward=toward, room=room).drawing


@dataclass(frozen=True)
class _Scene:
    join: Join
    first: UnitShape
    second: UnitShape
    ticks: tuple[MatchTick, ...]
    allowance: float
    is_first_over: bool

    @property
    def ends(self) -> tuple[Point, Point]:
        """Where the seam begins and ends, the first unit on its left."""
        return self.join.seam[0].start, self.join.seam[-1].end

    def at(self, share: float) -> Point:
        """The point at a share of the seam's length."""
        far = share * self.join.length
        for edge in self.join.seam:
            if far <= edge.length:
                return edge.at(far / edge.length)
            far -= edge.length
        return self.join.seam[-1].end

    @property
    def fold(self) -> tuple[Point, Point]:
        """The line over which one unit lies flipped: the seam, its longest straight stretch, or the curve's tangent."""
        if _is_straight(self.join):
            return self.ends
        longest = max(merged(list(self.join.seam)), key=lambda edge: edge.length)
        if not longest.is_arc:
            return longest.start, longest.end
        half = times(longest.direction(0.5), longest.chord / 2)
        return sub(longest.middle, half), add(longest.middle, half)

    @property
    def fold_normal(self) -> Point:
        """The direction across the fold from the second unit to the first."""
        p, q = self.fold
        return left(unit(sub(q, p)))

    @property
    def pinned(self) -> tuple[MatchTick, ...]:
        """The match ticks that lie on the fold."""
        return tuple(tick for tick in self.ticks if distance_to_segment(tick.place, *self.fold) <= LAID_ON)

    @property
    def under_and_over(self) -> tuple[UnitShape, UnitShape]:
        """The unit that stays face up, and the one that is flipped onto it."""
        return (self.second, self.first) if self.is_first_over else (self.first, self.second)

    @property
    def normal(self) -> Point:
        """The direction from the second unit to the first."""
        p, q = self.ends
        return left(unit(sub(q, p)))


def _is_straight(join: Join) -> bool:
    directions = [edge.direction(0.5) for edge in join.seam]
    bent = any(dot(directions[0], other) < _ONE_WAY for other in directions[1:])
    return not bent and not any(edge.is_arc for edge in join.seam)


def _fitted(rings: Sequence[Sequence[Point]], room: tuple[float, float], more: Point = (0.0, 0.0)) -> Pad:
    """A pad round all rings, with `more` room [in, as drawn, y up] on the side it points to."""
    x0, y0, x1, y1 = around([point for ring in rings for point in ring])
    m = 2 * POINT
    margin = (m + max(-more[0], 0.0), m + max(more[1], 0.0), m + max(more[0], 0.0), m + max(-more[1], 0.0))
    scale = min((room[0] - margin[0] - margin[2]) / (x1 - x0), (room[1] - margin[1] - margin[3]) / (y1 - y0))
    return Pad((x0, y0, x1, y1), scale=scale, margin=margin)


def _beside(scene: _Scene, room: tuple[float, float]) -> Sketch:
    gap = _APART / _fitted([scene.first.cut, scene.second.cut], room).scale
    up, down = times(scene.normal, gap / 2), times(scene.normal, -gap / 2)
    near, far = Transform.shift(*up), Transform.shift(*down)
    pad = _fitted([_moved(scene.first.cut, near), _moved(scene.second.cut, far)], room)
    for shape, move, inward in ((scene.first, near, 1), (scene.second, far, -1)):
        _face(pad, shape, move)
        _sewing_line(pad, scene, move)
        _mark(pad, scene, move, inward)
    under, over = scene.under_and_over
    n = times(scene.normal, (gap / 2 + 0.16 / pad.scale) * (1 if over is scene.second else -1))
    middle = scene.at(0.38)
    start, end = pad.place.point(sub(middle, n)), pad.place.point(add(middle, n))
    bulge = 0.5 if start[0] <= end[0] else -0.5
    draw_arrow(pad, start, end, bulge=bulge)
    taken = list(pairwise(Edge(start, end, bulge).flattened(0.01)))
    for shape, move in ((scene.first, near), (scene.second, far)):
        _call(pad, shape.label, [_moved(ring, move) for _, ring in shape.patches], taken)
    letters = ", ".join(tick.letter for tick in scene.ticks)
    return pad.sketch(
        f"{scene.join.label}, side by side",
        f"{scene.first.label} and {scene.second.label} side by side, face up"
        f"{f', match ticks {letters}' if letters else ''}; {over.label} is flipped onto {under.label}.",
    )


def _pinned(scene: _Scene, room: tuple[float, float]) -> Sketch:
    mirror = Transform.reflect(*scene.fold)
    under, over = scene.under_and_over
    flipped = _moved(over.cut, mirror)
    inward = 1 if under is scene.first else -1
    pad = _fitted([under.cut, flipped], room, times(scene.fold_normal, -0.27 * inward))
    _face(pad, under, Transform())
    for colour, ring in over.cloth:
        pad.outline(_moved(ring, mirror), Ink(fill=tint(colour, WRONG), stroke=None))
    for colour, ring in over.patches:
        pad.outline(_moved(ring, mirror), Ink(fill=tint(colour, WRONG), stroke=None), kind="wrong-side")
    hatch_wrong_side(pad, flipped)
    for paper in over.papers:
        pad.outline(_moved(paper, mirror), PRINTED.filled(WHITE), kind="paper")
    if over.papers:
        for _, ring in over.patches:
            pad.outline(_moved(ring, mirror), PRINTED)
    pad.outline(flipped, replace(RAW, weight=0.9 * POINT))
    if _is_straight(scene.join):
        _sewing_line(pad, scene, Transform(), flipped)
    else:
        _bent_line(pad, scene)
    pins = _pins(pad, scene, inward)
    if not _is_straight(scene.join):
        for pivot in scene.join.pivots:
            pad.dot(pivot, 2.6 * POINT, RAW.filled(BLACK), kind="pivot")
    _call(pad, over.label, [_moved(ring, mirror) for _, ring in over.patches], pins)
    return pad.sketch(
        f"{scene.join.label}, right sides together",
        f"{over.label} lies face down on {under.label}, raw edges together, {_pinned_words(scene)}",
    )


def _pinned_words(scene: _Scene) -> str:
    if scene.join.pivots:
        return (
            "a pin through each match point of this stretch; the dashed line is sewn. At a dot stop with the needle "
            "down, turn the cloth, lay the next edges together and sew on; at a dot at an end, stop."
        )
    if _is_straight(scene.join):
        return "a pin through each match point; the dashed line is sewn."
    return "pinned at the middle of the curve first; the rest is eased round from there to both ends."


def _bent_line(pad: Pad, scene: _Scene) -> None:
    """A seam that bends: stitched along the fold, the stretches sewn after it fine."""
    p, q = scene.fold
    for edge in scene.join.seam:
        is_now = edge.is_arc or max(distance_to_segment(end, p, q) for end in (edge.start, edge.end)) <= LAID_ON
        pad.edges((edge,), STITCHED if is_now else HIDDEN, kind="stitched" if is_now else "sewn-next")


def _pressed(scene: _Scene, whole: UnitShape, room: tuple[float, float], toward: Toward | None) -> Sketch:
    pad = _fitted([whole.cut], room)
    _face(pad, whole, Transform())
    span = span_along(whole.cut, *scene.ends, 0.0) if _is_straight(scene.join) else None
    edges = (Edge(*span),) if span and not scene.join.pivots else scene.join.seam
    pad.edges(edges, replace(SEAM, weight=1.1 * POINT), kind="seam-sewn")
    words = "" if toward is None else _press_arrows(pad, scene, toward)
    both = f"{scene.first.label} and {scene.second.label}"
    return pad.sketch(f"{scene.join.label}, pressed", f"{both} joined and opened out, face up{words}.")


def _press_arrows(pad: Pad, scene: _Scene, toward: Toward) -> str:
    n = times(scene.normal, 0.2 / pad.scale)
    middle = scene.at(0.5)
    up, down = pad.place.point(add(middle, n)), pad.place.point(sub(middle, n))
    if toward == "open":
        draw_arrow(pad, down, up, both=True)
        return ", the allowances pressed open"
    draw_arrow(pad, *((down, up) if toward == "first" else (up, down)))
    name = scene.first.label if toward == "first" else scene.second.label
    return f", the allowances pressed toward {name}"


def _moved(ring: Sequence[Point], move: Transform) -> tuple[Point, ...]:
    return tuple(map(move.point, ring))


def _face(pad: Pad, shape: UnitShape, move: Transform) -> None:
    """A unit face up: each fabric run on into the allowance, its seams, its raw edge."""
    for colour, ring in shape.cloth:
        pad.outline(_moved(ring, move), Ink(fill=tint(colour, _STRENGTH), stroke=None))
    for colour, ring in shape.patches:
        pad.outline(_moved(ring, move), Ink(fill=tint(colour, _STRENGTH), stroke=None))
    for seam in shape.seams:
        pad.marks(pairwise(tuple(map(pad.place.point, _moved(seam, move)))), SEAM, kind="seam")
    pad.outline(_moved(shape.cut, move), RAW, kind="raw-edge")


def _sewing_line(pad: Pad, scene: _Scene, move: Transform, cut: Sequence[Point] | None = None) -> None:
    """The seam: stitched where it is sewn now; of a partial seam, the rest is left open.

    Given the raw edge, a straight seam runs from edge to edge of the cloth.
    """
    first, *later = scene.join.passes
    span = None if cut is None or later or scene.join.pivots else span_along(cut, *scene.ends, 0.0)
    if span is None:
        pad.edges(map(move.edge, first), STITCHED, kind="stitched")
    else:
        pad.line(*span, STITCHED, kind="stitched")
    for stretch in later:
        pad.edges(map(move.edge, stretch), HIDDEN, kind="left-open")
    for pivot in scene.join.pivots:
        pad.dot(move.point(pivot), 2.2 * POINT, RAW.filled(BLACK), kind="pivot")


def _mark(pad: Pad, scene: _Scene, move: Transform, inward: int) -> None:
    """Match ticks across the sewing line, lettered inside the unit."""
    for tick in scene.ticks:
        n = times(scene.normal, 0.05 / pad.scale)
        at = move.point(tick.place)
        pad.line(add(at, n), sub(at, n), TICK, kind="match-tick")
        beside = add(at, times(scene.normal, inward * 0.11 / pad.scale))
        pad.write(tick.letter, pad.place.point(_toward_middle(scene, tick, beside, move, pad)), _LETTER, halo=True)


def _toward_middle(scene: _Scene, tick: MatchTick, at: Point, move: Transform, pad: Pad) -> Point:
    p, q = map(move.point, scene.ends)
    forward = unit(sub(q, p))
    ahead = dot(sub(along(p, q, 0.5), move.point(tick.place)), forward)
    return add(at, times(forward, (0.07 if ahead >= 0 else -0.07) / pad.scale))


def _pins(pad: Pad, scene: _Scene, inward: int) -> list[Segment]:
    """A pin through each match point, square to the seam, its head outside, its letter beyond; gives the pins."""
    pins = []
    for tick in scene.pinned:
        x, y = pad.place.point(tick.place)
        dx, dy = pad.place.vector(times(scene.fold_normal, inward / pad.scale))
        out = 0.07 + pad.scale * scene.allowance
        head, point = (x - out * dx, y - out * dy), (x + 0.16 * dx, y + 0.16 * dy)
        pad.stroke((Edge(head, point),), replace(_PIN, stroke=WHITE, weight=2 * POINT))
        pad.stroke((Edge(head, point),), _PIN, kind="pin")
        pad.ring(head, 1.9 * POINT, RAW.filled(WHITE), kind="pin-head")
        pad.write(tick.letter, (head[0] - 0.095 * dx, head[1] - 0.095 * dy), _LETTER, halo=True)
        pins.append((head, point))
    return pins


def _call(pad: Pad, name: str, rings: Sequence[Sequence[Point]], avoid: Sequence[Segment]) -> None:
    """The unit's name in the largest of its patches that has room for it."""
    drawn = sorted((tuple(map(pad.place.point, ring)) for ring in rings), key=lambda ring: -_box_area(ring))
    letters = [((box[0], box[1]), (box[2], box[3])) for box in map(frame_of, pad.labels)]
    for ring in drawn:
        centre = (sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring))
        places = [centre, *(along(centre, corner, share) for share in (0.3, 0.5) for corner in ring)]
        fit = fit_text(name, ring, places, _NAMES, turned=False, avoid=[*avoid, *letters])
        if fit:
            pad.write(name, fit.at, fit.size, weight="bold", halo=True)
            return
    x0, y0, x1, y1 = around(drawn[0])
    pad.write(name, ((x0 + x1) / 2, (y0 + y1) / 2), _NAMES[-1], weight="bold", halo=True)


def _box_area(ring: Sequence[Point]) -> float:
    x0, y0, x1, y1 = around(ring)
    return round((x1 - x0) * (y1 - y0), 6)

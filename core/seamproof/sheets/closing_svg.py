"""Pictures of closing a partial seam: still open, right sides together along the open stretch, closed and pressed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from seamproof.geometry import Edge, Transform
from seamproof.geometry.points import add, along, distance, distance_to_segment, left, sub, times, unit
from seamproof.sheets.arrows import draw_arrow
from seamproof.sheets.clip import span_along
from seamproof.sheets.ink import BLACK, POINT, RAW, SEAM, STITCHED, WHITE, Ink
from seamproof.sheets.join_parts import (
    call,
    draw_back,
    draw_face,
    draw_pin,
    fitted,
    flip_arrow,
    moved,
    tangent_of,
    write_letter,
)
from seamproof.sheets.join_svg import ROOM, Toward, press_arrows
from seamproof.sheets.leaves import join_ticks, open_stretch, sides_of
from seamproof.sheets.unit_shapes import shape_round, unit_shape
from seamproof.tolerance import LAID_ON, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.cutting import MatchTick
    from seamproof.geometry import Point
    from seamproof.pattern import Pattern
    from seamproof.sequence import Join
    from seamproof.sheets.drawing import Drawing
    from seamproof.sheets.sketch import Pad, Sketch
    from seamproof.sheets.unit_shapes import UnitShape

ClosingPosition: TypeAlias = Literal["open", "closing", "closed"]
CLOSING: Final[dict[ClosingPosition, str]] = {
    "open": "Still open, face up",
    "closing": "Right sides together. Sew from the ring to the dot",
    "closed": "Closed and pressed",
}
"""The positions in order, and what stands under each."""

_SEWN: Final = replace(SEAM, weight=1.6 * POINT)
_START: Final = 2.6 * POINT
_GAPES: Final = 0.1
"""[in] How wide the open stretch is drawn gaping at the most."""
_PARTS: Final = 8
_ARROW_AT: Final = (0.5, 0.35, 0.65)


def closing_sketch(
    pattern: Pattern,
    label: str,
    number: int,
    unit_: str,
    position: ClosingPosition,
    *,
    toward: Toward | None = None,
    room: tuple[float, float] = ROOM,
) -> Sketch:
    """One position of closing a partial seam.

    Args:
        pattern: The pattern.
        label: The join's label.
        number: Which pass it is, from 1: the first, 0, began the seam.
        unit_: The unit that has been joined by then.
        position: "open": all of it face up, where the sewn stretch stops marked by a ring, the open stretch gaping, an
            arrow from what is folded over; "closing": what lies along the seam on either side, right sides together,
            pinned, the needle's way from the ring to the end; "closed": face up, pressed.
        toward: Which unit of the join the allowances are pressed toward, drawn as an arrow in the last.
        room: The most width and height it may have [in].

    Raises:
        KeyError: no such join or unit.
        IndexError: the seam has no such pass.
    """
    scene = _scene(pattern, pattern.construction.join(label), number, unit_)
    if position == "open":
        return _open(scene, room)
    if position == "closing":
        return _closing(scene, room)
    return _closed(scene, room, toward)


def closing_drawing(
    pattern: Pattern,
    label: str,
    number: int,
    unit_: str,
    position: ClosingPosition,
    *,
    toward: Toward | None = None,
    room: tuple[float, float] = ROOM,
) -> Drawing:
    """One position of closing a partial seam as a drawing with its labels beside it: see `closing_sketch`."""
    return closing_sketch(pattern, label, number, unit_, position, toward=toward, room=room).drawing


@dataclass(frozen=True)
class _Scene:
    """A partial seam that is to be closed.

    Attributes:
        join: The join.
        stretch: The open stretch, from where the sewn one stops.
        sewn: The stretches that are sewn.
        sides: What lies along the seam on the left of the stretch, and on its right.
        near: The patches of each that lie along the open stretch, as rings.
        whole: All that has been joined.
        ticks: The match points of the stretch.
        allowance: The seam allowance [in].
    """

    join: Join
    stretch: tuple[Edge, ...]
    sewn: tuple[Edge, ...]
    sides: tuple[UnitShape, UnitShape]
    near: tuple[tuple[tuple[Point, ...], ...], ...]
    whole: UnitShape
    ticks: tuple[MatchTick, ...]
    allowance: float

    @property
    def start(self) -> Point:
        """Where it is begun: where the sewn stretch stops."""
        return self.stretch[0].start

    @property
    def end(self) -> Point:
        """Where it ends."""
        return self.stretch[-1].end

    @property
    def middle(self) -> Edge:
        """The edge in the middle of the stretch."""
        return self.stretch[len(self.stretch) // 2]

    @property
    def normal(self) -> Point:
        """The direction from the stretch to its left, in its middle."""
        return left(self.middle.direction(0.5))

    @property
    def fold(self) -> tuple[Point, Point]:
        """The line on which the sides lie on each other: the stretch, or a curve's tangent."""
        return tangent_of(self.middle) if self.middle.is_arc else (self.start, self.end)

    @property
    def is_left_over(self) -> bool:
        """Whether what is on the left is folded over: the smaller."""
        one, other = self.sides
        return one.area < other.area * (1 - SAME_POINT)


def _scene(pattern: Pattern, join: Join, number: int, unit_: str) -> _Scene:
    sewn = tuple(edge for stretch in join.passes[:number] for edge in stretch)
    stretch = open_stretch(join, number)
    sides = tuple(shape_round(pattern, *named) for named in _along_the_seam(pattern, (*sewn, *stretch), stretch))
    ticks = tuple(
        tick
        for tick in join_ticks(pattern, join.label)
        if any(distance_to_segment(tick.place, edge.start, edge.end) <= LAID_ON for edge in stretch)
    )
    near = tuple(tuple(pattern.block.patch(p).outline.polygon for p in side) for side in sides_of(pattern, stretch))
    whole = unit_shape(pattern, unit_)
    return _Scene(join, stretch, sewn, (sides[0], sides[1]), near, whole, ticks, pattern.recipe.make.allowance)


def _along_the_seam(
    pattern: Pattern, seam: Sequence[Edge], stretch: Sequence[Edge]
) -> list[tuple[str, tuple[str, ...]]]:
    """For the left and the right of the open stretch: what lies along it is called, and the patches along the seam.

    Units that were sewn before any join are whole.
    """
    found = []
    near = sides_of(pattern, stretch)
    all_along = sides_of(pattern, [_as_way(edge, stretch) for edge in seam])
    for mine, every in zip(near, all_along, strict=True):
        names = list(dict.fromkeys(_leaf(pattern, patch)[0] for patch in mine))
        ids = dict.fromkeys(patch for one in every for patch in _leaf(pattern, one)[1])
        found.append((" and ".join(names), tuple(ids)))
    return found


def _as_way(edge: Edge, stretch: Sequence[Edge]) -> Edge:
    """An edge of the same seam, run the way of the stretch: by which of its ends lies farther along."""
    ahead = unit(sub(stretch[-1].end, stretch[0].start))
    run = sub(edge.end, edge.start)
    return edge if run[0] * ahead[0] + run[1] * ahead[1] > 0 else edge.reversed()


def _leaf(pattern: Pattern, patch: str) -> tuple[str, tuple[str, ...]]:
    """The name and patches of what a patch was sewn on before any join."""
    construction = pattern.construction
    for foundation in construction.foundations:
        if patch in foundation.order:
            return foundation.label, construction.patches_of(foundation.label)
    return pattern.names[patch], (patch,)


def _open(scene: _Scene, room: tuple[float, float]) -> Sketch:
    pad = fitted([scene.whole.cut], room)
    draw_face(pad, scene.whole, Transform())
    _gap(pad, scene)
    pad.edges(scene.sewn, _SEWN, kind="seam-sewn")
    pad.dot(scene.start, _START, RAW.filled(WHITE), kind="start")
    over = scene.is_left_over
    ahead = unit(sub(scene.middle.middle, scene.start))
    places = [tick.place for tick in scene.ticks]
    for tick in scene.ticks:
        write_letter(pad, tick.letter, tick.place, (times(scene.normal, -1 if over else 1), ahead), places)
    middles = [scene.middle.at(share) for share in _ARROW_AT]
    arrow = flip_arrow(pad, middles, times(scene.normal, -1 if over else 1), 0.0)
    for shape, rings in zip(scene.sides, scene.near, strict=True):
        call(pad, shape.label, rings, arrow)
    flipped, under = scene.sides if over else scene.sides[::-1]
    return pad.sketch(
        f"{scene.join.label}, still open",
        f"Face up. The seam is sewn as far as the ring; from there it is open. {flipped.label} is folded over onto "
        f"{under.label}, so that their edges lie together.",
    )


def _gap(pad: Pad, scene: _Scene) -> None:
    """The open stretch gaping: white between two raw edges, closed at the ring, and at its end where that is inside."""
    wide = min(_GAPES / pad.scale, 0.12 * scene.middle.chord)
    points = [p for edge in scene.stretch for p in edge.flattened()]
    is_inside = _is_within(scene)
    if not is_inside:
        points.append(add(points[-1], times(scene.stretch[-1].direction(1), scene.allowance)))
    far = distance(points[0], points[-1])

    def width(p: Point) -> float:
        share = distance(scene.start, p) / far
        return wide * (4 * share * (1 - share) if is_inside else share)

    line = [along(p, q, n / _PARTS) for p, q in pairwise(points) for n in range(_PARTS)] + points[-1:]
    near = [add(p, times(scene.normal, width(p))) for p in line]
    back = [sub(p, times(scene.normal, width(p))) for p in line]
    pad.outline([*near, *reversed(back)], Ink(fill=WHITE, stroke=None), kind="gap")
    for side in (near, back):
        pad.edges([Edge(p, q) for p, q in pairwise(side) if p != q], RAW, kind="raw-edge")


def _is_within(scene: _Scene) -> bool:
    """Whether the stretch ends inside of what has been joined."""
    rim = zip(scene.whole.cut, (*scene.whole.cut[1:], scene.whole.cut[0]), strict=True)
    return min(distance_to_segment(scene.end, p, q) for p, q in rim) > scene.allowance + LAID_ON


def _closing(scene: _Scene, room: tuple[float, float]) -> Sketch:
    mirror = Transform.reflect(*scene.fold)
    over, under = scene.sides if scene.is_left_over else scene.sides[::-1]
    into = times(scene.normal, -1 if scene.is_left_over else 1)
    pad = fitted([under.cut, moved(over.cut, mirror)], room, times(into, -0.27))
    draw_face(pad, under, Transform())
    flipped = draw_back(pad, over, mirror)
    pad.edges(scene.sewn, _SEWN, kind="seam-sewn")
    edges = scene.stretch
    span = None if scene.middle.is_arc or _is_within(scene) else span_along(flipped, scene.start, scene.end, 0.0)
    if span is not None:
        edges = (Edge(scene.start, min(span, key=lambda p: distance(p, scene.end))),)
    pad.edges(edges, STITCHED, kind="stitched")
    pins = [draw_pin(pad, tick.letter, tick.place, into, scene.allowance) for tick in scene.ticks]
    pad.dot(scene.start, _START, RAW.filled(WHITE), kind="start")
    pad.dot(scene.end, 1.8 * POINT, RAW.filled(BLACK), kind="stop")
    aside = times(into, 0.12 / pad.scale)
    tail, tip = (add(scene.middle.at(share), aside) for share in (0.3, 0.7))
    draw_arrow(pad, pad.place.point(tail), pad.place.point(tip))
    way = (pad.place.point(tail), pad.place.point(tip))
    rings = scene.near[0 if over is scene.sides[0] else 1]
    call(pad, over.label, [moved(ring, mirror) for ring in rings], [*pins, way])
    return pad.sketch(
        f"{scene.join.label}, being closed",
        f"{over.label} lies face down on {under.label} along the open stretch, pinned; all else is kept out of the "
        "way. The needle begins at the ring, on the last stitches that are there, and goes on to the dot.",
    )


def _closed(scene: _Scene, room: tuple[float, float], toward: Toward | None) -> Sketch:
    pad = fitted([scene.whole.cut], room)
    draw_face(pad, scene.whole, Transform())
    pad.edges(scene.sewn, _SEWN, kind="seam-sewn")
    pad.edges(scene.stretch, _SEWN, kind="seam-sewn")
    if toward is not None:
        press_arrows(pad, scene.middle.middle, left(_as_way(scene.middle, scene.join.seam).direction(0.5)), toward)
    way = {"open": "open", "first": f"toward {scene.join.first}", "second": f"toward {scene.join.second}"}
    words = "" if toward is None else f", the allowances pressed {way[toward]}"
    return pad.sketch(f"{scene.join.label}, closed", f"The whole seam is sewn; face up{words}.")

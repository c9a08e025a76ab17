"""Pictures of joins: the two units side by side, pinned right sides together, and pressed."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from seamproof.cutting.units import merged
from seamproof.geometry import Edge, Transform
from seamproof.geometry.points import add, along, distance_to_segment, dot, left, sub, times, unit
from seamproof.sheets.arrows import draw_arrow
from seamproof.sheets.clip import span_along
from seamproof.sheets.ink import BLACK, HIDDEN, POINT, RAW, SEAM, STITCHED, Ink
from seamproof.sheets.join_parts import (
    call,
    draw_back,
    draw_face,
    draw_pin,
    draw_tick,
    fitted,
    flip_arrow,
    moved,
    tangent_of,
    write_letter,
)
from seamproof.sheets.leaves import ticks_now
from seamproof.sheets.unit_shapes import under_and_over, unit_shape
from seamproof.tolerance import LAID_ON

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.cutting import MatchTick
    from seamproof.geometry import Point
    from seamproof.pattern import Pattern
    from seamproof.sequence import Join
    from seamproof.sheets.drawing import Drawing
    from seamproof.sheets.sketch import Pad, Sketch
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
_ARROW_AT: Final = (0.38, 0.62, 0.5, 0.25, 0.75, 0.15, 0.85)
"""[1] How far along the seam an arrow may stand, the best first."""
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
        return tangent_of(longest) if longest.is_arc else (longest.start, longest.end)

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


def _beside(scene: _Scene, room: tuple[float, float]) -> Sketch:
    gap = _APART / fitted([scene.first.cut, scene.second.cut], room).scale
    up, down = times(scene.normal, gap / 2), times(scene.normal, -gap / 2)
    near, far = Transform.shift(*up), Transform.shift(*down)
    pad = fitted([moved(scene.first.cut, near), moved(scene.second.cut, far)], room)
    for shape, move in ((scene.first, near), (scene.second, far)):
        draw_face(pad, shape, move)
        _sewing_line(pad, scene, move)
    for move, inward in ((near, 1), (far, -1)):
        _mark(pad, scene, move, inward)
    under, over = scene.under_and_over
    onto = times(scene.normal, 1 if over is scene.second else -1)
    arrow = flip_arrow(pad, [scene.at(share) for share in _ARROW_AT], onto, gap / 2)
    for shape, move in ((scene.first, near), (scene.second, far)):
        call(pad, shape.label, [moved(ring, move) for _, ring in shape.patches], arrow)
    letters = ", ".join(tick.letter for tick in scene.ticks)
    return pad.sketch(
        f"{scene.join.label}, side by side",
        f"{scene.first.label} and {scene.second.label} side by side, face up"
        f"{f', match ticks {letters}' if letters else ''}; {over.label} is flipped onto {under.label}.",
    )


def _pinned(scene: _Scene, room: tuple[float, float]) -> Sketch:
    mirror = Transform.reflect(*scene.fold)
    under, over = scene.under_and_over
    inward = 1 if under is scene.first else -1
    pad = fitted([under.cut, moved(over.cut, mirror)], room, times(scene.fold_normal, -0.27 * inward))
    draw_face(pad, under, Transform())
    flipped = draw_back(pad, over, mirror)
    if _is_straight(scene.join):
        _sewing_line(pad, scene, Transform(), flipped)
    else:
        _bent_line(pad, scene)
    into = times(scene.fold_normal, inward)
    pins = [draw_pin(pad, tick.letter, tick.place, into, scene.allowance) for tick in scene.pinned]
    if not _is_straight(scene.join):
        for pivot in scene.join.pivots:
            pad.dot(pivot, 2.6 * POINT, RAW.filled(BLACK), kind="pivot")
    call(pad, over.label, [moved(ring, mirror) for _, ring in over.patches], pins)
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
    pad = fitted([whole.cut], room)
    draw_face(pad, whole, Transform())
    span = span_along(whole.cut, *scene.ends, 0.0) if _is_straight(scene.join) else None
    edges = (Edge(*span),) if span and not scene.join.pivots else scene.join.seam
    pad.edges(edges, replace(SEAM, weight=1.1 * POINT), kind="seam-sewn")
    if toward is not None:
        press_arrows(pad, scene.at(0.5), scene.normal, toward)
    words = "" if toward is None else _press_words(scene, toward)
    both = f"{scene.first.label} and {scene.second.label}"
    return pad.sketch(f"{scene.join.label}, pressed", f"{both} joined and opened out, face up{words}.")


def press_arrows(pad: Pad, middle: Point, normal: Point, toward: Toward) -> None:
    """An arrow across a seam to where its allowances are pressed.

    Args:
        pad: What is drawn on.
        middle: A point of the seam [in].
        normal: The unit direction from it to the first unit.
        toward: The unit they are pressed toward.
    """
    n = times(normal, 0.2 / pad.scale)
    up, down = pad.place.point(add(middle, n)), pad.place.point(sub(middle, n))
    if toward == "open":
        draw_arrow(pad, down, up, both=True)
    else:
        draw_arrow(pad, *((down, up) if toward == "first" else (up, down)))


def _press_words(scene: _Scene, toward: Toward) -> str:
    if toward == "open":
        return ", the allowances pressed open"
    name = scene.first.label if toward == "first" else scene.second.label
    return f", the allowances pressed toward {name}"


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
    p, q = map(move.point, scene.ends)
    forward = unit(sub(q, p))
    places = [move.point(tick.place) for tick in scene.ticks]
    for tick, at in zip(scene.ticks, places, strict=True):
        draw_tick(pad, at, scene.normal)
        ahead = times(forward, 1 if dot(sub(along(p, q, 0.5), at), forward) >= 0 else -1)
        write_letter(pad, tick.letter, at, (times(scene.normal, inward), ahead), places)

"""Pictures of the steps at the machine: how paper and cloth lie under the hands.

The printed side is seen mirrored, the cloth side as the face is seen. Cloth shows its right side plain and its wrong
side hatched; paper is white where it is printed and off white where it is blank.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise, product
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from seamproof.errors import SeamproofError
from seamproof.geometry import Edge, Transform
from seamproof.geometry.points import (
    add,
    along,
    distance,
    distance_to_segment,
    dot,
    is_inside,
    left,
    sides,
    sub,
    times,
    unit,
)
from seamproof.sheets.arrows import draw_arrow
from seamproof.sheets.clip import inside_box, left_of, segment_left_of, span_along
from seamproof.sheets.cloth_state import Bench, bench
from seamproof.sheets.ink import (
    BLACK,
    BLADE,
    FOLD,
    GONE,
    HIDDEN,
    PAPER,
    POINT,
    PRINTED,
    RAW,
    STITCHED,
    WHITE,
)
from seamproof.sheets.join_parts import draw_pin
from seamproof.sheets.lettering import crosses_box, text_height, text_width
from seamproof.sheets.materials import NAME_SIZES, corners_of, draw_line, draw_ring, right_side, write_name, wrong_side
from seamproof.sheets.sketch import Pad, around
from seamproof.sheets.words_say import listed

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from seamproof.geometry import Point
    from seamproof.pattern import Pattern
    from seamproof.sheets.drawing import Drawing
    from seamproof.sheets.lettering import Segment
    from seamproof.sheets.sketch import Box, Sketch

Position: TypeAlias = Literal["first", "fold", "lay", "sew", "flip"]

SIDE_UP: Final[Mapping[Position, str]] = MappingProxyType(
    {
        "first": "cloth side up",
        "fold": "printed side up",
        "lay": "cloth side up",
        "sew": "printed side up",
        "flip": "cloth side up",
    }
)
"""Which side is seen in each position."""

ROOM: Final = (1.5, 1.5)
"""[in] The width and height a picture of a step has at the most."""

_ALT: Final[Mapping[Position, str]] = MappingProxyType(
    {
        "first": "The piece for {name} lies face up on the blank side of the paper and covers area 1 all round.",
        "fold": "The paper is folded back on the line of {name}; the cloth that shows past the fold is trimmed.",
        "lay": "The piece for {name} lies face down over the earlier patches, its raw edge past the line.",
        "sew": "The line of {name} is sewn from end to end and a little past each end.",
        "flip": "The piece for {name} is flipped over the seam and pressed; it covers its patch.",
    }
)
_EARLIER: Final = 0.45
"""[1] How strong the colour of cloth is that was sewn before."""
_CLOSEST: Final = 0.6
"""[1] The least share of the paper that a picture shows, either way."""
_ARROW_AT: Final = 0.34
"""[1] How far along its seam an arrow stands: off the middle, which is the name's."""
_SMALL_SIZES: Final = (6.0, 5.0)
_NEEDLE: Final = 1.8 * POINT
"""[in] The radius of the mark at either end of the line being sewn."""
_CLEAR: Final = 1.0 * POINT
"""[in] Kept free round it."""
_OVER_PIECE: Final = replace(HIDDEN, stroke=BLACK, weight=0.9 * POINT)
"""A printed line that matters, seen through the piece in hand."""
_IN_HAND: Final = replace(RAW, weight=0.9 * POINT)
"""The raw edge of the piece in hand."""


def step_sketch(
    pattern: Pattern, label: str, patch: str, position: Position, *, room: tuple[float, float] = ROOM
) -> Sketch:
    """One position of one step on a foundation.

    Args:
        pattern: The pattern.
        label: The foundation's letter; a foundation printed as another's twin has no pictures of its own.
        patch: The id of the patch that is sewn.
        position: "first": the first patch; "fold": fold and trim; "lay"; "sew"; "flip": flip and press.
        room: The most width and height it may have [in].

    Raises:
        SeamproofError: no such foundation or patch, "first" for a later patch, or another position for the first.
    """
    here = bench(pattern, label, patch)
    if (position == "first") != (here.number == 1):
        raise SeamproofError(f"{here.name} has no picture {position!r}: only the first patch is laid on bare paper")
    pad = _pad(here, position, room)
    box = _box(here)
    {"first": _first, "fold": _fold, "lay": _lay, "sew": _sew, "flip": _flip}[position](pad, here, box)
    title = f"{here.name}, {SIDE_UP[position]}"
    alt = _ALT[position].format(name=here.name)
    if here.unit:
        pinned = f", pinned at {listed([tick.letter for tick in here.ticks])}" if position == "lay" else ""
        alt = f"{alt.replace('The piece for', 'Unit').removesuffix('.')}{pinned}."
    return pad.sketch(title, f"{alt} Seen with the {SIDE_UP[position]}.")


def step_drawing(
    pattern: Pattern, label: str, patch: str, position: Position, *, room: tuple[float, float] = ROOM
) -> Drawing:
    """One position of one step as a drawing with its labels beside it: see `step_sketch`."""
    return step_sketch(pattern, label, patch, position, room=room).drawing


def _box(here: Bench) -> Box:
    """What is shown: the whole paper, or in its early steps the part of it that is worked on."""
    paper = here.template.cut.polygon
    x0, y0, x1, y1 = around(paper)
    whole = around(paper, 0.3 + 0.05 * max(x1 - x0, y1 - y0))
    rings = (here.piece.laid, here.piece.placed, *(lying.ring for lying in here.earlier))
    busy = around([point for ring in rings for point in ring], 0.3)
    low = [_framed(busy[i], busy[i + 2], whole[i], whole[i + 2]) for i in (0, 1)]
    return (low[0][0], low[1][0], low[0][1], low[1][1])


def _framed(low: float, high: float, least: float, most: float) -> tuple[float, float]:
    """A stretch round low … high within least … most, and no shorter than a share of that."""
    low, high = max(low, least), min(high, most)
    lacking = max(0.0, _CLOSEST * (most - least) - (high - low))
    low = max(least, min(low - lacking / 2, most - (high - low) - lacking))
    high = min(most, max(high + lacking / 2, low + _CLOSEST * (most - least)))
    return low, high


def _pad(here: Bench, position: Position, room: tuple[float, float]) -> Pad:
    box = _box(here)
    margin = 2 * POINT
    scale = min((room[0] - 2 * margin) / (box[2] - box[0]), (room[1] - 2 * margin) / (box[3] - box[1]))
    return Pad(box, scale=scale, mirrored=SIDE_UP[position] == "printed side up", margin=margin)


def _first(pad: Pad, here: Bench, box: Box) -> None:
    _blank_paper(pad, here, box)
    right_side(pad, here.piece.placed, here.colour, box)
    _lines_through(pad, here, box)
    pad.outline(here.outline, _OVER_PIECE, kind="area-through")
    write_name(pad, here.name, inside_box(here.piece.placed, box))


def _fold(pad: Pad, here: Bench, box: Box) -> None:
    p, q = here.seam
    for lying in reversed(here.earlier):
        wrong_side(pad, left_of(lying.ring, q, p, here.piece.trim), lying.colour, box)
        draw_ring(pad, left_of(lying.ring, *_beside(p, q, here.piece.trim)), GONE.filled(WHITE), box)
    paper = here.template.cut.polygon
    draw_ring(pad, left_of(paper, q, p), RAW.filled(WHITE), box)
    for line in here.template.lines:
        part = segment_left_of(*line.printed, q, p)
        if part and line.number != here.number:
            draw_line(pad, *part, PRINTED, box)
    folded = left_of(paper, p, q)
    flap = tuple(map(Transform.reflect(p, q).point, folded))
    draw_ring(pad, flap, RAW.filled(PAPER), box)
    draw_line(pad, *(span_along(paper, p, q, 0.0) or (p, q)), FOLD, box, kind="fold")
    move = times(_normal(p, q), here.piece.trim)
    past = [point for lying in here.earlier for point in left_of(lying.ring, p, q)] or [p, q]
    shares = [dot(sub(point, p), sub(q, p)) / distance(p, q) ** 2 for point in past]
    more = 0.2 / distance(p, q)
    ends = (along(p, q, min(shares) - more), along(p, q, max(shares) + more))
    draw_line(pad, add(ends[0], move), add(ends[1], move), BLADE, box, kind="trim-line")
    _numbers(pad, here, box, (folded, flap))
    _arrow_over(pad, (q, p))


def _lay(pad: Pad, here: Bench, box: Box) -> None:
    _blank_paper(pad, here, box)
    _lines_through(pad, here, box)
    for lying in here.trimmed:
        right_side(pad, lying.face, lying.colour, box, strength=_EARLIER)
    wrong_side(pad, here.piece.laid, here.colour, box, _IN_HAND)
    _papers_up(pad, here, box)
    if here.line is not None:
        pad.line(*here.line.printed, _OVER_PIECE, kind="line-through")
    for tick in here.piece.ticks or ():
        n = times(_normal(*here.seam), 0.06 / pad.scale)
        pad.line(add(tick, n), sub(tick, n), _IN_HAND, kind="end-tick")
    into = times(_normal(*here.seam), -1)
    pins = [draw_pin(pad, tick.letter, tick.place, into, here.piece.trim) for tick in here.ticks]
    write_name(pad, here.name, inside_box(here.piece.laid, box), avoid=pins)


def _papers_up(pad: Pad, here: Bench, box: Box) -> None:
    """The papers of a finished unit that lies face down, taken out of the allowance along its line."""
    p, q = here.seam
    mirror = Transform.reflect(p, q)
    for paper in here.papers:
        draw_ring(pad, left_of(tuple(map(mirror.point, paper)), q, p), PRINTED.filled(WHITE), box)
        for seam in here.seams:
            for a, b in pairwise(map(mirror.point, seam)):
                draw_line(pad, a, b, PRINTED, box, kind="printed-line")
    if here.papers:
        draw_ring(pad, here.piece.laid, _IN_HAND, box)


def _sew(pad: Pad, here: Bench, box: Box) -> None:
    right_side(pad, here.piece.laid, here.colour, box)
    for lying in reversed(here.trimmed):
        wrong_side(pad, lying.ring, lying.colour, box)
    draw_ring(pad, here.template.cut.polygon, RAW.filled(WHITE), box)
    for line in here.template.lines:
        if line is not here.line:
            draw_line(pad, *line.printed, PRINTED, box)
    _numbers(pad, here, box)
    if here.line is not None:
        pad.line(*here.line.printed, STITCHED, kind="stitched")
        for end in here.line.printed:
            pad.dot(end, _NEEDLE, RAW.filled(WHITE), kind="needle")


def _flip(pad: Pad, here: Bench, box: Box) -> None:
    p, q = here.seam
    _blank_paper(pad, here, box)
    _lines_through(pad, here, box)
    for lying in here.trimmed:
        right_side(pad, lying.face, lying.colour, box, strength=_EARLIER)
    face = left_of(here.piece.placed, p, q)
    right_side(pad, face, here.colour, box)
    for lying in here.unit:
        right_side(pad, lying.face, lying.colour, box)
    fold = span_along(face, p, q, 0.001) or (p, q)
    pad.line(*fold, FOLD, kind="fold")
    write_name(pad, here.name, inside_box(face, box), avoid=_arrow_over(pad, (p, q)))


def _blank_paper(pad: Pad, here: Bench, box: Box) -> None:
    draw_ring(pad, here.template.cut.polygon, RAW.filled(PAPER), box)


def _lines_through(pad: Pad, here: Bench, box: Box) -> None:
    """The printed lines as they show through from behind."""
    for line in here.template.lines:
        draw_line(pad, *line.printed, replace(HIDDEN, weight=0.35 * POINT), box, kind="line-through")


def _normal(p: Point, q: Point) -> Point:
    return left(unit(sub(q, p)))


def _beside(p: Point, q: Point, by: float) -> tuple[Point, Point]:
    move = times(_normal(p, q), by)
    return add(p, move), add(q, move)


def _arrow_over(pad: Pad, seam: tuple[Point, Point]) -> list[Segment]:
    """A bent arrow over a seam to its left; gives what it covers, for texts to keep clear of."""
    p, q = seam
    middle, n = along(p, q, _ARROW_AT), _normal(p, q)
    reach = min(0.2 / pad.scale, 0.3 * distance(p, q))
    start, end = pad.place.point(sub(middle, times(n, reach))), pad.place.point(add(middle, times(n, reach)))
    bulge = 0.55 if start[0] <= end[0] else -0.55
    draw_arrow(pad, start, end, bulge=bulge)
    points = Edge(start, end, bulge).flattened(0.01)
    tip = 0.05
    head = [((end[0] - tip, end[1] - tip), (end[0] + tip, end[1] + tip))]
    return [*pairwise(points), *head]


def _numbers(pad: Pad, here: Bench, box: Box, hidden: Sequence[Sequence[Point]] = ()) -> None:
    """The printed numbers that are not `hidden`: the patch's own bold, the others where they fit."""
    line = here.line
    ends = [pad.place.point(end) for end in line.printed] if line else []
    sewn = [(ends[0], ends[1])] if ends else []
    rims = [tuple(map(pad.place.point, ring)) for ring in hidden]
    needles = [side for end in ends for side in sides(corners_of(around([end], _NEEDLE + _CLEAR)))]
    avoid = [*sewn, *needles, *(side for ring in rims for side in sides(ring))]
    for _, number, at, room in here.template.patches:
        name = f"{here.template.label}{number}"
        mine = number == here.number
        if not is_inside(at, corners_of(box)) or any(is_inside(at, ring) for ring in hidden):
            continue
        place = pad.place.point(at)
        if mine:
            reach = min(distance_to_segment(place, *stretch) for stretch in sewn) if sewn else 1.0
            size = next((size for size in NAME_SIZES if size * 0.5 * POINT < reach), NAME_SIZES[-1])
            pad.write(name, place, size, weight="bold", halo=True)
            continue
        size = next((size for size in _SMALL_SIZES if 0.36 * size * len(name) * POINT <= room * pad.scale), 0.0)
        half = (text_width(name, size) / 2, text_height(size) / 2)
        for x, y in _about(place, room * pad.scale) if size else ():
            is_whole = half[0] <= x <= pad.width - half[0] and half[1] <= y <= pad.height - half[1]
            if is_whole and not crosses_box(avoid, (x, y), *half):
                pad.write(name, (x, y), size)
                break


def _about(place: Point, room: float) -> Iterator[Point]:
    """Where a number may stand: its place on the paper, else a little beside it, within half of the room round it."""
    yield place
    for share, turn in product((0.25, 0.5), range(0, 360, 45)):
        angle = math.radians(turn)
        yield add(place, (share * room * math.cos(angle), share * room * math.sin(angle)))

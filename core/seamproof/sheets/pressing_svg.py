"""The pressing map: the block from the back, with an arrow on every seam and a sign wherever seams meet."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Final, Literal, TypeAlias, get_args

from seamproof.geometry import Edge
from seamproof.geometry.points import add, along, cross, distance, left, sub, times, unit
from seamproof.sheets.arrows import draw_arrow
from seamproof.sheets.ink import ARROW, BLACK, BORDER, GREY, POINT, SEAM, SECTION, WHITE, Ink
from seamproof.sheets.lettering import fit_text, text_width
from seamproof.sheets.sketch import Pad
from seamproof.sheets.words_joins import join_names
from seamproof.tolerance import SAME_POINT
from seamproof.tones import tint

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.geometry import Point
    from seamproof.pattern import Pattern
    from seamproof.sequence.pressing import PressedSeam
    from seamproof.sheets.drawing import Drawing
    from seamproof.sheets.lettering import Segment
    from seamproof.sheets.sketch import Sketch

Sign: TypeAlias = Literal["join", "paper", "open", "dark", "nests", "spins", "misses"]
SIGNS: Final[tuple[Sign, ...]] = get_args(Sign)

WIDTH: Final = 4.3
"""[in] How wide the block is drawn unless told otherwise."""
_STRENGTH: Final = 0.3
_NAMES: Final = (7.0, 6.0, 5.0)
_LABEL: Final = 7.0
_PLACES: Final = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)
"""How far along its seam an arrow may stand, the best first."""
_PAPER: Final = Ink(stroke=GREY, weight=0.8 * POINT, round=True)
_REACH: Final = {"join": 0.27, "open": 0.15, "paper": 0.19}
"""[in] How far an arrow reaches past its seam."""
_TAIL: Final = 0.06
"""[in] How far it begins before it."""
_SIGN: Final = 0.05
"""[in] Half the width of a sign where seams meet."""
_CORNERS: Final = 8
_CLEAR: Final = 0.2
"""[in] How far an arrow stands from the ends of seams, where there is room."""


def pressing_sketch(pattern: Pattern, *, width: float = WIDTH) -> Sketch:
    """The block from the back, `width` inches wide, with where every allowance lies."""
    block = pattern.block
    pad = Pad(block.bounds, scale=width / block.size[0], mirrored=True, margin=0.04)
    for patch in block.patches:
        pad.outline(patch.outline, SEAM.filled(tint(pattern.fabric(patch.id).colour, _STRENGTH)), kind="patch")
    for seam in pattern.pressing.seams:
        if seam.join is not None:
            pad.edges(seam.seam, SECTION, kind="join")
    if block.outline is not None:
        pad.outline(block.outline, BORDER, kind="outline")
    rings = [tuple(map(pad.place.point, patch.outline.polygon)) for patch in block.patches]
    sides = [side for ring in rings for side in zip(ring, (*ring[1:], ring[0]), strict=True)]
    crowded = _ends(pad, pattern)
    taken: list[Segment] = []
    for seam in sorted(pattern.pressing.seams, key=lambda seam: seam.join is not None):
        taken += _arrow(pad, pattern, seam, crowded, sides)
    for place, sign in meeting_signs(pattern).items():
        draw_sign(pad, sign, pad.place.point(place))
    for patch, ring in zip(block.patches, rings, strict=True):
        places = list(_name_places(pad.place.point(patch.outline.centroid), ring))
        fit = fit_text(pattern.names[patch.id], ring, places, _NAMES, clear=0.02, avoid=taken)
        if fit is not None:
            pad.write(pattern.names[patch.id], fit.at, fit.size, angle=fit.angle)
    return pad.sketch(f"{pattern.recipe.title}, pressing map", _told(pattern))


def pressing_drawing(pattern: Pattern, *, width: float = WIDTH) -> Drawing:
    """The pressing map as a drawing with its labels beside it: see `pressing_sketch`."""
    return pressing_sketch(pattern, width=width).drawing


def signs_of(pattern: Pattern) -> tuple[Sign, ...]:
    """The signs that a block's pressing map holds, in the order of its key."""
    seams = pattern.pressing.seams
    found: set[Sign] = set(meeting_signs(pattern).values())
    found |= {"open" if seam.toward == "open" else "join" for seam in seams if seam.join is not None}
    found |= {"paper" for seam in seams if seam.join is None}
    found |= {"dark" for seam in seams if seam.dark}
    return tuple(sign for sign in SIGNS if sign in found)


def meeting_signs(pattern: Pattern) -> dict[Point, Sign]:
    """What stands where seams meet: of several at one place the one that asks for most care."""
    found: dict[Point, Sign] = {}
    for meeting in pattern.pressing.meetings:
        sign: Sign = "spins" if meeting.spins else "nests" if meeting.nests else "misses"
        found[meeting.place] = max(found.get(meeting.place, sign), sign, key=SIGNS.index)
    return found


def sign_drawing(sign: Sign) -> Drawing:
    """One sign for the key, on a short seam where it stands on one."""
    pad = Pad((0.0, 0.0, 0.62, 0.4))
    middle = (0.31, 0.2)
    if sign in {"nests", "spins", "misses"}:
        draw_sign(pad, sign, middle)
    else:
        pad.marks([((0.2, 0.02), (0.2, 0.38))], SEAM if sign == "paper" else SECTION)
        _draw_arrow(pad, "open" if sign == "open" else "paper" if sign == "paper" else "join", (0.2, 0.2), (1.0, 0.0))
        if sign == "dark":
            _diamond(pad, (0.2 - _TAIL, 0.2))
    return pad.sketch(f"Sign: {sign}", _ABOUT[sign]).drawing


_ABOUT: Final[dict[Sign, str]] = {
    "join": "A heavy arrow across a heavy seam.",
    "paper": "A light arrow across a light seam.",
    "open": "An arrow with two heads across a heavy seam.",
    "dark": "An arrow with a diamond at its tail.",
    "nests": "A dot.",
    "spins": "An arrow that turns round.",
    "misses": "A cross.",
}


def draw_sign(pad: Pad, sign: Sign, at: Point) -> None:
    """Draw one of the signs of meetings at a point of the sketch [in]."""
    x, y = at
    if sign == "nests":
        pad.ring(at, _SIGN * 0.9, Ink(fill=BLACK, stroke=WHITE, weight=1.2 * POINT), kind="nests")
    elif sign == "spins":
        pad.ring(at, 0.1, Ink(fill=WHITE, stroke=None), kind="spins")
        draw_arrow(pad, (x + 0.07, y), (x, y - 0.07), bulge=2.414, ink=replace(ARROW, weight=0.9 * POINT))
    else:
        strokes = [((x - _SIGN, y - _SIGN), (x + _SIGN, y + _SIGN)), ((x - _SIGN, y + _SIGN), (x + _SIGN, y - _SIGN))]
        pad.marks(strokes, replace(ARROW, stroke=WHITE, weight=4.4 * POINT), kind="ground")
        pad.marks(strokes, replace(ARROW, weight=1.8 * POINT), kind="misses")


def _name_places(centre: Point, ring: Sequence[Point]) -> Iterator[Point]:
    """Where a patch's name may stand: in its middle, part of the way to its corners, or a little beside."""
    yield centre
    for corner in ring if len(ring) <= _CORNERS else ():
        yield along(centre, corner, 0.35)
    for far in (0.16, 0.32):
        for turn in range(0, 360, 45):
            yield add(centre, (far * math.cos(math.radians(turn)), far * math.sin(math.radians(turn))))


def _ends(pad: Pad, pattern: Pattern) -> list[Point]:
    """Where seams begin, end and meet, on the sketch."""
    ends = [end for seam in pattern.pressing.seams for end in (seam.seam[0].start, seam.seam[-1].end)]
    return [pad.place.point(place) for place in (*ends, *(meeting.place for meeting in pattern.pressing.meetings))]


def _arrow(
    pad: Pad, pattern: Pattern, seam: PressedSeam, crowded: Sequence[Point], sides: Sequence[Segment]
) -> list[Segment]:
    """Draw where one seam's allowances lie, and what a join is called; the lines that no name may stand on."""
    kind = "paper" if seam.join is None else "open" if seam.toward == "open" else "join"
    at, way = max(_spots(pad, seam), key=lambda spot: min(_CLEAR, *(distance(spot[0], end) for end in crowded)))
    reach = min(_REACH[kind], 0.8 * _depth(at, way, sides))
    tail, tip = _draw_arrow(pad, kind, at, way, reach)
    if seam.dark:
        _diamond(pad, tail)
    if seam.join is None:
        return [(tail, tip)]
    x, y = add(tail, times(way, -0.08))
    (name,) = join_names(pattern, [seam.join])
    pad.write(name, (x, y), _LABEL, weight="bold", halo=True)
    half = text_width(name, _LABEL) / 2
    return [(tail, tip), ((x - half, y), (x + half, y)), ((x, y - half / 2), (x, y + half / 2))]


def _spots(pad: Pad, seam: PressedSeam) -> Iterator[tuple[Point, Point]]:
    """Where an arrow may stand and which way it points, on the sketch."""
    whole = sum(edge.length for edge in seam.seam)
    for share in _PLACES:
        rest = share * whole
        for edge in seam.seam:
            if rest <= edge.length or edge is seam.seam[-1]:
                t = min(1.0, rest / edge.length) if edge.length else 0.0
                normal = left(edge.direction(t))
                way = pad.place.vector(times(normal, -1.0 if seam.toward == "right" else 1.0))
                yield pad.place.point(edge.at(t)), unit(way)
                break
            rest -= edge.length


def _draw_arrow(pad: Pad, kind: str, at: Point, way: Point, reach: float | None = None) -> tuple[Point, Point]:
    long = _REACH[kind] if reach is None else reach
    tail = add(at, times(way, -(min(long, _REACH["open"]) if kind == "open" else _TAIL)))
    tip = add(at, times(way, long))
    draw_arrow(pad, tail, tip, ink=_PAPER if kind == "paper" else ARROW, both=kind == "open")
    return tail, tip


def _diamond(pad: Pad, at: Point) -> None:
    x, y = at
    half = 0.045
    ring = ((x - half, y), (x, y - half), (x + half, y), (x, y + half))
    edges = [Edge(p, q) for p, q in zip(ring, (*ring[1:], ring[0]), strict=True)]
    pad.stroke(edges, Ink(fill=BLACK, stroke=WHITE, weight=0.8 * POINT), closed=True, kind="dark")


def _depth(at: Point, way: Point, sides: Sequence[Segment]) -> float:
    """How far it is from a point along a direction to the next side of a patch [in]; 1 where there is none."""
    nearest = 1.0
    for p, q in sides:
        run = sub(q, p)
        turn = cross(way, run)
        if abs(turn) <= SAME_POINT * distance(p, q):
            continue
        off = sub(p, at)
        far, where = cross(off, run) / turn, cross(off, way) / turn
        if 100 * SAME_POINT < far < nearest and 0 <= where <= 1:
            nearest = far
    return nearest


def _told(pattern: Pattern) -> str:
    """What the map shows, in words."""
    seams, signs = pattern.pressing.seams, list(meeting_signs(pattern).values())
    joins = sum(seam.join is not None for seam in seams)
    parts = [f"The block from the back, an arrow on each of {len(seams)} seams, {joins} of them joins"]
    told: dict[Sign, str] = {"nests": "nest", "spins": "nest and may be spun", "misses": "do not nest"}
    parts += [f"{signs.count(sign)} places where seams {words}" for sign, words in told.items() if sign in signs]
    return "; ".join(parts) + ". The table and the list beside it say the same."

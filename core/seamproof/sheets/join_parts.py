"""What pictures of joins are put together of: units face up and face down, pins, letters and names."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, product
from typing import TYPE_CHECKING, Final

from seamproof.geometry import Edge
from seamproof.geometry.points import add, along, distance, sub, times, unit
from seamproof.sheets.arrows import draw_arrow
from seamproof.sheets.drawing import Label
from seamproof.sheets.ink import LEADER, POINT, PRINTED, RAW, SEAM, TICK, WHITE, Ink
from seamproof.sheets.leaders import frame_of, overlap
from seamproof.sheets.lettering import crosses_box, fit_text
from seamproof.sheets.materials import WRONG, hatch_wrong_side
from seamproof.sheets.sketch import Pad, around
from seamproof.tones import tint

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.geometry import Point, Transform
    from seamproof.sheets.leaders import Frame
    from seamproof.sheets.lettering import Segment
    from seamproof.sheets.unit_shapes import UnitShape

_STRENGTH: Final = 0.6
_PIN: Final = Ink(weight=0.7 * POINT, round=True)
_LETTERS: Final = (7.0, 6.0, 5.0)
"""[pt] A match point's letter, the largest that stands clear of all others."""
_NAMES: Final = (10.0, 9.0, 8.0, 7.0)
_TICK: Final = 0.05
"""[in] How far a tick reaches to either side of the sewing line, as drawn."""
_ROW: Final = 0.11
"""[in] How far a letter stands from its tick, and from the row of letters before it, as drawn."""
_ASIDE: Final = (1.0, 0.0, -1.0, 2.0, -2.0)
_BESIDE: Final = 0.07
_ROWS: Final = 5
_GRID: Final = 9


def fitted(rings: Sequence[Sequence[Point]], room: tuple[float, float], more: Point = (0.0, 0.0)) -> Pad:
    """A pad round all rings, with `more` room [in, as drawn, y up] on the side it points to."""
    x0, y0, x1, y1 = around([point for ring in rings for point in ring])
    m = 2 * POINT
    margin = (m + max(-more[0], 0.0), m + max(more[1], 0.0), m + max(more[0], 0.0), m + max(-more[1], 0.0))
    scale = min((room[0] - margin[0] - margin[2]) / (x1 - x0), (room[1] - margin[1] - margin[3]) / (y1 - y0))
    return Pad((x0, y0, x1, y1), scale=scale, margin=margin)


def moved(ring: Sequence[Point], move: Transform) -> tuple[Point, ...]:
    """A ring of points elsewhere."""
    return tuple(map(move.point, ring))


def tangent_of(arc: Edge) -> tuple[Point, Point]:
    """A stretch as long as an arc's chord that touches the arc in its middle: over it the other unit lies flipped."""
    half = times(arc.direction(0.5), arc.chord / 2)
    return sub(arc.middle, half), add(arc.middle, half)


def draw_face(pad: Pad, shape: UnitShape, move: Transform) -> None:
    """A unit face up: each fabric run on into the allowance, its seams, its raw edge."""
    for colour, ring in shape.cloth:
        pad.outline(moved(ring, move), Ink(fill=tint(colour, _STRENGTH), stroke=None))
    for colour, ring in shape.patches:
        pad.outline(moved(ring, move), Ink(fill=tint(colour, _STRENGTH), stroke=None))
    for seam in shape.seams:
        pad.marks(pairwise(tuple(map(pad.place.point, moved(seam, move)))), SEAM, kind="seam")
    pad.outline(moved(shape.cut, move), RAW, kind="raw-edge")


def draw_back(pad: Pad, shape: UnitShape, mirror: Transform) -> tuple[Point, ...]:
    """A unit face down, its paper up where it has one; gives its raw edge."""
    flipped = moved(shape.cut, mirror)
    for colour, ring in shape.cloth:
        pad.outline(moved(ring, mirror), Ink(fill=tint(colour, WRONG), stroke=None))
    for colour, ring in shape.patches:
        pad.outline(moved(ring, mirror), Ink(fill=tint(colour, WRONG), stroke=None), kind="wrong-side")
    hatch_wrong_side(pad, flipped)
    for paper in shape.papers:
        pad.outline(moved(paper, mirror), PRINTED.filled(WHITE), kind="paper")
    if shape.papers:
        for _, ring in shape.patches:
            pad.outline(moved(ring, mirror), PRINTED)
    pad.outline(flipped, replace(RAW, weight=0.9 * POINT))
    return flipped


def draw_tick(pad: Pad, place: Point, normal: Point) -> None:
    """A match tick across the sewing line, whose unit normal is given."""
    n = times(normal, _TICK / pad.scale)
    pad.line(add(place, n), add(place, times(n, -1)), TICK, kind="match-tick")


def write_letter(pad: Pad, letter: str, place: Point, ways: tuple[Point, Point], ticks: Sequence[Point]) -> None:
    """A match point's letter beside its tick, nearer to it than to any other, clear of all that is written.

    On the hollow side of a curve ticks may stand so close that no place is; then it stands where it can.

    Args:
        pad: What is drawn on.
        letter: The letter.
        place: The tick [in].
        ways: The unit directions from the sewing line into the unit, and along the line toward its middle.
        ticks: All ticks of the line [in].
    """
    at, (into, on) = pad.place.point(place), (unit(pad.place.vector(way)) for way in ways)
    others = [pad.place.point(tick) for tick in ticks if tick != place]
    rows = ((add(at, times(into, _ROW * row)), row > 1) for row in range(1, _ROWS + 1))
    places = [(add(spot, times(on, _BESIDE * aside)), far) for spot, far in rows for aside in _ASIDE]
    near = [(spot, far) for spot, far in places if all(distance(spot, at) <= distance(spot, other) for other in others)]
    _write_clear(pad, letter, near or places, at)


def flip_arrow(pad: Pad, middles: Sequence[Point], onto: Point, gap: float) -> list[Segment]:
    """A bent arrow over a seam toward the unit that is covered, where it crosses the fewest texts.

    Args:
        pad: What is drawn on.
        middles: Where it may cross the seam [in], the best first.
        onto: The unit direction in which it points.
        gap: How far either unit lies from the seam [in].

    Returns:
        The lines that no text may stand on.
    """
    n = times(onto, gap + 0.16 / pad.scale)
    frames = [frame_of(label) for label in pad.labels]
    found: list[tuple[int, Edge]] = []
    for middle in middles:
        start, end = pad.place.point(sub(middle, n)), pad.place.point(add(middle, n))
        upward = 0.5 if start[0] <= end[0] else -0.5
        for bulge in (upward, -upward):
            edge = Edge(start, end, bulge)
            found.append((sum(_stands_on(edge, frame) for frame in frames), edge))
    _, shaft = min(found, key=lambda way: way[0])
    draw_arrow(pad, shaft.start, shaft.end, bulge=shaft.bulge)
    return list(pairwise(shaft.flattened(0.01)))


def _stands_on(edge: Edge, frame: Frame) -> bool:
    x0, y0, x1, y1 = frame
    middle, half = ((x0 + x1) / 2, (y0 + y1) / 2), ((x1 - x0) / 2, (y1 - y0) / 2)
    return crosses_box(list(pairwise(edge.flattened(0.01))), middle, *half)


def draw_pin(pad: Pad, letter: str, place: Point, inward: Point, allowance: float) -> Segment:
    """A pin through a match point, square to the seam, its head outside, its letter beyond; gives the pin."""
    x, y = pad.place.point(place)
    dx, dy = pad.place.vector(times(inward, 1 / pad.scale))
    out = 0.07 + pad.scale * allowance
    head, point = (x - out * dx, y - out * dy), (x + 0.16 * dx, y + 0.16 * dy)
    pad.stroke((Edge(head, point),), replace(_PIN, stroke=WHITE, weight=2 * POINT))
    pad.stroke((Edge(head, point),), _PIN, kind="pin")
    pad.ring(head, 1.9 * POINT, RAW.filled(WHITE), kind="pin-head")
    beyond = [(head[0] - far * dx, head[1] - far * dy) for far in (0.095, 0.15, 0.2)]
    asides = [times((-dy, dx), _BESIDE * aside) for aside in (0.0, 0.8, -0.8, 1.5, -1.5)]
    _write_clear(pad, letter, [(add(spot, aside), False) for spot, aside in product(beyond, asides)], head)
    return head, point


def _write_clear(pad: Pad, text: str, places: Sequence[tuple[Point, bool]], start: Point) -> None:
    """A text at the first of its places that is clear, with a line from its start where the place says so."""
    taken = [frame_of(label, 0.0) for label in pad.labels]
    for size, (at, is_led) in product(_LETTERS, places):
        frame = frame_of(Label(text, at[0], at[1], size), 0.0)
        is_seen = min(frame[:2]) >= 0 and frame[2] <= pad.width and frame[3] <= pad.height
        if is_seen and not any(overlap(frame, other) for other in taken):
            if is_led:
                pad.marks([(start, at)], LEADER, kind="leader")
            pad.write(text, at, size, halo=True)
            return
    pad.write(text, places[0][0], _LETTERS[-1], halo=True)


def call(pad: Pad, name: str, rings: Sequence[Sequence[Point]], avoid: Sequence[Segment]) -> None:
    """The unit's name in the largest of its patches that has room for it, else anywhere clear on the unit."""
    drawn = sorted((tuple(map(pad.place.point, ring)) for ring in rings), key=lambda ring: -_box_area(ring))
    letters = [line for box in map(frame_of, pad.labels) for line in _crossed(box)]
    for ring in drawn:
        centre = (sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring))
        places = [centre, *(along(centre, corner, share) for share in (0.3, 0.5) for corner in ring)]
        fit = fit_text(name, ring, places, _NAMES, turned=False, avoid=[*avoid, *letters])
        if fit:
            pad.write(name, fit.at, fit.size, weight="bold", halo=True)
            return
    x0, y0, x1, y1 = around([point for ring in drawn for point in ring])
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    box = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    fit = fit_text(name, box, list(_grid(box)), _NAMES, turned=False, avoid=[*avoid, *letters], clear=0.0)
    pad.write(name, fit.at if fit else middle, fit.size if fit else _NAMES[-1], weight="bold", halo=True)


def _crossed(box: Frame) -> tuple[Segment, Segment]:
    """The two diagonals of a box: a text that stands on it crosses one."""
    x0, y0, x1, y1 = box
    return ((x0, y0), (x1, y1)), ((x0, y1), (x1, y0))


def _grid(box: Sequence[Point]) -> Iterator[Point]:
    """Places in a box, the middle first."""
    (x0, y0), _, (x1, y1), _ = box
    steps = sorted(range(1, _GRID + 1), key=lambda step: abs(step - (_GRID + 1) / 2))
    for down, across in product(steps, steps):
        yield x0 + (x1 - x0) * across / (_GRID + 1), y0 + (y1 - y0) * down / (_GRID + 1)


def _box_area(ring: Sequence[Point]) -> float:
    x0, y0, x1, y1 = around(ring)
    return round((x1 - x0) * (y1 - y0), 6)

"""Compass: points of falling rank between one another, on a round or a straight ground."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, Final, Literal

from pydantic import Field

from seamproof.geometry import Edge, Outline
from seamproof.plugin import Draft, Family, Parameters, polar

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.block import Block
    from seamproof.geometry import Point

_ROUND_REACH: Final = 0.44
_THIRD_RANK: Final = 30
"""[°] Points of the third rank stand in gaps of 45°, those of the fourth in gaps of 22.5°."""


class CompassParameters(Parameters):
    """What may be chosen of a compass."""

    points: Literal[8, 16, 32] = Field(default=16, description="Points: 8, 16 or 32; each doubling adds a rank.")
    ground: Literal["round", "straight"] = Field(
        default="straight", description="What the points end on: an octagon (straight seams), or a circle (curved)."
    )
    waist: float = Field(
        default=0.3,
        ge=0.22,
        le=0.4,
        description="Distance from the centre at which two main points part, over their length; less makes needles.",
    )


class _Rim:
    """Where points end: a circle, or the octagon about it with sides across the eight main directions."""

    def __init__(self, reach: float, *, is_round: bool) -> None:
        self.reach = reach
        self.is_round = is_round

    def at(self, degrees: float) -> Point:
        if self.is_round:
            return polar(self.reach, degrees)
        off = (degrees + 22.5) % 45 - 22.5
        return polar(self.reach / math.cos(math.radians(off)), degrees)

    def edges(self, start: float, end: float) -> list[Edge]:
        """Along the rim from one direction to another, at most 45° on."""
        if self.is_round:
            return [Edge(self.at(start), self.at(end), math.tan(math.radians(end - start) / 4))]
        stops = [self.at(start), self.at(end)]
        if end - start > _THIRD_RANK:
            stops.insert(1, self.at((start + end) / 2))
        return [Edge(p, q) for p, q in pairwise(stops)]


def _ring(points: list[Point], last: list[Edge] | None = None) -> Outline:
    """An outline through points, closed by the last edges where they are given, else by a line."""
    edges = [Edge(p, q) for p, q in pairwise(points)]
    return Outline((*edges, *(last or [Edge(points[-1], points[0])])))


def _along(p: Point, q: Point, t: float) -> Point:
    return (p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t)


def _between(apex: Point, start: float, end: float, ranks: int, rim: _Rim) -> Iterator[tuple[str, Outline]]:
    """The patches between two neighbouring points whose edges part at an apex, directions [°] from start to end."""
    if ranks == 0:
        yield "background", _ring([rim.at(end), apex, rim.at(start)], rim.edges(start, end))
        return
    middle = (start + end) / 2
    tip = rim.at(middle)
    before, after = (_along(apex, rim.at(angle), 0.3) for angle in (start, end))
    rank = 3 if end - start > _THIRD_RANK else 4
    yield f"point {rank}", _ring([apex, before, tip, after])
    yield from _between(before, start, middle, ranks - 1, rim)
    yield from _between(after, middle, end, ranks - 1, rim)


def _octant(k: int, ranks: int, waist: float, rim: _Rim) -> Iterator[tuple[str, Outline]]:
    """An eighth of the disc, from direction 45k on: half a main point, half a second one, the rest between them."""
    main, second = (45 * k, 45 * k + 45) if k % 2 == 0 else (45 * k + 45, 45 * k)
    shade = "light" if k % 2 == 0 else "shaded"
    parting = polar(rim.reach * waist, second)
    apex = _along(parting, rim.at(main), 0.25)
    yield f"{shade} half of point 1", _ring([(0.0, 0.0), rim.at(main), parting])
    yield f"{'light' if shade == 'shaded' else 'shaded'} half of point 2", _ring([parting, apex, rim.at(second)])
    start, end = sorted((main, second))
    yield from _between(apex, start, end, ranks, rim)


def draft_compass(parameters: CompassParameters, size: float) -> Block:
    """Draft octant by octant, in each the greater points before the lesser, then the corners.

    Main and second points are halved by seams through the centre, so that every octant is sewn with straight seams.
    """
    is_round = parameters.ground == "round"
    rim = _Rim(_ROUND_REACH if is_round else 0.5, is_round=is_round)
    ranks = {8: 0, 16: 1, 32: 2}[parameters.points]
    draft = Draft([(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)])
    for k in range(8):
        for role, outline in _octant(k, ranks, parameters.waist, rim):
            draft.add(role, outline)
    steps = parameters.points // 4 if is_round else 2
    for k in range(4):
        draft.add("corner", _corner(rim, 90 * k, steps))
    return draft.block("Compass", size)


def _corner(rim: _Rim, start: float, steps: int) -> Outline:
    corner = polar(math.sqrt(0.5), start + 45)
    if not rim.is_round:
        return Outline.of([rim.at(start + 22.5), corner, rim.at(start + 67.5)])
    ends = [polar(0.5, start), corner, polar(0.5, start + 90)]
    directions = [start + 90 * n / steps for n in range(steps + 1)]
    arcs = [edge for a, b in pairwise(directions) for edge in rim.edges(a, b)]
    back = [edge.reversed() for edge in reversed(arcs)]
    return Outline((*_ring([*ends, rim.at(start + 90)]).edges[:-1], *back, Edge(rim.at(start), ends[0])))


COMPASS: Final = Family(
    slug="compass",
    title="Compass",
    parameters=CompassParameters,
    draft=draft_compass,
    sources=("common practice, no source: a mariner's compass, its main points halved into light and shade",),
    designs={
        "compass of eight": {"points": 8},
        "compass of sixteen": {},
        "compass of thirty-two": {"points": 32},
        "round compass of eight": {"points": 8, "ground": "round"},
        "round compass of sixteen": {"ground": "round"},
        "round compass of thirty-two": {"points": 32, "ground": "round"},
    },
    roles=(
        "light half of point 1", "shaded half of point 1", "light half of point 2", "shaded half of point 2",
        "point 3", "point 4", "background", "corner",
    ),
    smallest=0.045,
    sharpest=9.5,
    about="A compass of 8, 16 or 32 points.",
)  # fmt: skip

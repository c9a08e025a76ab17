"""Arrows, curved and straight, drawn in a sketch's own inches."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from seamproof.geometry import Edge
from seamproof.geometry.points import add, left, times
from seamproof.sheets.ink import ARROW, POINT, WHITE

if TYPE_CHECKING:
    from seamproof.geometry import Point
    from seamproof.sheets.ink import Ink
    from seamproof.sheets.sketch import Pad

_HEAD: Final = 5.5 * POINT
_HALO: Final = 2.4 * POINT


def draw_arrow(pad: Pad, start: Point, end: Point, *, bulge: float = 0.0, ink: Ink = ARROW, both: bool = False) -> None:
    """An arrow from start to end [in], on a thin white ground so that it reads over anything.

    Args:
        pad: What is drawn on.
        start: Where it begins.
        end: Where it points.
        bulge: How far it is bent: see `Edge`.
        ink: Its line.
        both: Whether it has a head at either end, as a measure has.
    """
    shaft = Edge(start, end, bulge)
    head = min(_HEAD, shaft.length / 2)
    heads = [_head(end, shaft.direction(1), head)]
    if both:
        heads.append(_head(start, times(shaft.direction(0), -1), head))
    ground = replace(ink, stroke=WHITE, weight=ink.weight + _HALO, dash=())
    for pen in (ground, ink):
        pad.stroke((shaft,), pen, kind="arrow")
        for tip in heads:
            pad.stroke(tip, replace(pen, dash=()), kind="arrow")


def _head(tip: Point, direction: Point, size: float) -> tuple[Edge, Edge]:
    back, side = times(direction, -size * math.cos(math.radians(28))), times(left(direction), size * 0.47)
    return Edge(add(add(tip, back), side), tip), Edge(tip, add(add(tip, back), times(side, -1)))

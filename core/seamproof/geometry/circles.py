"""Where whole lines and circles meet."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from seamproof.geometry.points import add, distance, dot, left, sub, times, unit
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from seamproof.geometry.points import Point


def line_and_circle(start: Point, toward: Point, centre: Point, radius: float) -> list[Point]:
    """Where the line through a point, in a unit direction, meets a circle [in]: two points, or none."""
    foot = add(start, times(toward, dot(sub(centre, start), toward)))
    rest = radius**2 - distance(foot, centre) ** 2
    if rest < 0:
        return []
    reach = math.sqrt(rest)
    return [add(foot, times(toward, reach)), add(foot, times(toward, -reach))]


def two_circles(p: Point, p_radius: float, q: Point, q_radius: float) -> list[Point]:
    """Where two circles meet [in]: two points, or none; circles round one centre meet nowhere."""
    gap = distance(p, q)
    if gap <= SAME_POINT:
        return []
    reach = (gap**2 + p_radius**2 - q_radius**2) / (2 * gap)
    rest = p_radius**2 - reach**2
    if rest < 0:
        return []
    toward = unit(sub(q, p))
    foot, side = add(p, times(toward, reach)), times(left(toward), math.sqrt(rest))
    return [add(foot, side), sub(foot, side)]

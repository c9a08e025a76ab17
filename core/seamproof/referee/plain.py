"""What a plain piece must cover: its patch and allowance, less what the cuts of its corners take."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from seamproof.geometry.offsets import offset
from seamproof.geometry.points import add, cross, distance, dot, left, sub, times, unit
from seamproof.referee.corners import TIP, away_from, beyond, tip_cuts, without
from seamproof.referee.covering import tip
from seamproof.tolerance import CHORD, ROUND_OFF, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.geometry import Outline, Point
    from seamproof.referee.corners import Cut

FINE: Final = 2 * CHORD
"""[in] So far a piece may be off: arcs are flattened on either side."""


def plain_need(outline: Outline, allowance: float, cuts: Sequence[Cut] = ()) -> Any:
    """The shape (shapely) that a plain piece must cover.

    It is the patch with the full allowance along every edge, corners mitred, less what lies beyond the cuts: of tips
    sharper than 45°, and of the corners matched at the ends of seams. The patch itself is never cut. A matched corner
    of angle α lies s·tan(α/2) or more past the end, so the edge that meets the seam there keeps an allowance of
    s/(1 + cos α) or more at its very end, more than half of it, and all of it from s·tan(α/2) on: enough to hold a seam
    that is sewn across the end of another.

    Args:
        outline: The finished patch.
        allowance: The seam allowance s [in].
        cuts: The cuts at the ends of its seams, from `seam_cuts`.
    """
    import shapely

    patch = shapely.Polygon(outline.polygon)
    if outline.is_straight:
        shape = shapely.union_all([patch, *map(shapely.Polygon, _strips(outline, allowance))], grid_size=ROUND_OFF)
    else:
        shape = shapely.Polygon(offset(outline, allowance).polygon)
        cuts = (*tip_cuts(outline, allowance), *cuts)
    for cut in cuts:
        shape = without(shape, cut)
    return shapely.set_precision(shapely.union(shape, patch), ROUND_OFF)


def overlong(piece: Any, need: Any, cuts: Sequence[Cut], allowance: float) -> Cut | None:
    """The first cut at the end of a seam that a piece reaches past, so that its corner does not match; or None."""
    spare = piece - need.buffer(-FINE, join_style="mitre").buffer(2 * FINE, join_style="mitre")
    for cut in cuts:
        over = spare & beyond(replace(cut, reach=cut.reach + FINE), 2 * TIP * allowance)
        if not over.is_empty and away_from(over, cut.corner) <= 2 * TIP * allowance:
            return cut
    return None


def _strips(outline: Outline, allowance: float) -> list[list[Point]]:
    """The strip of allowance along each edge, and the corner of allowance past each outward corner."""
    edges = [edge for edge in outline.edges if edge.chord > SAME_POINT]
    parts = []
    for before, edge in zip([*edges[-1:], *edges[:-1]], edges, strict=True):
        for p, q in pairwise(edge.flattened()):
            out = times(left(unit(sub(q, p))), -allowance)
            parts.append([p, add(p, out), add(q, out), q])
        corner, arriving, leaving = edge.start, before.direction(1.0), edge.direction(0.0)
        if math.atan2(cross(arriving, leaving), dot(arriving, leaving)) > SAME_POINT:
            start, end = (add(corner, times(left(way), -allowance)) for way in (arriving, leaving))
            if distance(start, end) > SAME_POINT:
                parts.append([corner, start, *tip(corner, arriving, leaving, allowance, is_cut=True), end])
    return parts

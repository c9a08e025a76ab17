"""Whether a rough piece covers its patch after the flip, however it is laid within a maker's tolerance.

The frame: the seam runs on the x-axis from 0 to L, the patch lies in y > 0, all that was sewn before in y ≤ 0. A piece
is described where it lies *after* the flip (`placed`); as it is laid face down it is the mirror image in the x-axis.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Final

from seamproof.errors import GeometryError
from seamproof.geometry.offsets import offset
from seamproof.geometry.points import add, cross, distance, dot, left, sub, times, unit
from seamproof.given import above_zero
from seamproof.referee.corners import TIP, past_the_end, tip_cuts, without
from seamproof.referee.touching import NEAR
from seamproof.tolerance import CHORD, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from seamproof.cutting.pieces import Placement
    from seamproof.geometry import Outline, Point
    from seamproof.referee.corners import Cut

_DOWNWARD: Final = 0.5
"""[1] An edge of a piece whose outward unit normal points this far toward the earlier patches is its raw edge."""


def needed(outline: Outline, seam: tuple[Point, Point] | None, allowance: float) -> tuple[Point, ...]:
    """Corners [in], anticlockwise, of the convex shape that a piece must cover.

    It is the hull of the patch offset by the allowance, its part beyond the seam line, and of the strip one allowance
    wide on this side of it, which reaches as far as the offset patch does on the line: s/sin α past an end where the
    patch's next edge meets the seam at angle α, cut square to the seam there. Corners are mitred; a tip sharper than
    45° that is at no end of the seam is cut square to its bisector where the mitre of 45° would stand, 2.61 allowances
    out. A convex piece covers a shape exactly when it covers its hull.

    Args:
        outline: The finished patch; its arcs are flattened, so that up to tolerance.CHORD of them may stand out.
        seam: The seam with the patch on its left; None for a foundation's first patch (the whole offset is needed).
        allowance: The seam allowance s [in].

    Raises:
        LengthError: an allowance that is not a finite size above zero.
        GeometryError: a patch that does not lie on the left of its seam, or with an inward arc that cannot take the
            allowance.
    """
    whole = _whole(outline, seam, allowance)
    if seam is None:
        return whole
    beyond, strip = _parts(whole, seam, allowance)
    return tuple(_from_frame(seam, p) for p in _hull([*beyond, *strip]))


def _whole(outline: Outline, seam: tuple[Point, Point] | None, allowance: float) -> tuple[Point, ...]:
    """The hull of the whole patch with its allowance, sharp tips cut that are not at an end of the seam."""
    above_zero(allowance)
    ends = seam or ()
    if outline.is_straight:
        return _hull(_outer_corners(outline.polygon, allowance, ends))
    ring = offset(outline, allowance).polygon
    cuts = tip_cuts(outline, allowance, but=ends)
    return _hull(_without(ring, cuts) if cuts else ring)


def _without(ring: Sequence[Point], cuts: Sequence[Cut]) -> list[Point]:
    import shapely

    shape = shapely.Polygon(ring)
    for cut in cuts:
        shape = without(shape, cut)
    return [(float(x), float(y)) for x, y in shapely.get_coordinates(shape)]


def _parts(whole: Sequence[Point], seam: tuple[Point, Point], allowance: float) -> tuple[list[Point], list[Point]]:
    """The part beyond the line and the strip on this side of it, both in the seam's frame."""
    beyond = kept([_to_frame(seam, p) for p in whole], (0.0, 1.0), 0.0)
    on_line = [x for x, y in beyond if y <= SAME_POINT]
    if not on_line or max(y for _, y in beyond) <= allowance + SAME_POINT:
        raise GeometryError(f"the patch does not lie on the left of its seam {seam}: turn the seam round")
    ends = (min(on_line), max(on_line))
    return beyond, [(x, y) for x in ends for y in (0.0, -allowance)]


def least_slack(
    outline: Outline,
    seam: tuple[Point, Point] | None,
    placed: Sequence[Point],
    allowance: float,
    placement: Placement,
) -> float:
    """By how much [in] a convex piece still covers what it must in the worst placement; negative where it does not.

    The box of placements is the one that `Placement` defines. The raw edge is laid by eye, nowhere short of one
    allowance past the line: that it reaches so far is held to, but it does not count toward the slack.

    Proof that what is computed is the worst. Let n be the outward normal and h the support of an edge of the piece, and
    w a corner of the needed shape, both seen from the point of turning; W the width of the strip; the piece turned by
    θ, slid by u, laid v too far over, f lost in the fold. Seen from the piece, the corner lies at
    R(−θ)(w + (0, f)) + (−u, v + ½W sin|θ|), f counting beyond the line only, so the edge keeps it inside by

        h + u·n_x − v·n_y − (R(θ)n)·(w + (0, f)) − ½W·n_y·sin|θ|.

    This is linear in u, in v and in f, so it is least at extremes of these. For θ of one sign it is c − A·cos θ −
    B·sin θ with A + iB = |w|·e^{iφ} ± ½W·n_y·i and φ the angle from n to w: least at the θ of the range nearest to the
    angle of A + iB, which may lie inside the range, and that θ is the one taken. The piece is the intersection of its
    edges' half planes, being convex, and covers the needed convex shape exactly when it covers its corners.

    Args:
        outline: The finished patch.
        seam: The seam with the patch on its left; None for a foundation's first patch.
        placed: The piece's corners after the flip, anticlockwise, laid as it should be.
        allowance: The seam allowance [in].
        placement: The box of placements.

    Raises:
        GeometryError: a piece that is not convex or runs clockwise, or a patch on the right of its seam.
        LengthError: an allowance that is not a finite size above zero.
    """
    whole = _whole(outline, seam, allowance)
    stray = 0.0 if outline.is_straight else CHORD
    if seam is None:
        return _slack_of_first(whole, placed, placement) - stray
    parts = _parts(whole, seam, allowance)
    return _slack_of_flipped(parts, [_to_frame(seam, p) for p in placed], allowance, placement) - stray


def _slack_of_first(shape: Sequence[Point], placed: Sequence[Point], placement: Placement) -> float:
    """Turned about its middle, and slid along both of its sides at once."""
    import numpy as np

    normals, supports = _half_planes(placed)
    middle = np.mean(np.asarray(placed), axis=0)
    square = np.abs(normals @ normals.T).min(axis=1) <= SAME_POINT
    side = normals[int(np.argmax(square))]
    slides = placement.along * (np.abs(normals @ side) + np.abs(normals @ np.array([-side[1], side[0]])))
    tilt = math.radians(placement.tilt)
    margins = _margins(np.asarray(shape) - middle, normals, supports - normals @ middle, (-tilt, tilt), 0.0)
    return float((margins - slides).min())


def _slack_of_flipped(
    parts: tuple[list[Point], list[Point]], placed: Sequence[Point], allowance: float, placement: Placement
) -> float:
    import numpy as np

    normals, supports = _half_planes(placed)
    is_raw = normals[:, 1] <= -_DOWNWARD
    beyond, strip = map(np.asarray, parts)
    x0, x1 = strip[:, 0].min(), strip[:, 0].max()
    pivot = np.array([(x0 + x1) / 2, -allowance])
    seen = np.vstack((strip, beyond, beyond + np.array([0.0, placement.fold]))) - pivot
    from_pivot = supports - normals @ pivot - placement.along * np.abs(normals[:, 0])
    from_pivot -= placement.over * np.maximum(normals[:, 1], 0.0)
    tilt, lift = math.radians(placement.tilt), normals[:, 1] * (x1 - x0) / 2
    margins = np.minimum(
        _margins(seen, normals, from_pivot, (-tilt, 0.0), -lift),
        _margins(seen, normals, from_pivot, (0.0, tilt), lift),
    )
    raw = float((margins + placement.along * np.abs(normals[:, 0]))[:, is_raw].min(initial=math.inf))
    slack = float(margins[:, ~is_raw].min(initial=math.inf))
    return min(slack, raw) if raw < -SAME_POINT else slack


def _margins(seen: Any, normals: Any, supports: Any, turn: tuple[float, float], lift: Any) -> Any:
    """By how much each edge keeps each corner inside at the worst turn in the range, as an array (corners, edges)."""
    import numpy as np

    cos_part = seen @ normals.T
    sin_part = np.outer(seen[:, 1], normals[:, 0]) - np.outer(seen[:, 0], normals[:, 1]) + lift
    worst = np.clip(np.arctan2(sin_part, cos_part), *turn)
    return supports - cos_part * np.cos(worst) - sin_part * np.sin(worst)


def _half_planes(placed: Sequence[Point]) -> tuple[Any, Any]:
    """Outward unit normals (k, 2) and supports (k,) of a convex piece's edges."""
    import numpy as np

    edges = [(p, q) for p, q in zip(placed, [*placed[1:], *placed[:1]], strict=True) if distance(p, q) > SAME_POINT]
    if len(edges) < 3:
        raise GeometryError(f"a piece of {len(placed)} corners has no area: give three corners or more")
    normals = [times(left(unit(sub(q, p))), -1.0) for p, q in edges]
    supports = [dot(n, p) for n, (p, _) in zip(normals, edges, strict=True)]
    if any(dot(n, r) > h + SAME_POINT for n, h in zip(normals, supports, strict=True) for r in placed):
        raise GeometryError(f"the piece {tuple(placed)} is not convex and anticlockwise: give its corners so")
    return np.array(normals), np.array(supports)


def _outer_corners(ring: Sequence[Point], allowance: float, ends: Sequence[Point]) -> list[Point]:
    """The outer corners of a ring of points offset by the allowance, free sharp tips cut."""
    points: list[Point] = []
    for p, v, q in zip([*ring[-1:], *ring[:-1]], ring, [*ring[1:], *ring[:1]], strict=True):
        is_free = all(distance(v, end) > NEAR for end in ends)
        points += tip(v, unit(sub(v, p)), unit(sub(q, v)), allowance, is_cut=is_free)
    return points


def tip(corner: Point, arriving: Point, leaving: Point, allowance: float, *, is_cut: bool) -> list[Point]:
    """The outer points of an allowance at one corner, mitred; a tip sharper than 45° may be cut square to its bisector.

    Args:
        corner: The finished corner.
        arriving: The unit direction of the edge that ends there, run anticlockwise.
        leaving: The unit direction of the edge that starts there.
        allowance: The seam allowance [in].
        is_cut: Whether a tip sharper than 45° is cut, where that of 45° would stand.
    """
    before = add(corner, times(left(arriving), -allowance))
    after = add(corner, times(left(leaving), -allowance))
    turn = math.atan2(cross(arriving, leaving), dot(arriving, leaving))
    if turn <= 0:
        return [before, after]
    angle = max(SAME_POINT, math.pi - turn)
    if is_cut and allowance / math.sin(angle / 2) > TIP * allowance + SAME_POINT:
        reach = past_the_end(angle, allowance)
        return [add(before, times(arriving, reach)), add(after, times(leaving, -reach))]
    return [add(before, times(arriving, allowance / math.tan(angle / 2)))]


def _to_frame(seam: tuple[Point, Point], p: Point) -> Point:
    along = unit(sub(seam[1], seam[0]))
    return (dot(along, sub(p, seam[0])), cross(along, sub(p, seam[0])))


def _from_frame(seam: tuple[Point, Point], p: Point) -> Point:
    along = unit(sub(seam[1], seam[0]))
    return add(seam[0], add(times(along, p[0]), times(left(along), p[1])))


def kept(ring: Sequence[Point], normal: Point, level: float) -> list[Point]:
    """The part of a convex ring where normal·p ≥ level.

    Source: Sutherland and Hodgman, Communications of the ACM 17(1), 1974.
    """
    kept: list[Point] = []
    for p, q in zip(ring, [*ring[1:], *ring[:1]], strict=True):
        a, b = dot(normal, p) - level, dot(normal, q) - level
        if a >= 0:
            kept.append(p)
        if (a < 0 < b) or (b < 0 < a):
            kept.append(add(p, times(sub(q, p), a / (a - b))))
    return kept


def _hull(points: Iterable[Point]) -> tuple[Point, ...]:
    """The convex hull, anticlockwise.

    Source: Andrew, Information Processing Letters 9(5), 1979 (the monotone chain).
    """
    ordered = sorted(set(points))
    chains: list[list[Point]] = []
    for row in (ordered, ordered[::-1]):
        chain: list[Point] = []
        for p in row:
            while len(chain) > 1 and cross(sub(chain[-1], chain[-2]), sub(p, chain[-1])) <= 0:
                chain.pop()
            chain.append(p)
        chains.append(chain[:-1])
    return tuple(chains[0] + chains[1])

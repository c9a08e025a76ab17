"""Whether foundations said to be twins are: printed once, sewn twice."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from seamproof.geometry import Transform
from seamproof.geometry.points import cross, dot, sub
from seamproof.referee.reasons import Reason, refusal
from seamproof.referee.touching import NEAR
from seamproof.tolerance import CHORD, area_slack

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.block import Block
    from seamproof.geometry import Point
    from seamproof.sequence import Construction


def check_twins(block: Block, con: Construction) -> None:
    """A twin lies on an earlier foundation patch by patch, in sewing order, after a turn and a shift; roles agree.

    A mirror image is no twin: it needs a template of its own.

    Raises:
        SewingError: wrong-twin.
    """
    earlier: dict[str, tuple[str, ...]] = {}
    for foundation in con.foundations:
        label, model = foundation.label, foundation.twin_of
        if model is not None:
            said = f"foundation {label} is said to be the twin of {model}, "
            if model not in earlier:
                raise refusal(Reason.WRONG_TWIN, f"{said}which is no earlier foundation", patches=foundation.order)
            mine, theirs = ([_laid(block, con, part) for part in order] for order in (foundation.order, earlier[model]))
            if [roles for roles, _ in mine] != [roles for roles, _ in theirs]:
                raise refusal(Reason.WRONG_TWIN, f"{said}but their roles differ", patches=foundation.order)
            rings, others = ([ring for _, ring in row] for row in (mine, theirs))
            if not is_congruent(rings, others):
                raise refusal(Reason.WRONG_TWIN, f"{said}but is not congruent to it", patches=foundation.order)
        earlier[label] = foundation.order


def _laid(block: Block, con: Construction, part: str) -> tuple[tuple[str, ...], Sequence[Point]]:
    """The roles and the ring of corners of a patch, or of a whole unit laid as one."""
    if part not in con.laid:
        patch = block.patch(part)
        return (patch.role,), patch.outline.polygon
    return unit_ring(block, con.patches_of(part))


def unit_ring(block: Block, ids: Sequence[str]) -> tuple[tuple[str, ...], Sequence[Point]]:
    """The roles in a unit, and the ring of corners round it."""
    import shapely

    patches = [block.patch(patch) for patch in ids]
    shapes = shapely.buffer([shapely.Polygon(patch.outline.polygon) for patch in patches], NEAR, join_style="mitre")
    whole = shapely.union_all(shapes).buffer(-NEAR, join_style="mitre")
    ring = shapely.Polygon(max(getattr(whole, "geoms", [whole]), key=lambda part: part.area).exterior)
    corners = [(float(x), float(y)) for x, y in shapely.orient_polygons(ring).exterior.coords[:-1]]
    return tuple(sorted(patch.role for patch in patches)), corners


def is_congruent(rings: Sequence[Sequence[Point]], others: Sequence[Sequence[Point]]) -> bool:
    """Whether one turn and shift lays each ring of points on the other of the same place; never a mirror image."""
    import shapely

    if len(rings) != len(others):
        return False
    mine, theirs = (shapely.polygons([shapely.linearrings(ring) for ring in row]) for row in (rings, others))
    move = best_move(_centres(mine), _centres(theirs))
    moved = shapely.transform(mine, lambda xy: xy @ [[move.a, move.b], [move.c, move.d]] + [move.e, move.f])
    stray = shapely.area(shapely.symmetric_difference(moved, theirs))
    slack = [(CHORD + 4 * area_slack(1.0)) * length for length in shapely.length(theirs).tolist()]
    return bool((stray <= slack).all())


def _centres(shapes: Any) -> list[Point]:
    import shapely

    return [(point.x, point.y) for point in shapely.centroid(shapes)]


def best_move(points: Sequence[Point], others: Sequence[Point]) -> Transform:
    """The turn and shift that lays points on others as nearly as any does, in the sum of squares.

    Source: the plane case of Kabsch, Acta Crystallographica A32, 1976: centres of mass are laid on one another, and the
    turn's tangent is the sum of the vector products over the sum of the scalar products.
    """
    (x, y), (u, v) = _mean(points), _mean(others)
    pairs = [(sub(p, (x, y)), sub(q, (u, v))) for p, q in zip(points, others, strict=True)]
    turn = math.atan2(sum(cross(p, q) for p, q in pairs), sum(dot(p, q) for p, q in pairs))
    return Transform.turn(math.degrees(turn), (x, y)).then(Transform.shift(u - x, v - y))


def _mean(points: Sequence[Point]) -> Point:
    return (sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))

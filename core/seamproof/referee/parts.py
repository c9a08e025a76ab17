"""What must hold before a stitch is sewn: every patch used once, names told apart, no overlap."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from seamproof.referee.reasons import Reason, refusal
from seamproof.tolerance import CHORD, ROUND_OFF, area_slack

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.geometry import Point
    from seamproof.sequence import Construction


def check_parts(block: Block, con: Construction) -> None:
    """Every patch of the block stands once in the construction, and every unit has a name of its own.

    Raises:
        SewingError: unknown-patch, patch-twice, missing-patch or steps-disagree.
    """
    check_units(con)
    on_paper = [part for foundation in con.foundations for part in foundation.order if part not in con.laid]
    used = Counter([*con.loose, *on_paper])
    known = set(block.ids)
    for patch, times in used.items():
        if patch not in known:
            raise refusal(Reason.UNKNOWN_PATCH, f"the block has no patch {patch!r}", patches=[patch])
        if times > 1:
            raise refusal(
                Reason.PATCH_TWICE, f"patch {patch} stands {times} times in the construction", patches=[patch]
            )
    missing = [patch for patch in block.ids if patch not in used]
    if missing:
        why = f"{'patch' if len(missing) == 1 else 'patches'} {', '.join(missing)} of the block: sewn nowhere"
        raise refusal(Reason.MISSING_PATCH, why, patches=missing)
    for foundation in con.foundations:
        if len(foundation.order) < 2:
            why = f"foundation {foundation.label} holds a lone patch: that is joined by itself, without paper"
            raise refusal(Reason.STEPS_DISAGREE, why, patches=foundation.order)
    names = Counter([*con.loose, *(f.label for f in con.foundations), *(join.label for join in con.joins)])
    for name, times in names.items():
        if times > 1:
            raise refusal(Reason.STEPS_DISAGREE, f"{times} units are called {name!r}: each needs its own name")


def check_units(con: Construction) -> None:
    """Every unit laid on a foundation is laid or joined once, and none lies on itself by way of others.

    Raises:
        SewingError: patch-twice or out-of-order.
    """
    if not con.laid:
        return
    parts = {foundation.label: foundation.order for foundation in con.foundations}
    parts |= {join.label: (join.first, join.second) for join in con.joins}
    used = Counter(part for row in parts.values() for part in row if part in parts)
    for unit in con.laid:
        if used[unit] > 1:
            raise refusal(Reason.PATCH_TWICE, f"unit {unit} is laid on foundation {con.laid[unit]} and used once more")
    left = dict(parts)
    while ready := [label for label, row in left.items() if not any(part in left for part in row)]:
        for label in ready:
            del left[label]
    if left:
        why = f"{', '.join(left)} would each have to be finished before itself: they are laid on one another"
        raise refusal(Reason.OUT_OF_ORDER, why)


def check_overlap(block: Block) -> None:
    """No patch lies on another.

    Raises:
        SewingError: overlap.
    """
    import shapely

    shapes = shapely.polygons([shapely.linearrings(patch.outline.polygon) for patch in block.patches])
    perimeter = sum(patch.outline.perimeter for patch in block.patches)
    is_straight = all(patch.outline.is_straight for patch in block.patches)
    slack = area_slack(perimeter) + (0.0 if is_straight else CHORD * perimeter)
    for grid in (None, ROUND_OFF):  # without a grid GEOS 3.14 drops whole polygons where edges almost lie in line
        if shapely.area(shapes).sum() - shapely.unary_union(shapes, grid_size=grid).area <= slack:
            return
    pairs = shapely.STRtree(shapes).query(shapes, predicate="intersects").T.tolist()
    shared = {(i, j): shapely.intersection(shapes[i], shapes[j]).area for i, j in pairs if i < j}
    worst = max(shared, key=lambda pair: shared[pair])
    ids = [block.patches[index].id for index in worst]
    why = f"patches {ids[0]} and {ids[1]} lie on one another over {shared[worst]:.4f} in²"
    raise refusal(Reason.OVERLAP, why, patches=ids)


def inner_stops(con: Construction) -> list[Point]:
    """The points at which partial seams stop and go on [in]."""
    return [
        point
        for join in con.joins
        if len(join.passes) > 1
        for stretch in join.passes
        if stretch
        for point in (stretch[0].start, stretch[-1].end)
    ]

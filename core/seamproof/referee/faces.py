"""Reading a template as printed, and sewing it in the mind: which face does it show?"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from seamproof.geometry import Transform
from seamproof.geometry.points import add, bounds, distance, height_over, left, midpoint, sub, times, unit
from seamproof.referee.reasons import Reason, refusal
from seamproof.referee.twins import is_congruent, unit_ring

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from seamproof.block import Block
    from seamproof.geometry import Outline, Point
    from seamproof.sequence import Foundation


def read_face(
    finished: Outline, lines: Mapping[int, tuple[Point, Point]], places: Mapping[int, Point]
) -> dict[int, tuple[Point, ...]]:
    """The patches that a sewn-through template shows on its face, from its printed side alone.

    A maker has the outline, the sewing lines and the numbers, nothing else. The last line parts the last patch (the
    side where its number stands) from all the others, and so on down to the first: that is each patch's place. The
    cloth goes behind the paper. A piece is laid face down over the earlier patches, its mirror image in the line, and
    comes to its place by the flip, the mirror image once more. What was sewn is looked at from behind the paper, where
    left and right are exchanged once.

    Args:
        finished: The finished outline as printed [in].
        lines: For each number from 2, its sewing line as printed, at least from end to end of the seam.
        places: For each number from 1, a point of its patch, such as where the number is printed.

    Returns:
        For each number the corners of its patch as seen on the face [in], anticlockwise.

    Raises:
        SewingError: wrong-face: the lines and numbers do not part the outline into one patch for each number.
    """
    import shapely

    if sorted(lines) != sorted(set(places) - {1}) or 1 not in places:
        why = f"the numbers {sorted(places)} and the lines {sorted(lines)} do not belong together"
        raise refusal(Reason.WRONG_FACE, why)
    rest = shapely.Polygon(finished.polygon)
    behind = Transform.mirror()
    face: dict[int, tuple[Point, ...]] = {}
    for number in sorted(lines, reverse=True):
        start, end = lines[number]
        if height_over(places[number], start, end) < 0:
            start, end = end, start
        side = _half_plane(start, end, finished)
        place = _ring(rest & side, number)
        rest -= side
        flip = Transform.reflect(start, end)
        laid = [flip.point(corner) for corner in place]
        face[number] = tuple(behind.point(flip.point(corner)) for corner in reversed(laid))
    face[1] = tuple(map(behind.point, reversed(_ring(rest, 1))))
    return dict(sorted(face.items()))


def check_template(
    block: Block,
    foundation: Foundation,
    finished: Outline,
    lines: Mapping[int, tuple[Point, Point]],
    places: Mapping[int, Point],
    *,
    units: Mapping[str, Sequence[str]] | None = None,
) -> None:
    """Hold a sewn-through template, as printed, to the face of its foundation.

    Where it lies on the page and how it is turned is of no matter; its size and its handedness are.

    Args:
        block: The block.
        foundation: The foundation that the template is for (or is printed once for).
        finished: The finished outline as printed [in].
        lines: For each number from 2, its sewing line as printed.
        places: For each number from 1, a point of its patch.
        units: For each finished unit that is laid on it as if it were one patch: the ids of its patches.

    Raises:
        SewingError: unmirrored or wrong-face.
    """
    face = read_face(finished, lines, places)
    units = units or {}
    wanted = [
        unit_ring(block, units[part])[1] if part in units else block.patch(part).outline.polygon
        for part in foundation.order
    ]
    shown = list(face.values())
    if is_congruent(shown, wanted):
        return
    said = f"the template of foundation {foundation.label}, sewn as printed, shows "
    mirrored = [[(-x, y) for x, y in reversed(ring)] for ring in shown]
    if is_congruent(mirrored, wanted):
        why = f"{said}the mirror image of its patches: print it the other way round"
        raise refusal(Reason.UNMIRRORED, why, patches=foundation.order)
    raise refusal(Reason.WRONG_FACE, f"{said}other patches than the block's", patches=foundation.order)


def _half_plane(start: Point, end: Point, finished: Outline) -> Any:
    """The left of a line, as far as the outline could reach."""
    import shapely

    x0, y0, x1, y1 = bounds([*finished.polygon, start, end])
    size = 2 * math.hypot(x1 - x0, y1 - y0)
    along, middle = times(unit(sub(end, start)), size), midpoint(start, end)
    p, q, up = sub(middle, along), add(middle, along), left(along)
    return shapely.Polygon([p, q, add(q, up), add(p, up)])


def _ring(shape: Any, number: int) -> list[Point]:
    import shapely

    parts = [part for part in shapely.get_parts(shape) if part.area > 0]
    if len(parts) != 1 or parts[0].interiors:
        raise refusal(Reason.WRONG_FACE, f"the lines printed do not part off one patch for number {number}")
    ring = [(x, y) for x, y in shapely.orient_polygons(parts[0]).exterior.coords[:-1]]
    return [p for p, q in zip(ring, [*ring[1:], *ring[:1]], strict=True) if distance(p, q) > 0]

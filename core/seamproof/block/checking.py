"""The proof that patches tile their block, and the search for the culprit where they do not."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from seamproof.errors import BlockError, GeometryError
from seamproof.geometry.planar import PlanarMap
from seamproof.geometry.points import ring_area
from seamproof.tolerance import CHORD, ROUND_OFF, SAME_POINT, area_slack

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.block.block import Block, Patch
    from seamproof.geometry import Outline


def check_tiling(block: Block) -> PlanarMap:
    """Prove that the patches tile the block's outline, and give the planar map the proof was made on.

    Proof: let each patch be a simple ring, run with its inside on the left, and let the two sides of every shared
    edge cancel. What is left of all rings together is the boundary of the whole, so at every point off the edges the
    number of patches that hold it equals the number of times the boundary winds round it. Where the boundary is a set
    of simple rings, outer ones side by side and holes inside them, that number is 1 inside and 0 outside: no overlap
    and no gap, up to the SAME_POINT by which corners were united. An outline that was asked for is then compared
    with the boundary by area. It costs O(n log n), the cost of the map.

    Raises:
        BlockError: a patch that crosses itself or has no area; an overlap; a gap; patches off the outline.
    """
    _check_each(block)
    try:
        pm = PlanarMap.of([patch.outline for patch in block.patches])
    except GeometryError as error:
        raise _overlap(block) or BlockError(str(error)) from None
    if _winds_twice(block, pm):
        raise _overlap(block) or BlockError(f"block {block.title!r}: the patches do not fit one another")
    if block.outline is not None:
        _check_outline(block, block.outline)
    return pm


def _check_each(block: Block) -> None:
    import shapely

    polygons = _shapes(block.patches)
    for patch, valid, polygon in zip(block.patches, shapely.is_valid(polygons).tolist(), polygons, strict=True):
        if patch.outline.area <= area_slack(patch.outline.perimeter):
            raise BlockError(
                f"patch {patch.id} of block {block.title!r} has no area to speak of: {patch.outline.area:.6f} in²; "
                "leave it out or make it wider",
                patches=(patch.id,),
                place=patch.outline.points[0],
            )
        if not valid:
            why = shapely.is_valid_reason(polygon)
            raise BlockError(
                f"patch {patch.id} of block {block.title!r} crosses or touches itself ({why}): draw a simple ring",
                patches=(patch.id,),
                place=patch.outline.points[0],
            )


def _winds_twice(block: Block, pm: PlanarMap) -> bool:
    """Whether the boundary winds twice round any point; where it is no one simple straight ring, by area."""
    import shapely

    straight = all(patch.outline.is_straight for patch in block.patches)
    ring = pm.boundary_rings[0]
    if straight and len(pm.boundary_rings) == 1 and len(set(ring)) == len(ring):
        points = [pm.nodes[node] for node in ring]
        return ring_area(points) <= 0 or not shapely.is_valid(shapely.Polygon(points))
    shapes = _shapes(block.patches)
    perimeter = sum(patch.outline.perimeter for patch in block.patches)
    total: float = shapely.area(shapes).sum()
    slack = area_slack(perimeter) + CHORD * perimeter
    return all(total - shapely.area(union) > slack for union in _unions(shapes))


def _shapes(patches: Sequence[Patch]) -> Any:
    import shapely

    return shapely.polygons([shapely.linearrings(patch.outline.polygon) for patch in patches])


def _unions(shapes: Any) -> Iterator[Any]:
    """The union, made fast, and if that is not believed, once more on a fine grid.

    Only a fault that both show is one: the fast way drops whole polygons where edges almost lie in line (GEOS 3.14).
    """
    import shapely

    yield shapely.unary_union(shapes)
    yield shapely.unary_union(shapes, grid_size=ROUND_OFF)


def _overlap(block: Block) -> BlockError | None:
    """The pair of patches that overlap most, as an error; None where no two do."""
    import shapely

    shapes = _shapes(block.patches)
    worst, found = 0.0, None
    for i, j in shapely.STRtree(shapes).query(shapes, predicate="intersects").T.tolist():
        if i >= j:
            continue
        shared = shapely.intersection(shapes[i], shapes[j])
        if shared.area > max(worst, area_slack(shared.length)):
            place = shared.representative_point()
            worst, found = shared.area, (i, j, (place.x, place.y))
    if found is None:
        return None
    a, b, place = block.patches[found[0]].id, block.patches[found[1]].id, found[2]
    return BlockError(
        f"patches {a} and {b} of block {block.title!r} overlap by {worst:.4f} in² near {_written(place)}",
        patches=(a, b),
        place=place,
    )


def _check_outline(block: Block, outline: Outline) -> None:
    import shapely

    asked = shapely.Polygon(outline.polygon)
    slack = area_slack(asked.length) + CHORD * asked.length * (not outline.is_straight)
    for covered in _unions(_shapes(block.patches)):
        faults = [(asked - covered, "leave a gap of"), (covered - asked, "stand out of the outline by")]
        faults = [(fault, what) for fault, what in faults if fault.area > slack]
        if not faults:
            return
    for fault, what in faults:
        point = fault.representative_point()
        place = (point.x, point.y)
        near = [patch.id for patch, shape in zip(block.patches, _shapes(block.patches), strict=True)
                if shape.distance(fault) <= SAME_POINT]  # fmt: skip
        raise BlockError(
            f"the patches of block {block.title!r} {what} {fault.area:.4f} in² near {_written(place)} "
            f"(patches there: {', '.join(near) or 'none'})",
            patches=near,
            place=place,
        )


def _written(place: tuple[float, float]) -> str:
    return f"({place[0]:.3f}, {place[1]:.3f}) in"

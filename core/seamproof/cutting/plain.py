"""Plain pieces: what is cut for the patches that are joined by themselves."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.cutting.corners import cut_line, matched_corners
from seamproof.cutting.grain import is_bias, outline_edges
from seamproof.cutting.pieces import CutPiece
from seamproof.cutting.shapes import cut_shape
from seamproof.cutting.units import Units
from seamproof.errors import GeometryError
from seamproof.sequence.kinds import check_sewn
from seamproof.units import ALLOWANCE

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.sequence import Construction

TIGHT: Final = 1.0
"""[in] A curve of a smaller radius is tight: it takes clips and pins, and a warning. Common practice."""


def cut_pieces(block: Block, construction: Construction, allowance: float = ALLOWANCE) -> tuple[CutPiece, ...]:
    """The plain piece of each loose patch, in the order in which the construction names them.

    Sizes are exact; corners are matched at joins by `matched_corners`.

    Raises:
        GeometryError: a curve whose radius is not above the allowance, on the side where the allowance lies inward.
    """
    allowance = check_sewn(block, construction, allowance)
    if not construction.loose:
        return ()
    units = Units(block, construction)
    outside = outline_edges(block)
    corners = matched_corners(units, allowance)
    pieces = []
    for patch in construction.loose:
        finished = units.outline(patch)
        try:
            cut = cut_line(finished, corners.get(patch, ()), allowance)
        except GeometryError as error:
            raise GeometryError(f"patch {patch}: {error}") from None
        shape = cut_shape(finished, cut, outside[patch], allowance)
        pieces.append(
            CutPiece(
                patch=patch,
                outline=finished,
                cut=cut,
                shape=shape.name,
                sizes=shape.sizes,
                bias=is_bias(outside[patch], shape.grain),
            )
        )
    return tuple(pieces)


def tight_curves(block: Block) -> tuple[tuple[str, float], ...]:
    """Each patch with a curve tighter than TIGHT, in the order of the block, as (patch id, least radius [in])."""
    found = []
    for patch in block.patches:
        radius = min(edge.radius for edge in patch.outline.edges)
        if radius < TIGHT:
            found.append((patch.id, radius))
    return tuple(found)

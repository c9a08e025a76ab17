"""The pieces handed to the referee: each of its kind, for a patch of the block, and no patch with two."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.cutting.pieces import CutPiece, RoughPiece
from seamproof.errors import ArgumentError
from seamproof.geometry import Outline
from seamproof.given import NUMBER, POINT, POINTS, TEXT, Rule, check_fields, instance, optional, shown, tuple_of
from seamproof.referee.reasons import Reason, refusal

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

_ENDS: Final = tuple_of(POINT, "a tuple of two points [in]")
_ROUGH: Final[Mapping[str, Rule]] = {
    "patch": TEXT,
    "foundation": TEXT,
    "width": NUMBER,
    "height": NUMBER,
    "placed": POINTS,
    "seam": optional(Rule(_ENDS.words, lambda value: _ENDS.is_met(value) and len(value) == 2)),  # type: ignore[arg-type]
}
_CUT: Final[Mapping[str, Rule]] = {"patch": TEXT, "cut": instance(Outline, "an Outline")}
_HOW: Final = "give what rough_pieces and cut_pieces give, in a list or by patch id"


def by_patch(
    pieces: Mapping[str, RoughPiece | CutPiece] | Iterable[RoughPiece | CutPiece], known: Iterable[str]
) -> dict[str, RoughPiece | CutPiece]:
    """The pieces by the id of their patch.

    Args:
        pieces: Rough and plain pieces, by patch id or in any order.
        known: The ids of the block's patches.

    Raises:
        ArgumentError: something among them is no piece, or a field of a piece is of another kind.
        SewingError: wrong-piece: a piece for a patch that the block does not have, under another patch's id, or the
            second for one patch.
    """
    try:
        named = list(pieces.items()) if hasattr(pieces, "items") else [(None, piece) for piece in pieces]
    except TypeError:
        raise ArgumentError(f"pieces: {shown(pieces)} is no list: {_HOW}", name="pieces", value=pieces) from None
    ids, found = set(known), dict[str, RoughPiece | CutPiece]()
    for name, piece in named:
        if not isinstance(piece, (RoughPiece, CutPiece)):
            raise ArgumentError(f"pieces: {shown(piece)} is no piece: {_HOW}", name="pieces", value=piece)
        check_fields(piece, _ROUGH if isinstance(piece, RoughPiece) else _CUT, "piece")
        if piece.patch not in ids:
            why = f"there is a piece for patch {piece.patch!r}, which this block does not have"
            raise refusal(Reason.WRONG_PIECE, why, patches=[piece.patch])
        if piece.patch in found or name not in {None, piece.patch}:
            why = (
                f"patch {piece.patch} is given two pieces"
                if name in {None, piece.patch}
                else (f"the piece for patch {piece.patch} is given as that of {name!r}")
            )
            raise refusal(Reason.WRONG_PIECE, why, patches=[piece.patch])
        found[piece.patch] = piece
    return found

"""Trying the pieces: each rough piece laid, flipped and held to its patch; each plain piece held to its allowance."""

from __future__ import annotations

from typing import TYPE_CHECKING

from seamproof.cutting.pieces import CutPiece, RoughPiece
from seamproof.errors import GeometryError
from seamproof.geometry import Transform
from seamproof.geometry.points import cross, distance, sub, unit
from seamproof.referee.corners import seam_cuts
from seamproof.referee.covering import least_slack
from seamproof.referee.handed import by_patch
from seamproof.referee.plain import FINE, overlong, plain_need
from seamproof.referee.reasons import Reason, refusal
from seamproof.referee.touching import NEAR
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from seamproof.cutting.pieces import Placement
    from seamproof.geometry import Edge, Point
    from seamproof.referee.corners import Cut
    from seamproof.referee.foundations import Paper
    from seamproof.referee.table import Table


def try_pieces(
    table: Table,
    papers: Iterable[Paper],
    pieces: Mapping[str, RoughPiece | CutPiece] | Iterable[RoughPiece | CutPiece],
    placement: Placement,
) -> dict[str, float]:
    """Lay every piece. Gives for each patch id its slack [in]: 0 for a plain piece, which is cut to its line.

    Raises:
        SewingError: no-piece, wrong-piece, laid-on-own-area, wrong-flip or not-covered.
    """
    given = by_patch(pieces, table.index)
    slacks: dict[str, float] = {}
    for paper in papers:
        for place, patch in enumerate(paper.foundation.order):
            if patch in table.con.laid:
                continue
            piece = given.get(patch)
            if not isinstance(piece, RoughPiece):
                why = f"there is no rough piece for patch {patch} of foundation {paper.foundation.label}"
                raise refusal(Reason.NO_PIECE, why, patches=[patch])
            seam = paper.seams[place - 1] if place else None
            slacks[patch] = _try_rough(table, paper.foundation.label, piece, seam, placement)
    corners = seam_cuts(table) if table.con.loose else {}
    for patch in table.con.loose:
        plain = given.get(patch)
        if not isinstance(plain, CutPiece):
            raise refusal(Reason.NO_PIECE, f"there is no plain piece for the loose patch {patch}", patches=[patch])
        _try_plain(table, plain, corners.get(patch, ()))
        slacks[patch] = 0.0
    return slacks


def _try_rough(table: Table, label: str, piece: RoughPiece, seam: Edge | None, placement: Placement) -> float:
    outline = table.block.patch(piece.patch).outline
    if piece.foundation != label or (piece.seam is None) != (seam is None):
        raise _refuse(Reason.WRONG_PIECE, piece, f"is not made for its place on foundation {label}")
    line = None
    if seam is not None and piece.seam is not None:
        line = (seam.start, seam.end)
        if distance(line[0], piece.seam[0]) > NEAR or distance(line[1], piece.seam[1]) > NEAR:
            raise _refuse(Reason.WRONG_PIECE, piece, "names another seam line than the one it is sewn on")
        _try_flip(piece, line)
    try:
        slack = least_slack(outline, line, piece.placed, table.allowance, placement)
    except GeometryError as error:
        raise _refuse(Reason.WRONG_PIECE, piece, str(error)) from None
    if slack < -SAME_POINT:
        raise _refuse(
            Reason.NOT_COVERED,
            piece,
            f"({piece.width:.3f} × {piece.height:.3f} in) falls {-slack:.3f} in short of covering its patch "
            "in the worst placement: cut it larger, or lay it more exactly",
        )
    return slack


def _try_flip(piece: RoughPiece, line: tuple[Point, Point]) -> None:
    """Laid over the earlier patches, and flipped on the line, the piece lies where it is said to."""
    heights = [cross(unit(sub(line[1], line[0])), sub(corner, line[0])) for corner in piece.laid]
    if max(heights) > -min(heights):
        raise _refuse(
            Reason.LAID_ON_OWN_AREA,
            piece,
            "is laid on its own area: lay it face down over the earlier patches, only the allowance past the line",
        )
    flipped = list(map(Transform.reflect(*line).point, piece.laid))
    if any(min(distance(corner, other) for other in piece.placed) > NEAR for corner in flipped):
        raise _refuse(Reason.WRONG_FLIP, piece, "does not come to lie where it is said to, when it is flipped")


def _try_plain(table: Table, piece: CutPiece, cuts: Sequence[Cut]) -> None:
    import shapely

    need = plain_need(table.block.patch(piece.patch).outline, table.allowance, cuts)
    cloth = shapely.Polygon(piece.cut.polygon)
    if not cloth.covers(need.buffer(-FINE, join_style="mitre")):
        why = f"the plain piece for patch {piece.patch} does not reach over its patch and allowance everywhere"
        raise refusal(Reason.NOT_COVERED, why, patches=[piece.patch])
    uncut = overlong(cloth, need, cuts, table.allowance)
    if uncut:
        x, y = uncut.corner
        why = (
            f"the plain piece for patch {piece.patch} reaches past its matched corner at ({x:.3f}, {y:.3f}) in: "
            f"cut it square to the seam {uncut.reach:.3f} in past its end"
        )
        raise refusal(Reason.WRONG_PIECE, why, patches=[piece.patch])


def _refuse(reason: Reason, piece: RoughPiece, why: str) -> Exception:
    return refusal(reason, f"the rough piece for patch {piece.patch} {why}", patches=[piece.patch])

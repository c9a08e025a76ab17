"""Rough pieces: the smallest generous piece that covers a foundation patch however it is laid."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from seamproof.cutting.adding import added_seams
from seamproof.cutting.grain import is_bias, length_on_grain, outline_edges
from seamproof.cutting.need import Frame, Need, depth, first_need, seam_need, upper_part
from seamproof.cutting.pieces import Placement, RoughPiece, per_square
from seamproof.errors import GeometryError
from seamproof.geometry.points import distance
from seamproof.given import of_kind
from seamproof.sequence.kinds import check_sewn
from seamproof.tolerance import ROUND_OFF
from seamproof.units import ALLOWANCE, Measure, round_up

if TYPE_CHECKING:
    from seamproof.block import Block, Patch
    from seamproof.cutting.pieces import LineEdge, RoughShape
    from seamproof.geometry import Edge, Point
    from seamproof.sequence import Construction

GRAIN_WORTH: Final = 1.5
"""A halved or quartered square is cut for the sake of the grain where it takes no more than this many times the cloth
of the rectangle: an edge on the bias stretches, but not every end of a long strip is worth a square as long."""

LEAST_TRIM: Final = 1 / 8
"""[in] An allowance trimmed to less than this frays out of its seam. Common practice."""

FREE_OF_NEXT: Final = 1 / 16
"""[in] By this much an allowance stays clear of the next line, so that it is not sewn into it. Common practice."""

_ROOT2: Final = math.sqrt(2)


@dataclass(frozen=True)
class _Way:
    """How pieces are worked out: allowance [in], how far off they may lie, the step [in] sizes are rounded up to."""

    allowance: float
    placement: Placement
    step: float


@dataclass(frozen=True)
class _Candidate:
    """A piece that would do, in the frame of its seam, u = 0 at the middle of the strip, v = 0 the raw edge."""

    shape: RoughShape
    line_edge: LineEdge
    width: float
    height: float
    corners: tuple[Point, ...]
    ends: tuple[float, float] | None
    slack: float
    grain: Point

    @property
    def cloth(self) -> float:
        return self.width * self.height / per_square(self.shape)


def rough_pieces(
    block: Block,
    construction: Construction,
    allowance: float = ALLOWANCE,
    placement: Placement = Placement(),  # noqa: B008 - a frozen value
    measure: Measure = Measure.EIGHTHS,
) -> tuple[RoughPiece, ...]:
    """The rough piece of each foundation patch, in sewing order; a finished unit that is laid on one needs none.

    Each is the smallest of its kind, rounded up to `measure.rough_step`, that covers what `Placement` says it must in
    every placement. It is a rectangle, unless a halved or quartered square brings straight grain to the block's
    outline; where neither does, the piece says `bias`.

    Raises:
        BlockError: a foundation patch is added without a seam.
        GeometryError: a patch has an inward arc that cannot take the allowance.
    """
    allowance = check_sewn(block, construction, allowance)
    of_kind(placement, Placement, "placement", "give a Placement")
    of_kind(measure, Measure, "measure", "give a Measure, such as Measure.EIGHTHS")
    seams = added_seams(block, construction)
    outside = outline_edges(block)
    way = _Way(allowance, placement, measure.rough_step)
    pieces = []
    for foundation in construction.foundations:
        for patch_id in foundation.order:
            if patch_id in construction.laid:
                continue
            patch = block.patch(patch_id)
            try:
                pieces.append(_piece(patch, foundation.label, seams.get(patch_id), outside[patch_id], way))
            except GeometryError as error:
                raise GeometryError(f"patch {patch_id}: {error}") from None
    return tuple(pieces)


def trim_width(allowance: float, width: float) -> float:
    """To what [in] a seam is trimmed where the new patch reaches `width` [in] from it.

    >>> trim_width(0.25, 2.0), trim_width(0.25, 0.25), trim_width(0.25, 0.125)
    (0.25, 0.1875, 0.125)
    """
    return max(min(LEAST_TRIM, allowance), min(allowance, width - FREE_OF_NEXT))


def _piece(
    patch: Patch, label: str, line: tuple[Point, Point] | None, outside: tuple[Edge, ...], way: _Way
) -> RoughPiece:
    if line is None:
        return _first(patch, label, outside, way)
    frame = Frame.of(*line)
    upper = upper_part(patch.outline, line, way.allowance)
    need, middle = seam_need(upper, way.allowance, way.placement, curved=not patch.outline.is_straight)
    centre = distance(*line) / 2 - middle
    best = _best(need, centre, way.step, [frame.edge(edge) for edge in outside])
    ticks = None
    if best.ends:
        start, end = (frame.out((u + middle, 0.0)) for u in best.ends)
        ticks = (start, end)
    return RoughPiece(
        patch=patch.id,
        foundation=label,
        shape=best.shape,
        width=best.width,
        height=best.height,
        line_edge=best.line_edge,
        placed=tuple(frame.out((u + middle, v - way.allowance)) for u, v in best.corners),
        seam=line,
        ticks=ticks,
        slack=best.slack,
        trim=trim_width(way.allowance, depth(patch.outline, line)),
        bias=is_bias((frame.edge(edge) for edge in outside), best.grain),
    )


def _best(need: Need, centre: float, step: float, outside: list[Edge]) -> _Candidate:
    """The rectangle, or the triangle that brings more of the outline onto the straight grain at a fair cost."""
    rectangle = _rectangle(need, centre, step)
    if not is_bias(outside, rectangle.grain):
        return rectangle
    triangles = [_half_square(need, centre, step), *(_quarter_square(need, centre, step, at) for at in (-1, 1))]
    fair = [piece for piece in triangles if piece.cloth <= GRAIN_WORTH * rectangle.cloth]
    return min(
        [rectangle, *fair],
        key=lambda piece: (-round(length_on_grain(outside, piece.grain), 6), round(piece.cloth, 6)),
    )


def _span(left: float, right: float, centre: float, size: float) -> tuple[float, bool]:
    """Where the middle of a piece of this size goes that must reach from −left to right; whether it is the seam's.

    Where the piece cannot be centred on the seam, what rounding has added is shared between its ends.
    """
    if 2 * max(right - centre, left + centre) <= size + ROUND_OFF:
        return centre, True
    return (right - left) / 2, False


def _length(left: float, right: float, centre: float, step: float, factor: float = 1.0) -> float:
    """The least length, times `factor` and rounded up, from −left to right; centred where that costs a step or less."""
    loose = round_up((left + right) * factor, step)
    centred = round_up(2 * max(right - centre, left + centre) * factor, step)
    return centred if centred <= loose + step + ROUND_OFF else loose


def _rectangle(need: Need, centre: float, step: float) -> _Candidate:
    left, right, up = need.reach((-1, 0)), need.reach((1, 0)), need.reach((0, 1))
    width, height = _length(left, right, centre, step), round_up(up, step)
    middle, is_centred = _span(left, right, centre, width)
    a, b = middle - width / 2, middle + width / 2
    line_edge: LineEdge = (
        "any edge" if abs(width - height) < ROUND_OFF else "long edge" if width > height else "short edge"
    )
    return _Candidate(
        "rectangle",
        line_edge,
        width,
        height,
        ((a, 0.0), (b, 0.0), (b, height), (a, height)),
        None if is_centred else (a, b),
        max(0.0, min(b - right, -left - a, height - up)),
        (1.0, 0.0),
    )


def _half_square(need: Need, centre: float, step: float) -> _Candidate:
    """A square cut once, its long edge on the line: straight grain at 45° to the seam."""
    left, right = need.reach((-1, 1)), need.reach((1, 1))
    side = _length(left, right, centre, step, 1 / _ROOT2)
    length = side * _ROOT2
    middle, is_centred = _span(left, right, centre, length)
    a, b = middle - length / 2, middle + length / 2
    return _Candidate(
        "half-square",
        "cut edge",
        side,
        side,
        ((a, 0.0), (b, 0.0), (middle, length / 2)),
        None if is_centred else (a, b),
        max(0.0, min(b - right, -left - a) / _ROOT2),
        (1 / _ROOT2, 1 / _ROOT2),
    )


def _quarter_square(need: Need, centre: float, step: float, at: int) -> _Candidate:
    """A square cut twice, a short edge on the line, its right angle at the left end (at = −1) or the right (1)."""
    left, right = need.reach((-1, 0 if at < 0 else 1)), need.reach((1, 1 if at < 0 else 0))
    side = _length(left, right, centre, step, _ROOT2)
    length = side / _ROOT2
    middle, is_centred = _span(left, right, centre, length)
    a, b = middle - length / 2, middle + length / 2
    ease_left, ease_right = -left - a, b - right
    ease = min(ease_left, ease_right / _ROOT2) if at < 0 else min(ease_left / _ROOT2, ease_right)
    return _Candidate(
        "quarter-square",
        "short edge",
        side,
        side,
        ((a, 0.0), (b, 0.0), (a if at < 0 else b, length)),
        None if is_centred else (a, b),
        max(0.0, ease),
        (1 / _ROOT2, 1 / _ROOT2),
    )


def _first(patch: Patch, label: str, outside: tuple[Edge, ...], way: _Way) -> RoughPiece:
    """The first patch's rectangle, laid along one of the patch's edges.

    It is the edge that puts most of the outline on the straight grain, and of those the one that takes least cloth.
    """
    tried = []
    for index, edge in enumerate(edge for edge in patch.outline.edges if edge.chord > 0):
        frame = Frame.of(edge.start, edge.end)
        need, middle = first_need(patch.outline, frame, way.allowance, way.placement)
        exact = [2 * max(need.reach(n), need.reach((-n[0], -n[1]))) for n in ((1.0, 0.0), (0.0, 1.0))]
        width, height = (round_up(size, way.step) for size in exact)
        key = (-round(length_on_grain(outside, frame.along), 6), round(width * height, 6), index)
        tried.append((key, frame, middle, (width, height), min(width - exact[0], height - exact[1]) / 2))
    _, frame, (x, y), (width, height), slack = min(tried, key=lambda row: row[0])
    corners = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    return RoughPiece(
        patch=patch.id,
        foundation=label,
        shape="rectangle",
        width=width,
        height=height,
        line_edge="any edge",
        placed=tuple(frame.out((x + i * width / 2, y + j * height / 2)) for i, j in corners),
        seam=None,
        ticks=None,
        slack=max(0.0, slack),
        trim=0.0,
        bias=is_bias(outside, frame.along),
    )

"""From pieces to strips and yardage: right, not clever."""

from __future__ import annotations

import math
from collections import defaultdict
from typing import TYPE_CHECKING, Final, TypeAlias

from seamproof.cloth.needs import ClothPlan, FabricNeed, PieceGroup, Strip
from seamproof.cutting.pieces import per_square
from seamproof.errors import BlockError, LengthError
from seamproof.tolerance import CUT_ROUND_OFF
from seamproof.units import MM_PER_INCH, USABLE, Measure, round_up, text, text_pair

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from seamproof.cutting import CutPiece, RoughPiece
    from seamproof.cutting.ways import Way, WayCut

_Size: TypeAlias = tuple[str, float, float]

YARDAGE_STEP: Final = 36 / 8
"""[in] Cloth is bought by the eighth of a yard. Common practice."""

METRIC_STEP: Final = 100 / MM_PER_INCH
"""[in] Metric cloth is bought by ten centimetres. Common practice."""


def plan_cloth(  # noqa: PLR0917 - each is a different type, so none can be swapped unseen
    rough: Sequence[RoughPiece],
    cut: Sequence[CutPiece],
    fabric_of: Mapping[str, str],
    copies: int = 1,
    usable: float = USABLE,
    measure: Measure = Measure.EIGHTHS,
    ways: Sequence[Way] = (),
) -> ClothPlan:
    """The strips to cut and the length to buy of each fabric, for a number of blocks.

    Pieces of one fabric, shape and size are cut together, each size from strips of its own across the usable width. A
    strip is as wide as the piece's shorter or longer side, whichever takes less cloth; a piece longer than the
    cloth is wide is cut along its length.

    Args:
        rough: The rough pieces of one block.
        cut: The plain pieces of one block; their exact sizes are rounded up to `measure.step`.
        fabric_of: The fabric of each patch, in the order of the legend.
        copies: For how many blocks.
        usable: The width of cloth that can be used [in].
        measure: In which steps sizes are cut and cloth is bought.
        ways: How units are made from larger squares and strips; what is cut for them takes the place of the plain
            pieces of their patches.

    Raises:
        BlockError: a piece's patch has no fabric.
        LengthError: a piece larger both ways than the cloth is wide, a width that is none, fewer than one copy.
    """
    if copies < 1:
        raise LengthError(f"{copies} copies: make one or more", value=copies)
    if not 0 < usable < math.inf:
        raise LengthError(f"a usable width of {usable} in: it must be above zero and finite", value=usable)
    sizes: defaultdict[str, defaultdict[_Size, list[str]]] = defaultdict(lambda: defaultdict(list))
    cuts = [cut_ for way in ways for cut_ in way.cuts]
    within = {patch for cut_ in cuts for patch in cut_.patches}
    plain = [piece for piece in cut if piece.patch not in within]
    for patch, size in [*map(_rough_size, rough), *(_cut_size(piece, measure.step) for piece in plain)]:
        if patch not in fabric_of:
            raise BlockError(f"patch {patch} has no fabric: give it one", patches=(patch,))
        sizes[fabric_of[patch]][size].append(patch)
    made = _for_ways(cuts, copies)
    order = [fabric for fabric in dict.fromkeys(fabric_of.values()) if fabric in sizes or fabric in made]
    needs = tuple(_need(fabric, (*_groups(sizes[fabric], copies), *made[fabric]), usable, measure) for fabric in order)
    return ClothPlan(usable, copies, needs)


def pieces_from(length: float, width: float, piece_length: float, piece_width: float) -> int:
    """How many pieces a rectangle of cloth gives in straight rows, all sizes in inches.

    >>> pieces_from(22, 18, 2.5, 2.5)
    56
    """
    return _fit(length, piece_length) * _fit(width, piece_width)


def _fit(length: float, piece: float) -> int:
    return math.floor((length + CUT_ROUND_OFF) / piece)


def _rough_size(piece: RoughPiece) -> tuple[str, _Size]:
    return piece.patch, (piece.shape, max(piece.width, piece.height), min(piece.width, piece.height))


def _cut_size(piece: CutPiece, step: float) -> tuple[str, _Size]:
    sizes = [round_up(size, step) for size in piece.sizes]
    return piece.patch, (piece.shape, max(sizes), min(sizes))


def _for_ways(cuts: Sequence[WayCut], copies: int) -> defaultdict[str, list[PieceGroup]]:
    """What is cut for ways of making units, by fabric; squares or strips of one kind and size are cut together."""
    alike: defaultdict[tuple[str, str, float, float], list[WayCut]] = defaultdict(list)
    for cut in cuts:
        alike[cut.fabric, cut.kind, cut.width, cut.height].append(cut)
    made: defaultdict[str, list[PieceGroup]] = defaultdict(list)
    for (fabric, kind, width, height), rows in alike.items():
        patches = tuple(patch for row in rows for patch in row.patches)
        count, pieces = sum(row.cut for row in rows), sum(row.cut * row.gives for row in rows)
        made[fabric].append(PieceGroup(patches, kind, width, height, count, pieces, len(patches) * copies))
    return made


def _groups(sizes: Mapping[_Size, Sequence[str]], copies: int) -> list[PieceGroup]:
    return [_group(size, patches, copies) for size, patches in sizes.items()]


def _need(fabric: str, rows: Sequence[PieceGroup], usable: float, measure: Measure) -> FabricNeed:
    groups = tuple(sorted(rows, key=lambda row: _largest_first((row.shape, row.width, row.height))))
    strips = sorted(
        (_strips(number, group, fabric, usable, measure) for number, group in enumerate(groups)),
        key=lambda strip: (-strip.width, strip.group),
    )
    length = sum(strip.count * strip.width for strip in strips)
    step = METRIC_STEP if measure is Measure.MILLIMETRES else YARDAGE_STEP
    return FabricNeed(fabric, groups, tuple(strips), length, round_up(length, step))


def _largest_first(size: _Size) -> tuple[float, float, str]:
    shape, width, height = size
    return (-width * height, -width, shape)


def _group(size: _Size, patches: Sequence[str], copies: int) -> PieceGroup:
    shape, width, height = size
    needed = len(patches) * copies
    each = per_square(shape)
    cut = math.ceil(needed / each)
    return PieceGroup(tuple(patches), shape, width, height, cut, cut * each, needed)


def _strips(number: int, group: PieceGroup, fabric: str, usable: float, measure: Measure) -> Strip:
    """The strips for one group, the way that takes less cloth; of two alike, the one with fewer."""
    ways = []
    for across, along in ((group.width, group.height), (group.height, group.width)):
        each = _fit(usable, along)
        if each:
            count = math.ceil(group.cut / each)
            ways.append((round_up(count * across, CUT_ROUND_OFF), count, across, each))
    if not ways:
        raise LengthError(
            f"a piece of {text_pair(group.width, group.height, measure)} of {fabric!r} (patch {group.patches[0]}) is "
            f"larger both ways than the usable width of {text(usable, measure)}: take wider cloth or a smaller block",
            value=group.height,
        )
    _, count, width, each = min(ways)
    return Strip(count, width, usable, number, each)

"""From units that a way can make to what is cut for them, each size derived and each piece that comes out proven."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from seamproof.cutting.flipped import corner_legs, flips_cover
from seamproof.cutting.ways import PIECES, Way, WayCut, comes_out, half_side, is_enough, quarter_side
from seamproof.tolerance import CUT_ROUND_OFF
from seamproof.units import ALLOWANCE, USABLE, Measure, round_up

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from seamproof.cutting.pieces import CutPiece
    from seamproof.cutting.recognising import Found
    from seamproof.cutting.ways import CutKind

MOST_OVER: Final = 1 / 3
"""[1] The most units that may be left over, as a part of those that are needed."""
FEWEST_SEGMENTS: Final = 4
"""From so many segments on it saves work to sew strips first and to cut them across afterwards."""
LARGEST: Final = 12.5
"""[in] The side of the largest square that the usual square rule squares. Common practice, no source."""
MORE: Final = 36 / 8
"""[in] How much longer strips may be for eight at a time than for two: a step in which cloth is bought."""
SQUARING: Final = 1 / 2
"""[in] What squaring the end of a strip set takes. Common practice, no source."""


@dataclass(frozen=True)
class Workshop:
    """How pieces are cut.

    Attributes:
        pieces: The plain piece of every patch.
        copies: How many blocks are made.
        allowance: The seam allowance [in].
        measure: In which steps sizes are cut.
        usable: The width of cloth that can be used [in].
    """

    pieces: Mapping[str, CutPiece]
    copies: int = 1
    allowance: float = ALLOWANCE
    measure: Measure = Measure.EIGHTHS
    usable: float = USABLE


def way_of(rows: Sequence[Found], shop: Workshop) -> Way | None:
    """The way that makes these units, which share a key; None where it saves nothing or is not exact.

    Squares are rounded up to the step of the measure and the units trimmed. Strips cannot be trimmed once they are
    sewn: they serve where their exact sizes fall on the marks of the rule. Every piece that comes out is laid on the
    plain piece of its patch, which it must cover.
    """
    if rows[0].kind == "corners":
        return _corners(rows, shop)
    way = _strip_set(rows, shop) if rows[0].kind == "strip set" else _squares(rows, shop)
    if way is None or way.over > way.needed * MOST_OVER + CUT_ROUND_OFF:
        return None
    out = {cut: comes_out(cut.kind, cut.width, cut.height, way.length) for cut in way.cuts}
    is_proven = all(
        is_enough(out[cut], shop.pieces[patch], shop.allowance) for cut in way.cuts for patch in cut.patches
    )
    return way if is_proven else None


def _squares(rows: Sequence[Found], shop: Workshop) -> Way:
    model, s = rows[0], shop.allowance
    needed = len(rows) * shop.copies
    if model.kind == "half-square" and (eight := _eight_halves(rows, shop)):
        return eight
    makes, squares = _squares_of(model, s)
    times = math.ceil(needed / makes)
    if model.kind == "half and quarters":
        most = max(sum(row.hand == hand for row in rows) for hand in (1, -1))
        times = math.ceil(2 * most * shop.copies / makes)
    cuts = []
    for number, (kind, exact, count) in enumerate(squares):
        patches = tuple(patch for row in rows for patch in row.parts[number])
        side = round_up(exact, shop.measure.step)
        cuts.append(WayCut(kind, model.fabrics[number], side, side, count * times, PIECES[kind], patches))
    spare = min(cut.width - exact for cut, (_, exact, _) in zip(cuts, squares, strict=True))
    size = (model.size[0] + 2 * s, model.size[1] + 2 * s)
    return Way(model.kind, tuple(row.label for row in rows), times, makes, needed, tuple(cuts), 0.0, size, spare)


def _eight_halves(rows: Sequence[Found], shop: Workshop) -> Way | None:
    """Eight halves at a time: half as many lines to draw, a quarter of the squares to cut, and no smaller pieces.

    None where more would be left over than by twos, where the square is too large for its rule, or where its strips
    take more than MORE beyond those for twos. Either square is cut twice as large as for two at a time, so that it is
    parted in four of those along marks of the rule.
    """
    model, needed = rows[0], len(rows) * shop.copies
    times, pairs = math.ceil(needed / 8), math.ceil(needed / 2)
    exact = half_side(max(model.size), shop.allowance)
    quarter = round_up(exact, shop.measure.step)
    side = 2 * quarter
    if 8 * times > 2 * pairs or side > min(LARGEST, shop.usable):
        return None
    if _strips_of(times, side, shop) > _strips_of(pairs, quarter, shop) + MORE:
        return None
    kind: CutKind = "square for eight halves"
    cuts = tuple(
        WayCut(
            kind, fabric, side, side, times, PIECES[kind], tuple(patch for row in rows for patch in row.parts[number])
        )
        for number, fabric in enumerate(model.fabrics)
    )
    size = (model.size[0] + 2 * shop.allowance, model.size[1] + 2 * shop.allowance)
    labels = tuple(row.label for row in rows)
    return Way("eight half-squares", labels, times, 8, needed, cuts, 0.0, size, quarter - exact)


def _strips_of(count: int, side: float, shop: Workshop) -> float:
    """How much of the length of the cloth so many squares take [in]."""
    return math.ceil(count / math.floor((shop.usable + CUT_ROUND_OFF) / side)) * side


def _corners(rows: Sequence[Found], shop: Workshop) -> Way | None:
    """Squares sewn on the corners of a rectangle.

    They cannot be trimmed true once they are sewn, so their exact sizes must fall on the marks of the rule. None where
    what is left of the rectangle is cut by the rule as it is; a goose is not, but wastes less cloth by fours.
    """
    model, s, step = rows[0], shop.allowance, shop.measure.step
    needed = len(rows) * shop.copies
    sides = [size + 2 * s for size in model.size]
    squares = [leg + 2 * s for leg in model.widths[1:]]
    if any(not _is_on_rule(size, step) for size in (*sides, *squares)):
        return None
    base = shop.pieces[model.parts[0][0]]
    if base.shape in {"square", "rectangle"} and all(_is_on_rule(size, step) for size in base.sizes):
        return None
    long, short = (round(side / step) * step for side in sides)
    cuts = [
        WayCut("rectangle for corners", model.fabrics[0], long, short, needed, 1, tuple(r.parts[0][0] for r in rows))
    ]
    for number, square in enumerate(squares, 1):
        side = round(square / step) * step
        patches = tuple(patch for row in rows for patch in row.parts[number])
        fabric, count = model.fabrics[number], len(patches) * shop.copies
        cuts.append(WayCut("square for a corner", fabric, side, side, count, 1, patches))
    if not all(_are_covered(row, cuts, shop) for row in rows):
        return None
    size = (model.size[0] + 2 * s, model.size[1] + 2 * s)
    return Way("corners", tuple(row.label for row in rows), needed, 1, needed, tuple(cuts), 0.0, size, 0.0)


def _are_covered(row: Found, cuts: Sequence[WayCut], shop: Workshop) -> bool:
    """Whether what is cut covers every patch of a unit with corners, in its place."""
    outline = row.outline
    side = {patch: cut.width for cut in cuts[1:] for patch in cut.patches}
    legs = outline and corner_legs(outline, {patch: shop.pieces[patch].outline for part in row.parts for patch in part})
    if outline is None or not legs:
        return False
    base, corners = legs
    pieces = {at: (shop.pieces[patch], side[patch]) for at, (patch, _) in corners.items()}
    return flips_cover(outline, shop.pieces[base], pieces, (cuts[0].width, cuts[0].height), shop.allowance)


def _squares_of(model: Found, s: float) -> tuple[int, list[tuple[CutKind, float, int]]]:
    """How many units come at a time, and of what: for each part what its square is for, its exact side, how many."""
    long = max(model.size)
    if model.kind == "half-square":
        return 2, [("square for halves", half_side(long, s), 1)] * 2
    if model.kind == "geese":
        return 4, [("square for geese", quarter_side(long, s), 1), ("square for wings", half_side(long / 2, s), 4)]
    if model.kind == "half and quarters":
        quarters: list[tuple[CutKind, float, int]] = [("square for quarters", quarter_side(long, s), 1)] * 2
        return 4, [("square for halves", half_side(long, s), 2), *quarters]
    counts = (1, 1) if len(model.parts) == 2 else (2, 1, 1)
    return 2 * counts[0], [("square for quarters", quarter_side(long, s), count) for count in counts]


def _strip_set(rows: Sequence[Found], shop: Workshop) -> Way | None:
    model, needed = rows[0], len(rows) * shop.copies
    s, step = shop.allowance, shop.measure.step
    widths = [width + 2 * s for width in model.widths]
    length = model.size[1] + 2 * s
    if needed < FEWEST_SEGMENTS or any(not _is_on_rule(size, step) for size in (*widths, length)):
        return None
    most = math.floor((shop.usable - SQUARING + CUT_ROUND_OFF) / length)
    if most < 2:
        return None
    times = math.ceil(needed / most)
    makes = math.ceil(needed / times)
    long = min(shop.usable, round_up(makes * length + SQUARING, step))
    widths = [round(width / step) * step for width in widths]
    cuts = tuple(
        WayCut("strip", model.fabrics[number], long, width, times, makes, tuple(row.parts[number][0] for row in rows))
        for number, width in enumerate(widths)
    )
    size = (model.size[0] + 2 * s, length)
    return Way("strip set", tuple(row.label for row in rows), times, makes, needed, cuts, length, size, 0.0)


def _is_on_rule(size: float, step: float) -> bool:
    """Whether a size falls on a mark of the rule, as nearly as sizes are told apart."""
    return abs(size - round(size / step) * step) <= 1 / 1000

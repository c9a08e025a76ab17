"""From units that a way can make to what is cut for them, each size derived and each piece that comes out proven."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

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
    makes, squares = _squares_of(model, s)
    times = math.ceil(needed / makes)
    cuts = []
    for number, (kind, exact, count) in enumerate(squares):
        patches = tuple(patch for row in rows for patch in row.parts[number])
        side = round_up(exact, shop.measure.step)
        cuts.append(WayCut(kind, model.fabrics[number], side, side, count * times, PIECES[kind], patches))
    spare = min(cut.width - exact for cut, (_, exact, _) in zip(cuts, squares, strict=True))
    size = (model.size[0] + 2 * s, model.size[1] + 2 * s)
    return Way(model.kind, tuple(row.label for row in rows), times, makes, needed, tuple(cuts), 0.0, size, spare)


def _squares_of(model: Found, s: float) -> tuple[int, list[tuple[CutKind, float, int]]]:
    """How many units come at a time, and of what: for each part what its square is for, its exact side, how many."""
    long = max(model.size)
    if model.kind == "half-square":
        return 2, [("square for halves", half_side(long, s), 1)] * 2
    if model.kind == "geese":
        return 4, [("square for geese", quarter_side(long, s), 1), ("square for wings", half_side(long / 2, s), 4)]
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

"""The cut list, as rows and as CSV."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING, Final

from seamproof.cutting.pieces import HALVED, QUARTERED
from seamproof.units import MM_PER_INCH, Measure, inches

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.cloth import PieceGroup
    from seamproof.pattern.pattern import Pattern

HEADS: Final = (
    "letter", "fabric", "colour", "shape", "cut", "width", "height", "unit", "pieces", "needed", "patches", "note",
)  # fmt: skip
_NOTES: Final = {
    **dict.fromkeys(HALVED, "cut each square once, corner to corner"),
    **dict.fromkeys(QUARTERED, "cut each square twice, corner to corner"),
    "square for halves": "leave whole: cut after sewing",
    "square for eight halves": "leave whole: cut after sewing",
    "square for quarters": "leave whole: cut after sewing",
    "square for geese": "leave whole: cut after sewing",
    "square for wings": "leave whole: cut after sewing",
    "rectangle for corners": "squares are sewn on its corners",
    "square for a corner": "sew corner to corner on a rectangle, trim, turn over",
    "strip": "leave whole: cut across after sewing",
    "template": "cut by its template",
}
_FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")


def cut_list(pattern: Pattern) -> list[tuple[str, ...]]:
    """One row for each size to cut, for all copies of the block, in the order of the legend."""
    legend = {line.key: line for line in pattern.legend}
    return [
        (line.letter, line.name, line.colour, *_row(pattern, group))
        for need in pattern.cloth.needs
        for line in (legend[need.fabric],)
        for group in need.groups
    ]


def _row(pattern: Pattern, group: PieceGroup) -> tuple[str, ...]:
    measure = pattern.recipe.make.measure
    patches = ", ".join(pattern.names[patch] for patch in group.patches)
    sizes = _size(group.width, measure), _size(group.height, measure)
    unit = "mm" if measure is Measure.MILLIMETRES else "in"
    counts = str(group.pieces), str(group.needed)
    return (group.shape, str(group.cut), *sizes, unit, *counts, patches, _NOTES.get(group.shape, ""))


def _size(length: float, measure: Measure) -> str:
    if measure is Measure.MILLIMETRES:
        return f"{length * MM_PER_INCH:.0f}"
    return inches(length, measure.step)


def guarded(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula.

    >>> guarded("=1+1"), guarded("linen")
    ("'=1+1", 'linen')
    """
    return f"'{cell}" if cell.startswith(_FORMULA) else cell


def cut_list_csv(pattern: Pattern) -> str:
    """The cut list as CSV, with a head."""
    return "".join(text for text, _ in cut_list_parts(pattern))


def cut_list_parts(pattern: Pattern) -> Iterator[tuple[str, str]]:
    """The CSV in parts: (text, "") as it stands, and (colour, letter) for the colour of a fabric."""
    at = HEADS.index("colour")
    yield _csv(HEADS) + "\n", ""
    for row in cut_list(pattern):
        yield _csv(row[:at]) + ",", ""
        yield row[at], row[0]
        yield "," + _csv(row[at + 1 :]) + "\n", ""


def _csv(cells: Sequence[str]) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="").writerow(map(guarded, cells))
    return out.getvalue()

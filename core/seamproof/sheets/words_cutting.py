"""The words of cutting."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.cutting.pieces import HALVED, QUARTERED
from seamproof.cutting.ways import PIECES
from seamproof.sheets.printed import is_trimmed
from seamproof.sheets.words_say import Say, counted, listed, parted

if TYPE_CHECKING:
    from seamproof.cloth import FabricNeed, PieceGroup, Strip
    from seamproof.cutting.piecing import Piecing
    from seamproof.pattern import Pattern


WHOLE: Final = frozenset({*PIECES, "strip"})
"""What is sewn before it is cut."""
FLIPPED: Final = frozenset({"rectangle for corners", "square for a corner"})
"""What of it is not cut apart but trimmed."""


def cutting_words(pattern: Pattern, *, left_handed: bool) -> str:
    """The paragraph before the tables."""
    say = Say(pattern)
    words = (
        f"Cut strips from edge to edge across the cloth, of which {say.size(pattern.cloth.usable)} are counted on; "
        "then cut the strips up. Keep the pieces of each patch together, with the patch’s name on a slip of paper."
    )
    if pattern.rough:
        words += " Pieces for the foundations are generous on purpose: do not trim them yet."
    if left_handed:
        words += " The pictures are drawn for the left hand."
    return words


def group_rows(pattern: Pattern, need: FabricNeed) -> list[list[str]]:
    """The rows of one fabric's table: strips, what is cut from them, and for which patches."""
    rows = []
    for number, group in enumerate(need.groups):
        strips = [strip for strip in need.strips if strip.group == number]
        first = listed([_strip_words(pattern, strip) for strip in strips]) or "from what is left over"
        rows.append([first, _group_words(pattern, group), _patches(pattern, group)])
    return rows


def _strip_words(pattern: Pattern, strip: Strip) -> str:
    return f"{counted(strip.count, 'strip')}, {Say(pattern).size(strip.width)} wide"


def _group_words(pattern: Pattern, group: PieceGroup) -> str:
    say = Say(pattern)
    shape = shape_word(group.shape, group.width, group.height)
    if shape in WHOLE:
        is_square = group.width == group.height
        what = counted(group.cut, "strip" if shape == "strip" else "square" if is_square else "rectangle")
        size = say.size(group.width) if is_square else say.pair(group.width, group.height)
        return (
            f"{what} of {size}"
            if shape in FLIPPED
            else f"{what} of {size}; leave {'it' if group.cut == 1 else 'them'} whole"
        )
    if group.shape in HALVED:
        return f"{counted(group.cut, 'square')} of {say.size(group.width)}; cut each once, corner to corner"
    if group.shape in QUARTERED:
        return f"{counted(group.cut, 'square')} of {say.size(group.width)}; cut each twice, corner to corner"
    ids = set(group.patches)
    trim = any(piece.patch in ids and is_trimmed(pattern, piece) for piece in pattern.cut)
    then = "; trim each to its template" if trim else ""
    if shape == "square":
        return f"{counted(group.cut, 'square')} of {say.size(group.width)}{then}"
    size = say.pair(group.width, group.height)
    if shape == "rectangle":
        return f"{counted(group.cut, 'rectangle')} of {size}{then}"
    is_square = group.width == group.height
    what = counted(group.cut, "square" if is_square else "rectangle")
    return f"{what} of {say.size(group.width) if is_square else size}; cut each to its shape with the template"


def _units(piecing: Piecing, group: PieceGroup) -> list[str]:
    """The names of the units that are made of what is cut here."""
    return [
        kind.name
        for batch in piecing.batches
        for kind in batch.kinds
        if batch.way and any(set(cut.patches) & set(group.patches) for cut in batch.way.cuts)
    ]


def shape_word(shape: str, width: float, height: float) -> str:
    """What a maker calls a shape: a rectangle with equal sides is a square."""
    return "square" if shape == "rectangle" and width == height else shape


def _patches(pattern: Pattern, group: PieceGroup) -> str:
    if pattern.piecing and group.shape in WHOLE:
        return f"for {listed(_units(pattern.piecing, group))}"
    names = ", ".join(sorted((pattern.names[patch] for patch in group.patches), key=parted))
    spare = group.pieces - group.needed
    return f"{names} ({counted(spare, 'piece')} to spare)" if spare else names

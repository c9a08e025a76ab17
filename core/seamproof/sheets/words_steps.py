"""The words of sewing on a foundation, step by step."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.cutting.pieces import HALVED, QUARTERED
from seamproof.sequence.construction import laid_name
from seamproof.sheets.handout_nodes import bold
from seamproof.sheets.leaves import join_ticks
from seamproof.sheets.words_before import BASTING_INSIDE, BASTING_STITCH, stitch_words
from seamproof.sheets.words_joins import size_words, unit_size_words
from seamproof.sheets.words_say import Say, capital, listed

if TYPE_CHECKING:
    from seamproof.cutting import RoughPiece, Template
    from seamproof.pattern import Pattern
    from seamproof.sequence import Foundation
    from seamproof.sheets.handout_nodes import Words

_EDGE: Final = {
    "long edge": "long edge",
    "short edge": "short edge",
    "any edge": "edge",
    "cut edge": "long, slanting edge",
}


MOVES: Final[tuple[Words, ...]] = (
    [bold("Fold and trim. "), "The paper is folded back on the next line, and what shows is trimmed along the fold."],
    [bold("Lay. "), "The new piece lies face down on the earlier ones, its raw edge on the trimmed edge."],
    [bold("Sew. "), "Printed side up, on the printed line."],
    [bold("Flip and press. "), "The piece is turned over the seam, onto its own area."],
)
"""What is done again and again on a foundation."""


def piece_words(pattern: Pattern, piece: RoughPiece) -> str:
    """The size of a rough piece, with what it is."""
    say = Say(pattern)
    if piece.shape in HALVED:
        return f"triangle, half of a square of {say.size(piece.width)}"
    if piece.shape in QUARTERED:
        return f"triangle, a quarter of a square of {say.size(piece.width)}"
    if piece.width == piece.height:
        return f"square of {say.size(piece.width)}"
    return say.pair(max(piece.width, piece.height), min(piece.width, piece.height))


def step_head(pattern: Pattern, piece: RoughPiece) -> str:
    """What stands over a step: its patch and its fabric."""
    say = Say(pattern)
    return f"{say.name(piece.patch)} · {say.fabric(piece.patch)}"


def first_words(pattern: Pattern, piece: RoughPiece) -> Words:
    """The first patch of a foundation."""
    say = Say(pattern)
    number = say.name(piece.patch)
    seam = say.fine_size(pattern.recipe.make.allowance)
    hold = "press it to the shiny side" if _sticks(pattern) else "hold it with a pin or a dab of glue"
    size = bold(f"{capital(piece_words(pattern, piece))}. ")
    return [
        size,
        (
            f"Lay the piece on the blank side of the paper, right side up, over area {number}. Hold both against the "
            f"light: it must reach past the area by {seam} or more all round. Then {hold}."
        ),
    ]


def fold_words(pattern: Pattern, piece: RoughPiece, number: int) -> str:
    """Fold and trim."""
    return (
        f"Lay the card along line {number} and fold the paper back over it. Trim the cloth that shows to "
        f"{Say(pattern).fine_size(piece.trim)} past the fold."
    )


def lay_words(piece: RoughPiece) -> str:
    """Lay the new piece: which edge goes where."""
    return (
        "Lay the new piece right side down over the patches already sewn, not on its own area. Its "
        f"{_EDGE[piece.line_edge]} lies on the edge you trimmed, {_ends_words(piece)}."
    )


def sew_words(pattern: Pattern, number: int) -> str:
    """Sew."""
    if _sticks(pattern):
        return f"Leave the paper folded. Sew just beside the fold of line {number}, from end to end of the line."
    return f"Unfold the paper and turn over, holding the piece. Sew on line {number}, all of it, end to end."


def flip_words(pattern: Pattern, piece: RoughPiece) -> str:
    """Flip and press."""
    name = Say(pattern).name(piece.patch)
    return (
        f"Turn over. Flip the piece over the seam onto area {name} and press it flat with a dry iron, from the cloth "
        "side."
    )


def short_words(pattern: Pattern, piece: RoughPiece, number: int, *, pressed: bool) -> Words:
    """A later step of a kind that was shown before."""
    trim = Say(pattern).fine_size(piece.trim)
    end = "Flip and press." if pressed else "Flip."
    fold = "beside the fold" if _sticks(pattern) else f"on line {number}"
    return [
        bold(f"{capital(piece_words(pattern, piece))}. "),
        f"Fold on line {number}, trim to {trim}. ",
        bold(f"{capital(_EDGE[piece.line_edge])}"),
        f" on the trimmed edge, right side down, {_ends_words(piece)}. Sew {fold}. {end}",
    ]


def kind_of(piece: RoughPiece) -> tuple[str, bool]:
    """Steps of one kind are drawn in all positions once: by the piece's shape, and whether ticks place it."""
    shape = "triangle" if piece.shape in HALVED | QUARTERED else "rectangle"
    return (shape, piece.ticks is not None)


def group_words(pattern: Pattern, group: tuple[str, ...]) -> str:
    """A run of patches that are free of one another."""
    names = [pattern.names.get(part, f"unit {part}") for part in group]
    which = f"{names[0]} to {names[-1]}" if len(names) > 2 else listed(names)
    return f"{which} in any order, then press"


def foundation_words(pattern: Pattern, foundation: Foundation, template: Template) -> Words:
    """The paragraph under a foundation's name."""
    twins = template.stands_for[1:]
    also = f" {listed(list(twins))} {'is' if len(twins) == 1 else 'are'} sewn just like it." if twins else ""
    also += _instead(pattern, foundation, twins)
    count = len(template.stands_for) * pattern.recipe.make.copies
    make = f"Make {count} of these. " if count > 1 else ""
    return [
        f"{make}{listed(_held(pattern, foundation))}; trimmed, it measures ",
        bold(size_words(pattern, template.finished, template.cut)),
        f".{also} Stitch length {stitch_words(pattern.recipe.make.stitch)}.",
    ]


def _instead(pattern: Pattern, foundation: Foundation, twins: tuple[str, ...]) -> str:
    """Which units are laid on the copies of a foundation: " On D, unit C is laid instead of unit A."."""
    construction = pattern.construction
    found = ""
    for twin in twins:
        pairs = zip(foundation.order, construction.foundation(twin).order, strict=True)
        swaps = [f"unit {theirs} is laid instead of unit {ours}" for ours, theirs in pairs if ours in construction.laid]
        found += f" On {twin}, {listed(swaps)}." if swaps else ""
    return found


def _held(pattern: Pattern, foundation: Foundation) -> list[str]:
    """What lies on a foundation: "13 patches", "the finished unit A"."""
    units = [part for part in foundation.order if part in pattern.construction.laid]
    return [f"{len(foundation.order) - len(units)} patches", *(f"the finished unit {unit}" for unit in units)]


def unit_head(pattern: Pattern, label: str, unit: str, number: int) -> str:
    """What stands over the step by which a finished unit is laid on a foundation."""
    return f"{label}{number} · {named_unit(pattern, unit)}, finished"


def named_unit(pattern: Pattern, unit: str) -> str:
    """A finished unit by what it was sewn as: a foundation, or a join."""
    joins = {join.label for join in pattern.construction.joins}
    return f"the unit of {unit}" if unit in joins else f"unit {unit}"


def unit_words(pattern: Pattern, label: str, unit: str, number: int) -> list[Words]:
    """A finished unit laid on a foundation as if it were one patch."""
    say, name = Say(pattern), named_unit(pattern, unit)
    seam = say.fine_size(pattern.recipe.make.allowance)
    letters = sorted({tick.letter for tick in join_ticks(pattern, laid_name(unit))}, key=lambda c: (len(c), c))
    paper = "" if pattern.recipe.make.foundation in {"leave-in", "cloth"} else (
        " Take its paper out of the allowance along this line; the rest stays in."
    )  # fmt: skip
    sew = "just beside the fold" if _sticks(pattern) else "with the paper unfolded and its printed side up,"
    return [
        [
            f"{capital(name)} is laid as if it were one patch; no piece is cut. Trimmed to its cut line, it measures ",
            bold(unit_size_words(pattern, unit)),
            f".{paper}",
        ],
        f"Lay the card along line {number}, fold the paper back over it and trim the cloth that shows to {seam}.",
        (
            f"Lay {name} right side down over what is sewn, its raw edge exactly on the trimmed edge, {seam} past "
            f"the line. Push pins straight through match points {listed(letters)} of both, on the lines: both ends and "
            "every seam must meet. Pin between, and baste."
        ),
        f"Sew {sew} on line {number}, all of it, end to end. Open and look at the match points.",
        f"Flip {name} over the seam onto area {label}{number} and press it flat from the cloth side.",
    ]


def finish_words(pattern: Pattern, template: Template, *, whole: bool) -> list[Words]:
    """Basting, trimming and the unfinished size of one foundation."""
    say = Say(pattern)
    name = "the block" if whole else template.label
    found: list[Words] = [
        (
            f"Baste round {template.label}, about {say.roughly(BASTING_INSIDE)} inside the cut line, through cloth "
            f"and paper, in stitches of about {stitch_words(BASTING_STITCH)}."
        ),
        "Turn it printed side up. Trim cloth and paper together on the solid cut line, with ruler and cutter.",
        [f"Measure: {name} is ", bold(size_words(pattern, template.finished, template.cut)), "."],
    ]
    if _sticks(pattern):
        found[0] = (
            f"Baste round {template.label} by hand or machine, about {say.roughly(BASTING_INSIDE)} inside the cut line."
        )
    return found


def paper_words(pattern: Pattern) -> list[Words]:
    """When and how the paper comes out."""
    kind, joined = pattern.recipe.make.foundation, bool(pattern.construction.joins)
    if kind in {"leave-in", "cloth"}:
        return ["The foundation stays in the block: there is nothing to take out."]
    until = "until its neighbours are joined, or it has been basted all round"
    if kind == "freezer-paper":
        return [
            f"Keep the paper in {until}.",
            (
                "Peel it off whole, from the last patch back to the first. Pressed flat, it serves again for the next "
                "block."
            ),
        ]
    found: list[Words] = [f"Keep the paper in {until}."]
    if joined:
        found.append("First take it out of the allowance of each join, before that join is pressed.")
    found.append(
        "Then tear it out area by area, from the last patch back to the first: crease it along the stitches, hold the "
        "stitches down with a thumb and pull the paper away from them. Tweezers fetch what is left in corners."
    )
    return found


def _ends_words(piece: RoughPiece) -> str:
    if piece.ticks is not None:
        return "the middle of that edge at the arrowhead on the line"
    if piece.line_edge == "cut edge":
        return "its middle at the middle of the line"
    return "centred on the line"


def _sticks(pattern: Pattern) -> bool:
    """Whether the foundation is folded and sewn beside, never through."""
    return pattern.recipe.make.foundation == "freezer-paper"

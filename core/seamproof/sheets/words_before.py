"""The words explained once, what a maker needs, and the cautions."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.sheets.options import PAPER_NAMES
from seamproof.sheets.words_say import Say, counted, listed, parted, times
from seamproof.units import MM_PER_INCH, Measure

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.cutting import CutPiece, RoughPiece
    from seamproof.pattern import Pattern
    from seamproof.recipe.model import Paper
    from seamproof.sheets.handout_nodes import Words
    from seamproof.sheets.pages import TemplatePage

BASTING_STITCH: Final = 4 / MM_PER_INCH
"""[in] Common practice, no source."""
BASTING_INSIDE: Final = 1 / 8
"""[in] How far inside the cut line a finished foundation is basted. Common practice, no source."""
PIECING_STITCH: Final = 2.2 / MM_PER_INCH
"""[in] For seams without paper. Common practice, no source."""


def explained(pattern: Pattern) -> list[tuple[str, Words]]:
    """Every word of the trade that this handout uses, once, in the order in which it is met."""
    construction, say = pattern.construction, Say(pattern)
    seam = say.fine_size(pattern.recipe.make.allowance)
    found: list[tuple[str, Words]] = [
        ("Patch, piece", "A patch is one finished area of the block. A piece is the cloth that is cut for it."),
        (
            "Seam allowance",
            f"The {seam} of cloth beyond a seam. A finished size is without it, an unfinished size with it.",
        ),
        ("Right side, wrong side", "The face of the cloth, and its back."),
    ]
    if construction.foundations:
        found += _on_paper(pattern)
    if construction.joins and construction.method != "hand":
        found.append(("Match point", _match_point(pattern)))
    if construction.pivots:
        found.append(
            ("Set-in seam", "A seam that turns a corner. A dot marks where the needle stops and the cloth is turned.")
        )
    if construction.partial_seams:
        found.append(("Partial seam", "A seam that is started, left open, and finished later."))
    if any(join.kind == "curved" for join in construction.joins):
        found.append(("Curved seam", "Two curved edges, one bulging and one hollow, eased together and sewn slowly."))
    if any(piece.bias for piece in _pieces(pattern)):
        found.append(("Bias", "A slanting edge across the weave: it stretches. Handle it little, and never pull it."))
    found.append(("Press", "Set the iron down and lift it again. Do not slide it: sliding stretches cloth."))
    return found


def _match_point(pattern: Pattern) -> str:
    if pattern.piecing:
        return "A place where seams, points or ticks of both sides must meet. The pictures letter it."
    return "A lettered tick on the sewing line of a join. The same letter stands on both sides: pin the two together."


def _on_paper(pattern: Pattern) -> list[tuple[str, Words]]:
    first = pattern.construction.foundations[0]
    patch = [part for part in first.order if part in pattern.names][:3][-1]
    third = pattern.names[patch]
    number = third.removeprefix(first.label)
    letter = pattern.fabric(patch).letter
    return [
        (
            "Foundation",
            (
                f"A printed paper on which patches are sewn in the order of their numbers. {third} · {letter} is patch "
                f"{number} on foundation {first.label}, cut from fabric {letter}."
            ),
        ),
        (
            "Printed side, cloth side",
            (
                "You sew with the printed side up, on the printed line. The cloth lies underneath, on the blank "
                "side. So what is printed is the mirror image of the block."
            ),
        ),
        (
            f"Line {number}",
            (
                f"The sewing line along which patch {number} is added. It is printed as long as it is sewn, a little "
                "past the ends of its seam."
            ),
        ),
        *_marks(pattern),
        ("Rough piece", "A generous rectangle or triangle, larger than its patch; what is too much is trimmed later."),
        (
            "Cut line, finished line",
            (
                "The solid outer line of a foundation is where it is trimmed. The dashed line inside it is where it is "
                "joined."
            ),
        ),
    ]


def _marks(pattern: Pattern) -> list[tuple[str, Words]]:
    if all(piece.ticks is None for piece in pattern.rough):
        return []
    told = (
        "Where a piece is not centred on its line, the arrowhead shows where the middle of its edge goes (fold the "
        "piece to find it). Short ticks show its ends, where they lie on the paper."
    )
    return [("Arrowhead on a line", told)]


def tools(pattern: Pattern, pages: Sequence[TemplatePage], paper: Paper) -> list[Words]:
    """What lies ready on the table, without the cloth."""
    make, construction = pattern.recipe.make, pattern.construction
    sheets = sum(page.prints for page in pages)
    found: list[Words] = []
    if sheets:
        found.append(
            f"{_paper_words(pattern)}: {counted(sheets, 'sheet')} of {PAPER_NAMES[paper]} for the template pages."
        )
    if construction.foundations:
        found += [
            "Sewing machine with a fresh needle, size 90 (also called 14), which opens the paper well.",
            f"Stitch length on paper: {stitch_words(make.stitch)}. For basting: about {stitch_words(BASTING_STITCH)}.",
            "A postcard or thin card, to fold the paper over on its line.",
            "Pins or a washable glue pen, for the first piece; a lamp or a window to see the lines through the paper.",
        ]
    elif construction.method == "hand":
        found.append("Hand-sewing needles, thread for basting, thread that matches the cloth, paper scissors.")
    else:
        found.append(f"Sewing machine; stitch length {stitch_words(PIECING_STITCH)}.")
    found += [
        "Thread that goes with all fabrics, light grey or beige for most; small scissors, a seam ripper.",
        "Ruler, rotary cutter and mat, or scissors and a pencil. Iron, used dry.",
    ]
    if any(item.tile for page in pages for item in page.placed):
        found.append("A glue stick, to join template pages. Not tape: it melts under the iron and does not tear.")
    return found


def stitch_words(stitch: float, *, plain: bool = False) -> str:
    """A stitch length [in] as machines of either kind show it: 1.8 mm (14 to the inch); `plain`: without brackets.

    Source: 25.4 mm to the inch, divided by the stitch.
    """
    per_inch = f"{1 / stitch:.0f} to the inch"
    return f"{stitch * MM_PER_INCH:.2g} mm, {per_inch}" if plain else f"{stitch * MM_PER_INCH:.2g} mm ({per_inch})"


def _paper_words(pattern: Pattern) -> str:
    kind = {
        "tear-away": "Thin paper that tears easily",
        "freezer-paper": "Freezer paper, printed on its dull side",
        "leave-in": "Thin foundation that stays in the block",
        "cloth": "Thin cotton that stays in the block, pressed on freezer paper to print it",
    }
    return kind[pattern.recipe.make.foundation] if pattern.construction.foundations else "Paper or card"


def printing(pattern: Pattern, pages: Sequence[TemplatePage], paper: Paper) -> list[Words]:
    """How the template pages are printed."""
    if not pages:
        return []
    counts = dict.fromkeys(page.prints for page in pages)
    often = f"{times(next(iter(counts)))} each" if len(counts) == 1 else "as often as each says at its head"
    name = PAPER_NAMES[paper]
    found: list[Words] = [
        (
            f"The template pages stand at the end of this handout. Print them {often}, on {name} paper, at “actual "
            "size” or 100 %, on one side only."
        ),
        (
            "Measure the two rules and the square on every page before you sew. If they are not true, the table "
            "beside them says what happened. A photocopy stretches: print each sheet afresh."
        ),
    ]
    if pattern.recipe.make.measure is Measure.MILLIMETRES:
        found.append("The 1 in square measures 25.4 mm.")
    if any(item.tile for page in pages for item in page.placed):
        found.append(
            "A template larger than the paper is printed in parts. Cut each part along its dash-and-dot line, lay it "
            "on the next part so that the diamonds meet, and glue. The overlap is one strip of paper wide."
        )
    return found


def cautions(pattern: Pattern) -> list[tuple[str, Words]]:
    """The cautions that apply.

    Source: rotary cutter and iron, 4-H contest safety guide (USA); children, University of Kentucky Cooperative
    Extension, 4JF-12PB "Needlework: Quilting", 2011; babies, American Academy of Pediatrics, Pediatrics 150(1),
    e2022057990; inks, needles and pins: common practice, no source.
    """
    make, construction = pattern.recipe.make, pattern.construction
    found: list[tuple[str, Words]] = [
        (
            "Rotary cutter",
            (
                "Close the blade whenever you put it down. Cut away from your body, always on a mat and along a "
                "ruler, fingers off the ruler’s edge. Wrap old blades before you throw them away. Adults stay with "
                "children who use one."
            ),
        ),
        ("Iron", f"Stand it on its heel, keep the cord out of reach, unplug it after use.{_ink(pattern)}"),
        (
            "Needles and pins",
            (
                "Keep fingers clear of the needle, take pins out before the needle reaches them, switch off to "
                "change a needle. Count pins in and out."
            ),
        ),
    ]
    if construction.foundations and make.foundation in {"freezer-paper", "cloth"}:
        found.append(
            ("Freezer paper", "It melts in printers that work with heat: feed it to an inkjet printer only, or trace.")
        )
    found += [
        (
            "Babies",
            "Keep quilts and other loose bedding out of a baby’s sleep space for the first 12 months.",
        ),
        (
            "Selling what you make",
            "Labelling and rules for children’s products are local: look up those that hold where you sell.",
        ),
    ]
    return found


def _ink(pattern: Pattern) -> str:
    if not pattern.construction.foundations:
        return ""
    return " Some inks and toners mark an iron or smear under heat: try a spare print first."


def _pieces(pattern: Pattern) -> list[RoughPiece | CutPiece]:
    return [*pattern.rough, *pattern.cut]


def bias_words(pattern: Pattern) -> Words | None:
    """Which patches have an edge on the block's outline off the straight grain; None where none has."""
    names = sorted((pattern.names[piece.patch] for piece in _pieces(pattern) if piece.bias), key=parted)
    if not names:
        return None
    one = len(names) == 1
    keep = "Keep the paper in until the block is joined." if pattern.construction.foundations else "Do not pull it."
    return (
        f"{listed(names)} {'has its' if one else 'have their'} outer {'edge' if one else 'edges'} on the bias, which "
        f"stretches. {keep}"
    )

"""The words of joining units."""

from __future__ import annotations

from typing import TYPE_CHECKING

from seamproof.geometry.points import bounds
from seamproof.sheets.words_before import PIECING_STITCH, stitch_words
from seamproof.sheets.words_say import Say, counted, listed

if TYPE_CHECKING:
    from seamproof.pattern import Pattern
    from seamproof.sequence import Join
    from seamproof.sheets.handout_nodes import Words


def unit_words(pattern: Pattern, label: str) -> str:
    """What a unit is called on pages: a foundation's letter, a patch's name, or the unit that a join made."""
    joins = {join.label for join in pattern.construction.joins}
    return f"the unit of {label}" if label in joins else pattern.names.get(label, label)


def join_head(pattern: Pattern, join: Join) -> str:
    """What stands over a join."""
    kind = "" if join.kind == "straight" else f" ({join.kind} seam)"
    return f"{join.label}: join {unit_words(pattern, join.second)} to {unit_words(pattern, join.first)}{kind}"


def match_letters(pattern: Pattern, join: Join) -> list[str]:
    """The letters of a join's match points, in order."""
    letters = {tick.letter for template in pattern.templates for tick in template.ticks if tick.join == join.label}
    return sorted(letters, key=lambda letter: (len(letter), letter))


def join_words(pattern: Pattern, join: Join, *, briefly: bool = False) -> list[Words]:
    """How one join is sewn, from pinning to pressing; `briefly` where the same kind was told before."""
    letters = match_letters(pattern, join)
    through = f"match points {listed(letters)}" if len(letters) > 1 else "both ends"
    first, second = unit_words(pattern, join.first), unit_words(pattern, join.second)
    if briefly and join.kind == "straight":
        return [
            f"Right sides together. Pin through {through}, baste, open and look.",
            f"Sew on the finished line from edge to edge. {_pressing(pattern)}",
            _measure(pattern, join),
        ]
    lay = f"Lay {second} on {first}, right sides together."
    pin = f"Push a pin straight through {through}, on the sewing lines of both, never at the raw edge; pin between."
    return [f"{lay} {pin}", *_sewing(join), _pressing(pattern), _measure(pattern, join)]


def finish_words(pattern: Pattern, join: Join) -> list[Words]:
    """Closing a partial seam."""
    first, second = unit_words(pattern, join.first), unit_words(pattern, join.second)
    return [
        f"Fold the open stretch of {join.label} between {first} and {second} right sides together and pin it.",
        "Sew from the last stitch of the first stretch, overlapping it by a few stitches, to the end. Press.",
        _measure(pattern, join, whole=True),
    ]


def _sewing(join: Join) -> list[Words]:
    stitch = f"stitch length {stitch_words(PIECING_STITCH)}"
    if join.kind == "set-in":
        dots = counted(len(join.pivots), "dot")
        return [
            (
                f"Mark the {dots} on the wrong side of both. Sew from the edge to the first dot ({stitch}) and stop "
                "with the needle down in it; sew no stitch into the allowance beyond."
            ),
            (
                "Lift the foot. Snip the allowance of the inward corner to within two threads of the dot. Turn the "
                "cloth until the next edges meet, pin them, lower the foot and sew on to the next dot or to the end."
            ),
        ]
    if join.kind == "partial":
        return [
            (
                f"Sew the solid stretch only ({stitch}), from the edge to the dot, and leave the rest open: it is "
                "closed after the neighbour is joined."
            ),
        ]
    if join.kind == "curved":
        return [
            (
                "Pin ends, middle and quarter points, with the hollow edge on top. Snip its allowance a few times, "
                "less than half way to the line, so that it opens."
            ),
            f"Sew slowly ({stitch}), easing the top with your fingers and stopping with the needle down to smooth it.",
        ]
    return [
        (
            "Baste over the match points. Open and look: they must meet. Then sew on the finished line from edge to "
            f"edge ({stitch})."
        ),
    ]


def _pressing(pattern: Pattern) -> str:
    if pattern.construction.foundations and pattern.recipe.make.foundation == "tear-away":
        return "Tear the paper out of the allowance, then press the seam to the side that lies flatter."
    return "Press the seam to the side that lies flatter."


def _measure(pattern: Pattern, join: Join, *, whole: bool = False) -> Words:
    """The unfinished size of what a join makes; none while a partial seam is still open."""
    if len(join.passes) > 1 and not whole:
        return "It is not measured until the seam is closed."
    width, height = unit_size(pattern, join.label)
    return ["It measures ", {"b": f"{Say(pattern).fine_pair(width, height)} unfinished"}, "."]


def unit_size(pattern: Pattern, label: str) -> tuple[float, float]:
    """The width and height of a unit with its allowances [in], as it lies in the block."""
    outlines = (pattern.block.patch(patch).outline for patch in pattern.construction.patches_of(label))
    x0, y0, x1, y1 = bounds(point for outline in outlines for point in outline.polygon)
    seam = 2 * pattern.recipe.make.allowance
    return (x1 - x0 + seam, y1 - y0 + seam)

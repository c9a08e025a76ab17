"""The words of joining units."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

from seamproof.cutting.plain import TIGHT
from seamproof.geometry import Outline
from seamproof.geometry.points import distance
from seamproof.sheets.handout_nodes import bold
from seamproof.sheets.leaves import join_ticks, open_stretch, raw_edge, ticks_now
from seamproof.sheets.unit_shapes import is_on, rings_round, under_and_over
from seamproof.sheets.words_before import PIECING_STITCH, stitch_words
from seamproof.sheets.words_say import Say, listed
from seamproof.tolerance import SAME_POINT, area_slack

if TYPE_CHECKING:
    from collections.abc import Iterable

    from seamproof.geometry import Edge, Point
    from seamproof.pattern import Pattern
    from seamproof.sequence import Join
    from seamproof.sequence.pressing import Toward
    from seamproof.sheets.handout_nodes import Words


def unit_words(pattern: Pattern, label: str) -> str:
    """What a unit is called on pages: a foundation's letter, a patch's name, or the unit that a join made."""
    if pattern.piecing and label in pattern.piecing.names:
        return pattern.piecing.names[label]
    joins = {join.label for join in pattern.construction.joins}
    return f"the unit of {label}" if label in joins else pattern.names.get(label, label)


def join_names(pattern: Pattern, labels: Iterable[str]) -> list[str]:
    """What pages call some joins, each name once: by the units they make, where a block is pieced in batches."""
    told = pattern.piecing.told if pattern.piecing else {}
    return list(dict.fromkeys(told.get(label, label) for label in labels))


def join_head(pattern: Pattern, join: Join) -> str:
    """What stands over a join."""
    kind = "" if join.kind == "straight" else f" ({join.kind} seam)"
    (name,) = join_names(pattern, [join.label])
    return f"{name}: join {unit_words(pattern, join.second)} to {unit_words(pattern, join.first)}{kind}"


def match_letters(pattern: Pattern, join: Join) -> list[str]:
    """The letters of a join's match points, in order."""
    letters = {tick.letter for tick in ticks_now(pattern, join)}
    return sorted(letters, key=lambda letter: (len(letter), letter))


def join_words(pattern: Pattern, join: Join, *, briefly: bool = False) -> list[Words]:
    """How one join is sewn, from pinning to pressing; `briefly` where the same kind was told before."""
    letters = match_letters(pattern, join)
    through = f"match points {listed(letters)}" if len(letters) > 1 else "both ends"
    if briefly and join.kind == "straight":
        return [
            f"Right sides together. Pin through {through}, baste, open and look.",
            f"Sew on the finished line from edge to edge. {_pressing(pattern, join)}",
            _measure(pattern, join),
        ]
    under, over = (unit_words(pattern, label) for label in under_and_over(pattern, join))
    lay = f"Lay {over} on {under}, right sides together."
    pin = f"Push a pin straight through {through}, on the sewing lines of both, never at the raw edge; pin between."
    return [
        f"{lay} {pin}",
        *tight_words(pattern, join),
        *open_words(pattern, join),
        *sewing_words(join, _stretch(pattern, join)),
        _pressing(pattern, join),
        _measure(pattern, join),
    ]


def finish_words(pattern: Pattern, join: Join, unit: str, number: int = 1) -> list[Words]:
    """Closing a partial seam, pass by pass from 1; `unit` is what has been joined by then."""
    stretch = open_stretch(join, number)
    sides = listed(_along(pattern, stretch))
    letters = [_letter_at(pattern, join, place) for place in (stretch[0].start, stretch[-1].end)]
    begin, end = (f"at {letters[0]}, ", letters[1]) if all(letters) else ("", "the other end")
    toward = toward_of(pattern, join)
    how = "open" if toward == "open" else f"toward {unit_words(pattern, getattr(join, toward))}"
    return [
        (
            f"The seam between {sides} is still open. Fold the block so that their edges lie on each other there, "
            "right sides together, and pin; keep the rest out of the way."
        ),
        (
            f"Begin {begin}on the last stitches of the first stretch, and sew on to {end}. Press this stretch like the "
            f"first, {how}."
        ),
        ["It measures ", bold(unit_size_words(pattern, unit)), "."],
    ]


def _along(pattern: Pattern, stretch: Iterable[Edge]) -> list[str]:
    """The names of the patches on either side of a stretch, in the order of the block."""
    middles = [edge.middle for edge in stretch]
    return [
        pattern.names[patch.id]
        for patch in pattern.block.patches
        if any(is_on(middle, patch.outline.polygon) for middle in middles)
    ]


def _stretch(pattern: Pattern, join: Join) -> str:
    """Between which match points a partial seam is sewn first: from the edge to where it stops."""
    first = join.passes[0]
    ends = (first[0].start, first[-1].end)
    outer = (join.seam[0].start, join.seam[-1].end)
    edge_first = sorted(ends, key=lambda place: min(distance(place, end) for end in outer))
    letters = [_letter_at(pattern, join, place) for place in edge_first]
    return f"from {letters[0]} to {letters[1]}" if all(letters) else "from the edge to the dot"


def _letter_at(pattern: Pattern, join: Join, place: Point) -> str:
    """The letter of a join's match point at a place; "" where there is none."""
    ticks = join_ticks(pattern, join.label)
    return next((tick.letter for tick in ticks if distance(tick.place, place) <= 2 * SAME_POINT), "")


def open_words(pattern: Pattern, join: Join) -> list[Words]:
    """What is kept clear of a seam that ends where a partial seam was left open; else nothing."""
    ends = (join.seam[0].start, join.seam[-1].end)
    for other in pattern.construction.joins:
        if other.label == join.label or len(other.passes) == 1:
            continue
        stops = (other.passes[0][0].start, other.passes[0][-1].end)
        if any(distance(stop, end) <= 2 * SAME_POINT for stop in stops for end in ends):
            (name,) = join_names(pattern, [other.label])
            return [f"Fold the open edge of {name}’s partial seam out of the way, so that this seam does not catch it."]
    return []


def sewing_words(join: Join, stretch: str = "from the edge to the dot") -> list[Words]:
    """How the needle goes, by the kind of seam; `stretch` says how much of a partial seam is sewn first."""
    stitch = f"stitch length {stitch_words(PIECING_STITCH, plain=True)}"
    if join.kind == "set-in":
        dots = "dot" if len(join.pivots) == 1 else f"{len(join.pivots)} dots"
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
            (f"Sew only {stretch} ({stitch}) and leave the rest open: it is closed after the neighbour is joined."),
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


def tight_words(pattern: Pattern, join: Join) -> list[Words]:
    """The tightest curve of a seam named, where it is tight; else nothing."""
    radius = min((edge.radius for edge in join.seam), default=TIGHT)
    if radius >= TIGHT:
        return []
    size = Say(pattern).fine_size(radius)
    return [
        (
            f"The curve is tight: its radius is {size}. Snip the hollow edge every {Say(pattern).fine_size(1 / 4)}, "
            "pin closely, and take short stitches."
        )
    ]


def _pressing(pattern: Pattern, join: Join) -> str:
    toward = toward_of(pattern, join)
    how = (
        "open"
        if toward == "open"
        else f"toward {unit_words(pattern, join.first if toward == 'first' else join.second)}"
    )
    if pattern.construction.foundations and pattern.recipe.make.foundation == "tear-away":
        return f"Tear the paper out of the allowance, then press the seam {how}."
    return f"Press the seam {how}."


_UNIT_OF: Final[dict[Toward, Literal["first", "second", "open"]]] = {
    "left": "first",
    "right": "second",
    "open": "open",
}


def toward_of(pattern: Pattern, join: Join) -> Literal["first", "second", "open"]:
    """Where the allowances of a join lie: its first unit is on the left of the seam, its second on the right."""
    for seam in pattern.pressing.seams:
        if seam.join == join.label:
            return _UNIT_OF[seam.toward]
    return "open"


def _measure(pattern: Pattern, join: Join) -> Words:
    """The unfinished size of what a join makes; none while a partial seam is still open."""
    if len(join.passes) > 1:
        return "It is not measured until the seam is closed."
    return ["It measures ", bold(unit_size_words(pattern, join.label)), "."]


def unit_size_words(pattern: Pattern, label: str) -> str:
    """The unfinished size of a unit as it lies in the block; over all where it is no rectangle."""
    outlines = [pattern.block.patch(patch).outline for patch in pattern.construction.patches_of(label)]
    finished = Outline.of(rings_round(outlines)[0])
    return size_words(pattern, finished, raw_edge(pattern, label, finished))


def size_words(pattern: Pattern, finished: Outline, cut: Outline) -> str:
    """The unfinished size of a shape: a rectangle's sides, else its width and height over all."""
    x0, y0, x1, y1 = cut.bounds
    size = Say(pattern).fine_pair(x1 - x0, y1 - y0)
    a0, b0, a1, b1 = finished.bounds
    rectangle = abs((a1 - a0) * (b1 - b0) - finished.area) <= area_slack(finished.perimeter)
    return f"{size} unfinished" if rectangle else f"{size} unfinished, over all"

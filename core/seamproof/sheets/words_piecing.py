"""The words of making units in batches, of a block that is cut and pieced."""

from __future__ import annotations

import math
from functools import partial
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from seamproof.geometry.points import distance, dot, midpoint
from seamproof.sheets.handout_nodes import bold
from seamproof.sheets.leaves import join_ticks, units_of
from seamproof.sheets.unit_shapes import is_on, under_and_over
from seamproof.sheets.words_before import PIECING_STITCH, stitch_words
from seamproof.sheets.words_joins import (
    join_words,
    open_words,
    sewing_words,
    tight_words,
    toward_of,
    unit_size_words,
    unit_words,
)
from seamproof.sheets.words_say import Say, listed
from seamproof.sheets.words_ways import WHAT, count_of, way_words
from seamproof.tolerance import LAID_ON, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.cutting.piecing import Batch, Kind
    from seamproof.geometry import Point
    from seamproof.pattern import Pattern
    from seamproof.sequence import Join
    from seamproof.sheets.handout_nodes import Words

SNIP: Final = "Snip the hollow edge a few times, less than half way to the line, so that it opens."
CHAIN: Final = (
    "Sew all of one kind in a chain: feed the pairs one after another without cutting the thread, then snip them apart."
)


def intro(pattern: Pattern) -> list[Words]:
    """What holds for every unit."""
    say = Say(pattern)
    seam = say.fine_size(pattern.recipe.make.allowance)
    copies = pattern.recipe.make.copies
    whole = "for the block" if copies == 1 else f"for all {copies} blocks together"
    names = "Units are called U1, U2 and so on; a number alone is a patch, as in the picture."
    return [
        f"Make the units of each stage {whole}, in the order given. {names}",
        (
            f"Every seam is {seam} from the raw edges, which lie even, and runs from edge to edge; stitch length "
            f"{stitch_words(PIECING_STITCH, plain=True)}. Measure the first unit of each batch before you sew the rest."
        ),
        CHAIN,
    ]


def batch_head(pattern: Pattern, batch: Batch) -> str:
    """What stands over a batch: names, what it is, how many."""
    construction, copies = pattern.construction, pattern.recipe.make.copies
    names = listed([kind.name for kind in batch.kinds])
    each, count = len(batch.labels), len(batch.labels) * copies
    is_whole = batch.labels == (construction.whole,)
    if batch.way:
        what = WHAT[batch.way.kind]
    else:
        join = construction.join(batch.model)
        kind = "" if join.kind == "straight" else f" ({join.kind} seam)"
        what = f"join {_pair(pattern, join)}{kind}"
    if is_whole:
        return f"{names}, the block: {what}"
    many = f" ({each} in each block)" if copies > 1 and each > 1 else ""
    return f"{names}: {what}. Make {count}{many}"


def same_words(pattern: Pattern, batch: Batch) -> Words | None:
    """Which patches and units the others of a batch are made of; None where there are none, or a way makes them."""
    if batch.way or len(batch.labels) == 1:
        return None
    rows = list(dict.fromkeys(_pair(pattern, pattern.construction.join(label)) for label in batch.labels))
    return f"Likewise join {listed(rows[1:])}." if len(rows) > 1 else None


def _pair(pattern: Pattern, join: Join) -> str:
    """What is joined to what."""
    first, second = unit_words(pattern, join.first), unit_words(pattern, join.second)
    return f"two {first}" if first == second else f"{second} to {first}"


def batch_words(pattern: Pattern, batch: Batch, told: set[str]) -> list[Words]:
    """How the units of a batch are made, from first to last."""
    if batch.way:
        return way_words(pattern, batch, batch.way)
    join = pattern.construction.join(batch.model)
    if join.kind == "curved":
        return _curved(pattern, batch, join)
    if join.kind != "straight":
        words = join_words(pattern, join, briefly=join.kind in told)
        also = same_words(pattern, batch)
        return [*words, also] if also else words
    return _joined(pattern, batch, join)


def _joined(pattern: Pattern, batch: Batch, join: Join) -> list[Words]:
    under, over = (unit_words(pattern, label) for label in under_and_over(pattern, join))
    on = f"one {under} on another" if under == over else f"{over} on {under}"
    words: list[Words] = [
        f"Lay {on}, right sides together, raw edges even.{_partners(pattern, batch, join)}{_tips(pattern, join)}",
        *open_words(pattern, join),
        f"{_pins(pattern, join)} Sew from edge to edge.",
    ]
    also = same_words(pattern, batch)
    if also:
        words.append(also)
    return [*words, _pressing(pattern, batch), _measured(pattern, batch)]


def _partners(pattern: Pattern, batch: Batch, join: Join) -> str:
    """Which patch meets which along a straight seam, from which follows how its units are turned."""
    start, end = join.seam[0].start, join.seam[-1].end
    places = sorted(
        (start, end, *(tick.place for tick in join_ticks(pattern, join.label))), key=partial(distance, start)
    )
    sides = [pattern.construction.patches_of(label) for label in under_and_over(pattern, join)]
    if all(len(side) == 1 for side in sides):
        return ""
    met = []
    for a, b in pairwise(places):
        touching = [
            [patch for patch in side if is_on(midpoint(a, b), pattern.block.patch(patch).outline.polygon)]
            for side in sides
        ]
        if distance(a, b) > 2 * SAME_POINT and all(touching):
            met.append(f"{pattern.names[touching[1][0]]} on {pattern.names[touching[0][0]]}")
    where = "as in the block" if len(batch.labels) == 1 else "as in the block, in the first of them"
    return f" Turn them {where}: {listed(list(dict.fromkeys(met)))}." if met else ""


def _curved(pattern: Pattern, batch: Batch, join: Join) -> list[Words]:
    under, over = (unit_words(pattern, label) for label in under_and_over(pattern, join))
    words: list[Words] = [
        (
            "Mark the ticks of the templates, which stand at the ends, the middle and the quarter points of the seam, "
            "in the allowances of both pieces."
        ),
        *(tight_words(pattern, join) or [SNIP]),
        f"Lay {over} on {under}, right sides together, and pin the middles first, then the ends, then the quarters.",
        *sewing_words(join)[1:],
    ]
    also = same_words(pattern, batch)
    if also:
        words.append(also)
    return [*words, _pressing(pattern, batch), _measured(pattern, batch)]


def _pins(pattern: Pattern, join: Join) -> str:
    """Where seams meet across a join, and where points end on it."""
    places = [(meeting.place, meeting.nests) for meeting in pattern.pressing.meetings if meeting.join == join.label]
    ends = (join.seam[0].start, join.seam[-1].end)
    locked: set[str] = set()
    loose: set[str] = set()
    points: set[str] = set()
    for tick in join_ticks(pattern, join.label):
        nests = [nests for place, nests in places if distance(tick.place, place) <= 2 * SAME_POINT]
        if nests:
            (locked if nests[0] else loose).add(tick.letter)
        elif all(distance(tick.place, end) > 2 * SAME_POINT for end in ends):
            points.add(tick.letter)
    words = []
    if locked:
        words.append(
            f"At {_sorted(locked)} the seams of both sides lie opposite ways: push them together until they lock, and "
            "pin."
        )
    if loose:
        words.append(f"At {_sorted(loose)} push a pin through the seams of both sides, so that they meet.")
    if points:
        words.append(
            f"At {_sorted(points)} seams of one side end on the line you sew: keep that side up, and sew just across "
            "where their stitches cross."
        )
    return " ".join([*words, "Pin the ends."])


def _sorted(letters: set[str]) -> str:
    return listed(sorted(letters, key=lambda letter: (len(letter), letter)))


def _tips(pattern: Pattern, join: Join) -> str:
    """Where the raw corners of the two sides do not lie on one another, by how much a tip stands out."""
    s = pattern.recipe.make.allowance
    units = units_of(pattern)
    reach = []
    for place in (join.seam[0].start, join.seam[-1].end):
        angles = [_corner(units.outline(label).points, place) for label in (join.first, join.second)]
        a, b = (s / math.tan(angle / 2) for angle in angles)
        reach.append(abs(a - b))
    out = [size for size in reach if size > 1 / 64]
    if not out:
        return ""
    sizes = listed(list(dict.fromkeys(Say(pattern).roughly(size) for size in out)))
    where = "At each end" if len(out) == 2 else "At one end"
    return f" {where} a tip stands out past the other’s corner by about {sizes}: that is right."


def _corner(ring: Sequence[Point], place: Point) -> float:
    """The inner angle [rad] of a ring of points at the one nearest to a place; a half turn where none is near."""
    at = min(range(len(ring)), key=lambda i: distance(ring[i], place))
    if distance(ring[at], place) > LAID_ON:
        return math.pi
    (x, y), before, after = ring[at], ring[at - 1], ring[(at + 1) % len(ring)]
    u, v = (before[0] - x, before[1] - y), (after[0] - x, after[1] - y)
    return math.acos(max(-1.0, min(1.0, dot(u, v) / (math.hypot(*u) * math.hypot(*v)))))


def _pressing(pattern: Pattern, batch: Batch) -> str:
    if len(batch.kinds) == 1:
        return f"Press the seam {_toward(pattern, batch.model)}."
    told = []
    for number, kind in enumerate(batch.kinds):
        is_open = toward_of(pattern, pattern.construction.join(kind.labels[0])) == "open"
        how = "open" if is_open else _lying(pattern, batch.model) if number == 0 else "the other way"
        which = f" ({kind.name})" if _all_units(pattern, kind) else f" ({kind.name}: {_of(pattern, kind)})"
        told.append(f"{count_of(pattern, kind)} {how}{which}")
    return f"Press {listed(told)}."


def _all_units(pattern: Pattern, kind: Kind) -> bool:
    """Whether no patch is joined by itself in a kind, so that nothing tells its members apart but their pressing."""
    loose = set(pattern.construction.loose)
    join = pattern.construction.join(kind.labels[0])
    return not {join.first, join.second} & loose


def _of(pattern: Pattern, kind: Kind) -> str:
    """The patches by which the members of a kind are known."""
    loose = set(pattern.construction.loose)
    joins = [pattern.construction.join(label) for label in kind.labels]
    return "with " + listed([patch for join in joins for patch in (join.first, join.second) if patch in loose][:8])


def _toward(pattern: Pattern, label: str) -> str:
    join = pattern.construction.join(label)
    toward = toward_of(pattern, join)
    if toward != "open" and unit_words(pattern, join.first) == unit_words(pattern, join.second):
        return _lying(pattern, label)
    return "open" if toward == "open" else f"toward {unit_words(pattern, getattr(join, toward))}"


def _lying(pattern: Pattern, label: str) -> str:
    """Where a seam is pressed, by how its two sides lay when it was sewn."""
    join = pattern.construction.join(label)
    toward = toward_of(pattern, join)
    if toward == "open":
        return "open"
    is_over = getattr(join, toward) == under_and_over(pattern, join)[1]
    return f"toward what lay {'on top' if is_over else 'below'}"


def _measured(pattern: Pattern, batch: Batch) -> Words:
    return ["Each measures ", bold(unit_size_words(pattern, batch.model)), "."]

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
from seamproof.sheets.words_say import Say, counted, listed
from seamproof.tolerance import LAID_ON, SAME_POINT
from seamproof.tones import lightness
from seamproof.units import round_up

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.cutting.piecing import Batch, Kind
    from seamproof.cutting.ways import Way, WayKind
    from seamproof.geometry import Point
    from seamproof.pattern import Pattern
    from seamproof.sequence import Join
    from seamproof.sheets.handout_nodes import Words

_WHAT: Final[dict[WayKind, str]] = {
    "half-square": "squares of two triangles, two at a time",
    "quarter-square": "squares of four triangles",
    "geese": "flying geese, four at a time",
    "strip set": "strips sewn first, cut across afterwards",
}
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
        what = _WHAT[batch.way.kind]
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
        makers = {"half-square": _halves, "quarter-square": _quarters, "geese": _geese, "strip set": _strip_set}
        return makers[batch.way.kind](pattern, batch, batch.way)
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
        told.append(f"{_count(pattern, kind)} {how}{which}")
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


def _count(pattern: Pattern, kind: Kind) -> int:
    return len(kind.labels) * pattern.recipe.make.copies


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


def _toward_fabric(pattern: Pattern, label: str) -> str:
    """Where the seam of two patches is pressed, by fabric."""
    join = pattern.construction.join(label)
    toward = toward_of(pattern, join)
    return "open" if toward == "open" else f"toward {_letter(pattern, pattern.fabric(getattr(join, toward)).key)}"


def _measured(pattern: Pattern, batch: Batch) -> Words:
    return ["Each measures ", bold(unit_size_words(pattern, batch.model)), "."]


def _letter(pattern: Pattern, fabric: str) -> str:
    line = next(line for line in pattern.legend if line.key == fabric)
    return f"{line.letter} {line.name}"


def lighter_first(pattern: Pattern, fabrics: Sequence[str]) -> list[str]:
    """Fabrics from the lightest, on which a pencil line shows best."""
    colours = {line.key: line.colour for line in pattern.legend}
    return sorted(fabrics, key=lambda key: -lightness(colours[key]))


def _trimmed(pattern: Pattern, way: Way, where: str) -> Words:
    say = Say(pattern)
    width, height = (round_up(size - 1 / 128, say.fine.step) for size in way.size)
    over = f" {counted(way.over, 'is', 'are')} left over." if way.over else ""
    return ["Trim each to ", bold(f"{say.fine_pair(width, height)} unfinished"), f", {where}.{over}"]


def _draw_and_sew(pattern: Pattern) -> str:
    seam = Say(pattern).fine_size(pattern.recipe.make.allowance)
    return f"Sew {seam} from the line on one side of it, then on the other."


def _halves(pattern: Pattern, batch: Batch, way: Way) -> list[Words]:
    say = Say(pattern)
    upper, lower = (_letter(pattern, key) for key in lighter_first(pattern, [cut.fabric for cut in way.cuts]))
    told = [f"{_count(pattern, kind)} {_toward_fabric(pattern, kind.labels[0])}" for kind in batch.kinds]
    if len(batch.kinds) > 1:
        told = [f"{words} ({kind.name})" for words, kind in zip(told, batch.kinds, strict=True)]
    else:
        told = [f"the seam {_toward_fabric(pattern, batch.model)}"]
    return [
        (
            f"Take {way.times} squares of {say.size(way.cuts[0].width)} of {upper} and as many of {lower}. On the "
            f"wrong side of each {upper} square draw a line from corner to corner."
        ),
        f"Lay a drawn square on each other one, right sides together. {_draw_and_sew(pattern)}",
        f"Cut on the line: each pair gives two units. Open them and press {listed(told)}.",
        _trimmed(pattern, way, "with the seam running into two of its corners"),
    ]


def quarter_pairs(way: Way) -> list[tuple[str, str, int]]:
    """The pairs of squares quarter-square units start from: their fabrics, the repeated one first, and how many."""
    first, *others = way.cuts
    return [(first.fabric, other.fabric, other.cut) for other in others]


def _quarters(pattern: Pattern, batch: Batch, way: Way) -> list[Words]:
    say = Say(pattern)
    pairs = [f"{count} of {_letter(pattern, a)} with {_letter(pattern, b)}" for a, b, count in quarter_pairs(way)]
    toward = _first_toward(pattern, batch, way)
    first = _letter(pattern, way.cuts[0].fabric)
    told = listed([f"{_count(pattern, kind)} as {kind.name}" for kind in batch.kinds])
    last = f" Keep {told}: the map of pressing shows the difference." if len(batch.kinds) > 1 else ""
    laid = "a square of the one pair on a square of the other" if len(way.cuts) == 3 else "one square on another"
    return [
        (
            f"Pair squares of {say.size(way.cuts[0].width)}, right sides together: {listed(pairs)}. Draw a line from "
            f"corner to corner on the lighter of each. {_draw_and_sew(pattern)}"
        ),
        f"Cut on the line. Open each and press its seam {toward}. Do not trim yet.",
        (
            f"Lay {laid}, right sides together, so that {first} lies on the other fabric and the seams lock. "
            f"Draw a line from corner to corner across the seam. {_draw_and_sew(pattern)}"
        ),
        f"Cut on the line: each gives two units. Press them open and flat, the last seam to either side.{last}",
        _trimmed(pattern, way, "with the seams crossing in its middle and running into its corners"),
    ]


def _first_toward(pattern: Pattern, batch: Batch, way: Way) -> str:
    """Where the seam of each pair is pressed: the same way in all, toward the repeated fabric or away from it."""
    join = pattern.construction.join(batch.model)
    repeated = way.cuts[0].fabric
    sides = []
    for label in (join.first, join.second):
        half = pattern.construction.join(label)
        toward = toward_of(pattern, half)
        sides.append(None if toward == "open" else pattern.fabric(getattr(half, toward)).key == repeated)
    if sides == [False, False]:
        return f"away from {_letter(pattern, repeated)}"
    return f"toward {_letter(pattern, repeated)}"


def _geese(pattern: Pattern, batch: Batch, way: Way) -> list[Words]:
    say = Say(pattern)
    goose, wing = (_letter(pattern, cut.fabric) for cut in way.cuts)
    large, small = (say.size(cut.width) for cut in way.cuts)
    seam = say.fine_size(pattern.recipe.make.allowance)
    press = f"toward the {'large triangle' if _all_to_goose(pattern, batch, way) else 'small triangles'}"
    return [
        (
            f"For four geese take one square of {large} of {goose} and four of {small} of {wing}; make {way.times} "
            "such sets. On the wrong side of each small square draw a line from corner to corner."
        ),
        (
            "Lay two small squares face down in opposite corners of the large one, edges even. They overlap a little "
            f"in the middle, and their lines make one line. {_draw_and_sew(pattern)}"
        ),
        f"Cut on the line. Press the seams {press}.",
        (
            "Lay a small square face down in the square corner of each half, its line running out between the two "
            f"small triangles. {_draw_and_sew(pattern)} Cut on the line and press {press}."
        ),
        _trimmed(pattern, way, f"with the point of the goose {seam} below the middle of one long edge"),
    ]


def _all_to_goose(pattern: Pattern, batch: Batch, way: Way) -> bool:
    goose = set(way.cuts[0].patches)
    for label in batch.labels:
        for join in _inner(pattern, label):
            toward = toward_of(pattern, join)
            if toward == "open" or not goose & set(pattern.construction.patches_of(getattr(join, toward))):
                return False
    return True


def _inner(pattern: Pattern, label: str) -> list[Join]:
    """A join and all joins within its unit."""
    joins = {join.label: join for join in pattern.construction.joins}
    found, stack = [], [label]
    while stack:
        join = joins.get(stack.pop())
        if join:
            found.append(join)
            stack += [join.first, join.second]
    return found


def _strip_set(pattern: Pattern, batch: Batch, way: Way) -> list[Words]:
    say = Say(pattern)
    order = listed([f"{_letter(pattern, cut.fabric)} ({say.size(cut.height)})" for cut in way.cuts], "then")
    sets = "one set" if way.times == 1 else f"{way.times} sets"
    across = say.fine_pair(*way.size)
    over = f" {counted(way.over, 'is', 'are')} left over." if way.over else ""
    return [
        (
            f"Sew strips of {say.size(way.cuts[0].width)} together along their length, side by side in this order: "
            f"{order}. Make {sets}. Begin each seam at the other end from the last, so that the set stays straight."
        ),
        f"{_strip_pressing(pattern, batch, way)} The set is {say.fine_size(way.size[0])} wide.",
        [
            (
                f"Square one end, then cut the set across every {say.size(way.length)}: {counted(way.makes, 'piece')} "
                f"from {'it' if way.times == 1 else 'each set'}. Each is a unit and measures "
            ),
            bold(f"{across} unfinished"),
            f".{over}",
        ],
    ]


def _strip_pressing(pattern: Pattern, batch: Batch, way: Way) -> str:
    """How the seams of a set are pressed: all toward one fabric, or seam by seam in the order of the strips."""
    at = way.labels.index(batch.model)
    row = [cut.patches[at] for cut in way.cuts]
    told = [_between(pattern, batch.model, p, q) for p, q in pairwise(row)]
    if len(set(told)) == 1:
        return f"Press {'every seam' if len(told) > 1 else 'the seam'} {told[0]}."
    return f"Press the seams, in the order of the strips, {listed(told)}."


def _between(pattern: Pattern, label: str, p: str, q: str) -> str:
    """Where the seam between two patches of a unit is pressed, by fabric."""
    construction = pattern.construction
    for join in _inner(pattern, label):
        toward = toward_of(pattern, join)
        sides = [construction.patches_of(join.first), construction.patches_of(join.second)]
        if all(len({p, q} & set(side)) == 1 for side in sides):
            if toward == "open":
                return "open"
            patch = p if p in construction.patches_of(getattr(join, toward)) else q
            return f"toward {_letter(pattern, pattern.fabric(patch).key)}"
    return "open"

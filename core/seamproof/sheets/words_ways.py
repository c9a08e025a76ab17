"""The words of ways of making units: what is cut, sewn, cut apart and pressed, and how large the units come out."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Final

from seamproof.cutting.pressed_alike import alike_of
from seamproof.sheets.handout_nodes import bold
from seamproof.sheets.words_joins import toward_of
from seamproof.sheets.words_say import Say, counted, listed
from seamproof.tones import lightness
from seamproof.units import round_up

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from seamproof.cutting.piecing import Batch, Kind
    from seamproof.cutting.ways import Way, WayKind
    from seamproof.pattern import Pattern
    from seamproof.sequence import Join
    from seamproof.sheets.handout_nodes import Words

WHAT: Final[dict[WayKind, str]] = {
    "half-square": "squares of two triangles, two at a time",
    "eight half-squares": "squares of two triangles, eight at a time",
    "quarter-square": "squares of four triangles",
    "half and quarters": "squares of a large and two small triangles",
    "geese": "flying geese, four at a time",
    "corners": "corners sewn on and turned over",
    "strip set": "strips sewn first, cut across afterwards",
}


def way_words(pattern: Pattern, batch: Batch, way: Way) -> list[Words]:
    """How the units of a batch are made by a way, from first to last."""
    makers: dict[WayKind, Callable[[Pattern, Batch, Way], list[Words]]] = {
        "half-square": _halves, "eight half-squares": _eight, "quarter-square": _quarters, "half and quarters": _three,
        "geese": _geese, "corners": _corners, "strip set": _strip_set,
    }  # fmt: skip
    return makers[way.kind](pattern, batch, way)


def count_of(pattern: Pattern, kind: Kind) -> int:
    """How many units of a kind all copies of the block take."""
    return len(kind.labels) * pattern.recipe.make.copies


def letter_of(pattern: Pattern, fabric: str) -> str:
    """A fabric by its letter and its name."""
    line = next(line for line in pattern.legend if line.key == fabric)
    return f"{line.letter} {line.name}"


def lighter_first(pattern: Pattern, fabrics: Sequence[str]) -> list[str]:
    """Fabrics from the lightest, on which a pencil line shows best."""
    colours = {line.key: line.colour for line in pattern.legend}
    return sorted(fabrics, key=lambda key: -lightness(colours[key]))


def toward_fabric(pattern: Pattern, label: str) -> str:
    """Where the seam of two patches is pressed, by fabric."""
    join = pattern.construction.join(label)
    toward = toward_of(pattern, join)
    return "open" if toward == "open" else f"toward {letter_of(pattern, pattern.fabric(getattr(join, toward)).key)}"


def _trimmed(pattern: Pattern, way: Way, where: str) -> Words:
    say = Say(pattern)
    width, height = (round_up(size - 1 / 128, say.fine.step) for size in way.size)
    over = f" {counted(way.over, 'is', 'are')} left over." if way.over else ""
    return ["Trim each to ", bold(f"{say.fine_pair(width, height)} unfinished"), f", {where}.{over}"]


def _draw_and_sew(pattern: Pattern, line: str = "the line") -> str:
    seam = Say(pattern).fine_size(pattern.recipe.make.allowance)
    return f"Sew {seam} from {line} on one side of it, then on the other."


def _halves(pattern: Pattern, batch: Batch, way: Way) -> list[Words]:
    say = Say(pattern)
    upper, lower = (letter_of(pattern, key) for key in lighter_first(pattern, [cut.fabric for cut in way.cuts]))
    return [
        (
            f"Take {way.times} squares of {say.size(way.cuts[0].width)} of {upper} and as many of {lower}. On the "
            f"wrong side of each {upper} square draw a line from corner to corner."
        ),
        f"Lay a drawn square on each other one, right sides together. {_draw_and_sew(pattern)}",
        f"Cut on the line: each pair gives two units. Open them and press {_told_halves(pattern, batch)}.",
        _trimmed(pattern, way, "with the seam running into two of its corners"),
    ]


def _told_halves(pattern: Pattern, batch: Batch) -> str:
    """Where the seams of squares of two triangles are pressed, by kind."""
    told = [f"{count_of(pattern, kind)} {toward_fabric(pattern, kind.labels[0])}" for kind in batch.kinds]
    if len(batch.kinds) > 1:
        return listed([f"{words} ({kind.name})" for words, kind in zip(told, batch.kinds, strict=True)])
    return f"the seam {toward_fabric(pattern, batch.model)}"


def _eight(pattern: Pattern, batch: Batch, way: Way) -> list[Words]:
    say = Say(pattern)
    upper, lower = (letter_of(pattern, key) for key in lighter_first(pattern, [cut.fabric for cut in way.cuts]))
    side = way.cuts[0].width
    pairs = (way.needed + 1) // 2
    why = f"{counted(way.times, 'pair')} of squares instead of {pairs}, and half as many lines to draw"
    return [
        (
            f"Take {counted(way.times, 'square')} of {say.size(side)} of {upper} and as many of {lower}. On the wrong "
            f"side of each {upper} square draw both lines from corner to corner. (Eight at a time takes {why}; two "
            f"at a time serves as well, with {pairs} squares of {say.size(side / 2)} of either.)"
        ),
        f"Lay a drawn square on each other one, right sides together. {_draw_and_sew(pattern, 'each line')}",
        (
            f"Cut each pair in four, {say.size(side / 2)} from its edges, through the middle both ways; then cut on "
            "the lines: each pair gives eight units, with straight grain outside. Open them and press "
            f"{_told_halves(pattern, batch)}."
        ),
        _trimmed(pattern, way, "with the seam running into two of its corners"),
    ]


def quarter_pairs(way: Way) -> list[tuple[str, str, int]]:
    """The pairs of squares quarter-square units start from: their fabrics, the repeated one first, and how many."""
    first, *others = way.cuts
    return [(first.fabric, other.fabric, other.cut) for other in others]


def _quarters(pattern: Pattern, batch: Batch, way: Way) -> list[Words]:
    say = Say(pattern)
    pairs = [f"{count} of {letter_of(pattern, a)} with {letter_of(pattern, b)}" for a, b, count in quarter_pairs(way)]
    toward = _first_toward(pattern, way)
    first = letter_of(pattern, way.cuts[0].fabric)
    last = _crossed_toward(pattern, batch, way)
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
        f"Cut on the line: each gives two units. Open them; press the last seam {last}.",
        (
            "Of the two, one has its last seam along the other line from corner to corner than the picture shows. Both "
            "serve; where seams do not lock beside it, pin through the point."
        ),
        _trimmed(pattern, way, "with the seams crossing in its middle and running into its corners"),
    ]


def _crossed_toward(pattern: Pattern, batch: Batch, way: Way) -> str:
    """Where the last seam of quarter-square units is pressed; of two fabrics alone a half turn changes its side."""
    if len(way.cuts) == 2:
        kinds = listed([f"{count_of(pattern, kind)} as {kind.name}" for kind in batch.kinds])
        return f"to either side{f' (keep {kinds})' if len(batch.kinds) > 1 else ''}"
    told = []
    for kind in batch.kinds:
        join = pattern.construction.join(kind.labels[0])
        toward = toward_of(pattern, join)
        half = set() if toward == "open" else set(pattern.construction.patches_of(getattr(join, toward)))
        other = next((cut.fabric for cut in way.cuts[1:] if half & set(cut.patches)), None)
        how = f"toward the half with {letter_of(pattern, other)}" if other else "open"
        told.append(f"of {count_of(pattern, kind)} {how} ({kind.name})" if len(batch.kinds) > 1 else how)
    return listed(told)


def _alike_toward(pattern: Pattern, way: Way) -> bool | None:
    """Whether what a way presses before it cuts lies toward the side that `alike_of` names; None: open."""
    label, side = alike_of(pattern.construction, way)[0]
    toward = toward_of(pattern, pattern.construction.join(label))
    return None if toward == "open" else toward == side


def _first_toward(pattern: Pattern, way: Way) -> str:
    """Where the seam of each pair is pressed: the same way in all, as the plan of pressing has it."""
    is_toward = _alike_toward(pattern, way)
    if is_toward is None:
        return "open"
    fabric = way.cuts[1 if way.kind == "half and quarters" else 0].fabric
    return f"{'toward' if is_toward else 'away from'} {letter_of(pattern, fabric)}"


def _three(pattern: Pattern, batch: Batch, way: Way) -> list[Words]:
    say = Say(pattern)
    half, first, second = (letter_of(pattern, cut.fabric) for cut in way.cuts)
    large, small = (say.size(cut.width) for cut in way.cuts[:2])
    lines = "" if way.times == 1 else " each"
    hands = listed([f"{count_of(pattern, kind)} as {kind.name}" for kind in batch.kinds])
    kept = f" Keep {hands}." if len(batch.kinds) > 1 else ""
    return [
        (
            f"Pair {counted(way.times, 'square')} of {small}{lines} of {first} and of {second}, right sides together. "
            f"Draw a line from corner to corner on the lighter. {_draw_and_sew(pattern)}"
        ),
        f"Cut on the line. Open each and press its seam {_first_toward(pattern, way)}. Do not trim yet.",
        (
            f"Lay a square of {large} of {half} ({way.cuts[0].cut} in all) on each, right sides together, edges even. "
            f"Draw a line from corner to corner across the seam. {_draw_and_sew(pattern)}"
        ),
        (
            "Cut on the line: each gives one unit and one that is its mirror image; both are needed. Press the last "
            f"seam {_last_toward(pattern, batch, way)}.{kept}"
        ),
        _trimmed(pattern, way, "with the long seam running into two of its corners and the short one into a third"),
    ]


def _last_toward(pattern: Pattern, batch: Batch, way: Way) -> str:
    """Where the long seam of half and quarters is pressed, by kind where kinds differ."""
    halves = set(way.cuts[0].patches)
    told = {}
    for kind in batch.kinds:
        join = pattern.construction.join(kind.labels[0])
        toward = toward_of(pattern, join)
        is_half = toward != "open" and bool(halves & set(pattern.construction.patches_of(getattr(join, toward))))
        told[kind.name] = "open" if toward == "open" else f"toward the {'large triangle' if is_half else 'small ones'}"
    if len(set(told.values())) == 1:
        return next(iter(told.values()))
    return listed([f"of {name} {how}" for name, how in told.items()])


def _corners(pattern: Pattern, batch: Batch, way: Way) -> list[Words]:
    say = Say(pattern)
    base, *squares = way.cuts
    seam = say.fine_size(pattern.recipe.make.allowance)
    shape = "square" if base.width == base.height else "rectangle"
    size = say.size(base.width) if shape == "square" else say.pair(base.width, base.height)
    each = listed(
        [
            f"{counted(cut.cut // way.needed, 'square')} of {say.size(cut.width)} of {letter_of(pattern, cut.fabric)}"
            for cut in squares
        ]
    )
    return [
        (
            f"For each unit take a {shape} of {size} of {letter_of(pattern, base.fabric)} and {each}. On the wrong "
            "side of each small square draw a line from corner to corner. (So no edge on the bias is handled before "
            "it is sewn; it takes more cloth than triangles do.)"
        ),
        (
            f"Lay a small square face down on a corner of the {shape}, edges even, its line cutting the corner off as "
            "in the picture of the unit. Sew on the line, a thread’s width toward the corner. Trim both layers "
            f"{seam} past the seam, and turn the square over the corner."
        ),
        f"Press the seam {_corner_toward(pattern, batch, way)} and go on with the next corner.",
        ["Each measures ", bold(f"{say.fine_pair(*way.size)} unfinished"), "."],
    ]


def _corner_toward(pattern: Pattern, batch: Batch, way: Way) -> str:
    """Where the seams of corners are pressed; where they differ, the map tells."""
    base = set(way.cuts[0].patches)
    told = set()
    for join in (join for label in batch.labels for join in _inner(pattern, label)):
        toward = toward_of(pattern, join)
        is_base = toward != "open" and bool(base & set(pattern.construction.patches_of(getattr(join, toward))))
        told.add("open" if toward == "open" else f"toward the {'large piece' if is_base else 'corner'}")
    if len(told) == 1:
        return told.pop()
    kinds = f" ({listed([f'{count_of(pattern, kind)} as {kind.name}' for kind in batch.kinds])})"
    return f"as the map of pressing shows it{kinds if len(batch.kinds) > 1 else ''}"


def _geese(pattern: Pattern, _batch: Batch, way: Way) -> list[Words]:
    say = Say(pattern)
    goose, wing = (letter_of(pattern, cut.fabric) for cut in way.cuts)
    large, small = (say.size(cut.width) for cut in way.cuts)
    seam = say.fine_size(pattern.recipe.make.allowance)
    is_toward = _alike_toward(pattern, way)
    press = "open" if is_toward is None else f"toward the {'large triangle' if is_toward else 'small triangles'}"
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
    order = listed([f"{letter_of(pattern, cut.fabric)} ({say.size(cut.height)})" for cut in way.cuts], "then")
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
            return f"toward {letter_of(pattern, pattern.fabric(patch).key)}"
    return "open"

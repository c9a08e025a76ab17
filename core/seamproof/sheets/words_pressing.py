"""The words of pressing: for each join where its allowances lie, what meets, what shows, and blocks in rows."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.geometry.points import distance_to_segment
from seamproof.sheets.handout_nodes import bold
from seamproof.sheets.words_joins import join_names, toward_of, unit_words
from seamproof.sheets.words_say import Say, counted, listed, parted
from seamproof.sheets.words_steps import named_unit
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.geometry import Point
    from seamproof.pattern import Pattern
    from seamproof.planning.pressing_quilt import RowWay
    from seamproof.sheets.handout_nodes import Words
    from seamproof.sheets.pressing_svg import Sign

MAP_SIDE: Final = (
    "The block from the back, as it lies when you press: the mirror image of its front. Heavy lines are "
    "joins, light ones seams inside a unit."
)

KEY: Final[dict[Sign, str]] = {
    "join": "Press the seam of a join this way.",
    "paper": "A seam on paper: it lies toward the newer patch, as it falls when that is flipped.",
    "open": "Press the seam open, one allowance to each side.",
    "dark": "A darker allowance lies under lighter cloth.",
    "nests": "Seams meet and nest: their allowances lie opposite ways and lock when you push them together.",
    "spins": "Seams nest, and the allowances may be spun.",
    "misses": "Seams meet and do not nest. Pin straight through the point, baste, open and look, then sew.",
}

SPIN: Final = (
    "To spin a point: before you press the last seam, take out the two or three stitches inside the allowance beyond "
    "the point, on both sides. Hold the block by the point, turn the allowances round it all one way, like a "
    "pinwheel, and press. The last seam then lies one way on one side of the point and the other way beyond it, and "
    "the middle is no thicker than a seam."
)

STEP: Final = 1 / 16
"""[in] By how much one allowance is trimmed narrower than the next. Common practice, no source."""
_MOST: Final = 6
"""How many patches that meet at a point are named."""
_MANY: Final = 3
"""How many places are named before the rest are counted."""


def names_at(pattern: Pattern, place: Point) -> list[str]:
    """The names of the patches that meet at a point, in the order of the names."""
    names = []
    for patch in pattern.block.patches:
        ring = patch.outline.polygon
        sides = zip(ring, (*ring[1:], ring[0]), strict=True)
        if any(distance_to_segment(place, a, b) <= 3 * SAME_POINT for a, b in sides):
            names.append(pattern.names[patch.id])
    return sorted(names, key=parted)


def where_words(pattern: Pattern, place: Point) -> str:
    """A point, by the patches that meet there: "A2, A3 and B1 meet"; of more than six the first."""
    names = names_at(pattern, place)
    told = listed(names) if len(names) <= _MOST else f"{names[0]} and {len(names) - 1} more patches"
    return f"{told} meet"


def ranged(names: Sequence[str]) -> str:
    """Names with runs drawn together, in the order given.

    >>> ranged(["A2", "A3", "A4", "B1", "B7", "B6"]), ranged(["J9", "J8", "J7"])
    ('A2 to A4, B1, B7 and B6', 'J9 to J7')
    """
    runs: list[list[str]] = []
    for name in names:
        run = runs[-1] if runs else []
        if run and _follows(run, name):
            run.append(name)
        else:
            runs.append([name])
    return listed([part for run in runs for part in (run if len(run) < 3 else [f"{run[0]} to {run[-1]}"])])


def _follows(run: Sequence[str], name: str) -> bool:
    (letters, number, rest), (before, last, tail) = parted(name), parted(run[-1])
    if letters != before or rest or tail or abs(number - last) != 1:
        return False
    return len(run) == 1 or number - last == last - parted(run[-2])[1]


def join_rows(pattern: Pattern) -> list[tuple[str, str]]:
    """For each join its label and where it is pressed; units made in batches once, and not what is within them."""
    if pattern.piecing:
        kinds = [kind for batch in pattern.piecing.batches if not batch.way for kind in batch.kinds]
        return [(kind.name, _pressed(pattern, kind.labels)) for kind in kinds]
    return [(join.label, _pressed(pattern, [join.label])) for join in pattern.construction.joins]


def _pressed(pattern: Pattern, labels: Sequence[str]) -> str:
    """Where the seams of joins that are pressed alike lie."""
    joins = [pattern.construction.join(label) for label in labels]
    way = toward_of(pattern, joins[0])
    if way == "open":
        return "open"
    sides = [join.first if toward_of(pattern, join) == "first" else join.second for join in joins]
    return f"toward {listed(list(dict.fromkeys(unit_words(pattern, side) for side in sides)))}"


def paper_words(pattern: Pattern) -> str:
    """How the seams on paper lie; nothing where there is no paper."""
    if not pattern.construction.foundations:
        return ""
    laid = ", or the finished unit laid there" if pattern.construction.laid else ""
    return f"On paper every seam lies toward the newer patch{laid}: the higher number of the two."


def meeting_words(pattern: Pattern) -> str:
    """How many places seams meet at, and where they do not nest."""
    plan = pattern.pressing
    places = {meeting.place: True for meeting in plan.meetings}
    for meeting in plan.meetings:
        places[meeting.place] &= meeting.nests
    across = "a join or the line of a laid unit" if pattern.construction.laid else "a join"
    if not places:
        return f"No two seams have to meet across {across}: there is nothing to match."
    missed = [place for place, nests in places.items() if not nests]
    proven = " No plan of pressing has fewer that do not nest (proven)." if plan.proven and missed else ""
    where = f"Seams meet across {across} at {counted(len(places), 'place')}"
    if not missed:
        return f"{where}, and {'they nest' if len(places) == 1 else 'nest at each of them'}."
    named = listed([where_words(pattern, place) for place in missed[:_MANY]])
    more = f", and at {len(missed) - _MANY} more" if len(missed) > _MANY else ""
    return (
        f"{where}; at {len(missed)} they do not nest: where {named}{more}. Pin straight through the point, baste, open "
        f"and look, then sew.{proven}"
    )


def dark_words(pattern: Pattern) -> Words | None:
    """Which darker allowances lie under lighter cloth, and what to do; None where none does."""
    seams = [seam for seam in pattern.pressing.seams if seam.dark]
    if not seams:
        return None
    labels = {join.label for join in pattern.construction.joins}
    on_paper = sorted((pattern.names[seam.patch] for seam in seams if seam.patch is not None), key=parted)
    joins = join_names(pattern, [seam.join for seam in seams if seam.join in labels and seam.join is not None])
    parts = [f"where {ranged(on_paper)} {'is' if len(on_paper) == 1 else 'are'} sewn on,"] if on_paper else []
    units = [f"{named_unit(pattern, unit)} is laid" for seam in seams if (unit := seam.unit) is not None]
    parts += [f"where {listed(units)},"] if units else []
    parts += [f"at {ranged(joins)},"] if joins else []
    return [
        bold("Dark under light: "),
        (
            f"{' and '.join(parts)} a darker allowance lies under lighter cloth. Trim the darker one a little narrower "
            f"than the lighter one, by {Say(pattern).small(STEP)}, so that it does not show through."
        ),
    ]


def may_spin(pattern: Pattern) -> bool:
    """Whether any point may be spun, in the block or where four blocks meet."""
    is_inside = any(meeting.spins for meeting in pattern.pressing.meetings)
    return is_inside or bool(pattern.rows and pattern.rows.best.spins)


def row_words(pattern: Pattern) -> Words | None:
    """What to do so that seams of neighbouring blocks nest; None for one block or where it cannot be told."""
    advice = pattern.rows
    if advice is None:
        return None
    alike, best = advice.alike, advice.best
    setting = f"Set {advice.columns} × {advice.rows}"
    corners = _corner_words(best)
    if not alike.meetings:
        none = f"{setting}, no seams of neighbouring blocks meet along their edges: there is nothing to match."
        way = "" if best is alike else f" {_way_words(pattern, best)} and {_now(best, alike)}."
        return [bold("In rows: "), f"{none}{way}{corners}"]
    places = f"{setting}, seams of neighbouring blocks meet at {counted(alike.meetings, 'place')}"
    is_all = alike.nests == alike.meetings
    met = f"{places} and nest at {'all' if is_all else alike.nests or 'none'} of them"
    if best is not alike:
        return [bold("In rows: "), f"{met}. {_way_words(pattern, best)} and {_now(best, alike)}.{corners}"]
    if is_all:
        return [bold("In rows: "), f"{met}, every block laid the same way.{corners}"]
    told = "No turn that keeps the picture, and no other pressing of every second block, nests more (proven)."
    return [bold("In rows: "), f"{met}. {told} Pin through each of these points and baste.{corners}"]


def _now(way: RowWay, alike: RowWay) -> str:
    if way.nests == alike.nests:
        return "more nest where four blocks meet"
    return "all nest" if way.nests == way.meetings else f"{way.nests} nest"


def _corner_words(way: RowWay) -> str:
    """What to do where four blocks meet, after a space; nothing where none do."""
    if not way.corners:
        return ""
    points = f"{'the point' if way.corners == 1 else f'each of the {way.corners} points'} where four blocks meet"
    turns = (
        "Press the seams between blocks one way in the first row, the other way in the next, and so on: at "
        f"{points} they nest"
    )
    if way.spins == way.corners:
        return f" {turns}, and {'it' if way.corners == 1 else 'each'} may be spun."
    if way.corners_nest == way.corners:
        return f" {turns}, and so do the seams that run into the corners of the blocks."
    return (
        f" {turns}; the seams that run into the corners of the blocks do so at {way.corners_nest or 'none'}. Pin "
        "straight through the point, baste, open and look, then sew."
    )


def _way_words(pattern: Pattern, way: RowWay) -> str:
    second = "every second block, like the dark squares of a chessboard,"
    if way.way == "half turn":
        return f"Turn {second} upside down: the picture stays the same,"
    if way.way == "quarter turn":
        return f"Turn {second} a quarter turn: the picture stays the same,"
    other = join_names(pattern, [label for label, toward in way.joins if toward != "open"])
    opened = join_names(pattern, [label for label, toward in way.joins if toward == "open"])
    told = [f"{ranged(other)} the other way"] if other else []
    told += [f"{ranged(opened)} open"] if opened else []
    return f"In {second} press {' and '.join(told)}"

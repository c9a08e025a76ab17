"""The words of sewing by hand over papers."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.geometry.points import distance_to_segment, sides
from seamproof.sheets.handout_nodes import bold
from seamproof.sheets.leaves import units_of
from seamproof.sheets.words_say import Say, counted, listed, times
from seamproof.tolerance import CHORD, SAME_POINT

if TYPE_CHECKING:
    from seamproof.geometry import Edge
    from seamproof.pattern import Pattern
    from seamproof.sequence import Join
    from seamproof.sheets.handout_nodes import Words

WHIPPED: Final = 16
"""[stitches to the inch] Common practice, no source."""

OUTER: Final = (
    "The papers of the patches at the edge stay in until the block has been sewn to its neighbours, or to its ground: "
    "only then do its edges keep their shape. To take a paper out, cut the basting and lift the paper; press the patch "
    "from both sides."
)
"""When the papers at the block's edge come out."""


def basting(pattern: Pattern) -> list[Words]:
    """From paper and cloth to a basted patch."""
    say = Say(pattern)
    seam = say.fine_size(pattern.recipe.make.allowance)
    count = len(pattern.block.patches) * pattern.recipe.make.copies
    return [
        (
            f"Cut {counted(count, 'paper')} on the dashed lines of the templates, exactly: a paper is the finished "
            f"patch, without allowance. Cut the cloth on the solid lines, {seam} larger all round; here a little more "
            "does no harm."
        ),
        (
            "Lay each paper in the middle of the wrong side of its cloth, its printed side in sight. Hold it with a "
            "pin or a dab of glue."
        ),
        (
            "Fold the allowance over the edge of the paper, one edge after another, and fold each corner flat. Baste "
            "with long stitches, through cloth and paper or through the folded corners alone. The fold lies close on "
            "the paper and does not bend it."
        ),
    ]


def whipping(pattern: Pattern) -> list[Words]:
    """How two edges are sewn together."""
    say = Say(pattern)
    return [
        (
            "Lay the new patch on its neighbour, right sides together, so that the edge to be sewn lies on the edge it "
            "belongs to and their corners meet."
        ),
        (
            f"Knot the thread and hide the knot in the folded allowance. Take two stitches at the corner, then whip "
            f"the edges from end to end, about {WHIPPED} stitches to the inch ({say.fine_size(1 / WHIPPED)} each), "
            "each through a few threads of both folds and not through the papers. End with two stitches at the corner."
        ),
        (
            "Where the dashed line turns, at a dot, do not cut the thread: bend the papers until the next two edges "
            "lie on each other, and sew on. Open the seam flat from the front now and then."
        ),
    ]


def first_words(pattern: Pattern, join: Join) -> tuple[str, Words]:
    """The head and the words of the first seam."""
    a, b = (pattern.names[label] for label in (join.first, join.second))
    return f"{join.label} · {a} and {b}", f"Sew {a} to {b} along their common edge."


def step_words(pattern: Pattern, join: Join, new: str) -> tuple[str, Words]:
    """The head and the words of sewing on one patch: to which neighbours in turn, and what papers may come out."""
    beside = neighbours(pattern, join, new)
    name = pattern.names[new]
    words = f"Sew {name} to {listed([pattern.names[patch] for patch in beside], 'and on to')}"
    count = len(join.pivots)
    turn = f", turning {times(count)}" if count else ""
    out = papers_out(pattern, join)
    told: list[str | dict[str, str]] = [f"{words}{turn}."]
    if out:
        papers = "paper" if len(out) == 1 else "papers"
        told += [bold(f" Take out {papers} {listed(out)}.")]
    return f"{join.label} · {name}", told


def new_patch(pattern: Pattern, join: Join) -> str:
    """The patch that a join sews on: its single side; of two patches the first."""
    singles = [label for label in (join.first, join.second) if len(pattern.construction.patches_of(label)) == 1]
    return singles[0]


def neighbours(pattern: Pattern, join: Join, new: str) -> list[str]:
    """The patches that a new one is sewn to, in the order in which its seam runs."""
    other = join.first if join.second == new else join.second
    found: list[str] = []
    for edge in join.seam:
        for patch in pattern.construction.patches_of(other):
            if _lies_along(pattern.block.patch(patch).outline.polygon, edge) and found[-1:] != [patch]:
                found.append(patch)
                break
    return list(dict.fromkeys(found))


def _lies_along(ring: tuple[tuple[float, float], ...], edge: Edge) -> bool:
    return any(distance_to_segment(edge.middle, p, q) <= 3 * SAME_POINT + CHORD for p, q in sides(ring))


def papers_out(pattern: Pattern, join: Join) -> list[str]:
    """The patches that have all their neighbours after a join and had not before; none at the block's edge."""
    pm, ids = units_of(pattern).map, pattern.block.ids
    done = set(pattern.construction.patches_of(join.label))
    before = {frozenset(pattern.construction.patches_of(label)) for label in (join.first, join.second)}
    around: dict[str, set[str | None]] = {patch: set() for patch in ids}
    for edge in pm.edges:
        a = ids[edge.left]
        b = ids[edge.right] if edge.is_inner else None
        around[a].add(b)
        if b is not None:
            around[b].add(a)
    inner = {patch: {n for n in near if n} for patch, near in around.items() if None not in near}
    closed = [patch for patch, near in inner.items() if {patch, *near} <= done]
    return [pattern.names[patch] for patch in closed if not any({patch, *inner[patch]} <= part for part in before)]

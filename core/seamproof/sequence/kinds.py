"""Every field of a construction held to its kind, before anybody works with it."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Final

from seamproof.errors import BlockError
from seamproof.geometry import Edge
from seamproof.given import (
    COUNT,
    POINTS,
    TEXT,
    TRUTH,
    Rule,
    above_zero,
    check_fields,
    instance,
    of_kind,
    optional,
    tuple_of,
)
from seamproof.sequence.construction import Bounds, Construction, Foundation, Join, Step

if TYPE_CHECKING:
    from collections.abc import Mapping

    from seamproof.block import Block

NAMES: Final = tuple_of(TEXT, "a tuple of names (texts)")
SEAM: Final = tuple_of(instance(Edge, "an Edge"), "a tuple of Edges")


_FIRST: Final = "replay it, to see what is wrong with it"


def _is_relation(value: object) -> bool:
    return isinstance(value, frozenset) and all(NAMES.is_met(pair) and len(pair) == 2 for pair in value)


_FOUNDATION: Final[Mapping[str, Rule]] = {
    "label": TEXT,
    "order": NAMES,
    "groups": tuple_of(NAMES, "a tuple of tuples of names (texts)"),
    "precedes": Rule("a frozenset of pairs of names (texts)", _is_relation),
    "twin_of": optional(TEXT),
}
_JOIN: Final[Mapping[str, Rule]] = {
    "label": TEXT,
    "first": TEXT,
    "second": TEXT,
    "seam": SEAM,
    "kind": TEXT,
    "pivots": POINTS,
    "passes": tuple_of(SEAM, "a tuple of tuples of Edges"),
}
_STEP: Final[Mapping[str, Rule]] = {
    "kind": TEXT,
    "seam": SEAM,
    **dict.fromkeys(("foundation", "patch", "join", "unit"), optional(TEXT)),
}
_BOUNDS: Final[Mapping[str, Rule]] = dict.fromkeys(("foundations", "pivots", "partial_seams"), COUNT)
_CONSTRUCTION: Final[Mapping[str, Rule]] = {
    "foundations": tuple_of(instance(Foundation, "a Foundation"), "a tuple of Foundations"),
    "loose": NAMES,
    "joins": tuple_of(instance(Join, "a Join"), "a tuple of Joins"),
    "steps": tuple_of(instance(Step, "a Step"), "a tuple of Steps"),
    "bounds": instance(Bounds, "Bounds"),
    "optimal": TRUTH,
}


def check_construction(value: object) -> Construction:
    """A construction whose every field is of its kind. What it says may still be wrong.

    Raises:
        ArgumentError: it is none, or a field of it or of one of its parts is of another kind.
    """
    con = of_kind(value, Construction, "construction", "give what seamproof.plan gives")
    check_fields(con, _CONSTRUCTION, "construction")
    check_fields(con.bounds, _BOUNDS, "bounds")
    for foundation in con.foundations:
        check_fields(foundation, _FOUNDATION, f"foundation {foundation.label}")
    for join in con.joins:
        check_fields(join, _JOIN, f"join {join.label}")
    for number, step in enumerate(con.steps, 1):
        check_fields(step, _STEP, f"step {number}")
    return con


def check_sewn(block: Block, construction: Construction, allowance: object) -> float:
    """A block, a construction of its patches and an allowance, each of its kind. Gives the allowance [in].

    A construction that the referee accepts passes; one that he never saw is looked at as far as it must be, to be cut
    for at all.

    Raises:
        ArgumentError: the block is no Block, or the construction is none.
        LengthError: the allowance is not a size above zero.
        BlockError: the construction is of another block, uses a unit that is not made or used already, or has a seam
            without length.
    """
    size = check_given(block, construction, allowance)
    _check_patches(block, construction)
    parts = {foundation.label: foundation.order for foundation in construction.foundations}
    parts |= {join.label: (join.first, join.second) for join in construction.joins}
    labels = [foundation.label for foundation in construction.foundations] + [join.label for join in construction.joins]
    names = Counter([*construction.loose, *labels])
    used = Counter(part for label in parts for part in parts[label])
    made, left = set(construction.loose), dict(parts)
    while ready := [label for label, row in left.items() if all(part in made or part[:1].isdigit() for part in row)]:
        for label in ready:
            made.add(label)
            del left[label]
    for name in dict.fromkeys([*names, *used]):
        if names[name] > 1 or used[name] > 1 or name in left or not parts.get(name, (name,)):
            raise BlockError(f"unit {name!r} of the construction is made or used twice, or not at all: {_FIRST}")
    seams = [(join.label, join.seam) for join in construction.joins]
    for label, seam in seams + [(step.name or "", step.seam) for step in construction.steps if step.seam]:
        if not seam or seam[0].start == seam[-1].end or any(edge.start == edge.end for edge in seam):
            raise BlockError(f"the seam of {label} in the construction has no length: {_FIRST}")
    return size


def _check_patches(block: Block, construction: Construction) -> None:
    parts = [part for foundation in construction.foundations for part in foundation.order]
    used = Counter([*construction.loose, *(part for part in parts if part not in construction.laid)])
    known = dict.fromkeys(block.ids)
    odd = [patch for patch in {**known, **used} if patch not in known or used[patch] != 1]
    if odd:
        raise BlockError(
            f"the construction does not sew each patch of block {block.title!r} once (look at {', '.join(odd)}): "
            "it may be of another block; plan this one",
            patches=odd,
        )


def check_given(block: object, construction: object, allowance: object) -> float:
    """A block, a construction and an allowance, each of its kind. Gives the allowance [in].

    Raises:
        ArgumentError: the block is no Block, or the construction is none.
        LengthError: the allowance is not a size above zero.
    """
    from seamproof.block import Block

    of_kind(block, Block, "block", "make one with Block.from_polygons, or of Patches")
    check_construction(construction)
    return above_zero(allowance)

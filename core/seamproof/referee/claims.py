"""What a construction claims of itself: its method, its counts, and that they are least."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, get_args

from seamproof.referee.reasons import Reason, refusal
from seamproof.sequence import TECHNIQUES
from seamproof.sequence.construction import Method

if TYPE_CHECKING:
    from seamproof.sequence import Construction, Technique

METHODS: Final[tuple[Method, ...]] = get_args(Method)


def check_method(con: Construction) -> None:
    """The method is a known one, and the construction is made by it.

    Raises:
        SewingError: wrong-method.
    """
    if con.method not in METHODS:
        why = f"method {con.method!r} is not known: it is one of {', '.join(METHODS)}"
        raise refusal(Reason.WRONG_METHOD, why)
    if con.method != "foundation" and con.foundations:
        labels = ", ".join(foundation.label for foundation in con.foundations)
        why = f"method {con.method!r} uses no paper, but there are foundations ({labels}): say “foundation”"
        raise refusal(Reason.WRONG_METHOD, why)


def counted(con: Construction) -> tuple[Technique, int, int]:
    """The technique, the pivots and the partial seams, counted from joins and steps that were held to one another."""
    technique = max((join.kind for join in con.joins), key=TECHNIQUES.index, default=TECHNIQUES[0])
    return technique, sum(len(join.pivots) for join in con.joins), sum(step.kind == "finish" for step in con.steps)


def check_counts(con: Construction) -> None:
    """The construction tells of itself what its steps do.

    Raises:
        SewingError: wrong-count.
    """
    names = ("technique", "pivots", "partial seams")
    for name, said, found in zip(names, (con.technique, con.pivots, con.partial_seams), counted(con), strict=True):
        if said != found:
            why = f"{name}: it is said to be {said!r}, but what its steps do comes to {found!r}"
            raise refusal(Reason.WRONG_COUNT, why)


def check_bounds(con: Construction) -> None:
    """The construction has no fewer foundations, pivots and partial seams than it says that any must have.

    The bound on partial seams is of constructions with as few pivots as the bound on these, for a pivot can stand for a
    partial seam; so it is held to a construction that has no more pivots than that. A count said to be the fewest is
    its own bound. That a bound is not too high, or a count least indeed, cannot be seen by sewing once.

    Raises:
        SewingError: false-bound or false-optimum.
    """
    counts = [("foundations", len(con.foundations)), ("pivots", con.pivots)]
    if con.pivots <= con.bounds.pivots:
        counts.append(("partial_seams", con.partial_seams))
    for name, count in counts:
        bound: int = getattr(con.bounds, name)
        if bound > count:
            why = (
                f"it is said that no construction has fewer than {bound} {name.replace('_', ' ')}: this one has {count}"
            )
            raise refusal(Reason.FALSE_BOUND, why)
    if con.optimal and con.bounds.foundations != len(con.foundations):
        why = (
            f"{len(con.foundations)} foundations are said to be the fewest, but it is only said to be proven that "
            f"{con.bounds.foundations} are needed: leave “optimal” out"
        )
        raise refusal(Reason.FALSE_OPTIMUM, why)

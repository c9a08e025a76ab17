"""Finding a construction for a block."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final, get_args

from seamproof.block import Block
from seamproof.errors import NotSewable
from seamproof.given import above_zero, of_kind
from seamproof.planning.assemble import assemble, sewing_order
from seamproof.planning.fewest import Search
from seamproof.planning.frame import Frame
from seamproof.planning.hand import by_hand
from seamproof.planning.pieced import Piecing
from seamproof.planning.prepieced import prepiece
from seamproof.planning.stages import Prefer
from seamproof.planning.stuck import hard_plan
from seamproof.planning.verdict import stuck_units
from seamproof.planning.whole import check_whole
from seamproof.sequence import Bounds
from seamproof.sequence.construction import Method
from seamproof.units import ALLOWANCE

if TYPE_CHECKING:
    from seamproof.sequence import Construction

METHODS: Final[tuple[Method, ...]] = get_args(Method)
RENUMBERED: Final = 2000
"""The most patches of a block that straight seams serve and that is planned again in numbers from the drawing alone,
where the search ended before it was proven."""

PREFERENCES: Final[tuple[Prefer, ...]] = get_args(Prefer)


def plan(
    block: Block,
    method: Method = "foundation",
    first: str | None = None,
    *,
    allowance: float = ALLOWANCE,
    prefer: Prefer = "partial",
    prepieced: bool = False,
) -> Construction:
    """The best way to sew a block, by the easiest seams that serve, with what is proven about it.

    Args:
        block: What to sew.
        method: "foundation": the fewest foundations, joined; "pieced": every patch cut plain, long seams last; "hand":
            patches joined one at a time.
        first: The id of the patch with which its foundation (by hand: the whole) is to begin; None: centre out.
        allowance: The seam allowance [in]; it matters only where an outline is not convex: a seam that would run into
            its own unit when prolonged by so much must stop dead.
        prefer: What breaks a ring of seams, each of which would have to be sewn before the next: "partial", a partial
            seam; "pivot", a pivot (the bound on pivots is then of constructions without partial seams).
        prepieced: Whether finished units are laid on papers as if they were one patch, so that lone patches after them
            are sewn on paper too; the count of foundations stays. It changes nothing for the other methods.

    Raises:
        BlockError: the patches do not tile the block, or `first` is none of them.
        NotSewable: no seam serves (the block is in parts, or has holes), or `first` cannot be first.
        LengthError: an allowance that is no size.
        ArgumentError: a block that is none.
    """
    of_kind(block, Block, "block", "make one with Block.from_polygons, or of Patches")
    if method not in METHODS:
        raise NotSewable(f"method {method!r} is not known: choose one of {', '.join(METHODS)}", reason="method")
    if prefer not in PREFERENCES:
        raise NotSewable(f"prefer {prefer!r} is not known: choose one of {', '.join(PREFERENCES)}", reason="prefer")
    allowance = above_zero(allowance)
    block.check()
    frame = Frame.of(block, allowance, prefer)
    check_whole(frame)
    start = None if first is None else frame.patches.index(block.patch(first))
    if method == "pieced" and first is not None:
        raise NotSewable(
            f"first {first!r}: pieced blocks have no first patch; leave it out, or choose another method",
            reason="first",
        )
    if method == "foundation":
        return _on_foundations(frame, start, prepieced=prepieced)
    nodes = Piecing(frame).nodes() if method == "pieced" else by_hand(frame, start)
    pivots, partial = least_hard(frame, _stuck(frame))
    done = assemble(frame, nodes, method, bounds=Bounds(0, pivots, partial), optimal=True)
    return done if done.pivots == pivots else replace(done, bounds=Bounds(0, pivots, 0))


def _on_foundations(frame: Frame, first: int | None, *, prepieced: bool) -> Construction:
    stuck = _stuck(frame)
    search, twin = Search(frame), None
    way = None if stuck else search.best(frame.all)
    if way is None or (not search.is_exact and len(frame.patches) <= RENUMBERED):
        twin = frame.twin
        search = Search(twin.frame)
        way = search.best(frame.all)
    pivots, partial = least_hard(frame, stuck)
    is_least = search.is_exact and (not stuck or (way.count[:2] == (pivots, partial) and _runs_out(frame)))
    least = way.foundations if is_least else 0 if stuck else search.least(frame.all)
    lone = None if first is None else 1 << first if twin is None else twin.to(1 << first)
    if first is not None and way.parts and any(leaf == lone for leaf in search.leaves(way)):
        name = frame.patches[first].id
        raise NotSewable(
            f"patch {name} cannot be first: it is joined by itself, on no foundation; choose another",
            patches=(name,),
            reason="first",
        )
    tree = search.tree(way)
    nodes = sewing_order(tree if twin is None else twin.tree(tree))
    return assemble(
        frame,
        sewing_order(prepiece(frame, nodes)) if prepieced else nodes,
        "foundation",
        first=first,
        bounds=Bounds(least, pivots, partial),
        optimal=least == way.foundations,
    )


def _stuck(frame: Frame) -> tuple[int, ...]:
    """The units of a block that neither a straight cut nor a smooth arc parts."""
    return () if frame.is_plain else stuck_units(frame, frame.all, curved=True)


def _runs_out(frame: Frame) -> bool:
    """Whether no seam that ends on the block's outline would run into its cloth, so that none need stop dead there."""
    return frame.is_convex or not any(
        frame.on_outline[node] and frame.prolonged.beyond(index, at_end=at_end)
        for index, edge in enumerate(frame.map.edges)
        if edge.is_inner
        for node, at_end in ((edge.start, False), (edge.end, True))
    )


def least_hard(frame: Frame, stuck: tuple[int, ...]) -> tuple[int, int]:
    """The proven least pivots and partial seams of the stuck units of a block."""
    plans = [hard_plan(frame, unit) for unit in stuck]
    return (sum(plan.pivots for plan in plans), sum(plan.partial_seams for plan in plans))

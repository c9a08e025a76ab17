"""Cuts that need not be chosen: some are joins in every construction, of others all but one are.

Call a cut c of a core *uncrossed* if at every node inside it some patch lies flat. There the line of c is the only one
that a seam can pass along, so all edges at the node on that line are sewn in one seam: c is sewn whole, in one seam, in
every construction.

- Where two patches or more border c on either side, that seam does not add a single patch to a foundation: it is a
  join, and no foundation has patches on both sides of it. Taken as the first cut, it leaves every foundation and every
  lone patch what it was. So c alone need be tried.
- Where a single patch P borders c on one side, c may be the seam by which P is added to a foundation, but P is added by
  one seam only. Of two such cuts with the same P one at least is a join, so these two alone need be tried.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.planning.cuts import Cut
    from seamproof.planning.frame import Frame


def worth_trying(frame: Frame, core: int, cuts: Sequence[Cut]) -> Sequence[Cut]:
    """Cuts of a core of which at least one is the first in some best construction; all of them, where none is forced.

    Args:
        frame: The block.
        core: A unit without removable patches.
        cuts: Every cut of it, be it widened to what hangs on the core.
    """
    by_patch: defaultdict[int, list[Cut]] = defaultdict(list)
    for cut in cuts:
        left, right = _bordering(frame, core, cut)
        few, many = sorted((left, right), key=len)
        if len(few) > 1:
            return (cut,)
        if len(few) == 1 < len(many):
            (patch,) = few
            by_patch[patch].append(cut)
            if len(by_patch[patch]) == 2:
                return by_patch[patch]
    return cuts


def always_joined(frame: Frame, core: int, cuts: Sequence[Cut]) -> list[Cut]:
    """The cuts of a core along which every construction has a join, each of which may be taken first.

    Such a cut leaves every foundation what it was, so the least number for the core, and any bound on it, is that of
    one side and that of the other added up.
    """
    return [cut for cut in cuts if min(map(len, _bordering(frame, core, cut))) > 1]


def _bordering(frame: Frame, core: int, cut: Cut) -> tuple[set[int], set[int]]:
    """The patches of the core on either side of a cut; none, where it is crossed."""
    run = frame.runs[cut.run]
    sides: tuple[set[int], set[int]] = (set(), set())
    last = None
    for position in range(cut.low, cut.high):
        edge = frame.map.edges[run.edges[position]]
        if core >> edge.left & 1 and core >> edge.right & 1:
            if last is not None and not frame.flat_at[run.nodes[position]]:
                return set(), set()
            last = position
            sides[not run.forward[position]].add(edge.left)
            sides[run.forward[position]].add(edge.right)
    return sides

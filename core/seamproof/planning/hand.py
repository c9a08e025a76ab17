"""Sewing by hand over papers: patches joined one at a time, whatever the tiling.

*There is always a patch to go on with.* Let D be what is sewn so far, a disc, and say that a patch q fits if it meets D
in one path, so that D with q is a disc again. Where q borders D and does not fit, D and q ring in other patches. Of all
such q take one that rings in the least area. The ring is closed by a path of D's outline, not by a point alone (a path
is where q leaves D and comes back), so some ringed-in patch borders D along it; what that one rings in is less, so it
fits.

Rounds are sewn one after the other, outward from the first patch. In a round, a patch with one corner to turn at
most comes before those that must be set into a notch, and the next one beside the last before others: so every new
edge stays on the outside as long as it can.
"""

from __future__ import annotations

from dataclasses import dataclass
from heapq import heappop, heappush
from typing import TYPE_CHECKING

from seamproof.geometry.points import distance
from seamproof.planning.frame import bits
from seamproof.planning.stages import HardSeam, Stage
from seamproof.planning.stuck import dead_ends
from seamproof.planning.trees import Leaf, Staged, Tree
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from seamproof.planning.frame import Frame
    from seamproof.planning.stages import SeamEdge


@dataclass(frozen=True)
class _Fit:
    """A patch that can be joined next: its seam, the patch on the left, and where the needle stops."""

    seam: tuple[SeamEdge, ...]
    pivots: tuple[int, ...]


def by_hand(frame: Frame, first: int | None = None) -> list[Tree]:
    """All units of a block sewn one patch at a time, each after what it is made of.

    Args:
        frame: A block that hangs together and has no hole.
        first: The first patch; None: the one nearest the block's centre.
    """
    start = _middle(frame) if first is None else first
    rounds = _rounds(frame, start)
    nodes: list[Tree] = [Leaf(1 << patch) for patch in range(len(frame.patches))]
    whole: Tree = Leaf(1 << start)
    last = start
    fits: dict[int, _Fit] = {}
    queue: list[tuple[int, int, int, int]] = []
    met: set[int] = set()
    stale = _stale(frame, start, met)
    while whole.unit != frame.all:
        for patch in stale:
            fits.pop(patch, None)
            fit = None if whole.unit >> patch & 1 else _fit(frame, whole.unit, patch)
            if fit is not None:
                fits[patch] = fit
                heappush(queue, _price(rounds, patch, fit))
        while queue[0][3] not in fits or queue[0] != _price(rounds, queue[0][3], fits[queue[0][3]]):
            heappop(queue)
        beside = [_price(rounds, other, fits[other]) for _, other, _ in frame.sides[last] if other in fits]
        next_beside = min(beside, default=queue[0])
        last = next_beside[3] if next_beside[:2] == queue[0][:2] else queue[0][3]
        fit = fits.pop(last)
        lone = Leaf(1 << last)
        dead = dead_ends(frame, whole.unit | lone.unit, fit.seam)
        seam = HardSeam(lone.unit, whole.unit, fit.seam, (fit.seam,), (*fit.pivots, *dead))
        whole = Staged(whole.unit | lone.unit, Stage((lone.unit, whole.unit), (seam,), ((0, 0),)), (lone, whole))
        nodes.append(whole)
        stale = _stale(frame, last, met)
    return nodes


def _price(rounds: dict[int, int], patch: int, fit: _Fit) -> tuple[int, int, int, int]:
    """What makes a patch wait: its round, more than one corner to turn, any, its id."""
    turns = len(fit.pivots)
    return (rounds[patch], max(turns, 1), turns, patch)


def _middle(frame: Frame) -> int:
    """The patch nearest the block's centre, ties by id."""
    centre = frame.centre(frame.all)
    far = [distance(place, centre) for place in frame.centres]
    least = min(far) + SAME_POINT
    return next(patch for patch, gap in enumerate(far) if gap <= least)


def _rounds(frame: Frame, start: int) -> dict[int, int]:
    """How many seams lie between each patch and the first."""
    rounds, row = {start: 0}, [start]
    for patch in row:
        for _, other, _ in frame.sides[patch]:
            if other not in rounds:
                rounds[other] = rounds[patch] + 1
                row.append(other)
    return rounds


def _stale(frame: Frame, patch: int, met: set[int]) -> list[int]:
    """The patches whose fit may be another once a patch is sewn on; `met` is widened to the nodes sewn to by then.

    These are its neighbours along edges, and all patches round a node that nothing sewn touched before. Each node is
    new once, so that one with many patches round it is not looked at again for each of them.
    """
    around = 0
    for _, other, _ in frame.sides[patch]:
        around |= 1 << other
    for node in frame.ring(patch):
        if node not in met:
            met.add(node)
            around |= frame.around[node]
    return [other for other in bits(around) if other != patch]


def _fit(frame: Frame, unit: int, patch: int) -> _Fit | None:
    """How a patch meets a unit, if in one path from end to end, none of whose ends or other points meet."""
    pm = frame.map
    after: dict[int, tuple[SeamEdge, int]] = {}
    for edge, other, _ in frame.sides[patch]:
        if unit >> other & 1:
            is_forward = pm.edges[edge].left == patch
            start, end = pm.edges[edge].start, pm.edges[edge].end
            after[start if is_forward else end] = ((edge, is_forward), end if is_forward else start)
    ends = {end for _, end in after.values()}
    heads = [node for node in after if node not in ends]
    if len(heads) != 1:
        return None
    seam: list[SeamEdge] = []
    nodes = [heads[0]]
    while nodes[-1] in after:
        step, node = after[nodes[-1]]
        seam.append(step)
        nodes.append(node)
    met = sum(1 for node in frame.ring(patch) if frame.around[node] & unit)
    if len(seam) != len(after) or met != len(nodes):
        return None
    turns = [node for e, f, node in zip(seam, seam[1:], nodes[1:], strict=False) if not pm.in_line(e[0], f[0], node)]
    return _Fit(tuple(seam), tuple(turns))

"""What to unpick when a patch went wrong."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamproof.geometry.planar import PlanarMap
from seamproof.sequence.owners import owners

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.sequence import Construction
    from seamproof.sequence.owners import Owner


@dataclass(frozen=True)
class Rescue:
    """The least seams to unpick for one patch, the last sewn first.

    A seam is named by its join's label, by the id of the patch that was added with it on a foundation, or by "+" and
    the label of the unit that was laid with it on one.

    Attributes:
        patch: The patch that went wrong.
        slipped: What to unpick to take its piece out, when it slipped or is of the wrong cloth.
        forgotten: What to unpick to sew it after all, when it was left out: the same less the seam never sewn.
    """

    patch: str
    slipped: tuple[Owner, ...]
    forgotten: tuple[Owner, ...]


def plan_rescue(block: Block, construction: Construction) -> tuple[Rescue, ...]:
    """For every patch what must be unpicked, by the order in which seams run over one another.

    A piece is held by every seam along its patch. A seam can be unpicked when no seam sewn later runs over one of its
    ends; at a junction the seam that runs through was sewn over the ends of all others there. So the least set is the
    seams along the patch and, again and again, the seams that run over the end of one already in the set.
    """
    pm = PlanarMap.of([patch.outline for patch in block.patches])
    owner = owners(pm, block.ids, construction)
    over = _over(pm, owner)
    rank = _rank(construction)
    along: defaultdict[int, set[Owner]] = defaultdict(set)
    for index, name in owner.items():
        along[pm.edges[index].left].add(name)
        along[pm.edges[index].right].add(name)
    rescues = []
    for number, patch in enumerate(block.ids):
        found = set(along[number])
        todo = sorted(found)
        for seam in todo:
            fresh = sorted(over[seam] - found)
            found.update(fresh)
            todo.extend(fresh)
        slipped = tuple(sorted(found, key=lambda seam: -rank[seam]))
        rescues.append(Rescue(patch, slipped, tuple(seam for seam in slipped if seam != patch)))
    return tuple(rescues)


def _over(pm: PlanarMap, owner: dict[int, Owner]) -> defaultdict[Owner, set[Owner]]:
    """For each seam those that were sewn over one of its ends."""
    over: defaultdict[Owner, set[Owner]] = defaultdict(set)
    for node in range(len(pm.nodes)):
        if pm.is_boundary(node):
            continue
        here = Counter(owner[index] for index in pm.star(node))
        through = {name for name, count in here.items() if count > 1}
        for name in here:
            if name not in through:
                over[name] |= through
    return over


def _rank(construction: Construction) -> dict[Owner, int]:
    """When each seam was last sewn at: its place among the steps."""
    rank: dict[Owner, int] = {}
    for number, step in enumerate(construction.steps):
        if step.name is not None:
            rank[step.name] = number
    return rank

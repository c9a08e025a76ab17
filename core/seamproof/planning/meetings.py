"""Where seams meet from either side of a join: the match points."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from seamproof.geometry.planar import PlanarMap
    from seamproof.sequence.owners import Owner


@dataclass(frozen=True)
class Crossing:
    """Two edges that leave a node on either side of the join that runs through it.

    Attributes:
        node: The node.
        join: The join's label.
        left: An edge on one side of the join's path.
        right: The edge that answers it on the other side.
    """

    node: int
    join: str
    left: int
    right: int


def crossings(pm: PlanarMap, owner: Mapping[int, Owner], joins: tuple[str, ...]) -> Iterator[Crossing]:
    """Every pair of seams that answer one another across a join, node by node.

    Two seams answer one another when one runs on in line as the other, or when each is the only one on its side.
    """
    labels = set(joins)
    for node in range(len(pm.nodes)):
        star = pm.star(node)
        if pm.is_boundary(node) or len(star) < 4:
            continue
        for label in sorted({owner[e] for e in star} & labels):
            through = [at for at, e in enumerate(star) if owner[e] == label]
            if len(through) != 2:
                continue
            i, j = through
            one, other = star[i + 1 : j], star[j + 1 :] + star[:i]
            for e in one:
                answers = [f for f in other if pm.onward(e, node) == f]
                if not answers and len(one) == len(other) == 1:
                    answers = list(other)
                for f in answers:
                    yield Crossing(node, label, e, f)

"""The lattice of equilateral triangles, by whole numbers, so that shared corners are the very same."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, TypeAlias

from seamproof.plugin import Draft

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.block import Block
    from seamproof.geometry import Point

Node: TypeAlias = tuple[int, int]
"""a steps to the right and b steps up to the right, at 60°."""

AROUND: Final[tuple[Node, ...]] = ((1, 0), (0, 1), (-1, 1), (-1, 0), (0, -1), (1, -1))
"""The six neighbours of a node, anticlockwise from the right."""


def place(node: Node) -> Point:
    """Where a node is, steps being 1 long."""
    a, b = node
    return (a + b / 2, b * math.sqrt(3) / 2)


def hexagon(middle: Node) -> list[Node]:
    """The corners of the hexagon of side 1 about a node."""
    a, b = middle
    return [(a + da, b + db) for da, db in AROUND]


def ring(number: int) -> list[Node]:
    """The middles of the hexagons of one ring of a rosette, from the right anticlockwise; ring 0 is the middle one."""
    if number == 0:
        return [(0, 0)]
    steps = [(da - db, da + 2 * db) for da, db in AROUND]
    middles = []
    for n in range(6):
        (a, b), (da, db) = steps[n], steps[(n + 2) % 6]
        middles += [(number * a + i * da, number * b + i * db) for i in range(number)]
    return middles


def boundary(shapes: Sequence[Sequence[Node]]) -> list[Node]:
    """The ring of nodes round shapes that lie edge to edge without a hole."""
    edges = {(p, q) for shape in shapes for p, q in zip(shape, [*shape[1:], shape[0]], strict=True)}
    onward = {p: q for p, q in sorted(edges) if (q, p) not in edges}
    first = min(onward)
    around = [first]
    while (after := onward[around[-1]]) != first:
        around.append(after)
    return around


def block(title: str, patches: Sequence[tuple[str, Sequence[Node]]], size: float) -> Block:
    """The block of patches given by role and nodes."""
    draft = Draft([place(node) for node in boundary([shape for _, shape in patches])])
    for role, shape in patches:
        draft.add(role, [place(node) for node in shape])
    return draft.block(title, size)

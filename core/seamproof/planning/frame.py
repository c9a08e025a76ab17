"""The planar map of a block made ready for planning: runs with their places, neighbours, sets as bitmasks."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise
from string import ascii_lowercase
from typing import TYPE_CHECKING, Final

from seamproof.geometry import Outline
from seamproof.geometry.planar import OUTSIDE, PlanarMap
from seamproof.planning.lines import LeftOf, OverLine
from seamproof.planning.prolonged import Prolonged
from seamproof.units import ALLOWANCE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.block import Block, Patch
    from seamproof.geometry import Edge, Point
    from seamproof.planning.stages import HardPlan, Prefer
    from seamproof.planning.twin import Twin

WIDE: Final = 256
"""[bits] Wider sets are read as a string of digits, in time linear in their width."""


def bits(mask: int) -> Iterator[int]:
    """The patch indices in a set, ascending.

    >>> list(bits(0b10110))
    [1, 2, 4]
    """
    if mask.bit_length() <= WIDE:
        while mask:
            low = mask & -mask
            yield low.bit_length() - 1
            mask ^= low
        return
    digits = bin(mask)[:1:-1]
    at = digits.find("1")
    while at >= 0:
        yield at
        at = digits.find("1", at + 1)


def patch_order(patch_id: str) -> tuple[int, str]:
    """The key by which patch ids are ordered: 2 before 10, 7 before 7b."""
    digits = patch_id.rstrip(ascii_lowercase)
    return (int(digits), patch_id[len(digits) :])


@dataclass(frozen=True, slots=True)
class Run:
    """A maximal run of inner edges in line.

    Attributes:
        edges: Edge indices, in order along it.
        nodes: One node more than edges.
        forward: Whether each edge runs the way of the run.
        is_straight: A line; else an arc of one circle.
    """

    edges: tuple[int, ...]
    nodes: tuple[int, ...]
    forward: tuple[bool, ...]
    is_straight: bool


@dataclass(frozen=True, eq=False)
class Frame:
    """A block ready for planning; patch indices follow the order of ids, so that listing order changes nothing.

    Attributes:
        patches: The block's patches, ordered by id.
        map: Their planar map.
        allowance: The seam allowance [in]; it matters only where an outline is not convex.
        prefer: What breaks a ring of seams: "partial", a partial seam; "pivot", a pivot.
        hard_plans: What the planner of hard seams has answered so far, by unit and whether every stage was asked for.
        is_renumbered: Whether its numbers come from the drawing alone already.
    """

    patches: tuple[Patch, ...]
    map: PlanarMap
    allowance: float = ALLOWANCE
    prefer: Prefer = "partial"
    hard_plans: dict[tuple[int, bool], HardPlan] = field(default_factory=dict, repr=False)
    is_renumbered: bool = False

    @classmethod
    def of(cls, block: Block, allowance: float = ALLOWANCE, prefer: Prefer = "partial") -> Frame:
        """The frame of a block.

        Raises:
            GeometryError: patches that cannot be mapped.
        """
        patches = tuple(sorted(block.patches, key=lambda patch: patch_order(patch.id)))
        return cls(patches, PlanarMap.of([patch.outline for patch in patches]), allowance, prefer)

    @property
    def all(self) -> int:
        """The set of all patches."""
        return (1 << len(self.patches)) - 1

    @cached_property
    def names(self) -> tuple[str, ...]:
        """The ids of all patches, in order."""
        return tuple(patch.id for patch in self.patches)

    def ids(self, mask: int) -> tuple[str, ...]:
        """The ids of a set of patches, in order."""
        return tuple(self.patches[index].id for index in bits(mask))

    @cached_property
    def runs(self) -> tuple[Run, ...]:
        """The runs of the map."""
        return tuple(self._run(edges) for edges in self.map.runs)

    def _run(self, edges: tuple[int, ...]) -> Run:
        pm = self.map
        first = pm.edges[edges[0]]
        node = first.start
        if len(edges) > 1:
            after = pm.edges[edges[1]]
            node = first.start if first.end in {after.start, after.end} else first.end
            if {first.start, first.end} == {after.start, after.end}:
                node = first.start
        nodes, forward = [node], []
        for index in edges:
            forward.append(pm.edges[index].start == node)
            node = pm.other_end(index, node)
            nodes.append(node)
        return Run(edges, tuple(nodes), tuple(forward), not first.edge.is_arc)

    @cached_property
    def place(self) -> tuple[tuple[int, int], ...]:
        """For each edge its (run, position on it); (-1, -1) on the outline."""
        place = [(-1, -1)] * len(self.map.edges)
        for number, run in enumerate(self.runs):
            for position, edge in enumerate(run.edges):
                place[edge] = (number, position)
        return tuple(place)

    @cached_property
    def sides(self) -> tuple[tuple[tuple[int, int, int], ...], ...]:
        """For each patch its inner edges as (edge, neighbour, run)."""
        sides: list[list[tuple[int, int, int]]] = [[] for _ in self.patches]
        for index, edge in enumerate(self.map.edges):
            if edge.is_inner:
                run = self.place[index][0]
                sides[edge.left].append((index, edge.right, run))
                sides[edge.right].append((index, edge.left, run))
        return tuple(tuple(row) for row in sides)

    @cached_property
    def around(self) -> tuple[int, ...]:
        """For each node the set of patches that meet there."""
        around = [0] * len(self.map.nodes)
        for edge in self.map.edges:
            pair = (1 << edge.left) | (0 if edge.right == OUTSIDE else 1 << edge.right)
            around[edge.start] |= pair
            around[edge.end] |= pair
        return tuple(around)

    def ring(self, patch: int) -> tuple[int, ...]:
        """The nodes round a patch, each once."""
        return self._rings[patch]

    @cached_property
    def _rings(self) -> tuple[tuple[int, ...], ...]:
        rings: list[dict[int, None]] = [{} for _ in self.patches]
        for edge in self.map.edges:
            for patch in (edge.left, edge.right):
                if patch != OUTSIDE:
                    rings[patch].update({edge.start: None, edge.end: None})
        return tuple(tuple(ring) for ring in rings)

    @cached_property
    def on_outline(self) -> tuple[bool, ...]:
        """For each node whether it lies on the block's outline."""
        return tuple(self.map.is_boundary(node) for node in range(len(self.map.nodes)))

    def is_inside(self, node: int, unit: int) -> bool:
        """Whether a node lies in the interior of a unit."""
        return not self.on_outline[node] and not self.around[node] & ~unit

    @cached_property
    def areas(self) -> tuple[float, ...]:
        """The area of each patch [in²]."""
        return tuple(patch.outline.area for patch in self.patches)

    @cached_property
    def centres(self) -> tuple[Point, ...]:
        """The centre of area of each patch [in]."""
        return tuple(patch.outline.centroid for patch in self.patches)

    def centre(self, unit: int) -> Point:
        """The centre of area of a unit [in]."""
        x = y = total = 0.0
        for index in bits(unit):
            area = self.areas[index]
            x, y, total = x + self.centres[index][0] * area, y + self.centres[index][1] * area, total + area
        return (x / total, y / total)

    def edge(self, index: int, *, forward: bool) -> Edge:
        """The geometry of a map edge, run forward or back."""
        edge = self.map.edges[index].edge
        return edge if forward else edge.reversed()

    @cached_property
    def is_convex(self) -> bool:
        """Whether the block's outline is convex: then every unit that straight cuts yield is convex."""
        pm = self.map
        between = {}
        for edge in pm.edges:
            if not edge.is_inner:
                between[edge.start] = edge.edge
        if len(pm.boundary_rings) != 1:
            return False
        ring = pm.boundary_rings[0]
        return len(between) == len(ring) and Outline(tuple(between[node] for node in ring)).is_convex

    @cached_property
    def is_plain(self) -> bool:
        """Whether every unit met while planning is convex: a convex outline, and straight seams serve throughout."""
        from seamproof.planning.verdict import stuck_units

        return self.is_convex and not stuck_units(self, self.all)

    def is_left(self, patch: int, run: int, position: int) -> bool:
        """Whether a patch lies on the left of a run at one of its edges, by position on it."""
        line = self.runs[run]
        return (self.map.edges[line.edges[position]].left == patch) == line.forward[position]

    def over_sides(self, patch: int, run: int) -> tuple[int, int]:
        """The patches that reach over the whole line of a patch's seam to the patch's own side, and to the other."""
        edge = next(edge for edge, _, seam in self.sides[patch] if seam == run)
        left, right = self.over_line[run]
        return (left, right) if self.is_left(patch, run, self.place[edge][1]) else (right, left)

    @cached_property
    def flat_at(self) -> tuple[int, ...]:
        """For each node the set of patches that lie flat across it, without a corner there."""
        flat = [0] * len(self.map.nodes)
        for run in self.runs:
            for (e, f), node in zip(pairwise(run.edges), run.nodes[1:], strict=False):
                a, b = self.map.edges[e], self.map.edges[f]
                for patch in {a.left, a.right} & {b.left, b.right}:
                    flat[node] |= 1 << patch
        return tuple(flat)

    @cached_property
    def crossed(self) -> dict[int, tuple[int, ...]]:
        """For each node the runs that pass through it, ascending; nodes without one are left out."""
        found: dict[int, list[int]] = {}
        for number, run in enumerate(self.runs):
            for node in run.nodes[1:-1]:
                found.setdefault(node, []).append(number)
        return {node: tuple(found[node]) for node in sorted(found)}

    @cached_property
    def twin(self) -> Twin:
        """The block in the numbers that come from its drawing alone, worked out when asked for."""
        from seamproof.planning.twin import Twin

        return Twin.of(self)

    @cached_property
    def left_of(self) -> LeftOf:
        """For each straight run the patches whose centre lies on the left of its whole line."""
        return LeftOf(self)

    @cached_property
    def prolonged(self) -> Prolonged:
        """What seams would run into beyond their ends, worked out when asked for."""
        return Prolonged(self)

    @cached_property
    def over_line(self) -> OverLine:
        """Which patches reach over the whole line of a run, worked out when asked for."""
        return OverLine(self)

"""How many layers of cloth lie at a point of a sewn block, every allowance counted."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from seamproof.cutting.corners import cut_line, matched_corners
from seamproof.cutting.units import Units
from seamproof.geometry import Transform
from seamproof.geometry.planar import PlanarMap
from seamproof.geometry.points import add, distance, distance_to_segment, height_over, is_inside, times, unit
from seamproof.given import few_enough
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.block import Block
    from seamproof.cutting.corners import CornerCut
    from seamproof.geometry import Edge, Point
    from seamproof.sequence import Construction
    from seamproof.sequence.pressing import PressingPlan, Toward


@dataclass(frozen=True)
class Thickness:
    """The layers of cloth round a junction.

    Attributes:
        place: The junction [in].
        layers: In its thickest quarter, face included.
        patches: The patch whose quarter that is.
    """

    place: Point
    layers: int
    patch: str


@dataclass(frozen=True, eq=False)
class LayerMap:
    """The layers of a sewn and pressed block.

    T(U, p), the layers of unit U at p, on its allowance too, is found seam by seam. A patch gives 1 inside its cut
    line, and a foundation nothing outside of its own, tips and corners cut as templates are. Let U join A and B along
    seam L, and p lie on A's side of L or of L carried on. Then T(U, p) is T(A, p), and within one allowance s of L what
    is folded there: A's own allowance T(A, p′), p′ being p mirrored in L, where L is pressed to A or open; and B's
    allowance T(B, p), which was trimmed to reach no farther than s, where L is pressed to A. *derived*: in a four-way
    match both ways alike this gives 9 in the thickest quarter, nested 7, all open 4.

    Only straight seams fold; over a curved or set-in seam, each of its straight stretches is taken by itself.
    """

    block: Block
    construction: Construction
    pressing: PressingPlan
    allowance: float

    def __post_init__(self) -> None:
        """Raise BlockError for a block of more than MOST_PATCHES patches."""
        few_enough(self.block.title, len(self.block.patches), "a layer map")

    def at(self, p: Point) -> int:
        """The layers at a point [in] of the block, face included; 0 outside."""
        return self._unit(self.construction.whole, p)

    @cached_property
    def thickest(self) -> tuple[Thickness, ...]:
        """The thickness at every inner junction, the thickest first, then by place."""
        found = [best for junction in self._junctions() if (best := self._round(*junction))]
        return tuple(sorted(found, key=lambda t: (-t.layers, t.place)))

    def round(self, place: Point) -> int | None:
        """The layers in the thickest quarter round one inner junction [in]; None where there is no junction."""
        for junction, leaving in self._junctions():
            if distance(junction, place) <= SAME_POINT:
                best = self._round(junction, leaving)
                return best.layers if best else None
        return None

    def _junctions(self) -> Iterator[tuple[Point, list[Edge]]]:
        pm = PlanarMap.of([patch.outline for patch in self.block.patches])
        for node, place in enumerate(pm.nodes):
            if not pm.is_boundary(node) and len(pm.star(node)) > 2:
                yield place, [pm.leaving(index, node) for index in pm.star(node)]

    def _round(self, place: Point, leaving: list[Edge]) -> Thickness | None:
        """Look a third of an allowance out along the bisector of each angle between neighbouring seams."""
        best = None
        for edge, after in zip(leaving, leaving[1:] + leaving[:1], strict=True):
            a, b = edge.direction(0), after.direction(0)
            along = add(a, b)
            if distance(along, (0.0, 0.0)) <= SAME_POINT:
                along = (-a[1], a[0])
            elif a[0] * b[1] - a[1] * b[0] < 0:
                along = times(along, -1)
            p = add(place, times(unit(along), self.allowance / 3))
            patch = next((patch for patch in self.block.patches if is_inside(p, self._finished[patch.id])), None)
            if patch is not None and (best is None or self.at(p) > best.layers):
                best = Thickness(place, self.at(p), patch.id)
        return best

    @cached_property
    def _finished(self) -> dict[str, tuple[Point, ...]]:
        return {patch.id: patch.outline.polygon for patch in self.block.patches}

    @cached_property
    def _cut(self) -> dict[str, tuple[Point, ...]]:
        corners = self._corners
        rings = {
            patch.id: cut_line(patch.outline, corners.get(patch.id, ()), self.allowance).polygon
            for patch in self.block.patches
        }
        for foundation in self.construction.foundations:
            label = foundation.label
            rings[label] = cut_line(self._units.outline(label), corners.get(label, ()), self.allowance).polygon
        return rings

    @cached_property
    def _units(self) -> Units:
        return Units(self.block, self.construction)

    @cached_property
    def _corners(self) -> dict[str, tuple[CornerCut, ...]]:
        return matched_corners(self._units, self.allowance)

    @cached_property
    def _seams(self) -> dict[str, tuple[str, str, tuple[Edge, ...], Toward]]:
        """For each sewn unit: (unit on the left of its last seam, on the right, the seam, where it is pressed)."""
        seams = {}
        pressed = {seam.unit or seam.patch or seam.join: seam for seam in self.pressing.seams if not seam.join}
        joined = {seam.join: seam for seam in self.pressing.seams if seam.join}
        for foundation in self.construction.foundations:
            before = foundation.order[0]
            for patch in foundation.order[1:]:
                seam = pressed[patch]
                name = foundation.label if patch == foundation.order[-1] else f"{foundation.label}/{patch}"
                pair = (patch, before) if seam.toward == "left" else (before, patch)
                seams[name] = (*pair, seam.seam, seam.toward)
                before = name
        for join in self.construction.joins:
            seams[join.label] = (join.first, join.second, join.seam, joined[join.label].toward)
        return seams

    def _unit(self, name: str, p: Point) -> int:
        while True:
            if name in self._cut and not is_inside(p, self._cut[name]):
                return 0
            if name not in self._seams:
                return 1
            left, right, seam, toward = self._seams[name]
            edge = min(seam, key=lambda e: distance_to_segment(p, e.start, e.end))
            if edge.chord <= SAME_POINT:
                return self._unit(left, p) + self._unit(right, p)
            height = height_over(p, edge.start, edge.end)
            here, there, side = (left, right, "left") if height >= 0 else (right, left, "right")
            if abs(height) < self.allowance:
                break
            name = here
        layers = self._unit(here, p)
        if not layers:
            return layers
        if toward in {side, "open"}:
            layers += self._unit(here, Transform.reflect(edge.start, edge.end).point(p))
        if toward == side:
            layers += self._unit(there, p)
        return layers

"""The cloth of finished units that are laid on foundations: where it ends, and whether it lies right after the flip."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamproof.cutting.adding import added_seams
from seamproof.cutting.corners import cut_line
from seamproof.cutting.need import Frame
from seamproof.cutting.sizes import unfinished
from seamproof.cutting.twins import laid_on
from seamproof.geometry.points import bounds
from seamproof.tolerance import CHORD, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.cutting.pieces import CutPiece, Template
    from seamproof.cutting.units import Units
    from seamproof.geometry import Outline, Point


@dataclass(frozen=True)
class LaidCloth:
    """A finished unit as it lies on a foundation after the flip.

    Attributes:
        label: What it is called.
        foundation: What it is laid on.
        line: The line it is sewn along, from end to end, with the unit on its left.
        finished: Its finished outline.
        cut: Its raw edge.
        size: What it is said to measure unfinished [in], one way and the other.
        allowance: The seam allowance [in].
    """

    label: str
    foundation: str
    line: tuple[Point, Point]
    finished: Outline
    cut: Outline
    size: tuple[float, float]
    allowance: float

    @property
    def beyond(self) -> float:
        """The least cloth [in] past the middle of any of its finished edges that is two allowances long or more.

        At the ends of edges corners may be cut; in an edge shorter than that there is no more than ends.
        """
        import shapely

        rim = shapely.Polygon(self.cut.polygon).exterior
        middles = [edge.middle for edge in self.finished.edges if edge.length >= 2 * self.allowance]
        inside = shapely.Polygon(self.cut.polygon)
        return min(
            (float(rim.distance(at)) if inside.contains(at) else 0.0 for at in map(shapely.Point, middles)),
            default=self.allowance,
        )

    @property
    def past_the_line(self) -> float:
        """How far [in] its raw edge lies past the line when it is laid, and after the flip."""
        return -min(y for _, y in self._in_line(self.cut))

    @property
    def measured(self) -> tuple[float, float]:
        """Its finished extent along and across the line, with two allowances [in]."""
        x0, y0, x1, y1 = bounds(self._in_line(self.finished))
        return (x1 - x0 + 2 * self.allowance, y1 - y0 + 2 * self.allowance)

    @property
    def is_right(self) -> bool:
        """Whether flipped it lies on its own area, its allowance all round, as large as it is said to be.

        So it does when it lies on its own side of the whole line, its raw edge one allowance past that: the flip
        mirrors it in the line, and laid before the flip it is mirrored too.
        """
        slack = 4 * SAME_POINT + CHORD
        is_aside = min(y for _, y in self._in_line(self.finished)) >= -slack
        is_even = abs(self.past_the_line - self.allowance) <= slack
        pairs = zip(sorted(self.size), sorted(self.measured), strict=True)
        is_told = all(abs(said - found) <= slack for said, found in pairs)
        return is_aside and is_even and is_told and self.beyond >= self.allowance - slack

    def _in_line(self, outline: Outline) -> list[Point]:
        frame = Frame.of(*self.line)
        return [frame.into(p) for p in outline.polygon]


@dataclass(frozen=True)
class RawEdges:
    """Where the cloth of every unit of a construction ends.

    Attributes:
        units: The construction.
        templates: What is printed for it.
        plain: The pieces that are cut plain.
        allowance: The seam allowance [in].
    """

    units: Units
    templates: Sequence[Template]
    plain: Sequence[CutPiece]
    allowance: float

    def of(self, label: str, finished: Outline) -> Outline:
        """The raw edge of a unit of this label and finished outline.

        For a foundation or a patch it is its template's cut line, that of a twin laid where it lies; for what is joined
        of others, and where there is no template, it is cut as templates are.
        """
        template = next((t for t in self.templates if label in t.stands_for), None)
        if template is not None and template.label == label:
            return template.cut
        move = laid_on(self.units, template.label, label) if template else None
        if template is not None and move is not None:
            return template.cut.transformed(move)
        piece = next((piece for piece in self.plain if piece.patch == label), None)
        return piece.cut if piece else cut_line(finished, (), self.allowance)


def laid_cloths(edges: RawEdges) -> tuple[LaidCloth, ...]:
    """Every finished unit that is laid on a foundation, in the order of the foundations and of sewing on each."""
    units, allowance = edges.units, edges.allowance
    construction = units.construction
    sizes = unfinished(units.block, construction, allowance)
    seams = added_seams(units.block, construction)
    found = []
    for foundation in construction.foundations:
        for label in (part for part in foundation.order if part in construction.laid):
            finished = units.outline(label)
            cut = edges.of(label, finished)
            found.append(LaidCloth(label, foundation.label, seams[label], finished, cut, sizes[label], allowance))
    return tuple(found)

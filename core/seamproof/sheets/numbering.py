"""Numbers and fabric letters on a template, as large as their patches allow."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from seamproof.geometry.points import along, distance
from seamproof.sheets.ink import LEADER, POINT
from seamproof.sheets.leaders import frame_of, lead_out
from seamproof.sheets.lettering import box_inside, crosses_box, fit_text, text_height, text_width

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.cutting import Template
    from seamproof.geometry import Point
    from seamproof.pattern import Pattern
    from seamproof.sheets.lettering import Segment
    from seamproof.sheets.sketch import Pad

_STACKED: Final = (14.0, 13.0, 12.0, 11.0, 10.0, 9.0)
_BESIDE: Final = (11.0, 10.0, 9.0, 8.0, 7.0, 6.0)
_OUTSIDE: Final = 8.0
_CLEAR: Final = 0.035
"""[in] Kept free round a number."""
_DOT: Final = 1.5 * POINT


@dataclass(frozen=True)
class _Spot:
    """What is written in a patch, its ring of points and where the text may stand [in, y down]."""

    name: str
    letter: str
    ring: tuple[Point, ...]
    places: tuple[Point, ...]

    @property
    def text(self) -> str:
        return f"{self.name} · {self.letter}"


def number_patches(pad: Pad, pattern: Pattern, template: Template, avoid: Sequence[Segment], grow: float = 1.0) -> None:
    """Write each patch's number and its fabric's letter: inside it, or outside at the end of a leader.

    Args:
        pad: What is drawn on.
        pattern: The pattern.
        template: The template on the pad.
        avoid: Lines that no text may stand on [in, y down].
        grow: By how much letters are larger than usual.
    """
    outside: list[_Spot] = []
    for unit in template.laid:
        ring = tuple(map(pad.place.point, unit.outline.polygon))
        places = tuple(_places(pad.place.point(unit.place), pad.place.point(unit.outline.centroid), ring))
        spot = _Spot(f"{template.label}{unit.number}", f"unit {unit.label}", ring, places)
        if not _inside(pad, spot, avoid, grow):
            outside.append(spot)
    for patch, number, at, _ in template.patches:
        outline = pattern.block.patch(patch).outline
        ring = tuple(map(pad.place.point, outline.polygon))
        spot = _Spot(
            f"{template.label}{number}" if template.lines else template.label,
            pattern.fabric(patch).letter,
            ring,
            tuple(_places(pad.place.point(at), pad.place.point(outline.centroid), ring)),
        )
        if not _inside(pad, spot, avoid, grow):
            outside.append(spot)
    _lead(pad, template, outside, _OUTSIDE * grow)


def _places(at: Point, centroid: Point, ring: Sequence[Point]) -> Iterator[Point]:
    """Where a number may stand: its own place, the centroid, and places part of the way to the corners."""
    yield at
    yield centroid
    for corner in ring if len(ring) <= 12 else ():
        yield along(at, corner, 0.2)
        yield along(at, corner, 0.4)


def _inside(pad: Pad, spot: _Spot, avoid: Sequence[Segment], grow: float) -> bool:
    """Write into the patch, the letter under the number or beside it; False where neither has room."""
    for size in (size * grow for size in _STACKED):
        half_w, half_h = text_width(spot.name, size) / 2 + _CLEAR, 1.2 * text_height(size) + _CLEAR
        for x, y in spot.places:
            if box_inside(spot.ring, (x, y), half_w, half_h) and not crosses_box(avoid, (x, y), half_w, half_h):
                pad.write(spot.name, (x, y - 0.55 * text_height(size)), size, weight="bold")
                pad.write(spot.letter, (x, y + 0.8 * text_height(size)), 0.8 * size)
                return True
    sizes = [size * grow for size in _BESIDE]
    fit = fit_text(spot.text, spot.ring, spot.places, sizes, clear=_CLEAR, avoid=avoid)
    if fit is None:
        return False
    pad.write(spot.text, fit.at, fit.size, angle=fit.angle, weight="bold")
    return True


def _lead(pad: Pad, template: Template, outside: Sequence[_Spot], size: float) -> None:
    outline = tuple(map(pad.place.point, template.cut.polygon))
    for spot in outside:
        start = spot.places[0]
        at, foot = lead_out(start, outline, spot.text, size, [frame_of(label) for label in pad.labels])
        pad.ring(start, _DOT, LEADER)
        pad.marks([(along(start, foot, _DOT / distance(start, foot)), foot)], LEADER, kind="leader")
        pad.write(spot.text, at, size, weight="bold")

"""Templates laid out on pages, at true size."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from seamproof.geometry import Transform
from seamproof.sheets.options import EDGE, PAPERS, correction
from seamproof.sheets.pages_frame import GAP, Frame, Shape
from seamproof.sheets.pages_shelves import Spot, shelve
from seamproof.sheets.pages_tiles import Tile, tile_count, tiles_of
from seamproof.sheets.printed import printed_templates, times_needed
from seamproof.sheets.template_svg import is_mirrored, template_sketch
from seamproof.sheets.words_front import FOOT_LARGE, FOOT_SIZE, footer_height

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.cutting import Template
    from seamproof.geometry import Point
    from seamproof.pattern import Pattern
    from seamproof.sheets.options import HandoutOptions
    from seamproof.sheets.sketch import Sketch

_SHAPES: Final[tuple[Shape, ...]] = ("upright", "upright wide", "across", "across wide")
_MOST_ON_PAGE: Final = 60


@dataclass(frozen=True)
class Placed:
    """A template, or a tile of one, on a page.

    Attributes:
        template: Which template.
        sketch: What is drawn.
        x: Where the sketch's left edge lies, in true inches from the page's left.
        y: The same from its top.
        to_page: Where a point of the block lies on the page: (x, y) of the block, y up → true inches, y down.
        tile: Which tile it is; None: the whole.
    """

    template: Template
    sketch: Sketch
    x: float
    y: float
    to_page: Transform
    tile: Tile | None = None

    @property
    def is_mirrored(self) -> bool:
        """Whether it is seen from behind: pages count downward, so a plain turn of y is not yet a mirror image."""
        return not self.to_page.is_mirrored

    @property
    def name(self) -> str:
        """The template's label, and which part of it this is."""
        part = f", part {self.tile.number} of {self.tile.count}" if self.tile else ""
        return f"{self.template.label}{part}"


@dataclass(frozen=True)
class TemplatePage:
    """One page of templates.

    Attributes:
        shape: How the page is held.
        frame: Its margins, rules and square.
        placed: What lies on it.
        prints: How many of it are printed.
        stretch: The correction for the printer, across and down.
    """

    shape: Shape
    frame: Frame
    placed: tuple[Placed, ...]
    prints: int
    stretch: tuple[float, float]

    @property
    def free(self) -> float:
        """The height left under the templates [in]."""
        bottom = max((item.y + item.sketch.height for item in self.placed), default=self.frame.top)
        return max(0.0, self.frame.top + self.frame.room[1] - bottom)


@dataclass(frozen=True)
class _Piece:
    """A template before it lies anywhere."""

    template: Template
    sketch: Sketch
    needed: int
    behind: bool

    @property
    def size(self) -> tuple[float, float]:
        return (self.sketch.width, self.sketch.height)


def lay_out(pattern: Pattern, options: HandoutOptions) -> tuple[TemplatePage, ...]:
    """Every template that is printed, on as few pages as a simple shelf takes.

    Where all templates of one block fit on one page more than once, the page holds several, so that it is printed
    fewer times. A template larger than the paper is parted into tiles.

    Raises:
        PrintError: the printer is too far off to be corrected, or a template takes too many pages.
    """
    paper = options.paper or pattern.recipe.make.paper
    stretch = correction(options.printed, paper)
    pieces = _pieces(pattern, large=options.large_print)
    large = options.large_print
    footer = footer_height(pattern, PAPERS[paper][0] - 2 * EDGE, FOOT_LARGE if large else FOOT_SIZE)
    frames = {shape: Frame.of(paper, shape, stretch, large=large, footer=footer) for shape in _SHAPES}
    small = [piece for piece in pieces if _fits(piece.size, frames["upright"].room)]
    pages = list(_shared(small, frames["upright"], stretch))
    for piece in pieces:
        if piece not in small:
            pages += _alone(piece, frames, stretch)
    pages.sort(key=lambda page: min(_rank(pieces, item) for item in page.placed))
    return tuple(pages)


def _pieces(pattern: Pattern, *, large: bool) -> list[_Piece]:
    return [
        _Piece(
            template,
            template_sketch(pattern, template, large=large),
            times_needed(pattern, template),
            is_mirrored(template, pattern.construction.method),
        )
        for template in printed_templates(pattern)
    ]


def _shared(pieces: Sequence[_Piece], frame: Frame, stretch: tuple[float, float]) -> Iterator[TemplatePage]:
    """Pages that hold one template or more, all of them needed equally often."""

    def page(spots: Sequence[Spot], laid: Sequence[_Piece], prints: int) -> TemplatePage:
        placed = tuple(_placed(laid[spot.index], frame.left + spot.x, frame.top + spot.y) for spot in spots)
        return TemplatePage("upright", frame, placed, prints, stretch)

    if not pieces:
        return
    together = math.gcd(*(piece.needed for piece in pieces))
    for prints in (n for n in range(1, together + 1) if together % n == 0):
        repeated = [piece for piece in pieces for _ in range(piece.needed // prints)]
        shelves = shelve([piece.size for piece in repeated], frame.room, GAP) if len(repeated) <= _MOST_ON_PAGE else []
        if len(shelves) == 1:
            yield page(shelves[0], repeated, prints)
            return
    for needed in dict.fromkeys(piece.needed for piece in pieces):
        alike = [piece for piece in pieces if piece.needed == needed]
        if len(alike) == 1 and not alike[0].template.lines:
            most = next(n for n in range(min(needed, _MOST_ON_PAGE), 0, -1)
                        if needed % n == 0 and len(shelve([alike[0].size] * n, frame.room, GAP)) == 1)  # fmt: skip
            (spots,) = shelve([alike[0].size] * most, frame.room, GAP)
            yield page(spots, alike * most, needed // most)
            continue
        for spots in shelve([piece.size for piece in alike], frame.room, GAP):
            yield page(spots, alike, needed)


def _alone(piece: _Piece, frames: dict[Shape, Frame], stretch: tuple[float, float]) -> Iterator[TemplatePage]:
    """A page of its own for a template that no upright page with a column holds, or a page for each of its tiles."""
    for shape, frame in frames.items():
        if _fits(piece.size, frame.room):
            x = frame.left + (frame.room[0] - piece.size[0]) / 2 if frame.is_wide else frame.left
            yield TemplatePage(shape, frame, (_placed(piece, x, frame.top),), piece.needed, stretch)
            return
    place = piece.sketch.place
    lines = [(place.point(line.printed[0]), place.point(line.printed[1])) for line in piece.template.lines]
    shape = min(frames, key=lambda shape: tile_count(piece.size, frames[shape].room))
    frame = frames[shape]
    for tile in tiles_of(piece.sketch, frame.room, lines, piece.template.label):
        move = _to_page(piece, frame.left - tile.left, frame.top - tile.top)
        placed = Placed(piece.template, tile.sketch, frame.left, frame.top, move, tile)
        yield TemplatePage(shape, frame, (placed,), piece.needed, stretch)


def _placed(piece: _Piece, x: float, y: float) -> Placed:
    return Placed(piece.template, piece.sketch, x, y, _to_page(piece, x, y))


def _to_page(piece: _Piece, x: float, y: float) -> Transform:
    """Where the block's points must lie on the page, by the template's use alone and not by what was drawn.

    Only the corner of the sketch at which the template begins is taken from the drawing; size and handedness are not.
    """
    left, bottom, right, top = piece.template.cut.bounds
    corners = (piece.sketch.place.point((left, bottom)), piece.sketch.place.point((right, top)))
    x, y = x + min(p[0] for p in corners), y + min(p[1] for p in corners)
    if piece.behind:
        return Transform(-1.0, 0.0, 0.0, -1.0, x + right, y + top)
    return Transform(1.0, 0.0, 0.0, -1.0, x - left, y + top)


def _fits(size: tuple[float, float], room: tuple[float, float]) -> bool:
    return size[0] <= room[0] and size[1] <= room[1]


def _rank(pieces: Sequence[_Piece], item: Placed) -> tuple[int, int]:
    order = next(i for i, piece in enumerate(pieces) if piece.template is item.template)
    return (order, item.tile.number if item.tile else 0)


def window_of(item: Placed) -> tuple[Point, Point]:
    """The upper left and lower right corner of what is seen of a template on its page, in true inches."""
    return ((item.x, item.y), (item.x + item.sketch.width, item.y + item.sketch.height))

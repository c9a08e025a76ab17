"""The picture of a recipe that stands beside it in a gallery."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.geometry import Transform
from seamproof.sheets.block_svg import block_sketch
from seamproof.sheets.sketch import Pad
from seamproof.sheets.words_say import counted, shortened
from seamproof.units import Measure, text, text_pair

if TYPE_CHECKING:
    from seamproof.pattern import Pattern

_WIDTH: Final = 3.0
_MARGIN: Final = 0.15
_FOOT: Final = 0.55
_TITLE: Final = 34
"""The most characters of a title that one line under the picture holds."""


def gallery_svg(pattern: Pattern) -> str:
    """The block in its fabrics, with its title and figures under it, as one SVG file; the same bytes each time."""
    block = block_sketch(pattern, width=_WIDTH)
    pad = Pad((0, 0, _WIDTH + 2 * _MARGIN, block.height + _MARGIN + _FOOT))
    pad.add(block, Transform.shift(_MARGIN, _MARGIN))
    below = _MARGIN + block.height
    title = pattern.recipe.title
    pad.write(shortened(title, _TITLE), (_MARGIN, below + 0.19), 11, anchor="start", weight="bold")
    pad.write(caption(pattern), (_MARGIN, below + 0.38), 8, anchor="start")
    return pad.sketch(title, f"{block.alt} {caption(pattern)}.").svg


def caption(pattern: Pattern) -> str:
    """What stands under the picture: family, size, patches, papers."""
    patches, papers = len(pattern.block.patches), len(pattern.construction.foundations)
    counts = f"{counted(patches, 'patch', 'patches')} · {counted(papers, 'foundation')}"
    return f"{pattern.family.title} · {finished_size(pattern)} · {counts}"


def finished_size(pattern: Pattern) -> str:
    """The finished size of the block in words: one length for a square."""
    width, height = pattern.block.size
    in_mm = pattern.recipe.make.measure is Measure.MILLIMETRES
    measure = Measure.MILLIMETRES if in_mm else Measure.SIXTEENTHS
    return text(width, measure) if abs(width - height) < 1 / 32 else text_pair(width, height, measure)

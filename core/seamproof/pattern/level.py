"""How hard a block is: figures a teacher can argue with, and a level from them by a written rule.

The rule: each figure has two limits. Within the first it asks for no experience, within the second for some, beyond it
for much; the block's level is that of its hardest figure. The limits are common practice, no source: a strip under an
inch is where beginners' seams show, a point under 30° where cloth runs out. Layers are counted as LayerMap counts them:
a four-way match that nests has 7, a pinwheel's centre 15, and past that machines balk.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from seamproof.plugin.widths import sharpest_of, width_of

if TYPE_CHECKING:
    from seamproof.pattern.pattern import Pattern

LevelName: TypeAlias = Literal["beginner", "intermediate", "advanced"]
LEVELS: Final[tuple[LevelName, ...]] = ("beginner", "intermediate", "advanced")


@dataclass(frozen=True)
class Figure:
    """One figure of a block's level.

    Attributes:
        name: What is measured.
        value: How much it comes to.
        unit: "in", "°" or "".
        limits: Up to where (or down to where, when `falls`) it is for beginners, and for intermediate makers.
        falls: Whether less is harder.
    """

    name: str
    value: float
    unit: str
    limits: tuple[float, float]
    falls: bool = False

    @property
    def level(self) -> LevelName:
        """The level that this figure by itself asks for."""
        passed = sum(self.value < limit if self.falls else self.value > limit for limit in self.limits)
        return LEVELS[passed]


@dataclass(frozen=True)
class Level:
    """A block's level and the figures it comes from."""

    figures: tuple[Figure, ...]

    @property
    def name(self) -> LevelName:
        """The level of the hardest figure."""
        return max((figure.level for figure in self.figures), key=LEVELS.index)

    @property
    def hardest(self) -> tuple[Figure, ...]:
        """The figures that make it so hard."""
        return tuple(figure for figure in self.figures if figure.level == self.name)


def find_level(pattern: Pattern) -> Level:
    """The level of a pattern's block."""
    outlines = [patch.outline for patch in pattern.block.patches]
    construction = pattern.construction
    bias = sum(piece.bias for piece in pattern.rough) + sum(piece.bias for piece in pattern.cut)
    figures = [
        Figure("smallest patch width", min(map(width_of, outlines)), "in", (1.0, 0.5), falls=True),
        Figure("sharpest corner", min(map(sharpest_of, outlines)), "°", (44.5, 29.5), falls=True),
        Figure("points that must meet", len(pattern.pressing.meetings), "", (4, 16)),
        Figure("longest sewing order", max((len(f.order) for f in construction.foundations), default=1), "", (13, 30)),
        Figure("pivots", construction.pivots, "", (0, 2)),
        Figure("partial seams", construction.partial_seams, "", (0, 2)),
        Figure("patches with bias on the outside", bias, "", (0, 8)),
        Figure("layers at the thickest joint", pattern.layers[0].layers if pattern.layers else 1, "", (11, 16)),
    ]
    if pattern.rough:
        laying = pattern.recipe.make.laying.along + min(piece.slack for piece in pattern.rough)
        figures.append(Figure("how far off a piece may be laid", laying, "in", (0.25, 0.125), falls=True))
    return Level(tuple(figures))


def level_text(level: Level) -> str:
    """A level and what makes it so, as one line.

    >>> level_text(Level((Figure("pivots", 1, "", (0, 2)), Figure("sharpest corner", 45.0, "°", (44.5, 29.5), True))))
    'intermediate, for its pivots (1)'
    """
    if level.name == LEVELS[0]:
        return f"{level.name}: every figure is within a beginner's limits"
    reasons = [f"{figure.name} ({figure.value:.3g}{figure.unit and ' ' + figure.unit})" for figure in level.hardest]
    return f"{level.name}, for its {', '.join(reasons)}"

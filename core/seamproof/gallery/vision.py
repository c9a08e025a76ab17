"""Colours as eyes see them: how far apart two are, and what is left of them with a colour-vision deficiency."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Mapping

    from seamproof.pattern import Pattern

Sight: TypeAlias = Literal["usual", "protan", "deutan", "tritan"]

SIGHTS: Final[Mapping[Sight, str]] = MappingProxyType(
    {
        "usual": "usual eyes",
        "protan": "eyes without red cones",
        "deutan": "eyes without green cones",
        "tritan": "eyes without blue cones",
    }
)
"""How each way of seeing is called on pages."""

MATRICES: Final[Mapping[Sight, tuple[float, ...]]] = MappingProxyType(
    {
        "protan": (0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998),
        "deutan": (0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881),
        "tritan": (1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.303900),
    }
)
"""By what linear sRGB is multiplied, row by row, at full severity.

Source: G. Machado, M. Oliveira, L. Fernandes, A physiologically-based model for simulation of color vision
deficiency, IEEE TVCG 15(6), 2009, severity 1.0.
"""

TELLABLE: Final = 8.0
"""[ΔE00] Neighbours less different than this are warned of.

Two even patches side by side are told apart from about 1; two cloths with weave, print and lamplight need several times
that (common practice, no source).
"""


@dataclass(frozen=True)
class Alike:
    """Two neighbouring fabrics that are hard to tell apart.

    Attributes:
        first: The letter of one.
        second: The letter of the other.
        sight: How they are seen.
        difference: How different they then are [ΔE00].
    """

    first: str
    second: str
    sight: Sight
    difference: float


def difference(one: str, other: str, sight: Sight = "usual") -> float:
    """How different two colours #rrggbb look: CIEDE2000, in CIE Lab with white D65.

    Source: G. Sharma, W. Wu, E. Dalal, The CIEDE2000 color-difference formula, Color Research & Application 30(1),
    2005.
    """
    from coloraide import Color

    found: float = Color(seen(one, sight)).delta_e(Color(seen(other, sight)), method="2000")
    return found


def seen(colour: str, sight: Sight) -> str:
    """What a colour #rrggbb looks like to an eye of this sight, as #rrggbb."""
    from coloraide import Color

    if sight == "usual":
        return colour
    linear = Color(colour).convert("srgb-linear")[:-1]
    matrix = MATRICES[sight]
    mixed = [sum(matrix[3 * row + k] * linear[k] for k in range(3)) for row in range(3)]
    clipped = [min(1.0, max(0.0, channel)) for channel in mixed]
    return Color("srgb-linear", clipped).convert("srgb").to_string(hex=True)


def neighbours(pattern: Pattern) -> tuple[tuple[str, str], ...]:
    """Every two fabrics that meet at a seam, by their letters."""
    from seamproof.geometry.planar import PlanarMap

    patches = pattern.block.patches
    letters = [pattern.fabric(patch.id).letter for patch in patches]
    edges = PlanarMap.of([patch.outline for patch in patches]).edges
    order = {line.letter: n for n, line in enumerate(pattern.legend)}
    pairs = {
        tuple(sorted((letters[edge.left], letters[edge.right]), key=order.__getitem__))
        for edge in edges
        if edge.is_inner and letters[edge.left] != letters[edge.right]
    }
    return tuple(sorted(((a, b) for a, b in pairs), key=lambda pair: (order[pair[0]], order[pair[1]])))


def alike(pattern: Pattern, pairs: tuple[tuple[str, str], ...]) -> tuple[Alike, ...]:
    """The pairs that are hard to tell apart, as usual eyes see them or as others do."""
    colours = {line.letter: line.colour for line in pattern.legend}
    found = []
    for a, b in pairs:
        for sight in SIGHTS:
            apart = difference(colours[a], colours[b], sight)
            if apart < TELLABLE:
                found.append(Alike(a, b, sight, round(apart, 1)))
    return tuple(found)

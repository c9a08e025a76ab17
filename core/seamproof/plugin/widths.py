"""How narrow a patch may be, and which parameter to change when one is too narrow."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from seamproof.errors import LengthError
from seamproof.geometry.points import cross, dot, height_over, sides
from seamproof.tolerance import ROUND_OFF
from seamproof.units import inches, round_up

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.block import Block
    from seamproof.geometry import Outline
    from seamproof.plugin.family import Family, Parameters

WARN_UNDER: Final = 1 / 4
"""[in] A finished patch narrower than this is hard to sew: its two allowances overlap under it."""

REFUSE_UNDER: Final = 1 / 8
"""[in] A finished patch narrower than this is refused unless told otherwise: a needle's sway swallows it."""

_TRIES: Final = 24


@dataclass(frozen=True, slots=True)
class Narrow:
    """A patch that is hard to sew: its id, its role and its width [in]."""

    patch: str
    role: str
    width: float

    def __str__(self) -> str:
        return f"patch {self.patch} ({self.role}) is {self.width:.3f} in wide"


def width_of(outline: Outline) -> float:
    """How wide a patch is [in]: the least distance of two parallel lines that hold a convex one.

    For one that is not convex, or curved, the diameter of the largest circle inside it.
    """
    ring = outline.polygon
    if outline.is_straight and outline.is_convex:
        return min(max(height_over(point, a, b) for point in ring) for a, b in sides(ring) if a != b)
    from shapely import Polygon, maximum_inscribed_circle

    return float(maximum_inscribed_circle(Polygon(ring), tolerance=math.sqrt(outline.area) / 200).length) * 2


def sharpest_of(outline: Outline) -> float:
    """The sharpest inner corner of a patch [°], arcs by their tangents."""
    edges = outline.edges
    corners = []
    for before, after in zip(edges[-1:] + edges[:-1], edges, strict=True):
        u, v = before.direction(1), after.direction(0)
        corners.append(180 - math.degrees(math.atan2(cross(u, v), dot(u, v))))
    return min(corners)


def narrow_patches(block: Block, under: float = WARN_UNDER) -> tuple[Narrow, ...]:
    """The patches narrower than this [in], the narrowest first."""
    found = [Narrow(patch.id, patch.role, width_of(patch.outline)) for patch in block.patches]
    return tuple(sorted((n for n in found if n.width < under - ROUND_OFF), key=lambda n: n.width))


def check_widths(
    family: Family[Any], parameters: Parameters, block: Block, *, narrowest: float = REFUSE_UNDER
) -> tuple[Narrow, ...]:
    """Refuse a block with a patch that cannot be sewn, and give those that are hard to sew.

    Args:
        family: The block's family.
        parameters: What it was drafted from.
        block: The block.
        narrowest: The least width allowed [in]; 0 allows anything.

    Raises:
        LengthError: a patch is narrower; the message names the parameter and the nearest value that works.
    """
    narrow = narrow_patches(block)
    if narrow and narrow[0].width < narrowest - ROUND_OFF:
        raise LengthError(_refusal(family, parameters, block, narrow[0], narrowest), value=narrow[0].width)
    return narrow


def _refusal(family: Family[Any], parameters: Parameters, block: Block, worst: Narrow, narrowest: float) -> str:
    size = max(block.size)
    grow = f"make the block {inches(round_up(size * narrowest / worst.width, 1 / 8))} in or larger"
    why = f"{worst}, under the {inches(narrowest, 1 / 32)} in that can be sewn"
    ways = sorted(_Search(family, parameters, size, narrowest).ways())
    if not ways:
        return f"finished: {why}: {grow}"
    _, name, value = ways[0]
    return f"{name}: with {getattr(parameters, name):g} {why}: make it {value:g}, or {grow}"


@dataclass(frozen=True)
class _Search:
    """Looks for the nearest change of one parameter that makes every patch wide enough."""

    family: Family[Any]
    parameters: Parameters
    size: float
    narrowest: float

    def works(self, name: str, value: float) -> bool:
        try:
            changed = type(self.parameters)(**(self.parameters.model_dump() | {name: value}))
            block = self.family.draft(changed, self.size)
        except ValueError:
            return False
        return not narrow_patches(block, self.narrowest)

    def ways(self) -> Iterator[tuple[float, str, float]]:
        """For each parameter that is a number how far off a value that works is, as a share; its name; the value."""
        for name, (low, high) in numbers_of(type(self.parameters)).items():
            now = getattr(self.parameters, name)
            is_whole = isinstance(now, int)
            for step in range(1, _TRIES + 1):
                reach = step if is_whole else (high - low) * step / _TRIES
                value = next((v for v in (now - reach, now + reach) if low <= v <= high and self.works(name, v)), None)
                if value is not None:
                    value = value if is_whole else self.nearer(name, value)
                    yield abs(value - now) / (high - low), name, value
                    break

    def nearer(self, name: str, works: float) -> float:
        """Halve the way from a value that works to the one that does not, then round where that still works."""
        fails = getattr(self.parameters, name)
        for _ in range(_TRIES // 2):
            middle = (fails + works) / 2
            if self.works(name, middle):
                works = middle
            else:
                fails = middle
        rounded = (math.ceil if works > fails else math.floor)(works * 100) / 100
        return rounded if self.works(name, rounded) else works


def numbers_of(model: type[Parameters]) -> dict[str, tuple[float, float]]:
    """The parameters that are numbers with a range, and that range."""
    found = {}
    for name, field in model.model_fields.items():
        limits = {key: getattr(limit, key) for limit in field.metadata for key in ("ge", "le") if hasattr(limit, key)}
        if field.annotation in {int, float} and len(limits) == 2:
            found[name] = (limits["ge"], limits["le"])
    return found

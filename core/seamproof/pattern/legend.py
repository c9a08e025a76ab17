"""The fabric legend: which fabric is which patch."""

from __future__ import annotations

from typing import TYPE_CHECKING

from seamproof.errors import BlockError
from seamproof.pattern.pattern import FabricLegend
from seamproof.recipe.model import clean_line
from seamproof.tones import lightness

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.recipe import Recipe


def fabric_legend(recipe: Recipe, block: Block) -> tuple[FabricLegend, ...]:
    """The fabrics in order of first use, each with a letter and a hatch of its own.

    Raises:
        BlockError: a role of the block has no fabric in the recipe.
    """
    roles: dict[str, list[str]] = {}
    for role in block.roles:
        key = recipe.fabric_of(role)
        if key is None or key not in recipe.fabrics:
            patches = [patch.id for patch in block.patches if patch.role == role]
            raise BlockError(f"role {role!r} has no fabric: give it one under [roles]", patches=patches)
        roles.setdefault(key, []).append(role)
    lines = []
    for number, (key, mine) in enumerate(roles.items()):
        fabric = recipe.fabrics[key]
        name = fabric.name or clean_line(key) or f"fabric {letter(number)}"
        lines.append(FabricLegend(key, letter(number), name, fabric.colour.lower(), number, tuple(mine)))
    return tuple(lines)


def lightness_of(legend: tuple[FabricLegend, ...], block: Block) -> dict[str, float]:
    """For each patch id the CIE lightness L* of its cloth, from 0 (black) to 100 (white)."""
    of_role = {role: lightness(line.colour) for line in legend for role in line.roles}
    return {patch.id: of_role[patch.role] for patch in block.patches}


def letter(number: int) -> str:
    """The small letters of the fabric of this number, from 0.

    >>> letter(0), letter(25), letter(26), letter(701)
    ('a', 'z', 'aa', 'zz')
    """
    text = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("a") + rest) + text
    return text

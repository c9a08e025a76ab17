"""The seams a recipe carries on: put into the block after drafting, each found by where it starts and ends."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.errors import BlockError
from seamproof.recipe.allowed import size_text
from seamproof.recipe.faults import listed, nearest, shown
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.block import Block
    from seamproof.geometry import Point
    from seamproof.planning.carrying import Addition
    from seamproof.recipe.model import Carry

WITHIN: Final = 1 / 16
"""[in] How far off a recipe's points may be, so that they can be measured on a drawing; the seam's own line counts."""


class CarryError(BlockError):
    """A seam that cannot be carried on as a recipe says: the `number`th of them, from 0; `key` is at fault."""

    def __init__(self, message: str, *, number: int, key: str, patches: Sequence[str] = ()) -> None:
        super().__init__(message, patches=patches)
        self.number = number
        self.key = key


def carried(block: Block, carries: Sequence[Carry]) -> Block:
    """A drafted block with a recipe's seams carried on, in order; pieces keep their role.

    Raises:
        CarryError: no such patch, no seam that ends there, or a sliver would be left.
    """
    from seamproof.planning.carrying import carry_between

    left, bottom, _, _ = block.bounds
    for number, carry in enumerate(carries):
        if carry.patch not in block.ids:
            raise CarryError(
                f"the block has no patch {shown(carry.patch)}; {nearest(carry.patch, block.ids)}"
                f"it has {listed(block.ids)}",
                number=number,
                key="patch",
            )
        start, end = ((x + left, y + bottom) for x, y in (carry.start, carry.end))
        try:
            block, _ = carry_between(block, carry.patch, start, end, WITHIN)
        except ValueError as error:
            message = f"{error}; {_possible(block, carry.patch)}"
            raise CarryError(message, number=number, key="start", patches=(carry.patch,)) from None
    return block


def _possible(block: Block, patch: str) -> str:
    """What can be carried on across a patch, in words."""
    from seamproof.planning.carrying import possible

    ways = [f"from {_point(block, start)} to {_point(block, end)}" for start, end in possible(block, patch)]
    return f"it can go {' or '.join(ways[:4])}" if ways else "no seam ends at this patch: take it out"


def _point(block: Block, point: Point) -> str:
    left, bottom, _, _ = block.bounds
    return f'["{place_text(point[0] - left)}", "{place_text(point[1] - bottom)}"]'


def place_text(place: float) -> str:
    """How far a point stands from a side [in] as a recipe writes it, round-off taken away.

    >>> place_text(2.49999999), place_text(-1 / 2**40), place_text(27 ** 0.5)
    ('2 1/2 in', '0 in', '5.196 in')
    """
    near = round(place * 32) / 32
    return size_text(near) if abs(near - place) <= SAME_POINT else f"{max(place, 0.0):.3f} in"


def carry_tables(block: Block, additions: Sequence[Addition]) -> str:
    """Additions to a block as tables of its recipe."""
    tables = [
        f'[[carry]]\npatch = "{added.patch}"\nstart = {_point(block, added.start)}\nend = {_point(block, added.end)}\n'
        for added in additions
    ]
    return "\n".join(tables)

"""A paper lantern: panes side by side between a cap and a base."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, rectangle

if TYPE_CHECKING:
    from seamproof.block import Block


class LanternParameters(Parameters):
    """What may be chosen of a lantern."""

    panes: int = Field(default=4, ge=1, le=10, description="Panes; more than 10 are too narrow for a small block.")
    cap: float = Field(
        default=0.2, ge=0.1, le=0.6, description="The cap's height over the block's, a tenth at the least."
    )
    base: float = Field(default=0.15, ge=0.1, le=0.6, description="The base's height over the block's, as for the cap.")


def draft_lantern(parameters: LanternParameters, size: float) -> Block:
    """Draft the panes from the left, then the cap and the base.

    Raises:
        ValueError: cap and base leave no room for the panes.
    """
    cap, base, panes = parameters.cap, parameters.base, parameters.panes
    if cap + base > 0.8:
        most = round(0.8 - base, 2)
        raise ValueError(f"cap: {cap:g} leaves no room above a base of {base:g}: make it {most:g} or less")
    draft = Draft.square()
    for number in range(panes):
        draft.add(f"pane {number + 1}", rectangle(number / panes, base, 1 / panes, 1 - cap - base))
    draft.add("cap", rectangle(0, 1 - cap, 1, cap))
    draft.add("base", rectangle(0, 0, 1, base))
    return draft.block("Paper lantern", size)


LANTERN = Family(
    slug="paper-lantern",
    title="Paper lantern",
    parameters=LanternParameters,
    draft=draft_lantern,
    sources=("common practice, no source: a row of strips between two bands",),
    designs={"paper lantern": {}, "wide lantern": {"panes": 7, "cap": 0.3}},
    roles=("pane #", "cap", "base"),
    smallest=0.099,
    sharpest=89.9,
    about="Panes side by side between a cap and a base.",
)

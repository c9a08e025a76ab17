"""Which way a recipe's block is sewn."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from seamproof.planning import plan

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.recipe import Make
    from seamproof.sequence import Construction


def choose_construction(block: Block, make: Make) -> Construction:
    """The construction a recipe asks for, or the one that suits its block.

    Without a method, a block is sewn on foundations wherever any serves: they are the surest way for a beginner. A
    block that has none is cut and pieced; by hand over papers when its seams must be set in, and likewise when they
    must and foundations would hold fewer than three in five of its patches, so that few lines are printed and most is
    set in.

    Raises:
        NotSewable: no construction of the asked kind exists.
    """
    asked = make.method or "foundation"
    on_papers = plan(block, asked, allowance=make.allowance, prefer=make.prefer, prepieced=make.prepieced)
    if make.method is not None:
        return on_papers
    is_set_in = on_papers.technique == "set-in"
    held = sum(len(foundation.order) for foundation in on_papers.foundations)
    if held and not (is_set_in and 5 * held < 3 * len(block.patches)):
        return on_papers
    method: Literal["pieced", "hand"] = "hand" if is_set_in else "pieced"
    return plan(block, method, allowance=make.allowance, prefer=make.prefer)

"""A direction for every allowance, with the fewest meetings missed and the fewest seams pressed open.

On a foundation the allowances of a seam lie toward the patch it adds: fixed once the order is. A join's allowances lie
to one side or the other, or open. Where two seams meet from either side of a join, or of the line by which a finished
unit is laid on a foundation, they nest when their allowances lie opposite ways along it; that is a parity between two
directions (or one, where the other is fixed). RC2 minimises, one after the other: meetings that neither nest nor hold
an open seam; seams pressed open; joins that lay a darker cloth's allowance under a lighter cloth. Its answer is proven
least.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from seamproof.block.checking import check_tiling
from seamproof.given import few_enough
from seamproof.planning.frame import Frame
from seamproof.planning.pressing_orders import Orders
from seamproof.planning.pressing_solving import Question
from seamproof.planning.pressing_view import View
from seamproof.sequence import Step
from seamproof.sequence.owners import owners
from seamproof.sequence.pressing import PressingPlan

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from seamproof.block import Block
    from seamproof.planning.papers import Paper
    from seamproof.sequence import Construction


def plan_pressing(
    block: Block,
    construction: Construction,
    lightness: Mapping[str, float] | None = None,
    alike: Sequence[Sequence[tuple[str, str]]] = (),
) -> PressingPlan:
    """Find where every allowance lies.

    Args:
        block: The block.
        construction: How it is sewn.
        lightness: For each patch id the CIE lightness L* of its cloth, 0 to 100; None: all alike.
        alike: Joins that are pressed before they are cut apart, each with one of its sides, "first" or "second": in a
            group all lie toward the side named, all away from it, or all open. What is proven least is so among the
            plans that keep to this.

    Raises:
        BlockError: the patches do not tile, or there are more than MOST_PATCHES.
    """
    view = _view(block, construction, lightness)
    pairs = list(view.pairs())
    question = Question(view)
    for (model, side), *others in alike:
        for label, other in others:
            question.tie(model, label, is_turned=side != other)
    for pair in pairs:
        question.meet(pair)
    toward, _ = question.answer()
    return PressingPlan(tuple(view.pressed(toward)), tuple(view.meeting(pair, toward) for pair in pairs), proven=True)


def order_for_pressing(
    block: Block, construction: Construction, lightness: Mapping[str, float] | None = None
) -> Construction:
    """The same construction, its foundations begun with whichever patch lets the most seams nest across the joins.

    A foundation and its twins are one choice; so are at most CANDIDATES orders of it. Labels and joins stay, and so do
    the units laid on foundations.

    Raises:
        BlockError: the patches do not tile, or there are more than MOST_PATCHES.
    """
    view = _view(block, construction, lightness)
    pairs = list(view.pairs())
    met = {edge for pair in pairs for edge, _ in (pair.left, pair.right)}
    frame = Frame.of(block)
    choices = [choice for choice in Orders(block, frame, construction, view).choices(met) if len(choice) > 1]
    if not choices:
        return construction
    question = Question(view, [[later for later, _ in choice] for choice in choices])
    for pair in pairs:
        question.meet(pair)
    _, taken = question.answer()
    made = {paper.foundation.label: paper for choice, at in zip(choices, taken, strict=True) for paper in choice[at][1]}
    return _with_papers(frame, construction, made)


def _view(block: Block, construction: Construction, lightness: Mapping[str, float] | None) -> View:
    few_enough(block.title, len(block.patches), "a pressing plan")
    pm = check_tiling(block)
    return View(pm, block.ids, construction, owners(pm, block.ids, construction), lightness or {})


def _with_papers(frame: Frame, construction: Construction, made: Mapping[str, Paper]) -> Construction:
    """The construction with some foundations sewn in another order, their steps written anew."""
    steps: list[Step] = []
    for step in construction.steps:
        if step.foundation is None or step.foundation not in made:
            steps.append(step)
        elif step.kind == "first":
            paper, label = made[step.foundation], step.foundation
            first, *rest = paper.foundation.order
            steps.append(Step("first", foundation=label, patch=first))
            for part, seam in zip(rest, paper.seams, strict=True):
                edges = tuple(frame.edge(index, forward=forward) for index, forward in seam)
                unit = part if part in construction.laid else None
                steps.append(Step("add", edges, label, None if unit else part, unit=unit))
    foundations = tuple(made[f.label].foundation if f.label in made else f for f in construction.foundations)
    return replace(construction, foundations=foundations, steps=tuple(steps))

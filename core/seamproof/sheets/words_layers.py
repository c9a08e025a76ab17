"""The words of the layer map: the thickest places and what to do about them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from seamproof.geometry.points import distance_to_segment
from seamproof.planning.layers import LayerMap
from seamproof.sheets.handout_nodes import bold
from seamproof.sheets.words_joins import join_names
from seamproof.sheets.words_pressing import STEP, where_words
from seamproof.sheets.words_say import Say, counted, listed
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.geometry import Point
    from seamproof.pattern import Pattern
    from seamproof.planning.layers import Thickness
    from seamproof.sheets.handout_nodes import Words

NAMED: Final = 3
"""How many of the thickest places are named."""
THIN: Final = 5
"""Up to so many layers, nothing is to be done: a seam that crosses a seam. Common practice, no source."""
THICK: Final = 9
"""From so many layers on, a usual machine is helped over by hand. Common practice, no source."""


def thickest(pattern: Pattern) -> tuple[Thickness, ...]:
    """The places that are named."""
    return tuple(thick for thick in pattern.layers[:NAMED] if thick.layers > THIN)


def layers_words(pattern: Pattern) -> list[Words]:
    """What the layer map says: each place named with what to do, then what goes for all."""
    marked = thickest(pattern)
    if not marked:
        most = pattern.layers[0].layers if pattern.layers else 3
        return [f"No point has more than {most} layers of cloth: nothing is to be done."]
    told: list[Words] = []
    for number, thick in enumerate(marked, 1):
        where = f"{thick.layers} layers where {where_words(pattern, thick.place)}. "
        told.append([bold(f"{number}: "), where, " ".join(_advice(pattern, thick))])
    alike = sum(thick.layers == marked[-1].layers for thick in pattern.layers[len(marked) :])
    if alike:
        told.append(f"{counted(alike, 'more place is', 'more places are')} as thick as the last of these.")
    told.append(
        f"At a thick place trim the allowances below the top one, each {Say(pattern).small(STEP)} narrower than the "
        "one over it, so that they end like steps."
    )
    if marked[0].layers >= THICK:
        told.append(
            "Where a later seam or the quilting crosses one, take a thicker needle (size 90 or 100, also called 14 or "
            "16), a longer stitch, and turn the machine slowly by its hand wheel."
        )
    return told


def _advice(pattern: Pattern, thick: Thickness) -> Iterator[str]:
    """What makes one place thinner: spinning it, or pressing one of its last joins open, and how far."""
    meetings = [meeting for meeting in pattern.pressing.meetings if meeting.place == thick.place]
    if any(meeting.spins for meeting in meetings):
        yield "Spin it."
        return
    found = [
        (layers, label)
        for label in _joins_at(pattern, thick.place)[-2:]
        if (layers := _pressed_open(pattern, label, thick.place)) is not None and layers <= thick.layers - 2
    ]
    if found:
        least = min(layers for layers, _ in found)
        labels = join_names(pattern, [label for layers, label in found if layers == least])
        yield f"Pressing {listed(labels, 'or')} open instead leaves {least}."


def _joins_at(pattern: Pattern, place: Point) -> list[str]:
    return [
        join.label
        for join in pattern.construction.joins
        if any(distance_to_segment(place, edge.start, edge.end) <= 3 * SAME_POINT for edge in join.seam)
    ]


def _pressed_open(pattern: Pattern, label: str, place: Point) -> int | None:
    """The layers at a junction with one join pressed open."""
    plan = pattern.pressing
    seams = tuple(replace(seam, toward="open") if seam.join == label else seam for seam in plan.seams)
    layers = LayerMap(pattern.block, pattern.construction, replace(plan, seams=seams), pattern.recipe.make.allowance)
    return layers.round(place)

"""The words of the level and of the forecast."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from seamproof.geometry.points import distance
from seamproof.planning.forecast import Hand
from seamproof.plugin.widths import sharpest_of, width_of
from seamproof.sheets.handout_nodes import bold
from seamproof.sheets.words_pressing import where_words
from seamproof.sheets.words_say import FINEST, Say, capital
from seamproof.tolerance import SAME_POINT
from seamproof.units import round_up

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.geometry import Point
    from seamproof.pattern import Pattern
    from seamproof.pattern.level import Figure
    from seamproof.planning.forecast import Forecast
    from seamproof.sheets.handout_nodes import Words

RULE: Final = (
    "The rule: within its first limit a figure is for beginners, within its second for makers with some experience, "
    "beyond it for those with much; a block is as hard as its hardest figure. The limits are custom and nothing more: "
    "argue with them."
)
NINETEEN: Final = 1.96
"""[1] So many standard deviations hold 19 of 20 of a normal distribution. Source: its quantile at 0.975."""
_POINTS: Final = 3
"""How many of the worst match points are named."""


def level_rows(pattern: Pattern) -> list[tuple[str, str, str, str, str]]:
    """Each figure of the level: its name, value, two limits, and whom it is for."""
    say = Say(pattern)
    return [
        (
            capital(figure.name),
            _value(say, figure, figure.value),
            _limit(say, figure, figure.limits[0]),
            _limit(say, figure, figure.limits[1]),
            figure.level,
        )
        for figure in pattern.level.figures
    ]


def level_lines(rows: Sequence[tuple[str, str, str, str, str]]) -> list[Words]:
    """The same as lines, for pages on which a table of five columns is too narrow."""
    return [
        [bold(f"{name}: {here}"), f", which asks for {who}. Beginner: {beginner}; intermediate: {intermediate}."]
        for name, here, beginner, intermediate, who in rows
    ]


def _value(say: Say, figure: Figure, value: float) -> str:
    if figure.unit == "in":
        return say.fine_size(value)
    return f"{value:.3g}{figure.unit}"


def _limit(say: Say, figure: Figure, limit: float) -> str:
    if figure.falls:
        return f"{_value(say, figure, limit)} or more"
    return "none" if not limit else f"{_value(say, figure, limit)} or fewer"


def forecast_rows(pattern: Pattern) -> tuple[list[str], list[list[str]]]:
    """The head and rows of the forecast's table: sizes and worst points, as planned and cut and pieced."""
    casts: list[tuple[str, Forecast]] = []
    if pattern.construction.method == "foundation":
        casts.append(("On paper, as planned", pattern.forecast))
    pieced = pattern.forecast_pieced
    if pieced is not None:
        casts.append(("Cut and pieced", pieced))
    rows = [
        ["Finished width", *(_size(pattern, cast.width) for _, cast in casts)],
        ["Finished height", *(_size(pattern, cast.height) for _, cast in casts)],
    ]
    places = worst_places(casts[0][1]) or (worst_places(casts[-1][1]) if casts else [])
    for place in places:
        name = f"Where {where_words(pattern, place)}"
        rows.append([name, *(_point(pattern, cast, place) for _, cast in casts)])
    if not places:
        rows.append(["Points to match", *("none" for _ in casts)])
    return ["", *(head for head, _ in casts)], rows


def worst_places(cast: Forecast) -> list[Point]:
    """The match points that stray most, the worst first, each place once."""
    found: list[Point] = []
    for point in sorted(cast.points, key=lambda p: (-round(p.worst, 3), p.place)):
        if all(distance(point.place, place) > SAME_POINT for place in found):
            found.append(point.place)
    return found[:_POINTS]


def _size(pattern: Pattern, size: tuple[float, float]) -> str:
    say, (mean, spread) = Say(pattern), size
    if max(abs(mean), NINETEEN * spread) < FINEST / 2:
        return "true, as it is printed"
    way = "true" if abs(mean) < FINEST / 2 else f"{say.small(abs(mean))} {'small' if mean < 0 else 'large'}"
    return f"{way}, give or take {say.small(NINETEEN * spread)}"


def _point(pattern: Pattern, cast: Forecast, place: Point) -> str:
    say = Say(pattern)
    here = [point for point in cast.points if distance(point.place, place) <= SAME_POINT]
    if not here:
        return "no seams to match"
    return f"{say.small(max(p.median for p in here))} off, at worst {say.small(max(p.worst for p in here))}"


def assumed(pattern: Pattern) -> str:
    """What the forecast takes for granted."""
    say, hand, pieced = Say(pattern), Hand(), pattern.forecast_pieced or pattern.forecast
    trials = f"{pieced.trials:,}".replace(",", " ")
    within = [say.small(2 * error) for error in (hand.cutting, hand.seam)]
    line = f", one along a printed line within {say.small(2 * hand.line)}" if pattern.rough else ""
    return (
        f"Reckoned by sewing the block {trials} times on the computer with the errors of a careful beginner: "
        f"19 of 20 cuts within {within[0]}, 19 of 20 seams along a foot within {within[1]}{line}; each seam’s fold "
        f"takes {say.small(hand.fold)}. “Give or take” and “at worst” hold for 19 blocks of 20; seams are taken "
        "to stay parallel."
    )


def setting_words(pattern: Pattern) -> str | None:
    """How the machine is set so that the block comes out true on average, and how that is tried."""
    joined = bool(pattern.construction.joins)
    cast = pattern.forecast if joined else pattern.forecast_pieced
    if cast is None or cast.setting < FINEST / 2:
        return None
    say, seam = Say(pattern), pattern.recipe.make.allowance
    scant = f"{say.small(cast.setting)} scant, a thread’s width into the allowance"
    if not joined:
        how = f"On paper no seam needs setting: it is printed. To cut and piece the block instead, set the seam {scant}"
    elif pattern.construction.foundations:
        how = f"Sew the joins {scant}"
    else:
        how = f"Set the seam {scant}"
    cut = round_up(1 + 2 * seam, say.measure.step)
    return (
        f"{how}: so the finished size comes out true on average. Try it: three strips cut "
        f"{say.fine_size(cut)} wide, sewn side by side and pressed, must leave the middle one "
        f"{say.small(cut - 2 * seam)} wide."
    )


def why_paper(pattern: Pattern) -> Words:
    """Why narrow patches and sharp points are sewn on paper, in this block's own figures.

    Source: derived: a pieced edge strays by its cut and its seam, √(c² + s²); a corner of angle α whose one side moves
    by e slides along the other by e / sin α.
    """
    hand, say = Hand(), Say(pattern)
    patches = pattern.block.patches
    narrow = min(patches, key=lambda patch: round(width_of(patch.outline), 4))
    sharp = min(patches, key=lambda patch: round(sharpest_of(patch.outline), 2))
    width, angle = width_of(narrow.outline), sharpest_of(sharp.outline)
    slides = 1 / math.sin(math.radians(angle)) if angle < 90 else 1.0
    pieced, line = NINETEEN * math.hypot(hand.cutting, hand.seam), NINETEEN * hand.line
    share = [round(100 * error / width) for error in (pieced, line)]
    told = (
        f"Why paper? Cut and pieced, an edge strays by up to {say.small(pieced)}, by its cut and its seam; along a "
        f"printed line by {say.small(line)}, and nothing adds up from seam to seam. Of {pattern.names[narrow.id]}, "
        f"{say.fine_size(width)} wide, that is {share[0]} % and {max(1, share[1])} %."
    )
    if slides > 1:
        told += (
            f" The tip of {pattern.names[sharp.id]}, {angle:.3g}° sharp, slides {slides:.2g} times as far: "
            f"{say.small(slides * pieced)} pieced, {say.small(slides * line)} on paper."
        )
    return f"{told} The narrower the points, the more paper gains."

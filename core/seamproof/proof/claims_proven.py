"""The claims that every pattern makes, each from what was worked out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.plugin.widths import width_of
from seamproof.proof.claims import Claim
from seamproof.tolerance import ROUND_OFF, area_slack
from seamproof.units import inches

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.block import Block
    from seamproof.cloth import ClothPlan
    from seamproof.cutting import Placement, RoughPiece
    from seamproof.cutting.laid import LaidCloth
    from seamproof.referee import Replay
    from seamproof.sequence import Construction
    from seamproof.sequence.pressing import PressingPlan

STANDARD: Final = (
    "tiles", "wide-enough", "sews", "covers", "laid-units", "foundations", "pivots", "partial-seams", "nests",
    "fits-the-cloth",
)  # fmt: skip
"""The claims every pattern makes, in order."""


def tiles(block: Block) -> Claim:
    """The patches tile the block. The block has passed its own check."""
    total = sum(patch.outline.area for patch in block.patches)
    whole = block.outline.area if block.outline else total
    slack = area_slack(sum(patch.outline.perimeter for patch in block.patches))
    proof = (
        f"every side of the {len(block.patches)} patches is shared by two of them or lies on the outline, "
        f"and their areas add up to that of the block"
    )
    return Claim("tiles", total, whole, "in²", proof, abs(total - whole) <= slack)


def wide_enough(block: Block, narrowest: float) -> Claim:
    """No patch is narrower than the recipe allows."""
    widths = {patch.id: width_of(patch.outline) for patch in block.patches}
    worst = min(widths, key=lambda patch: widths[patch])
    proof = f"the width of every patch was measured; patch {worst} ({block.patch(worst).role}) is the narrowest"
    return Claim("wide-enough", widths[worst], narrowest, "in", proof, widths[worst] >= narrowest - ROUND_OFF)


def sews(construction: Construction, replayed: Replay) -> Claim:
    """Every step of the construction has passed the referee, which raises where one does not."""
    seen, steps = len(replayed.seen), len(construction.steps)
    proof = (
        f"every step was replayed from the shapes alone by a referee that knows nothing of the planner; each of the "
        f"{replayed.contacts} stretches where two patches meet is sewn once"
    )
    return Claim("sews", seen, steps, "steps", proof, seen == steps)


def covers(pieces: Sequence[RoughPiece], replayed: Replay, placement: Placement) -> Claim:
    """Every rough piece covers its patch and allowance however it is laid within the placement."""
    if replayed.least_slack is None:
        return Claim("covers", 0.0, 0.0, "in", "no piece is laid on a foundation", ok=not pieces)
    worst = min(pieces, key=lambda piece: piece.slack)
    laid = (
        f"{inches(placement.along, 1 / 32)} in along, {inches(placement.over, 1 / 32)} in over the line, "
        f"{placement.tilt:g}° of tilt, {inches(placement.fold, 1 / 32)} in lost in the fold"
    )
    proof = (
        f"the referee flipped {len(pieces)} rough pieces over their seams, each laid wrong by up to {laid}, all at "
        f"once; the figure is the least that is left to spare, at patch {worst.patch}"
    )
    return Claim("covers", replayed.least_slack, 0.0, "in", proof, replayed.least_slack >= -ROUND_OFF)


def laid_units(cloths: Sequence[LaidCloth]) -> Claim:
    """Every finished unit that is laid on a foundation lies on its own area after the flip, allowance and all."""
    right = sum(cloth.is_right for cloth in cloths)
    if not cloths:
        return Claim("laid-units", 0, 0, "units", "no finished unit is laid on a foundation", ok=True)
    sizes = ", ".join(
        f"{cloth.label} {' × '.join(inches(side, 1 / 16) for side in cloth.measured)} in" for cloth in cloths
    )
    proof = (
        f"mirrored in its line, as the flip lays it, each unit covers its own area and nothing past the line but "
        f"{inches(min(cloth.past_the_line for cloth in cloths), 1 / 32)} in of allowance; measured to its cut line, "
        f"there are {inches(min(cloth.beyond for cloth in cloths), 1 / 32)} in of cloth or more past its finished "
        f"edges; unfinished, along and across its line: {sizes}"
    )
    return Claim("laid-units", right, len(cloths), "units", proof, right == len(cloths))


def foundations(construction: Construction) -> Claim:
    """How many papers the block takes, and how few any construction along its seams could take."""
    count, least = len(construction.foundations), construction.bounds.foundations
    if construction.method != "foundation":
        proof = "it is sewn without papers"
    elif construction.optimal:
        proof = "no other way of sewing along the seams drawn takes fewer papers: all were searched or ruled out"
    else:
        proof = f"the fewest found; it is proven that none takes fewer than {least}"
    return Claim("foundations", count, least, "papers", proof, count >= least)


def pivots(construction: Construction) -> Claim:
    """How often the needle must stop and turn, and how rarely any construction along these seams could."""
    return _counted("pivots", construction.pivots, construction.bounds.pivots, "pivots")


def partial_seams(construction: Construction) -> Claim:
    """How many seams are started and finished later, and how few any construction with so few pivots has."""
    return _counted("partial-seams", construction.partial_seams, construction.bounds.partial_seams, "partial seams")


def _counted(name: str, count: int, least: int, unit: str) -> Claim:
    if count == least:
        proof = "no way of sewing along the seams drawn takes fewer" if count else "none is needed"
    else:
        proof = f"the fewest found; it is proven that none takes fewer than {least}"
    return Claim(name, count, least, unit, proof, count >= least)


def nests(pressing: PressingPlan) -> Claim:
    """At how many match points the seams of both sides lock, or one lies open."""
    meetings = len(pressing.meetings)
    nested = sum(meeting.nests for meeting in pressing.meetings)
    is_open = f"{pressing.open_seams} seams are pressed open" if pressing.open_seams else "no seam is pressed open"
    proof = f"a direction was found for every join, and no other choice lets more seams lock; {is_open}"
    return Claim("nests", nested, meetings, "match points", proof, pressing.proven)


def fits_the_cloth(cloth: ClothPlan) -> Claim:
    """Every piece can be cut from a strip across the usable width, one way or the other."""
    strips = [(need.groups[strip.group], strip) for need in cloth.needs for strip in need.strips]
    across = [max(group.width, group.height) + min(group.width, group.height) - strip.width for group, strip in strips]
    is_enough = all(
        strip.count * strip.each >= group.cut and strip.each * side <= cloth.usable + ROUND_OFF
        for (group, strip), side in zip(strips, across, strict=True)
    )
    proof = (
        f"the strips of all {len(cloth.needs)} fabrics were counted again: each gives its pieces side by side within "
        f"the usable width; the figure is the longest piece laid across it"
    )
    return Claim("fits-the-cloth", max(across, default=0.0), cloth.usable, "in", proof, is_enough)


def failed(claim: str, reason: str) -> Claim:
    """A claim that does not hold, and why."""
    return Claim(claim, "fails", None, "", reason, ok=False)


def not_reached(claim: str) -> Claim:
    """A claim that could not be looked at, because an earlier one fails."""
    return Claim(claim, "not reached", None, "", "an earlier claim fails, so this one could not be looked at", ok=False)

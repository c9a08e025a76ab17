"""Plain and rough pieces of whole plans, held to their patches by the referee."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from seamproof import Block, families, plan, replay
from seamproof.cutting import Placement, cut_pieces, rough_pieces, templates
from seamproof.referee.covering import least_slack
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from seamproof.cutting import CutPiece, RoughPiece
    from seamproof.sequence.construction import Method

FIRST = [(slug, next(iter(family.designs))) for slug, family in families().items()]

# Rooms on a grid as (left, bottom, right, top). Source: derived, the least floorplans that no straight cut parts: five
# rooms round about one another, either way, and with one of them parted again.
SPIRALS = {
    "five rooms": ["0021", "2032", "1233", "0113", "1122"],
    "five rooms, the other way": ["0012", "1031", "2133", "0223", "1122"],
    "six rooms, the core parted": ["0031", "3042", "1243", "0113", "1122", "2132"],
    "six rooms, an arm parted": ["0021", "2031", "3043", "1344", "0114", "1133"],
}
LINES = (0.0, 1.5, 2.5, 5.0, 6.0)


@pytest.mark.parametrize("method", ["foundation", "pieced", "hand"])
@pytest.mark.parametrize("name", SPIRALS)
def test_floorplans_that_need_a_hard_seam_are_sewn_and_covered(name: str, method: Method) -> None:
    rings = []
    for room in SPIRALS[name]:
        x0, y0, x1, y1 = (LINES[int(digit)] for digit in room)
        rings.append([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    block = Block.from_polygons(rings)
    block.check()
    construction = plan(block, method=method)
    replay(block, construction)
    pieces: list[RoughPiece | CutPiece] = [*rough_pieces(block, construction), *cut_pieces(block, construction)]
    assert replay(block, construction, pieces).covered == len(block.patches)
    assert construction.technique in {"partial", "set-in"}
    assert templates(block, construction)


@pytest.mark.parametrize("method", ["pieced", "hand"])
@pytest.mark.parametrize(("slug", "design"), FIRST)
def test_a_design_of_every_family_is_cut_plain(slug: str, design: str, method: Method) -> None:
    family = families()[slug]
    block = family.draft(family.parameters(**family.designs[design]), 12.0)
    construction = plan(block, method=method)
    assert replay(block, construction, cut_pieces(block, construction)).covered == len(block.patches)


def test_a_first_patch_with_a_tip_between_a_line_and_an_arc_is_asked_for_alike_on_both_sides() -> None:
    family = families()["compass"]
    block = family.draft(family.parameters.model_validate({"points": 32, "ground": "round", "waist": 0.25}), 6.0)
    construction = plan(block)
    curved = 0
    for piece in rough_pieces(block, construction, placement=Placement()):
        outline = block.patch(piece.patch).outline
        if piece.seam is None:
            slack = least_slack(outline, None, piece.placed, 0.25, Placement())
            assert slack == pytest.approx(piece.slack, abs=SAME_POINT)
            curved += not outline.is_straight
    assert curved

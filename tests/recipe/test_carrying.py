"""Seams that a recipe carries on: read, put into the block, refused with their place."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from seamproof import RecipeError, work_out
from seamproof.errors import BlockError
from seamproof.pattern.data import pattern_data
from seamproof.pattern.working_out import draft
from seamproof.planning.carrying import carry_on, possible
from seamproof.planning.repair import repair
from seamproof.recipe.carrying import carried, carry_tables
from seamproof.recipe.loading import read_recipe
from seamproof.recipe.writing import new_recipe

if TYPE_CHECKING:
    from seamproof.planning.carrying import Addition
    from seamproof.recipe import Recipe

RING = new_recipe("pinwheel-of-five").replace("patches = 5", "patches = 6")
CARRY = """
[[carry]]
patch = "3"
start = ["8 in", "4 in"]
end = ["12 in", "4 in"]
"""


def read(text: str) -> Recipe:
    return read_recipe(text.encode(), "x.toml")


def only(text: str) -> tuple[str, str, int]:
    with pytest.raises(RecipeError) as caught:
        read(text)
    (fault,) = caught.value.faults
    return fault.key, fault.message, fault.line


def line_of(text: str, what: str) -> int:
    return text[: text.rindex(what)].count("\n") + 1


def test_a_seam_carried_on_parts_its_patch_in_two_of_its_role_and_all_claims_hold() -> None:
    pattern = work_out(read(RING + CARRY))
    assert pattern.ok
    assert [patch.id for patch in pattern.block.patches] == ["1", "2", "3a", "3b", "4", "5"]
    assert pattern.block.patch("3a").role == pattern.block.patch("3b").role
    assert pattern.construction.technique == "straight"


def test_pattern_data_carry_them() -> None:
    data = pattern_data(work_out(read(RING + CARRY)))
    assert data["carry"] == [{"patch": "3", "start": [8.0, 4.0], "end": [12.0, 4.0]}]


def test_a_later_one_may_part_a_piece_of_an_earlier_one() -> None:
    text = new_recipe("hexagon-rosette")
    block = once = draft(read(text))
    additions: list[Addition] = []
    pieces: tuple[str, ...] = ("3",)
    for _ in range(2):
        patch, (start, end) = next((piece, way) for piece in pieces for way in possible(once, piece))
        once, added = carry_on(once, patch, start, (end[0] - start[0], end[1] - start[1]))
        additions, pieces = [*additions, added], added.pieces
    assert additions[1].patch in additions[0].pieces
    assert draft(read(f"{text}\n{carry_tables(block, additions)}")) == once


def test_points_measured_on_a_drawing_find_the_seam_itself() -> None:
    measured = CARRY.replace("8 in", "203 mm").replace('"12 in", "4 in"', '"304.8 mm", "10.2 cm"')
    assert draft(read(RING + measured)) == draft(read(RING + CARRY))


@pytest.mark.parametrize(
    ("change", "key", "says"),
    [
        (('"3"', '"9"'), "carry[1].patch", 'no patch "9"'),
        (('"3"', '"A"'), "carry[1].patch", 'a patch number such as "3"'),
        (('"12 in", "4 in"', '"12 in", "5 in"'), "carry[1].start", 'to ["12 in", "4 in"]'),
        (('"8 in", "4 in"', '"8 in", "6 in"'), "carry[1].start", 'it can go from ["8 in", "4 in"]'),
        (('"3"', '"1"'), "carry[1].start", "no seam ends at this patch"),
        (('"12 in", "4 in"', '"12 in"'), "carry[1].end[2]", "is missing"),
        (('"12 in", "4 in"', '"-12 in", "4 in"'), "carry[1].end[1]", "is not a size"),
        (("end =", "stop = 1\nend ="), "carry[1].stop", "allowed here: patch, start, end"),
    ],
)
def test_what_cannot_be_carried_on_is_told_with_its_place(change: tuple[str, str], key: str, says: str) -> None:
    text = RING + CARRY.replace(*change)
    found, message, line = only(text)
    assert found == key
    assert says in message
    last = key.rsplit(".", 1)[-1].split("[", 1)[0]
    assert line == line_of(text, f"{last} =")


def test_a_recipe_made_by_hand_is_refused_by_work_out_alike() -> None:
    recipe = read(RING + CARRY)
    twice = recipe.model_copy(update={"carry": recipe.carry * 2})
    with pytest.raises(BlockError, match="no patch"):
        work_out(twice)


@pytest.mark.parametrize("family", ["tumbling-blocks", "hexagon-rosette", "six-pointed-star"])
def test_what_repair_finds_is_found_again_from_its_tables(family: str) -> None:
    recipe = read(new_recipe(family))
    block = draft(recipe)
    mended = repair(block, looks=20)
    again = read(new_recipe(family) + "\n" + carry_tables(block, mended.additions))
    assert mended.additions
    assert carried(block, again.carry) == mended.block

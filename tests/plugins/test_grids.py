from __future__ import annotations

from typing import Any

import pytest

import seamproof as sp

FAMILIES = sp.families()


def draft(slug: str, **chosen: Any) -> sp.Block:
    family = FAMILIES[slug]
    return family.draft(family.parameters(**chosen), 12.0)


def share(block: sp.Block, *roles: str) -> float:
    assert block.outline is not None
    return sum(p.outline.area for p in block.patches if p.role.startswith(roles)) / block.outline.area


@pytest.mark.parametrize(
    ("slug", "chosen", "patches"),
    [
        ("checks", {"across": 2}, 4),
        ("checks", {"across": 3}, 9),
        ("checks", {"across": 5}, 25),
        ("rail-fence", {"rails": 3, "across": 2}, 4 * 3),
        ("half-square-triangles", {"plan": "cld lkl bla"}, 4 * 2 + 5),
        ("hourglass", {"across": 3}, 9 * 4),
        ("pinwheel", {"blades": "single"}, 4 * 2),
        ("pinwheel", {"blades": "double"}, 4 * 3),
        ("flying-geese", {"columns": 2, "geese": 4}, 8 * 3),
        ("geese-ring", {"geese": 4}, 1 + 4 * 4 * 3 + 4),
        ("geese-puzzle", {"columns": 1}, 8 * 3),
        ("churn-dash", {}, 1 + 4 * 2 + 4 * 2),
        ("bears-paw", {"claws": 2}, 4 * (1 + 4 * 2 + 1) + 4 + 1),
        ("card-trick", {}, 4 + 4 * 3 + 4 * 2),
        ("ladder", {"rungs": 2}, 5 * 4 + 4 * 2),
        ("basket", {"teeth": 3}, 2 + 6 * 2 + 1 + 2 * 2 + 3),
        ("snails-trail", {"rounds": 3}, 4 + 4 * 3),
        ("pinwheel-of-five", {}, 5),
    ],
)
# derived: the squares of the grid, and the parts each is cut into
def test_a_block_has_the_patches_of_its_grid(slug: str, chosen: dict[str, Any], patches: int) -> None:
    assert len(draft(slug, **chosen).patches) == patches


@pytest.mark.parametrize(
    ("slug", "chosen", "roles", "part"),
    [
        ("checks", {"across": 3}, ("dark",), 5 / 9),
        ("checks", {"across": 3, "middle": 2.0}, ("dark",), (4 + 4) / 16),
        ("half-square-triangles", {"plan": "cld lkl bla"}, ("dark",), 3 / 9),
        ("hourglass", {}, ("dark",), 1 / 2),
        ("pinwheel", {}, ("blade",), 1 / 2),
        ("pinwheel", {"blades": "double"}, ("blade",), 1 / 4),
        ("flying-geese", {}, ("goose",), 1 / 2),
        ("geese-puzzle", {"columns": 2}, ("goose",), 1 / 2),
        ("geese-ring", {"geese": 4}, ("goose",), 16 / 64),
        ("churn-dash", {}, ("bar", "corner triangle"), 4 / 9),
        ("bears-paw", {}, ("claw",), 8 / 49),
        ("bears-paw", {}, ("pad",), 16 / 49),
        ("ladder", {}, ("dark",), 2 / 9),
        ("basket", {}, ("basket",), 4.5 / 25),
        ("snails-trail", {"rounds": 4}, ("arm 1",), 1 / 4),
        ("pinwheel-of-five", {"centre": 0.5}, ("centre",), 1 / 4),
    ],
)
# derived: counted in squares of the grid
def test_a_block_has_the_shares_of_its_grid(
    slug: str, chosen: dict[str, Any], roles: tuple[str, ...], part: float
) -> None:
    assert share(draft(slug, **chosen), *roles) == pytest.approx(part)


def test_a_card_trick_shows_as_much_of_every_card() -> None:
    shares = [share(draft("card-trick"), f"card {n}") for n in (1, 2, 3, 4)]
    assert shares == pytest.approx([shares[0]] * 4)


@pytest.mark.parametrize("turn", ["anticlockwise", "clockwise"])
# derived: no straight cut exists, and its four seams precede one another in one ring, parted in one place
def test_a_pinwheel_of_five_has_one_partial_seam_and_no_pivot(turn: str) -> None:
    construction = sp.plan(draft("pinwheel-of-five", turn=turn))
    assert (construction.technique, construction.partial_seams, construction.pivots) == ("partial", 1, 0)


STRAIGHT = [slug for slug in FAMILIES if FAMILIES.plugin_of(slug).name == "grids" and slug != "pinwheel-of-five"]


@pytest.mark.parametrize("slug", STRAIGHT)
# common practice, no source: blocks on a grid are sewn in squares and rows
def test_a_block_on_a_grid_is_sewn_with_straight_seams(slug: str) -> None:
    assert sp.plan(draft(slug)).technique == "straight"


# derived: each round is cut off by the straight sides of the square inside it, down to the four-patch of two by two
def test_a_snails_trail_takes_two_foundations_for_its_four_patch() -> None:
    construction = sp.plan(draft("snails-trail", rounds=3))
    assert len(construction.foundations) == 2
    assert construction.optimal


@pytest.mark.parametrize(
    ("slug", "chosen", "message"),
    [
        ("checks", {"across": 4, "middle": 2.0}, r"^middle: 4 squares across .* make it 1, or take 5 across"),
        ("half-square-triangles", {"plan": "ab abc"}, r"^plan: row 2 has 3 letters and row 1 has 2: make it 2"),
    ],
)
def test_parameters_that_contradict_one_another_are_refused_by_name(
    slug: str, chosen: dict[str, Any], message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        draft(slug, **chosen)

"""From a recipe to a pattern: everything fits together, and every claim is looked at."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof import BlockError, NotSewable, Pattern, SewingError, families, work_out
from seamproof.pattern.cut_list import HEADS, cut_list, cut_list_csv
from seamproof.pattern.data import pattern_data
from seamproof.pattern.examining import claim_names, examine
from seamproof.pattern.legend import letter
from seamproof.proof.claims_proven import STANDARD
from seamproof.recipe.loading import read_recipe
from seamproof.recipe.model import Fabric, Make, Recipe
from seamproof.recipe.writing import new_recipe
from seamproof.testing.strategies import parameters

if TYPE_CHECKING:
    from collections.abc import Iterator

EVERY = [(slug, design) for slug, family in families().items() for design in family.designs]


def pineapple(*changes: tuple[str, str]) -> Recipe:
    text = new_recipe("pineapple")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return read_recipe(text.encode())


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    return work_out(pineapple(("copies = 1", "copies = 4")))


@pytest.mark.parametrize(("slug", "design"), EVERY)
def test_a_first_recipe_of_any_design_holds_every_claim(slug: str, design: str) -> None:
    worked_out = work_out(read_recipe(new_recipe(slug, design).encode()))
    assert [claim for claim in worked_out.claims if not claim.ok] == []


def test_every_claim_is_made_in_its_order(pattern: Pattern) -> None:
    assert (
        tuple(claim.claim for claim in pattern.claims) == claim_names(pattern.recipe) == (*STANDARD, "expect.patches")
    )


def test_a_pineapple_of_six_rounds_is_25_patches_on_one_foundation(pattern: Pattern) -> None:
    # Source: common practice, no source.
    assert len(pattern.block.patches) == 25
    assert len(pattern.construction.foundations) == 1
    assert pattern.construction.loose == ()


def test_every_foundation_patch_has_a_rough_piece_and_every_loose_one_a_plain_piece(pattern: Pattern) -> None:
    assert [piece.patch for piece in pattern.rough] == list(pattern.construction.foundations[0].order)
    assert {piece.patch for piece in pattern.cut} == set(pattern.construction.loose)


def test_every_foundation_and_loose_patch_has_a_template_or_stands_for_one(pattern: Pattern) -> None:
    stand_for = [label for template in pattern.templates for label in template.stands_for]
    labels = [foundation.label for foundation in pattern.construction.foundations]
    assert sorted(stand_for) == sorted([*labels, *pattern.construction.loose])


def test_the_cloth_has_a_need_for_each_fabric_in_the_order_of_the_legend(pattern: Pattern) -> None:
    assert [need.fabric for need in pattern.cloth.needs] == [line.key for line in pattern.legend]


def test_the_legend_gives_every_patch_its_fabric_by_its_role(pattern: Pattern) -> None:
    for patch in pattern.block.patches:
        assert pattern.fabric(patch.id).key == pattern.recipe.fabric_of(patch.role)


def test_letters_and_hatches_of_a_legend_differ(pattern: Pattern) -> None:
    assert len({line.letter for line in pattern.legend}) == len(pattern.legend)
    assert [line.hatch for line in pattern.legend] == list(range(len(pattern.legend)))


@given(st.integers(0, 10**6))
def test_no_two_fabrics_share_a_letter(number: int) -> None:
    # Source: derived, letters are numbers to the base of 26 whose digits run from 1 to 26.
    value = 0
    for char in letter(number):
        value = value * 26 + ord(char) - ord("a") + 1
    assert value == number + 1


def test_a_fabric_whose_key_cannot_be_shown_is_named_by_its_letter() -> None:
    recipe = pineapple(("[fabrics.lantern]", '[fabrics."\\u0007"]'), ('"lantern"', '"\\u0007"'))
    assert work_out(recipe).legend[0].name == "fabric a"


def test_expectations_are_held() -> None:
    told = (("patches = 25", 'patches = 24\nfoundations = 2\ntechnique = "set-in"\ncloth = {lantern = "1 in"}'),)
    claims = {claim.claim: claim for claim in work_out(pineapple(*told)).claims}
    for name in ("expect.patches", "expect.foundations", "expect.technique", "expect.cloth.lantern"):
        assert not claims[name].ok
    told = (("patches = 25", 'patches = 25\nfoundations = 1\ntechnique = "straight"\ncloth = {lantern = "9 yd"}'),)
    assert work_out(pineapple(*told)).ok


def test_a_pattern_that_does_not_fit_the_cloth_fails_that_claim() -> None:
    recipe = pineapple(('cloth_width = "40 in"', 'cloth_width = "8 in"'), ('"12 in"', '"24 in"'))
    outcome = examine(recipe)
    assert not outcome.ok
    assert [claim.claim for claim in outcome.claims] == list(claim_names(recipe))


def test_parameters_of_a_recipe_made_by_hand_are_validated() -> None:
    recipe = pineapple().model_copy(update={"parameters": {"rounds": 4, "centre": 0.4}})
    assert len(work_out(recipe).block.patches) == 17
    with pytest.raises(ValueError, match="less than or equal to 12"):
        work_out(recipe.model_copy(update={"parameters": {"rounds": 99}}))


@pytest.mark.parametrize(
    ("error", "claim"),
    [
        (BlockError("gap"), "tiles"),
        (NotSewable("no"), "sews"),
        (SewingError("no", reason="bent-seam", step=3), "sews"),
        (SewingError("short", reason="not-covered"), "covers"),
    ],
)
def test_what_breaks_is_told_at_its_claim(monkeypatch: pytest.MonkeyPatch, error: Exception, claim: str) -> None:
    def broken(recipe: Recipe) -> Pattern:
        raise error

    monkeypatch.setattr("seamproof.pattern.examining.work_out", broken)
    outcome = examine(pineapple())
    assert outcome.pattern is None
    assert [c.claim for c in outcome.claims] == list(claim_names(outcome.recipe))
    assert {c.claim: c.proof for c in outcome.claims}[claim] == str(error)
    assert not any(c.ok for c in outcome.claims)


def numbers(value: Any) -> Iterator[float]:
    if isinstance(value, dict):
        for item in value.values():
            yield from numbers(item)
    elif isinstance(value, list):
        for item in value:
            yield from numbers(item)
    elif isinstance(value, float):
        yield value


def test_the_data_of_a_pattern_is_plain_rounded_and_the_same_each_time(pattern: Pattern) -> None:
    data = pattern_data(pattern)
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    assert all(round(number, 4) == number and str(number) != "-0.0" for number in numbers(data))
    assert json.dumps(pattern_data(work_out(pattern.recipe))) == json.dumps(data)


def test_the_data_names_every_patch_and_its_fabric(pattern: Pattern) -> None:
    patches = pattern_data(pattern)["block"]["patches"]
    assert [patch["id"] for patch in patches] == list(pattern.block.ids)
    assert {patch["fabric"] for patch in patches} <= set(pattern.recipe.fabrics)
    # Source: derived, the areas of patches that tile an 12 in square add up to 144 square inches.
    assert sum(patch["area"] for patch in patches) == pytest.approx(144, abs=0.01)


def test_the_cut_list_gives_enough_pieces_of_every_patch_for_every_copy(pattern: Pattern) -> None:
    rows = [dict(zip(HEADS, row, strict=True)) for row in cut_list(pattern)]
    listed = [name for row in rows for name in row["patches"].split(", ")]
    assert sorted(listed) == sorted(pattern.names.values())
    for row in rows:
        assert int(row["pieces"]) >= int(row["needed"]) == 4 * len(row["patches"].split(", "))


def test_sizes_of_the_cut_list_are_in_millimetres_where_asked() -> None:
    rows = cut_list(work_out(pineapple(("# measure =", 'measure = "millimetres"'))))
    assert all(row[HEADS.index("unit")] == "mm" and int(row[HEADS.index("width")]) % 5 == 0 for row in rows)


@pytest.mark.parametrize("name", ["=1+1", "+1", "-1", "@x", "=HYPERLINK(1)"])
def test_no_cell_of_the_cut_list_is_a_formula(name: str) -> None:
    recipe = pineapple()
    fabrics = {key: Fabric(colour=fabric.colour, name=name) for key, fabric in recipe.fabrics.items()}
    text = cut_list_csv(work_out(recipe.model_copy(update={"fabrics": fabrics})))
    assert f",'{name}," in text
    assert f",{name}," not in text


@given(st.data())
def test_whatever_a_familys_parameters_allow_is_worked_out_and_proven(data: st.DataObject) -> None:
    family = data.draw(st.sampled_from(list(families().values())))
    values = data.draw(parameters(family.parameters))
    size = data.draw(st.sampled_from([6.0, 12.0, 30 / 2.54]))
    try:
        block = family.draft(values, size)
    except ValueError as error:
        assert str(error).split(":")[0] in family.parameters.model_fields
        return
    recipe = Recipe.model_construct(
        title="Any", family=family.slug, finished=size, parameters=values,
        fabrics={"one": Fabric(colour="#335577")}, roles=dict.fromkeys(block.roles, "one"),
        make=Make.model_validate({"narrowest": "1/64 in", "cloth_width": "100 in"}),
        pattern=pineapple().pattern, expect=pineapple().expect.model_copy(update={"patches": None}),
    )  # fmt: skip
    claims = {claim.claim: claim for claim in work_out(recipe).claims}
    assert all(claims[name].ok for name in ("tiles", "sews", "covers", "foundations"))

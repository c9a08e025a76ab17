"""`check` proves what recipes claim, and its exit status says how that went."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from click.testing import CliRunner, Result

from seamproof.cli import main
from seamproof.pattern.examining import claim_names
from seamproof.proof.claims_proven import STANDARD
from seamproof.recipe import load_recipe
from seamproof.recipe.writing import new_recipe

if TYPE_CHECKING:
    from pathlib import Path

GOOD = new_recipe("square-in-a-square")
FAILING = GOOD.replace("patches = 5", "patches = 6")
UNREADABLE = GOOD.replace("rounds = 1", "rounds = true")


def run(*args: object) -> Result:
    return CliRunner().invoke(main, ["check", *map(str, args)])


def recipes(result: Result) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads(result.stdout)["recipes"]
    return found


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "deep").mkdir()
    (tmp_path / "deep" / "b.recipe.toml").write_text(GOOD)
    (tmp_path / "a.recipe.toml").write_text(GOOD)
    (tmp_path / "other.toml").write_text("not a recipe")
    (tmp_path / ".hidden").mkdir()
    (tmp_path / ".hidden" / "c.recipe.toml").write_text("broken")
    return tmp_path


def test_status_0_when_every_claim_holds(folder: Path) -> None:
    result = run(folder / "a.recipe.toml")
    assert result.exit_code == 0
    assert "covers" in result.stdout
    assert "FAILS" not in result.stdout


def test_status_1_when_a_claim_fails(folder: Path) -> None:
    (folder / "c.recipe.toml").write_text(FAILING)
    result = run(folder / "a.recipe.toml", folder / "c.recipe.toml")
    assert result.exit_code == 1
    assert "5 not 6 patches" in result.stdout
    assert f"1 of {2 * len(STANDARD) + 2} claims fail" in result.stdout


def test_status_2_when_a_recipe_cannot_be_read_and_the_others_are_still_checked(folder: Path) -> None:
    (folder / "a.recipe.toml").write_text(UNREADABLE)
    result = run(folder, "--json")
    assert result.exit_code == 2
    assert result.stderr.startswith(f"{folder / 'a.recipe.toml'}:")
    assert "parameters.rounds: true is not allowed" in result.stderr
    assert [recipe["path"] for recipe in recipes(result)] == [str(folder / "deep" / "b.recipe.toml")]


@pytest.mark.parametrize("path", ["none.recipe.toml", "empty"])
def test_status_2_when_there_is_nothing_to_check(tmp_path: Path, path: str) -> None:
    (tmp_path / "empty").mkdir()
    result = run(tmp_path / path)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert str(tmp_path / path) in result.stderr


def test_status_2_without_a_path() -> None:
    assert run().exit_code == 2


def test_json_has_the_form_fixed(folder: Path) -> None:
    path = folder / "a.recipe.toml"
    (recipe,) = recipes(run(path, "--json"))
    assert set(recipe) == {"path", "title", "family", "patches", "foundations", "technique", "ok", "claims"}
    assert (recipe["path"], recipe["title"], recipe["family"]) == (str(path), "Economy patch", "square-in-a-square")
    assert (recipe["patches"], recipe["foundations"], recipe["technique"], recipe["ok"]) == (5, 1, "straight", True)
    assert [claim["claim"] for claim in recipe["claims"]] == list(claim_names(load_recipe(path)))
    assert all(set(claim) == {"claim", "value", "bound", "unit", "proof", "ok"} for claim in recipe["claims"])


def test_a_folder_stands_for_every_recipe_in_and_under_it_once(folder: Path) -> None:
    found = [recipe["path"] for recipe in recipes(run(folder, folder / "a.recipe.toml", "--json"))]
    assert found == [str(folder / "a.recipe.toml"), str(folder / "deep" / "b.recipe.toml")]


def test_a_block_that_does_not_fit_the_cloth_fails_that_claim_and_the_rest_is_not_reached(folder: Path) -> None:
    text = GOOD.replace('"12 in"', '"60 in"').replace('cloth_width = "40 in"', 'cloth_width = "8 in"')
    (folder / "c.recipe.toml").write_text(text.replace("copies = 1", "copies = 2"))
    result = run(folder / "c.recipe.toml", "--json")
    (recipe,) = recipes(result)
    assert result.exit_code == 1
    assert (recipe["ok"], recipe["patches"], recipe["technique"]) == (False, None, None)
    claims = {claim["claim"]: claim for claim in recipe["claims"]}
    assert "larger both ways than the usable width" in claims["fits-the-cloth"]["proof"]
    assert claims["sews"]["value"] == "not reached"


def test_markup_in_a_title_is_shown_as_text(folder: Path) -> None:
    (folder / "c.recipe.toml").write_text(GOOD.replace('"Economy patch"', '"[red]<b>x</b>[/red] :smile:"'))
    assert "[red]<b>x</b>[/red] :smile:" in run(folder / "c.recipe.toml").stdout

"""Recipes are tests: one item for each claim."""

from __future__ import annotations

import subprocess
import sys

import pytest

from seamproof import work_out
from seamproof.proof.claims_proven import STANDARD
from seamproof.recipe.loading import read_recipe
from seamproof.recipe.writing import new_recipe

pytest_plugins = ["pytester"]

CLAIMS = len(STANDARD) + 1
"""What a new recipe claims: what every pattern does, and how many patches it has."""


@pytest.fixture(scope="module", autouse=True)
def loaded() -> None:
    """Load what pytester would otherwise unload after each run: numpy cannot be loaded twice."""
    work_out(read_recipe(new_recipe("square-in-a-square").encode()))


def write(pytester: pytest.Pytester, text: str, name: str = "bell") -> None:
    (pytester.path / f"{name}.recipe.toml").write_text(text, encoding="utf-8")


def test_a_recipe_has_one_item_for_each_claim(pytester: pytest.Pytester) -> None:
    write(pytester, new_recipe("square-in-a-square"))
    result = pytester.runpytest("-v")
    result.assert_outcomes(passed=CLAIMS)
    names = ("tiles", "wide-enough", "sews", "covers", "foundations", "fits-the-cloth", "expect.patches")
    result.stdout.fnmatch_lines([f"*bell.recipe.toml::{name} PASSED*" for name in names])


def test_a_claim_that_fails_says_why_without_a_traceback(pytester: pytest.Pytester) -> None:
    write(pytester, new_recipe("square-in-a-square").replace("patches = 5", "patches = 6"))
    result = pytester.runpytest()
    result.assert_outcomes(passed=CLAIMS - 1, failed=1)
    result.stdout.fnmatch_lines(["*expect.patches: 5, held to 6 patches"])
    result.stdout.no_fnmatch_line("*Traceback*")


def test_a_recipe_that_cannot_be_read_fails_with_every_fault(pytester: pytest.Pytester) -> None:
    write(pytester, new_recipe("pineapple").replace("rounds = 6", "rounds = 99").replace("copies = 1", "copies = true"))
    result = pytester.runpytest()
    result.assert_outcomes(failed=1)
    result.stdout.fnmatch_lines(["*parameters.rounds: 99 is too large*", "*make.copies: true is not allowed*"])


def test_one_claim_can_be_chosen(pytester: pytest.Pytester) -> None:
    write(pytester, new_recipe("square-in-a-square"))
    pytester.runpytest("bell.recipe.toml::covers").assert_outcomes(passed=1)


def test_record_draws_the_recipe_and_the_drawing_is_held_to_it(pytester: pytest.Pytester) -> None:
    write(pytester, new_recipe("square-in-a-square"))
    pytester.runpytest("--record").assert_outcomes(passed=CLAIMS + 1)
    assert b"<svg" in (pytester.path / "bell.svg").read_bytes()
    pytester.runpytest("bell.recipe.toml::drawing").assert_outcomes(passed=1)


def test_a_changed_drawing_fails_and_both_are_laid_in_the_report(pytester: pytest.Pytester) -> None:
    write(pytester, new_recipe("square-in-a-square"))
    pytester.runpytest("--record").assert_outcomes(passed=CLAIMS + 1)
    recorded = (pytester.path / "bell.svg").read_bytes()
    write(pytester, new_recipe("square-in-a-square").replace("#d9912b", "#d9912c"))
    result = pytester.runpytest()
    result.assert_outcomes(passed=CLAIMS, failed=1)
    result.stdout.fnmatch_lines(["*bell.svg is not what is drawn now*--record*"])
    report = pytester.path / ".seamproof-report"
    assert (report / "bell.recorded.svg").read_bytes() == recorded == (pytester.path / "bell.svg").read_bytes()
    assert (report / "bell.drawn.svg").read_bytes() != recorded


def test_other_toml_is_left_alone(pytester: pytest.Pytester) -> None:
    (pytester.path / "other.toml").write_text("x = [")
    assert pytester.runpytest().ret == pytest.ExitCode.NO_TESTS_COLLECTED


def test_the_plugin_imports_nothing_of_seamproof_until_a_recipe_is_collected() -> None:
    mine = ("seamproof", "hypothesis")
    code = f"import sys, seamproof_pytest; print([m for m in sys.modules if m.split('.')[0] in {mine}])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"

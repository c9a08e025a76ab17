"""Recipes are tests: one item for each claim."""

from __future__ import annotations

import subprocess
import sys

import pytest

from seamproof.recipe.writing import new_recipe

pytest_plugins = ["pytester"]


def write(pytester: pytest.Pytester, text: str, name: str = "bell") -> None:
    (pytester.path / f"{name}.recipe.toml").write_text(text, encoding="utf-8")


def test_a_recipe_has_one_item_for_each_claim(pytester: pytest.Pytester) -> None:
    write(pytester, new_recipe("square-in-a-square"))
    result = pytester.runpytest_subprocess("-v")
    result.assert_outcomes(passed=7)
    names = ("tiles", "wide-enough", "sews", "covers", "foundations", "fits-the-cloth", "expect.patches")
    result.stdout.fnmatch_lines([f"*bell.recipe.toml::{name} PASSED*" for name in names])


def test_a_claim_that_fails_says_why_without_a_traceback(pytester: pytest.Pytester) -> None:
    write(pytester, new_recipe("square-in-a-square").replace("patches = 5", "patches = 6"))
    result = pytester.runpytest_subprocess()
    result.assert_outcomes(passed=6, failed=1)
    result.stdout.fnmatch_lines(["*expect.patches: 5, held to 6 patches"])
    result.stdout.no_fnmatch_line("*Traceback*")


def test_a_recipe_that_cannot_be_read_fails_with_every_fault(pytester: pytest.Pytester) -> None:
    write(pytester, new_recipe("pineapple").replace("rounds = 6", "rounds = 99").replace("copies = 1", "copies = true"))
    result = pytester.runpytest_subprocess()
    result.assert_outcomes(failed=1)
    result.stdout.fnmatch_lines(["*parameters.rounds: 99 is too large*", "*make.copies: true is not allowed*"])


def test_one_claim_can_be_chosen(pytester: pytest.Pytester) -> None:
    write(pytester, new_recipe("square-in-a-square"))
    pytester.runpytest_subprocess("bell.recipe.toml::covers").assert_outcomes(passed=1)


def test_other_toml_is_left_alone(pytester: pytest.Pytester) -> None:
    (pytester.path / "other.toml").write_text("x = [")
    assert pytester.runpytest_subprocess().ret == pytest.ExitCode.NO_TESTS_COLLECTED


def test_the_plugin_imports_nothing_of_seamproof_until_a_recipe_is_collected() -> None:
    mine = ("seamproof", "hypothesis")
    code = f"import sys, seamproof_pytest; print([m for m in sys.modules if m.split('.')[0] in {mine}])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"

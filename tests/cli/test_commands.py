"""The commands that need no working out: help, families, schema, first recipes."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner, Result

from seamproof import families
from seamproof.cli import main
from seamproof.cli.main import COMMANDS
from seamproof.recipe import load_recipe

if TYPE_CHECKING:
    from pathlib import Path

HEAVY = ("numpy", "shapely", "typst", "hypothesis", "pydantic", "rich", "pikepdf", "pypdfium2", "pysat")


def run(*args: str) -> Result:
    return CliRunner().invoke(main, args)


def test_help_loads_nothing_heavy() -> None:
    code = f"""
import sys
from seamproof.cli import main
try:
    main(["--help"])
except SystemExit:
    pass
print([name for name in {HEAVY} if name in sys.modules])
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


@pytest.mark.parametrize("name", COMMANDS)
def test_help_of_the_group_and_of_each_command_agree(name: str) -> None:
    group, own = run("--help"), run(name, "--help")
    assert (group.exit_code, own.exit_code) == (0, 0)
    assert f"  {name} " in group.output
    assert "--help" in own.output


def test_an_unknown_command_is_answered_with_the_nearest() -> None:
    result = run("pakc")
    assert result.exit_code == 2
    assert "Did you mean 'pack'?" in result.output


def test_the_version_is_that_of_the_distribution() -> None:
    assert "0.1.0" in run("--version").output


def test_families_lists_every_family() -> None:
    output = run("families").stdout
    assert all(slug in output for slug in families())


def test_families_as_json_has_the_form_fixed() -> None:
    data = json.loads(run("families", "--json").stdout)
    assert set(data) == {"families"}
    assert [family["slug"] for family in data["families"]] == list(families())
    for family in data["families"]:
        assert set(family) == {"slug", "title", "plugin", "parameters", "designs"}
        assert family["parameters"]["type"] == "object"
        assert family["designs"] == list(families()[family["slug"]].designs)


@pytest.mark.parametrize("slug", families())
def test_family_explains_every_parameter_and_design(slug: str) -> None:
    output = run("family", slug).stdout
    family = families()[slug]
    assert all(name in output for name in (*family.parameters.model_fields, *family.designs, *family.roles))


def test_an_unknown_family_is_told_with_the_nearest_and_status_2() -> None:
    result = run("family", "pinapple")
    assert result.exit_code == 2
    assert "did you mean 'pineapple'?" in result.stderr
    assert result.stdout == ""


def test_schema_is_json() -> None:
    assert json.loads(run("schema").stdout)["properties"]["finished"]["pattern"]


def test_a_new_recipe_is_written_and_loads(tmp_path: Path) -> None:
    path = tmp_path / "mine.recipe.toml"
    result = run("new-recipe", "pineapple", "--design", "small pineapple", "-o", str(path))
    assert result.exit_code == 0
    assert load_recipe(path).parameters.rounds == 4


def test_a_new_recipe_overwrites_nothing(tmp_path: Path) -> None:
    path = tmp_path / "mine.recipe.toml"
    path.write_text("mine")
    result = run("new-recipe", "pineapple", "-o", str(path))
    assert result.exit_code == 2
    assert "is there already" in result.stderr
    assert path.read_text() == "mine"


def test_a_new_recipe_in_no_folder_is_told(tmp_path: Path) -> None:
    result = run("new-recipe", "pineapple", "-o", str(tmp_path / "none" / "x.toml"))
    assert result.exit_code == 2
    assert "cannot be written: No such file" in result.stderr


def complete(words: str, current: str, cwd: Path) -> list[str]:
    env = {"_SEAMPROOF_COMPLETE": "bash_complete", "COMP_WORDS": words, "COMP_CWORD": current}
    code = "from seamproof.cli import main; main(prog_name='seamproof')"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, env=env, cwd=cwd, check=False)
    return [line.split(",")[1] for line in done.stdout.splitlines()]


def test_the_shell_completes_commands_options_families_and_designs(tmp_path: Path) -> None:
    assert complete("seamproof fam", "1", tmp_path) == ["families", "family"]
    assert "--left-handed" in complete("seamproof pack --l", "2", tmp_path)
    assert complete("seamproof family pine", "2", tmp_path) == ["pineapple"]
    assert complete("seamproof new-recipe pineapple --design gr", "4", tmp_path) == ["grand pineapple"]
    assert complete("seamproof pack --paper a", "3", tmp_path) == ["a4"]


def test_a_terminal_that_cannot_show_a_character_gets_another() -> None:
    code = "from seamproof.cli import main; main(['family', 'log-cabin'])"
    env = {"PYTHONIOENCODING": "ascii"}
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, env=env, check=False)
    assert done.returncode == 0
    assert b"Traceback" not in done.stderr


@pytest.mark.parametrize(
    "words",
    [
        ["check", ""], ["pack", "", "-o", "out"], ["pack", "x.recipe.toml", "-o", ""], ["measure", ""], ["repair", ""],
        ["gallery", "", "-o", "out"], ["gallery", "-o", ""], ["new-recipe", "pineapple", "-o", ""],
        ["new-family", "tide-steps", "-o", ""],
    ],
)  # fmt: skip
def test_an_empty_path_is_refused_and_never_means_the_folder_we_are_in(
    words: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    result = CliRunner().invoke(main, words)
    assert (result.exit_code, list(tmp_path.iterdir())) == (2, [])
    assert "the path is empty" in result.stderr

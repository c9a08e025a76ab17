"""`new-family` writes a project that draws at once, and writes over nothing."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from seamproof.cli import main
from seamproof.cli.new_family import FILES

ROOT = Path(__file__).parents[2]


def run(*args: str) -> Result:
    return CliRunner().invoke(main, ["new-family", *args])


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def files_of(folder: Path) -> dict[str, str]:
    return {p.relative_to(folder).as_posix(): p.read_text("utf-8") for p in folder.rglob("*") if p.is_file()}


def test_the_project_is_complete_and_no_placeholder_is_left(here: Path) -> None:
    assert run("tide-mill").exit_code == 0
    files = files_of(here / "tide-mill")
    assert len(files) == len(FILES)
    assert {"pyproject.toml", "README.md", "recipes/tide-mill.recipe.toml", "tests/test_family.py"} < set(files)
    assert not [path for path, text in files.items() if "$" in text + path]
    project = tomllib.loads(files["pyproject.toml"])["project"]
    assert project["entry-points"]["seamproof.plugins"] == {"tide-mill": "seamproof_tide_mill"}
    assert "src/seamproof_tide_mill/__init__.py" in files


@pytest.mark.parametrize("name", ["tide-mill", "x", "a" * 40])
def test_what_is_written_is_clean_by_our_own_rules(here: Path, name: str) -> None:
    run(name)
    command = [str(Path(sys.executable).parent / "ruff"), "check", "--config", str(ROOT / "pyproject.toml")]
    done = subprocess.run([*command, str(here / name / "src")], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


BAD = {
    "Harbour Steps": "'harbour-steps' would do",
    "harbour_steps": "'harbour-steps' would do",
    "-o": "",
    "": "such as 'harbour-steps'",
    "9": "such as 'harbour-steps'",
    "2-lamps": "'lamps' would do",
    "../up": "'up' would do",
    "phare à éclats": "'phare-a-eclats' would do",
    "a" * 41: f"'{'a' * 40}' would do",
    "a--b": "'a-b' would do",
    "a\x00b": "'a-b' would do",
    "a\n": "'a' would do",
}


@pytest.mark.parametrize("name", BAD)
def test_a_bad_name_is_refused_with_one_that_would_do(here: Path, name: str) -> None:
    result = run("--", name)
    assert result.exit_code == 2
    assert "is no name for a family" in result.stderr
    assert BAD[name] in result.stderr
    assert not list(here.iterdir())


TAKEN = {
    "log-cabin": "plugin logs (from seamproof",
    "rings": "a plugin that is installed",
    "pytest": "the module seamproof_pytest",
}


@pytest.mark.parametrize("name", TAKEN)
def test_a_name_that_is_taken_is_refused_and_its_owner_named(here: Path, name: str) -> None:
    result = run(name)
    assert result.exit_code == 2
    assert TAKEN[name] in result.stderr
    assert not list(here.iterdir())


@pytest.mark.parametrize("kind", ["full", "empty", "file", "dangling"])
def test_what_is_there_is_left_as_it_is(here: Path, kind: str) -> None:
    target = here / "tide-mill"
    if kind in {"full", "empty"}:
        target.mkdir()
    if kind == "dangling":
        target.symlink_to(here / "nowhere")
    elif kind != "empty":
        (target / "mine" if kind == "full" else target).write_text("mine")
    before = sorted(here.rglob("*"))
    result = run("tide-mill")
    assert result.exit_code == 2
    assert "is there already" in result.stderr
    assert sorted(here.rglob("*")) == before


def test_another_folder_can_be_named(here: Path) -> None:
    assert run("tide-mill", "-o", "work/mill").exit_code == 0
    assert (here / "work" / "mill" / "pyproject.toml").is_file()


@pytest.mark.parametrize("output", ["file/mill", "a\x00b", "/proc/none/mill"])
def test_a_folder_that_cannot_be_written_is_told(here: Path, output: str) -> None:
    (here / "file").write_text("mine")
    result = run("tide-mill", "-o", output)
    assert result.exit_code == 2
    assert isinstance(result.exception, SystemExit)
    assert any(word in result.stderr for word in ("name another folder", "no folder"))


@given(name=st.text(max_size=60))
def test_any_text_is_a_name_or_refused_in_words(tmp_path_factory: Any, name: str) -> None:
    folder = tmp_path_factory.mktemp("any") / "project"
    result = run("-o", str(folder), "--", name)
    assert result.exit_code == (0 if folder.exists() else 2)
    assert result.exit_code == 0 or result.stderr

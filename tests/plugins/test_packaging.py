from __future__ import annotations

import tomllib
from importlib.metadata import entry_points
from pathlib import Path

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))


def test_folders_wheel_list_entry_points_and_installed_metadata_agree() -> None:
    folders = {path.parent.name for path in (ROOT / "plugins").glob("*/__init__.py")}
    wheel = {Path(p).name for p in PROJECT["tool"]["hatch"]["build"]["targets"]["wheel"]["packages"]}
    declared = PROJECT["project"]["entry-points"]["seamproof.plugins"]
    installed = {
        e.name: e.value for e in entry_points(group="seamproof.plugins") if e.dist and e.dist.name == "seamproof"
    }
    assert folders == {name for name in wheel if name.startswith("seamproof_") and not name.endswith(".py")}
    assert folders == set(declared.values())
    assert declared == installed
    assert all(value == f"seamproof_{name}" for name, value in declared.items())
    assert not list((ROOT / "plugins").glob("__init__.py"))


def test_the_linters_know_every_plugin() -> None:
    folders = {path.parent.name for path in (ROOT / "plugins").glob("*/__init__.py")}
    assert folders < set(PROJECT["tool"]["ruff"]["lint"]["isort"]["known-first-party"])
    assert folders < set(PROJECT["tool"]["importlinter"]["root_packages"])

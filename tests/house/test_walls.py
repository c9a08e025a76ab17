"""The walls of the house: what may be imported where, and what may be written where."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

import seamproof

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).parents[2]
CORE = ROOT / "core"
PLUGINS = ROOT / "plugins"
OPEN_TO_PLUGINS = {
    "seamproof",
    *(f"seamproof.{name}" for name in ("block", "geometry", "plugin", "testing", "tolerance")),
}


def imported(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module


def users_of(library: str) -> set[str]:
    return {
        path.relative_to(CORE).as_posix()
        for path in CORE.rglob("*.py")
        if any(name.split(".")[0] == library for name in imported(path))
    }


def test_the_top_level_holds_what_it_should() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if listed.returncode:
        pytest.skip("not a git checkout: an unpacked sdist")
    tops = {line.split("/")[0] for line in listed.stdout.splitlines()}
    visible = {top for top in tops if not top.startswith(".")}
    assert visible == {"pyproject.toml", "README.md", "DEVELOPERS.md", "core", "plugins", "tests", "gallery"}


@pytest.mark.parametrize(
    "folder", sorted(p for p in PLUGINS.iterdir() if p.name.startswith("seamproof_")), ids=lambda p: p.name
)
def test_a_plugin_knows_the_public_face_alone(folder: Path) -> None:
    for path in folder.rglob("*.py"):
        ours = {name for name in imported(path) if name.split(".")[0].startswith("seamproof")}
        strange = {name for name in ours if name.split(".")[0] != folder.name} - OPEN_TO_PLUGINS
        assert not strange, f"{path.name} imports {strange}"


def test_core_knows_no_plugin() -> None:
    plugins = {p.name for p in PLUGINS.iterdir()}
    for path in CORE.rglob("*.py"):
        assert not plugins & {name.split(".")[0] for name in imported(path)}, path


def test_svgwrite_stays_behind_one_module() -> None:
    assert users_of("svgwrite") == {"seamproof/sheets/svg.py"}


def test_ezdxf_stays_behind_one_module() -> None:
    assert users_of("ezdxf") == {"seamproof/sheets/dxf.py"}


def test_typst_stays_in_sheets() -> None:
    users = users_of("typst")
    assert users
    assert all(user.startswith("seamproof/sheets/") for user in users)


def test_hypothesis_stays_in_testing() -> None:
    assert all(user.startswith("seamproof/testing/") for user in users_of("hypothesis"))


@pytest.mark.parametrize("folder", [CORE, PLUGINS], ids=["core", "plugins"])
def test_small_numbers_stand_in_the_tolerance_file_alone(folder: Path) -> None:
    loose = re.compile(r"(?<![\w.])\d+(?:\.\d+)?e-\d+")
    for path in folder.rglob("*.py"):
        if path.name != "tolerance.py":
            assert not loose.search(path.read_text("utf-8")), path


def test_no_file_is_too_long_to_read() -> None:
    long = {p.relative_to(ROOT).as_posix() for p in [*CORE.rglob("*.py"), *PLUGINS.rglob("*.py")]
            if len(p.read_text("utf-8").splitlines()) > 500}  # fmt: skip
    assert not long


def test_the_public_names_are_all_there() -> None:
    assert set(seamproof.__all__) == set(seamproof._HOME)
    for name in seamproof.__all__:
        assert getattr(seamproof, name) is not None


def test_importing_seamproof_loads_nothing_heavy() -> None:
    heavy = ["shapely", "numpy", "typst", "hypothesis", "pydantic", "pysat", "pypdfium2", "pikepdf", "fontTools",
             "ezdxf"]  # fmt: skip
    code = f"import sys, seamproof; print([name for name in {heavy} if name in sys.modules])"
    seen = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert seen.stdout.strip() == "[]"

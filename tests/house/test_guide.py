"""The pages for authors say what the code says."""

from __future__ import annotations

import dataclasses
import inspect
import re
from pathlib import Path
from typing import Any

import pytest

import seamproof as sp
from seamproof import testing
from seamproof.plugin import hookspecs
from seamproof.plugin.registry import CHOOSE, GROUP, TRACE
from seamproof.testing import laws

ROOT = Path(__file__).parents[2]
GUIDE = (ROOT / "DEVELOPERS.md").read_text("utf-8")
CORE = ROOT / "core" / "seamproof"


def section(title: str) -> str:
    _, found, rest = GUIDE.partition(f"\n## {title}\n")
    assert found, title
    return rest.partition("\n## ")[0]


def first_column(text: str) -> list[str]:
    return re.findall(r"^\| `(\w+)` \|", text, re.MULTILINE)


def hooks() -> dict[str, Any]:
    return {
        name: value
        for name, value in vars(hookspecs).items()
        if inspect.isfunction(value) and value.__module__ == hookspecs.__name__
    }


def test_the_hook_reference_has_the_real_signatures() -> None:
    written = re.findall(r"^### `(.+)`$", section("The hook"), re.MULTILINE)
    real = [f"{name}{inspect.signature(hook)}".replace("'", "") for name, hook in hooks().items()]
    assert real
    assert written == real


def test_every_function_of_the_hookspecs_is_a_hook_with_a_docstring() -> None:
    for hook in hooks().values():
        assert hasattr(hook, "seamproof_spec")
        assert "Called" in (hook.__doc__ or "")


def test_the_hook_reference_has_every_field_of_a_family() -> None:
    fields = {field.name for field in dataclasses.fields(sp.Family)}
    written = first_column(section("The hook"))
    assert sorted(written) == sorted(fields)


@pytest.mark.parametrize("name", [CHOOSE, TRACE, GROUP])
def test_the_hook_reference_names_the_switches(name: str) -> None:
    assert name in section("The hook")


def test_the_laws_in_plain_words_are_those_of_the_kit() -> None:
    public = {name for name in testing.__all__ if getattr(testing, name).__module__ == laws.__name__}
    assert sorted(first_column(section("The laws in plain words"))) == sorted(public)


def test_the_strategies_named_are_those_of_the_kit() -> None:
    public = {name for name in testing.__all__ if getattr(testing, name).__module__.endswith(".strategies")}
    named = set(re.findall(r"`(\w+)\(", section("The laws in plain words").rpartition("|\n")[2]))
    assert named == public


def test_check_family_tries_every_law_it_is_said_to() -> None:
    text = (CORE / "testing" / "checking.py").read_text("utf-8") + (CORE / "testing" / "laws.py").read_text("utf-8")
    for name in first_column(section("The laws in plain words")):
        assert len(re.findall(rf"\b{name}\(", text)) >= 2, f"{name} is defined, and called nowhere"


@pytest.mark.parametrize("path", sorted(set(re.findall(r"`((?:\w+/)+\w+\.py)`", section("How to …")))))
def test_every_file_a_how_to_names_is_there(path: str) -> None:
    home = ROOT if path.startswith("tests/") else CORE
    assert (home / path).is_file()


def test_the_names_in_the_how_tos_are_there() -> None:
    where = {
        "recipe/model.py": ["class Make", "class Expect"],
        "proof/claims_proven.py": ["STANDARD", "Claim("],
        "sheets/sketch.py": ["class Pad", "def write"],
        "sheets/drawing.py": ["class Drawing", "alt: str"],
        "cli/packing.py": ["def _fill"],
        "referee/reasons.py": ["class Reason"],
    }
    for path, names in where.items():
        text = (CORE / path).read_text("utf-8")
        assert not [name for name in names if name not in text], path

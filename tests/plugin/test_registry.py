from __future__ import annotations

import os
import subprocess
import sys
from importlib.metadata import EntryPoint
from typing import TYPE_CHECKING, Protocol

import pytest

import seamproof as sp
from seamproof.plugin.registry import load

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


class Install(Protocol):
    def __call__(self, name: str, text: str, value: str | None = None) -> EntryPoint: ...


GOOD = """
import seamproof as sp
from seamproof.plugin import Draft

class Choices(sp.Parameters):
    pass

def draft(parameters, size):
    block = Draft.square()
    block.add("all", [(0, 0), (1, 0), (1, 1), (0, 1)])
    return block.block("Plain", size)

@sp.hookimpl
def seamproof_families():
    return [sp.Family("SLUG", "Plain", Choices, draft, ("invented",), {"plain": {}})]
"""
BROKEN = {
    "raises": "raise RuntimeError('no thread left')",
    "quits": "import sys; sys.exit(3)",
    "misspelt": "import seamproof as sp\n@sp.hookimpl\ndef seamproof_famlies(): return []",
    "wrong-argument": "import seamproof as sp\n@sp.hookimpl\ndef seamproof_families(colour): return []",
    "hook-raises": "import seamproof as sp\n@sp.hookimpl\ndef seamproof_families(): return [1 / 0]",
    "not-a-list": "import seamproof as sp\n@sp.hookimpl\ndef seamproof_families(): return 7",
    "not-a-family": "import seamproof as sp\n@sp.hookimpl\ndef seamproof_families(): return ['x']",
    "bad-slug": GOOD.replace("SLUG", "Not A Slug"),
    "bad-design": GOOD.replace("SLUG", "bad-design").replace('{"plain": {}}', '{"plain": {"colour": 1}}'),
    "no-design": GOOD.replace("SLUG", "no-design").replace('{"plain": {}}', "{}"),
}


@pytest.fixture
def install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Install]:
    monkeypatch.syspath_prepend(str(tmp_path))
    made: list[str] = []

    def write(name: str, text: str, value: str | None = None) -> EntryPoint:
        module = f"stranger_{name.replace('-', '_')}_{len(made)}"
        (tmp_path / f"{module}.py").write_text(text)
        made.append(module)
        return EntryPoint(name, value or module, "seamproof.plugins")

    yield write
    for module in made:
        sys.modules.pop(module, None)


@pytest.mark.parametrize("kind", BROKEN)
def test_a_broken_plugin_is_reported_by_name_and_the_rest_load(install: Install, kind: str) -> None:
    loaded = load([install(kind, BROKEN[kind]), install("sound", GOOD.replace("SLUG", "plain"))])
    assert list(loaded) == ["plain"]
    assert [trouble.plugin.split()[0] for trouble in loaded.troubles] == [kind]


def test_a_plugin_that_is_not_there_is_reported(install: Install) -> None:
    loaded = load([install("gone", "", value="no_such_module_anywhere")])
    assert "ModuleNotFoundError" in str(loaded.troubles[0])


def test_two_families_of_one_slug_are_both_refused_and_both_named(install: Install) -> None:
    loaded = load([install("one", GOOD.replace("SLUG", "twin")), install("two", GOOD.replace("SLUG", "twin"))])
    assert not loaded
    assert "one" in loaded.troubles[0].plugin
    assert "two" in loaded.troubles[0].plugin
    assert "twin" in loaded.troubles[0].reason


def test_two_plugins_of_one_name_both_load(install: Install) -> None:
    loaded = load([install("same", GOOD.replace("SLUG", "a")), install("same", GOOD.replace("SLUG", "b"))])
    assert list(loaded) == ["a", "b"]
    assert not loaded.troubles


def test_the_order_of_entry_points_changes_nothing(install: Install) -> None:
    points = [install("b", GOOD.replace("SLUG", "b")), install("a", GOOD.replace("SLUG", "a")), install("c", "1 / 0")]
    one, other = load(points), load(reversed(points))
    assert (list(one), one.plugins, one.troubles) == (list(other), other.plugins, other.troubles)


@pytest.mark.parametrize(
    ("choose", "slugs"), [("", ["a", "b"]), ("a", ["a"]), ("-a", ["b"]), ("a, b,-b", ["a"]), ("-a,-b", [])]
)
def test_names_choose_and_a_minus_blocks(install: Install, choose: str, slugs: list[str]) -> None:
    points = [install("a", GOOD.replace("SLUG", "a")), install("b", GOOD.replace("SLUG", "b"))]
    assert list(load(points, choose)) == slugs


def test_choosing_a_plugin_that_is_not_installed_is_reported(install: Install) -> None:
    loaded = load([install("a", GOOD.replace("SLUG", "a"))], "a,typo")
    assert list(loaded) == ["a"]
    assert "typo" in str(loaded.troubles[0])


def test_a_blocked_plugin_is_not_even_imported(install: Install) -> None:
    assert not load([install("bad", "raise RuntimeError")], "-bad").troubles


def test_the_trace_shows_each_hook_call(install: Install) -> None:
    lines: list[str] = []
    load([install("a", GOOD.replace("SLUG", "a"))], trace=lines.append)
    assert any("seamproof_families" in line for line in lines)


def test_the_environment_chooses_and_traces() -> None:
    env = os.environ | {"SEAMPROOF_PLUGINS": "logs", "SEAMPROOF_TRACE": "1"}
    code = "import seamproof as sp; print(*sorted({sp.families().plugin_of(s).name for s in sp.families()}))"
    run = subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True)
    assert run.stdout == "logs\n"
    assert "seamproof_families" in run.stderr


def test_an_unknown_family_is_refused_with_the_nearest_slug() -> None:
    with pytest.raises(sp.PluginError, match="did you mean 'pineapple'") as caught:
        sp.families().family("pinapple")
    assert caught.value.name == "pinapple"


def test_the_built_in_families_load_without_trouble_and_say_where_they_are_from() -> None:
    loaded = sp.families()
    assert loaded.troubles == ()
    assert {loaded.plugin_of(slug).distribution for slug in loaded} == {"seamproof"}

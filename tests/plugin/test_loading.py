"""Plugins of strangers as they arrive: installed distributions, found by the command, each broken in its own way."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from seamproof.plugin import registry

if TYPE_CHECKING:
    from pathlib import Path

FAMILY = """
import seamproof as sp
from seamproof.plugin import Draft, rectangle

class Choices(sp.Parameters):
    pass

def draft(parameters, size):
    block = Draft.square(2)
    block.add("low", rectangle(0, 0, 2, 1))
    block.add("high", rectangle(0, 1, 2, 1))
    return block.block("Two strips", size)

@sp.hookimpl
def seamproof_families():
    return [sp.Family("SLUG", "Two strips", Choices, draft, ("invented",), {"two": {}}, roles=("low", "high"))]
"""
SOUND = FAMILY.replace("SLUG", "sound")
LIES = {
    "overlap": FAMILY.replace("rectangle(0, 1, 2, 1)", "rectangle(0, 0.5, 2, 1.5)"),
    "gap": FAMILY.replace("rectangle(0, 1, 2, 1)", "rectangle(0, 1, 1, 1)"),
    "off-the-block": FAMILY.replace("rectangle(0, 1, 2, 1)", "rectangle(0, 1, 2, 1.5)"),
    "wrong-size": FAMILY.replace('"Two strips", size)', '"Two strips", size / 2)'),
    "fickle": FAMILY.replace("def draft", "import itertools\ncount = itertools.count()\n\ndef draft").replace(
        'block("Two strips"', 'block(f"Take {next(count)}"'
    ),
    "raises": FAMILY.replace("    block = ", "    1 / 0\n    block = "),
}
TOLD = {
    "overlap": "do not tile",
    "gap": "do not tile",
    "off-the-block": "do not tile",
    "wrong-size": "was asked for 6 in",
    "fickle": "another block each time",
    "raises": "broke while drafting: ZeroDivisionError",
}
RECIPE = """
title = "Two strips"
family = "SLUG"
finished = "6 in"
[fabrics.fog]
colour = "#b7c0bf"
[roles]
low = "fog"
high = "fog"
"""


class Site:
    """A folder of installed distributions."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def add(self, name: str, text: str, distribution: str = "") -> None:
        distribution = distribution or f"quay-{name}"
        module = f"quay_{distribution.replace('-', '_')}_{name.replace('-', '_')}"
        (self.folder / f"{module}.py").write_text(text, "utf-8")
        info = self.folder / f"{distribution.replace('-', '_')}-2.1.dist-info"
        info.mkdir()
        (info / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {distribution}\nVersion: 2.1\n", "utf-8")
        (info / "entry_points.txt").write_text(f"[seamproof.plugins]\n{name} = {module}\n", "utf-8")

    def recipe(self, slug: str) -> str:
        path = self.folder / f"{slug}.recipe.toml"
        path.write_text(RECIPE.replace("SLUG", slug), "utf-8")
        return str(path)

    def run(self, *command: str, **more: str) -> subprocess.CompletedProcess[str]:
        env = os.environ | {"PYTHONPATH": str(self.folder)} | more
        return subprocess.run(
            [sys.executable, "-m", "seamproof.cli", *command], env=env, capture_output=True, text=True, check=False
        )


@pytest.fixture
def site(tmp_path: Path) -> Site:
    made = Site(tmp_path)
    made.add("sound", SOUND)
    return made


def slugs(done: subprocess.CompletedProcess[str]) -> set[str]:
    return {family["slug"] for family in json.loads(done.stdout)["families"]}


def test_families_shows_what_is_loaded_and_from_which_distribution(site: Site) -> None:
    done = site.run("families")
    assert done.returncode == 0
    assert "sound (from quay-sound 2.1)" in " ".join(done.stdout.split())
    assert done.stderr == ""


def test_broken_and_duplicate_plugins_are_told_by_name_and_the_others_go_on(site: Site) -> None:
    site.add("torn", "raise RuntimeError('the thread is torn')")
    site.add("gone", "import no_such_module_at_all")
    site.add("left", FAMILY.replace("SLUG", "twin"))
    site.add("right", FAMILY.replace("SLUG", "twin"))
    site.add("usurper", FAMILY.replace("SLUG", "log-cabin"))
    done = site.run("families", "--json")
    assert done.returncode == 0
    assert "Traceback" not in done.stderr
    told = done.stderr.splitlines()
    assert len(told) == 4
    for words in (
        ("torn (from quay-torn 2.1)", "RuntimeError: the thread is torn"),
        ("gone (from quay-gone 2.1)", "no_such_module_at_all"),
        ("left (from quay-left 2.1)", "right (from quay-right 2.1)", "'twin'"),
        ("usurper (from quay-usurper 2.1)", "logs (from seamproof", "'log-cabin'"),
    ):
        assert [line for line in told if all(word in line for word in words)], words
    assert {"sound", "pineapple"} < slugs(done)
    assert not {"twin", "log-cabin"} & slugs(done)


@pytest.mark.parametrize("lie", LIES)
def test_a_plugin_that_lies_is_told_by_name_and_the_other_recipes_are_proven(site: Site, lie: str) -> None:
    site.add("liar", LIES[lie].replace("SLUG", "liar"))
    done = site.run("check", site.recipe("liar"), site.recipe("sound"), "--json")
    assert done.returncode == 2
    assert "liar (from quay-liar 2.1)" in done.stderr
    assert TOLD[lie] in done.stderr
    assert "Traceback" not in done.stderr
    proven = json.loads(done.stdout)["recipes"]
    assert [(recipe["family"], recipe["ok"]) for recipe in proven] == [("sound", True)]


def test_what_a_plugin_prints_does_not_spoil_json(site: Site) -> None:
    site.add("chatty", "print('hello from the quay')\n" + FAMILY.replace("SLUG", "chatty"))
    done = site.run("families", "--json")
    assert "chatty" in slugs(done)
    assert "hello from the quay" in done.stderr


def test_a_plugin_that_quits_does_not_stop_the_command(site: Site) -> None:
    site.add("quits", "import sys\nsys.exit('enough')")
    done = site.run("families", "--json")
    assert done.returncode == 0
    assert "quits (from quay-quits 2.1): not loaded: SystemExit: enough" in done.stderr
    assert "sound" in slugs(done)


def test_the_environment_chooses(site: Site) -> None:
    assert slugs(site.run("families", "--json", SEAMPROOF_PLUGINS="sound")) == {"sound"}


def test_the_environment_blocks_and_a_blocked_plugin_is_not_imported(site: Site) -> None:
    site.add("usurper", "print('imported')\n" + FAMILY.replace("SLUG", "log-cabin"))
    done = site.run("families", "--json", SEAMPROOF_PLUGINS="-usurper")
    assert {"sound", "log-cabin"} < slugs(done)
    assert done.stderr == ""


def test_a_name_that_is_not_installed_is_told(site: Site) -> None:
    done = site.run("families", SEAMPROOF_PLUGINS="sound,tpyo")
    assert done.returncode == 0
    assert "plugin tpyo: SEAMPROOF_PLUGINS names it" in done.stderr


def test_the_trace_shows_the_hook_calls_on_standard_error_alone(site: Site) -> None:
    done = site.run("families", "--json", SEAMPROOF_TRACE="1", SEAMPROOF_PLUGINS="sound,rings")
    assert done.stderr.count("seamproof_families [hook]") == 2
    assert "sound" in slugs(done)
    assert site.run("families", "--json", SEAMPROOF_TRACE="0").stderr == ""


def test_a_recipe_of_a_family_that_was_not_loaded_says_why(site: Site) -> None:
    site.add("torn", "raise RuntimeError('the thread is torn')")
    done = site.run("check", site.recipe("torn"))
    assert done.returncode == 2
    assert "torn.recipe.toml:3" in done.stderr
    assert "the thread is torn" in done.stderr


def test_a_slow_plugin_is_told_and_used(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(site.folder))
    monkeypatch.setattr(registry, "SLOW", -1.0)
    loaded = registry.load(choose="sound")
    assert list(loaded) == ["sound"]
    assert [trouble.plugin for trouble in loaded.troubles] == ["sound (from quay-sound 2.1)"]
    assert "slow: it took" in loaded.troubles[0].reason
    monkeypatch.setattr(registry, "SLOW", 3600.0)
    assert registry.load(choose="sound").troubles == ()

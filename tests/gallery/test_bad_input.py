"""Whatever recipes hold, the site is built, shows it as text, and tells what failed."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from typing import TYPE_CHECKING
from urllib.parse import unquote

import pytest
from click.testing import CliRunner

from seamproof.cli import main
from seamproof.gallery.building import build
from seamproof.pattern.data import pattern_data

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from seamproof.pattern import Pattern

    Writing = Callable[..., Path]

EVIL = '</title><script>alert(1)</script><img src=x onerror="alert(2)"> & \'quotes\' "double"'


class Tags(HTMLParser):
    """Every tag of a page with its attributes, and the text that is shown."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.text += data


def pages(site: Path) -> dict[str, Tags]:
    return {path.relative_to(site).as_posix(): Tags(path.read_text("utf-8")) for path in site.rglob("*.html")}


def test_markup_in_titles_and_names_is_shown_as_text(recipes: Path, write: Writing, tmp_path: Path) -> None:
    write("evil", EVIL, **{'name = "Centre"': f"name = '''{EVIL}'''"})
    built = build([str(recipes)], tmp_path / "site")
    assert not built.failed
    found = pages(tmp_path / "site")
    for page in found.values():
        assert not [tag for tag, attributes in page.tags if any(key.startswith("on") for key in attributes)]
        assert not [1 for tag, attributes in page.tags if tag == "script" and not attributes.get("src")
                    and attributes.get("type") != "application/json"]  # fmt: skip
        assert not [1 for tag, attributes in page.tags if attributes.get("src") == "x"]
    name = next(block.name for block in built.blocks if block.shown.startswith("evil"))
    assert re.fullmatch(r"[a-z0-9-]+", name)
    assert EVIL in found["index.html"].text
    assert EVIL in found["compare.html"].text
    assert EVIL in found[f"blocks/{name}.html"].text


@pytest.mark.parametrize("title", ["קן הדרור", "燈塔", "मीनार", "🧵", "…"])
def test_a_title_of_any_script_is_shown_and_its_page_is_named_after_its_file(
    title: str, recipes: Path, write: Writing, tmp_path: Path
) -> None:
    path = write("lighthouse", title)
    built = build([str(path)], tmp_path / "site")
    assert [block.name for block in built.blocks] == ["lighthouse"]
    found = pages(tmp_path / "site")
    assert title in found["index.html"].text
    assert title in found["blocks/lighthouse.html"].text
    headings = [attributes for tag, attributes in found["blocks/lighthouse.html"].tags if tag == "h1"]
    assert headings == [{"dir": "auto"}]


def test_a_title_that_the_font_cannot_print_costs_the_handout_alone(
    recipes: Path, write: Writing, tmp_path: Path
) -> None:
    write("lighthouse", "燈塔")
    built = build([str(recipes)], tmp_path / "site")
    assert [path for path, _ in built.failed] == ["lighthouse.recipe.toml"]
    assert "its handout is missing" in built.failed[0][1]
    page = pages(tmp_path / "site")["blocks/lighthouse.html"]
    links = [attributes["href"] for tag, attributes in page.tags if tag == "a" and "download" in attributes]
    assert "lighthouse/cut-list.csv" in links
    assert "lighthouse/handout.pdf" not in links
    assert not (tmp_path / "site" / "blocks" / "lighthouse" / "handout.pdf").exists()


def test_two_recipes_of_one_name_have_a_page_each(recipes: Path, write: Writing, tmp_path: Path) -> None:
    (recipes / "other").mkdir()
    write("bell", "Bell")
    write("other/bell", "Bell")
    built = build([str(recipes)], tmp_path / "site")
    names = [block.name for block in built.blocks if block.card and block.card.title == "Bell"]
    assert names == ["bell", "bell-2"]
    assert {"blocks/bell.html", "blocks/bell-2.html"} <= set(pages(tmp_path / "site"))


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"rounds = 1": "rounds = 99"}, "parameters.rounds: 99 is too large"),
        ({"[roles]": "[roles"}, "is not closed"),
        ({"patches = 5": "patches = 6"}, "expect.patches fails: 5, held to 6"),
    ],
)
def test_a_recipe_with_a_fault_is_listed_and_the_others_are_built(
    change: dict[str, str], said: str, recipes: Path, write: Writing, tmp_path: Path
) -> None:
    write("broken", "Broken", **change)
    result = CliRunner().invoke(main, ["gallery", str(recipes), "-o", str(tmp_path / "site"), "--jobs", "1"])
    assert result.exit_code == 1
    assert said in result.output
    found = pages(tmp_path / "site")
    assert set(found) == {"index.html", "compare.html", "blocks/tide-glass.html", "blocks/five-boathouses.html"}
    assert "broken.recipe.toml" in found["index.html"].text
    assert said in found["index.html"].text
    assert str(tmp_path) not in found["index.html"].text


def test_a_fault_is_told_again_when_nothing_has_changed(recipes: Path, write: Writing, tmp_path: Path) -> None:
    write("broken", "Broken", **{"rounds = 1": "rounds = 99"})
    first = build([str(recipes)], tmp_path / "site")
    second = build([str(recipes)], tmp_path / "site")
    assert not second.is_changed
    assert first.failed == second.failed


def test_a_site_of_faults_alone_is_built(recipes: Path, write: Writing, tmp_path: Path) -> None:
    path = write("broken", "Broken", **{"rounds = 1": "rounds = 99"})
    build([str(path), str(tmp_path / "nowhere.recipe.toml")], tmp_path / "site")
    text = pages(tmp_path / "site")["index.html"].text
    assert "No block could be made." in text
    assert "nowhere.recipe.toml" in text


def test_a_fault_of_our_own_costs_one_block_and_is_told_with_its_place(
    recipes: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn = pattern_data

    def spoilt(pattern: Pattern) -> dict[str, object]:
        if pattern.recipe.title == "Tide glass":
            raise IndexError("no such patch")
        return drawn(pattern)

    monkeypatch.setattr("seamproof.pattern.data.pattern_data", spoilt)
    built = build([str(recipes)], tmp_path / "site")
    ((_, told),) = built.failed
    assert "please report it: IndexError at test_bad_input.py:" in told
    assert "blocks/five-boathouses.html" in pages(tmp_path / "site")
    assert not [path for path in (tmp_path / "site").rglob("*") if "tide-glass" in path.name]


def test_every_link_of_a_site_leads_to_a_file_of_it_and_none_outside(recipes: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    build([str(recipes)], site)
    for place, page in pages(site).items():
        ids = {attributes.get("id") for _, attributes in page.tags}
        for _, attributes in page.tags:
            for link in (attributes.get("href"), attributes.get("src")):
                if not link or link.startswith("data:"):
                    continue
                assert "//" not in link
                path, _, anchor = link.partition("#")
                assert path or anchor in ids, link
                assert not path or (site / place).parent.joinpath(unquote(path)).is_file(), link


def test_a_page_is_light(recipes: Path, tmp_path: Path) -> None:
    build([str(recipes)], tmp_path / "site")
    assert all(path.stat().st_size < 400_000 for path in (tmp_path / "site").rglob("*.html"))

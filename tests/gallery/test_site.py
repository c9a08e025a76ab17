"""A site is whole or not there, and only what changed is made again."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner

from seamproof import OutputError, RecipeError
from seamproof.cli import main
from seamproof.gallery import building
from seamproof.gallery.building import build
from seamproof.gallery.memory import MEMORY

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    Writing = Callable[..., Path]


def content(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.fixture
def site(recipes: Path, tmp_path: Path) -> Path:
    folder = tmp_path / "site"
    build([str(recipes)], folder)
    return folder


def test_every_block_has_its_page_picture_and_downloads(site: Path) -> None:
    places = set(content(site))
    for name in ("tide-glass", "five-boathouses"):
        mine = {f"blocks/{name}.html", f"pictures/{name}.svg", f"blocks/{name}/{name}.recipe.toml"}
        files = ("handout.pdf", "pattern.json", "cut-list.csv", "block-cloth.svg", "block-line.svg", "block-values.svg")
        assert mine | {f"blocks/{name}/{file}" for file in files} <= places
    assert {"index.html", "compare.html", MEMORY, "look/page.css", "look/player.js"} <= places


def test_when_nothing_changed_nothing_is_written(site: Path, recipes: Path) -> None:
    before = {path: path.stat().st_mtime_ns for path in (site, *site.rglob("*"))}
    built = build([str(recipes)], site)
    assert (built.made, built.is_changed) == (0, False)
    assert before == {path: path.stat().st_mtime_ns for path in (site, *site.rglob("*"))}


def test_a_site_among_its_recipes_does_not_grow_by_its_own(recipes: Path) -> None:
    site = recipes / "site"
    first = build([str(recipes)], site)
    second = build([str(recipes)], site)
    assert [block.name for block in second.blocks] == [block.name for block in first.blocks]
    assert not second.is_changed
    with pytest.raises(RecipeError, match="only the recipes of the site itself"):
        build([str(site)], site)


def test_only_what_changed_is_made_again(site: Path, recipes: Path) -> None:
    before = content(site)
    recipe = recipes / "tide-glass.recipe.toml"
    recipe.write_text(recipe.read_text("utf-8").replace("#d88a3a", "#d88a3b"), encoding="utf-8")
    assert build([str(recipes)], site).made == 1
    after = content(site)
    changed = {place for place in after if after[place] != before.get(place)}
    assert {"blocks/tide-glass.html", "pictures/tide-glass.svg", "blocks/tide-glass/tide-glass.recipe.toml"} <= changed
    assert not [place for place in changed if "boathouses" in place]


def test_a_site_brought_up_to_date_equals_one_made_anew(site: Path, recipes: Path, tmp_path: Path) -> None:
    (recipes / "five-boathouses.recipe.toml").unlink()
    build([str(recipes)], site)
    build([str(recipes)], tmp_path / "anew")
    assert content(site) == content(tmp_path / "anew")


def _without_a_page(site: Path) -> None:
    (site / "blocks" / "tide-glass.html").unlink()


def _with_a_changed_page(site: Path) -> None:
    (site / "blocks" / "tide-glass.html").write_text("<p>half")


def _with_a_torn_memory(site: Path) -> None:
    text = (site / MEMORY).read_bytes()
    (site / MEMORY).write_bytes(text[: len(text) // 2])


def _with_an_empty_memory(site: Path) -> None:
    (site / MEMORY).write_bytes(b"")


def _with_a_strange_memory(site: Path) -> None:
    (site / MEMORY).write_text(json.dumps({"maker": 1, "blocks": [[]], "files": None}))


def _without_its_index(site: Path) -> None:
    (site / "index.html").unlink()


def _with_a_page_of_old(site: Path) -> None:
    (site / "blocks" / "long-gone.html").write_text("old")


@pytest.mark.parametrize(
    "spoil",
    [
        _without_a_page,
        _with_a_changed_page,
        _with_a_torn_memory,
        _with_an_empty_memory,
        _with_a_strange_memory,
        _without_its_index,
        _with_a_page_of_old,
    ],
)
def test_a_half_built_site_is_built_right(site: Path, recipes: Path, spoil: Callable[[Path], None]) -> None:
    whole = content(site)
    spoil(site)
    build([str(recipes)], site)
    assert content(site) == whole


def test_when_building_breaks_the_old_site_stays_and_nothing_else(
    site: Path, recipes: Path, write: Writing, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole, around = content(site), set(site.parent.iterdir())
    write("more", "More")

    def broken(_job: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(building, "make", broken)
    with pytest.raises(KeyboardInterrupt):
        build([str(recipes)], site)
    assert content(site) == whole
    assert set(site.parent.iterdir()) == around


def test_a_file_of_the_users_in_the_site_is_kept_and_told(site: Path, recipes: Path) -> None:
    (site / "notes.txt").write_text("mine")
    with pytest.raises(OutputError, match=r"'notes\.txt', which is not of its gallery"):
        build([str(recipes)], site)
    assert (site / "notes.txt").read_text() == "mine"


def test_a_folder_that_is_no_site_is_refused(recipes: Path, tmp_path: Path) -> None:
    (tmp_path / "letters").mkdir()
    (tmp_path / "letters" / "index.html").write_text("dear")
    with pytest.raises(OutputError, match="holds files that are not a gallery's"):
        build([str(recipes)], tmp_path / "letters")
    assert (tmp_path / "letters" / "index.html").read_text() == "dear"


def test_a_link_in_the_site_is_not_followed(site: Path, recipes: Path, tmp_path: Path) -> None:
    outside = tmp_path / "outside.css"
    outside.write_text("mine")
    (site / "look" / "page.css").unlink()
    (site / "look" / "page.css").symlink_to(outside)
    with pytest.raises(OutputError, match=r"look/page\.css"):
        build([str(recipes)], site)
    assert outside.read_text() == "mine"


def test_several_processes_write_the_same_bytes_as_one(recipes: Path, write: Writing, tmp_path: Path) -> None:
    for name in ("one", "two", "three"):
        write(name, name)
    build([str(recipes)], tmp_path / "alone")
    told: list[tuple[int, int]] = []
    build([str(recipes)], tmp_path / "together", workers=2, tell=lambda done, of: told.append((done, of)))
    assert content(tmp_path / "alone") == content(tmp_path / "together")
    assert told == [(done, 5) for done in range(6)]


def test_the_bytes_hang_on_no_seed_place_or_hour(site: Path, recipes: Path, tmp_path: Path) -> None:
    environment = os.environ | {"PYTHONHASHSEED": "77", "TZ": "Pacific/Apia", "LC_ALL": "C"}
    command = [sys.executable, "-m", "seamproof.cli", "gallery", str(recipes), "-o", "other"]
    subprocess.run(command, cwd=tmp_path, env=environment, check=True, capture_output=True)
    assert content(site) == content(tmp_path / "other")


def test_the_command_says_what_it_made(recipes: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    first = CliRunner().invoke(main, ["gallery", str(recipes), "-o", str(site), "--jobs", "1"])
    assert (first.exit_code, first.output) == (0, f"{site}/index.html shows 2 blocks; 2 made now\n")
    second = CliRunner().invoke(main, ["gallery", str(recipes), "-o", str(site)])
    assert (second.exit_code, second.output) == (0, f"{site}/index.html shows 2 blocks; nothing has changed\n")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "name the folder to write with -o DIR"),
        (["x", "--repository", "y"], "leave RECIPE and -o out"),
        (["x.recipe.toml", "-o", __file__], "is a file, not a folder"),
    ],
)
def test_what_cannot_be_done_is_told_without_a_traceback(words: list[str], said: str, tmp_path: Path) -> None:
    result = CliRunner().invoke(main, ["gallery", *(word.format(tmp_path) for word in words)])
    assert result.exit_code == 2
    assert said in result.output
    assert not any(tmp_path.iterdir())


def test_a_folder_without_recipes_is_told(tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    result = CliRunner().invoke(main, ["gallery", str(tmp_path / "empty"), "-o", str(tmp_path / "site")])
    assert result.exit_code == 2
    assert "holds no file that ends in .recipe.toml" in result.output


def test_without_the_extra_a_site_has_no_dxf_and_is_else_the_same(
    site: Path, recipes: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "ezdxf", None)
    build([str(recipes)], tmp_path / "plain")
    plain, full = content(tmp_path / "plain"), content(site)
    dxf = {f"blocks/{name}/pattern.dxf" for name in ("tide-glass", "five-boathouses")}
    pages = {f"blocks/{name}.html" for name in ("tide-glass", "five-boathouses")}
    assert set(full) - set(plain) == dxf
    assert {place for place in plain if plain[place] != full[place]} == {MEMORY, *pages}
    for page in pages:
        without, rest = _downloads(plain[page].decode())
        with_it, same = _downloads(full[page].decode())
        assert rest == same
        assert "DXF" not in plain[page].decode()
        assert set(with_it) - set(without) == {f"{page.removeprefix('blocks/').removesuffix('.html')}/pattern.dxf"}


def _downloads(page: str) -> tuple[list[str], str]:
    """What a page offers to take along, and the page without that part."""
    before, _, after = page.partition('<section id="downloads"')
    part, _, after = after.partition("</section>")
    return re.findall('href="([^"]+)"', part), before + after


def test_a_site_is_made_again_once_the_extra_is_there(
    recipes: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patched:
        patched.setitem(sys.modules, "ezdxf", None)
        build([str(recipes)], tmp_path / "site")
    assert build([str(recipes)], tmp_path / "site").made == 2
    assert (tmp_path / "site" / "blocks" / "tide-glass" / "pattern.dxf").is_file()

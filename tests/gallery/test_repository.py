"""The repository's index and pictures are what is made of its recipes, to the byte."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from seamproof import OutputError, load_recipe
from seamproof.gallery.repository import INDEX, MARK, picture_of, record, repository_files
from seamproof.recipe.finding import find_recipes

GALLERY = Path(__file__).parents[2] / "gallery"
RECIPES = [Path(path) for path in find_recipes([str(GALLERY)])]
PLUGINS = {path.name.removeprefix("seamproof_") for path in (GALLERY.parent / "plugins").glob("seamproof_*")}


@pytest.fixture(scope="module")
def files() -> dict[Path, str]:
    return repository_files(GALLERY)


def test_index_and_pictures_are_what_is_drawn_now(files: dict[Path, str]) -> None:
    changed = [path.relative_to(GALLERY).as_posix() for path, text in files.items()
               if not path.is_file() or path.read_bytes() != text.encode()]  # fmt: skip
    assert not changed, "seamproof gallery --repository gallery"


def test_no_picture_is_left_of_a_recipe_that_is_gone() -> None:
    assert set(GALLERY.rglob("*.svg")) == {picture_of(path) for path in RECIPES}


def test_the_gallery_holds_thirty_blocks_or_more_of_every_plugin() -> None:
    assert len(RECIPES) >= 30
    assert {path.parent.name for path in RECIPES} == PLUGINS


def test_no_title_is_given_twice() -> None:
    assert len({load_recipe(path).title for path in RECIPES}) == len(RECIPES)


def test_every_link_of_the_index_leads_somewhere() -> None:
    index = (GALLERY / INDEX).read_text("utf-8")
    links = [*re.findall(r"\]\(([^)]+)\)", index), *re.findall(r'src="([^"]+)"', index)]
    assert len(links) >= 2 * len(RECIPES)
    assert all((GALLERY / link).is_file() for link in links)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copy(GALLERY / "rings" / "tide-glass.recipe.toml", tmp_path)
    return tmp_path


def test_a_first_record_writes_all_and_a_second_nothing(folder: Path) -> None:
    assert [path.name for path in record(folder)] == ["tide-glass.svg", INDEX]
    assert record(folder) == []


def test_a_changed_picture_is_written_again(folder: Path) -> None:
    record(folder)
    (folder / "tide-glass.svg").write_text("scribble")
    assert [path.name for path in record(folder)] == ["tide-glass.svg"]


def test_what_stands_above_the_mark_is_kept(folder: Path) -> None:
    (folder / INDEX).write_text(f"# Ours\n\n{MARK}\n\nold\n")
    record(folder)
    text = (folder / INDEX).read_text("utf-8")
    assert text.startswith(f"# Ours\n\n{MARK}\n")
    assert "old" not in text


def test_a_page_of_somebody_elses_is_not_overwritten(folder: Path) -> None:
    (folder / INDEX).write_text("# My garden\n")
    with pytest.raises(OutputError, match="is not an index of ours"):
        record(folder)
    assert (folder / INDEX).read_text() == "# My garden\n"


def test_markup_in_a_title_is_text_in_the_index(folder: Path) -> None:
    recipe = folder / "tide-glass.recipe.toml"
    text = recipe.read_text("utf-8").replace('title = "Tide glass"', "title = '<b>Tide</b> | *glass* [x](y)'")
    recipe.write_text(text, encoding="utf-8")
    record(folder)
    index = (folder / INDEX).read_text("utf-8")
    assert "&lt;b&gt;Tide&lt;/b&gt; \\| \\*glass\\* \\[x\\](y)" in index
    assert "<b>" not in index

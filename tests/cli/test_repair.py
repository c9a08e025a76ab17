"""`repair`: what it says, what it writes, what it refuses."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import pytest
from click.testing import CliRunner, Result

from seamproof import load_recipe, work_out
from seamproof.cli import main
from seamproof.recipe.writing import new_recipe

if TYPE_CHECKING:
    from pathlib import Path


def run(*args: object) -> Result:
    return CliRunner().invoke(main, [str(arg) for arg in args])


@pytest.fixture
def ring(tmp_path: Path) -> Path:
    path = tmp_path / "ring.recipe.toml"
    path.write_text(new_recipe("pinwheel-of-five"))
    return path


def test_it_says_which_seam_to_add_and_that_none_do_with_fewer(ring: Path) -> None:
    result = run("repair", ring)
    assert result.exit_code == 0
    assert "with 1 seam added" in result.output
    assert "proven that no fewer do" in result.output
    assert "across patch 3 to (12 in, 4 in)" in result.output


def test_the_recipe_it_writes_holds_all_it_claims_with_straight_seams(ring: Path, tmp_path: Path) -> None:
    new = tmp_path / "new.recipe.toml"
    assert run("repair", ring, "-o", new).exit_code == 0
    assert run("check", new).exit_code == 0
    pattern = work_out(load_recipe(new))
    assert (pattern.construction.technique, pattern.ok, len(pattern.block.patches)) == ("straight", True, 6)
    assert "patches = 6" in new.read_text()
    assert run("repair", new).output.count("no seam need be added") == 1


def test_seams_at_odd_places_are_written_and_found_again(tmp_path: Path) -> None:
    old, new = tmp_path / "old.recipe.toml", tmp_path / "new.recipe.toml"
    old.write_text(new_recipe("tumbling-blocks"))
    assert run("repair", old, "-o", new).exit_code == 0
    assert work_out(load_recipe(new)).construction.technique == "straight"


def test_nothing_that_is_there_is_overwritten(ring: Path, tmp_path: Path) -> None:
    for option, name in (("-o", "there.recipe.toml"), ("--drawing", "there.svg")):
        (tmp_path / name).write_text("mine")
        result = run("repair", ring, option, tmp_path / name)
        assert (result.exit_code, (tmp_path / name).read_text()) == (2, "mine")
        assert "is there already" in result.output


def test_the_drawing_shows_both_blocks_and_marks_added_seams_by_dashes_and_numbers(ring: Path, tmp_path: Path) -> None:
    picture = tmp_path / "both.svg"
    assert run("repair", ring, "--drawing", picture).exit_code == 0
    root = ET.fromstring(picture.read_text())
    by_class = [path.get("class") for path in root.iter() if path.get("class")]
    assert by_class.count("patch") == 5 + 6
    dashed = [group for group in root.iter() if group.get("stroke-dasharray")]
    assert [path.get("class") for group in dashed for path in group] == ["added"]
    texts = [text.text for text in root.iter() if text.tag.endswith("text") and text.get("aria-hidden") is None]
    assert {"Before", "After: 1 seam added", "1"} <= set(texts)


def test_what_cannot_be_mended_is_said_with_status_1(tmp_path: Path) -> None:
    # Source: derived: through every crossing of the star passes the join of two papers.
    path = tmp_path / "star.recipe.toml"
    path.write_text(new_recipe("ohio-star"))
    result = run("repair", path, "--foundations", 1, "-o", tmp_path / "new.recipe.toml")
    assert result.exit_code == 1
    assert "however many seams are carried on. This is proven" in result.output
    assert not (tmp_path / "new.recipe.toml").exists()


@pytest.mark.parametrize("option", ["--foundations", "--pivots"])
def test_a_count_below_nothing_is_refused(ring: Path, option: str) -> None:
    assert run("repair", ring, option, -1).exit_code == 2


def test_check_points_to_repair_only_where_seams_are_hard(ring: Path, tmp_path: Path) -> None:
    easy = tmp_path / "easy.recipe.toml"
    easy.write_text(new_recipe("log-cabin"))
    assert f"seamproof repair {ring}" in run("check", ring).output
    assert not re.search("seamproof repair", run("check", easy).output)

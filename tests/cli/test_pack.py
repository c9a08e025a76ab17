"""`pack` writes a proven pack whole, or nothing and says why."""

from __future__ import annotations

import csv
import hashlib
import json
import os
import subprocess
import sys
from typing import TYPE_CHECKING, Any

import pytest
from click.testing import CliRunner, Result

from seamproof.cli import main
from seamproof.recipe.writing import new_recipe

if TYPE_CHECKING:
    from pathlib import Path

TEXT = new_recipe("square-in-a-square").replace('"12 in"', '"6 in"')
FILES = {"handout.pdf", "pattern.json", "cut-list.csv", "block-cloth.svg", "block-line.svg", "block-values.svg",
         "template-A.svg"}  # fmt: skip


def run(command: str, *args: object) -> Result:
    return CliRunner().invoke(main, [command, *map(str, args)])


def names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


@pytest.fixture
def recipe(tmp_path: Path) -> Path:
    path = tmp_path / "bell.recipe.toml"
    path.write_text(TEXT, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def pack(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("packs")
    path = folder / "bell.recipe.toml"
    path.write_text(TEXT, encoding="utf-8")
    result = run("pack", path, "-o", folder / "bell")
    assert result.exit_code == 0, result.output
    assert "true to size" in result.output
    return folder / "bell"


def data(pack: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((pack / "pattern.json").read_text("utf-8"))
    return found


def test_a_pack_holds_what_is_fixed(pack: Path) -> None:
    assert names(pack) == FILES
    assert names(pack.parent) == {"bell", "bell.recipe.toml"}
    assert (pack / "handout.pdf").read_bytes().startswith(b"%PDF-")


def test_a_pack_knows_the_digest_of_each_of_its_files(pack: Path) -> None:
    files = data(pack)["pack"]["files"]
    assert set(files) == FILES - {"pattern.json"}
    assert all(hashlib.sha256((pack / name).read_bytes()).hexdigest() == digest for name, digest in files.items())


def test_pattern_json_says_on_which_page_each_template_lies(pack: Path) -> None:
    (template,) = data(pack)["templates"]
    (place,) = template["pages"]
    # Source: derived, a 6 in block with 1/4 in of allowance all round is cut 6 1/2 in.
    assert (place["width"], place["height"]) == (pytest.approx(6.5, abs=0.001), pytest.approx(6.5, abs=0.001))
    assert place["page"] > 1
    assert place["x"] >= 0.25


def test_the_cut_list_is_a_table(pack: Path) -> None:
    rows = list(csv.DictReader((pack / "cut-list.csv").read_text("utf-8").splitlines()))
    assert rows
    assert all(row["unit"] == "in" and int(row["needed"]) >= 1 for row in rows)


def test_measure_says_that_the_handout_is_true(pack: Path) -> None:
    result = run("measure", pack / "handout.pdf")
    assert result.exit_code == 0
    assert "template A: 6.500 × 6.500 in" in result.stdout


def test_the_same_recipe_gives_the_same_bytes_whatever_the_surroundings(pack: Path, tmp_path: Path) -> None:
    env = os.environ | {"PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo", "LC_ALL": "C"}
    command = [sys.executable, "-m", "seamproof.cli", "pack", str(pack.parent / "bell.recipe.toml"), "-o", "bell"]
    subprocess.run(command, cwd=tmp_path, env=env, check=True, capture_output=True)
    for name in FILES:
        assert (tmp_path / "bell" / name).read_bytes() == (pack / name).read_bytes(), name


def test_packing_again_replaces_the_pack(recipe: Path, tmp_path: Path) -> None:
    assert run("pack", recipe, "-o", tmp_path / "out").exit_code == 0
    recipe.write_text(TEXT.replace("rounds = 1", "rounds = 2").replace("patches = 5", "patches = 9")
                      .replace('"round 1"', '"round"'), encoding="utf-8")  # fmt: skip
    result = run(
        "pack", recipe, "-o", tmp_path / "out", "--paper", "a4", "--left-handed", "--large-print", "--text-only"
    )
    assert result.exit_code == 0, result.output
    packed = data(tmp_path / "out")
    assert packed["parameters"] == {"rounds": 2}
    assert packed["pack"]["options"] == {
        "paper": "a4", "left_handed": True, "large_print": True, "text_only": True, "printed": None, "font": None,
    }  # fmt: skip
    assert names(tmp_path) == {"bell.recipe.toml", "out"}


def test_another_recipes_pack_is_left_alone(recipe: Path, tmp_path: Path) -> None:
    assert run("pack", recipe, "-o", tmp_path / "out").exit_code == 0
    before = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    other = tmp_path / "other.recipe.toml"
    other.write_text(TEXT, encoding="utf-8")
    result = run("pack", other, "-o", tmp_path / "out")
    assert result.exit_code == 2
    assert "the pack of another recipe" in result.stderr
    assert before == {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}


def test_pages_are_corrected_for_a_printer(recipe: Path, tmp_path: Path) -> None:
    result = run("pack", recipe, "-o", tmp_path / "out", "--printed", "5.97x5.98")
    assert result.exit_code == 0, result.output
    (template,) = data(tmp_path / "out")["templates"]
    # Source: derived, what prints 5.97 for 6 must be drawn 6 / 5.97 as large.
    assert template["pages"][0]["width"] == pytest.approx(6.5 * 6 / 5.97, abs=0.001)
    assert template["pages"][0]["height"] == pytest.approx(6.5 * 6 / 5.98, abs=0.001)


@pytest.mark.parametrize(
    ("printed", "says"), [("5.64x5.64", "wrong setting"), ("6", "not two sizes"), ("0x6", "a size of 0"), ("", "sizes")]
)
def test_what_cannot_be_corrected_is_told_and_nothing_is_written(
    recipe: Path, tmp_path: Path, printed: str, says: str
) -> None:
    result = run("pack", recipe, "-o", tmp_path / "out", "--printed", printed)
    assert result.exit_code == 2
    assert says in result.stderr
    assert names(tmp_path) == {"bell.recipe.toml"}


def test_a_claim_that_fails_stops_the_pack(recipe: Path, tmp_path: Path) -> None:
    recipe.write_text(TEXT.replace("patches = 5", "patches = 6"), encoding="utf-8")
    result = run("pack", recipe, "-o", tmp_path / "out")
    assert result.exit_code == 1
    assert "expect.patches fails: 5, held to 6 patches" in result.stderr
    assert names(tmp_path) == {"bell.recipe.toml"}


def test_a_recipe_that_cannot_be_read_stops_the_pack(recipe: Path, tmp_path: Path) -> None:
    recipe.write_text("title = [", encoding="utf-8")
    result = run("pack", recipe, "-o", tmp_path / "out")
    assert result.exit_code == 2
    assert "is not closed" in result.stderr
    assert names(tmp_path) == {"bell.recipe.toml"}


def test_a_handout_that_is_not_true_is_not_written(
    recipe: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from seamproof.proof import measure

    monkeypatch.setattr(measure, "PRINT_TRUE", -1.0)
    result = run("pack", recipe, "-o", tmp_path / "out")
    assert result.exit_code == 2
    assert result.stderr
    assert names(tmp_path) == {"bell.recipe.toml"}


def test_a_template_that_is_not_mirrored_is_not_written(
    recipe: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from seamproof.sheets import pages, template_svg

    # Half a log cabin is no mirror image of itself.
    recipe.write_text(new_recipe("half-log-cabin"), encoding="utf-8")
    assert run("pack", recipe, "-o", tmp_path / "out").exit_code == 0
    for module in (template_svg, pages):
        monkeypatch.setattr(module, "is_mirrored", lambda *_given: False)
    result = run("pack", recipe, "-o", tmp_path / "other")
    assert result.exit_code == 2
    assert "the mirror image of its patches: print it the other way round" in result.stderr
    assert names(tmp_path) == {"bell.recipe.toml", "out"}


@pytest.mark.parametrize("title", ['"=1+1 <b>&amp;</b> #let x = 1"', '"../../etc/passwd"', '"' + "W" * 300 + '"'])
def test_a_strange_title_is_packed_as_text(recipe: Path, tmp_path: Path, title: str) -> None:
    recipe.write_text(TEXT.replace('"Economy patch"', title), encoding="utf-8")
    result = run("pack", recipe, "-o", tmp_path / "out")
    assert result.exit_code == 0, result.output
    assert names(tmp_path / "out") == FILES
    assert data(tmp_path / "out")["title"] == json.loads(title)


def test_a_character_that_the_font_lacks_is_named(recipe: Path, tmp_path: Path) -> None:
    recipe.write_text(TEXT.replace('"Economy patch"', '"Lantern 灯"'), encoding="utf-8")
    result = run("pack", recipe, "-o", tmp_path / "out")
    assert result.exit_code == 2
    assert "灯" in result.stderr
    assert "--font" in result.stderr
    assert names(tmp_path) == {"bell.recipe.toml"}


@pytest.mark.parametrize("name", ["none.pdf", "bell.recipe.toml", "."])
def test_measure_tells_what_is_no_handout(recipe: Path, name: str) -> None:
    result = run("measure", recipe.parent / name)
    assert result.exit_code == 2
    assert result.stderr


def test_a_drawing_for_cutting_machines_is_packed_when_asked_for(recipe: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert run("pack", recipe, "-o", out, "--dxf").exit_code == 0
    assert names(out) == FILES | {"pattern.dxf"}
    assert "pattern.dxf" in data(out)["pack"]["files"]
    assert run("pack", recipe, "-o", out).exit_code == 0
    assert names(out) == FILES


def test_without_the_extra_nothing_is_packed_and_the_extra_is_named(
    recipe: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "ezdxf", None)
    result = run("pack", recipe, "-o", tmp_path / "out", "--dxf")
    assert result.exit_code == 2
    assert "pip install 'seamproof[dxf]'" in result.stderr
    assert names(tmp_path) == {"bell.recipe.toml"}
    assert run("pack", recipe, "-o", tmp_path / "out").exit_code == 0
    assert names(tmp_path / "out") == FILES

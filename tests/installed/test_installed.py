"""The built wheel in environments of their own, in which no source of this checkout is seen."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from dataclasses import dataclass, field
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
STRANGER = ROOT / "tests" / "stranger"
GUIDE = "## Ten minutes from nothing to a packaged family"

pytestmark = pytest.mark.xdist_group("installed")  # its environments are made once, by one worker


def shell(**more: str) -> dict[str, str]:
    """The environment of a stranger's shell: nothing of this run's."""
    ours = ("PYTHON", "PYTEST", "SEAMPROOF", "VIRTUAL_ENV", "COV")
    env = {key: value for key, value in os.environ.items() if not key.startswith(ours)}
    path = os.pathsep.join([str(Path(sys.executable).resolve().parent), env.get("PATH", "")])
    quick = {"PIP_NO_COMPILE": "1", "PIP_DISABLE_PIP_VERSION_CHECK": "1", "PIP_QUIET": "1"}
    return {**env, "PATH": path, **quick, **more}


def run(command: list[str], cwd: Path, env: dict[str, str], status: int = 0) -> str:
    """Run a command and give all that it said."""
    done = subprocess.run(
        command, cwd=cwd, env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False
    )
    assert done.returncode == status, done.stdout
    return done.stdout


@dataclass(frozen=True)
class Home:
    """A virtual environment."""

    folder: Path
    env: dict[str, str] = field(default_factory=shell)

    def run(self, name: str, *arguments: str, cwd: Path, status: int = 0) -> str:
        """Run one of its commands."""
        return run([str(self.folder / "bin" / name), *arguments], cwd, self.env, status)

    def install(self, *what: str) -> None:
        self.run("python", "-m", "pip", "install", *what, cwd=self.folder)

    @property
    def packages(self) -> Path:
        return next((self.folder / "lib").glob("python3*")) / "site-packages"


def new_home(folder: Path) -> Home:
    run([sys.executable, "-m", "venv", str(folder)], folder.parent, shell())
    return Home(folder)


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> Home:
    return new_home(tmp_path_factory.mktemp("bare") / "venv")


@pytest.fixture(scope="module")
def wheel(first: Home, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    first.run("python", "-m", "pip", "wheel", "--no-deps", "-w", str(folder), str(ROOT), cwd=folder)
    return next(folder.glob("seamproof-*.whl"))


@pytest.fixture(scope="module")
def bare(first: Home, wheel: Path) -> Home:
    """Seamproof and pytest, and nothing that they do not need."""
    first.install(str(wheel), "pytest")
    return first


@pytest.fixture(scope="module")
def stranger(bare: Home, tmp_path_factory: pytest.TempPathFactory) -> tuple[Home, Path]:
    """The stranger's project, installed from a copy; the environment sees the bare one, so only what is new is got."""
    folder = tmp_path_factory.mktemp("stranger")
    source = shutil.copytree(STRANGER, folder / "source")
    home = new_home(folder / "venv")
    (home.packages / "bare.pth").write_text(f"{bare.packages}\n")
    home.install(f"{source}[test]")
    without = shutil.ignore_patterns("fennick_lanterns")
    return home, Path(shutil.copytree(STRANGER, folder / "project", ignore=without))


def test_recipes_are_tests_with_seamproof_and_pytest_alone(bare: Home, tmp_path: Path) -> None:
    assert "False" in bare.run(
        "python", "-c", "from importlib.util import find_spec as f; print(bool(f('hypothesis')))", cwd=tmp_path
    )
    recipe = tmp_path / "blocks" / "lamp.recipe.toml"
    recipe.parent.mkdir()
    bare.run("seamproof", "new-recipe", "log-cabin", "-o", str(recipe), cwd=tmp_path)
    said = bare.run("python", "-m", "pytest", "-v", "--record", "-W", "error", cwd=tmp_path)
    assert "blocks/lamp.recipe.toml::covers PASSED" in said
    assert "blocks/lamp.recipe.toml::drawing PASSED" in said
    recorded = (tmp_path / "blocks" / "lamp.svg").read_bytes()
    recipe.write_text(recipe.read_text("utf-8").replace("patches = ", "patches = 9"), "utf-8")
    said = bare.run("python", "-m", "pytest", cwd=tmp_path, status=1)
    assert "1 failed" in said
    assert "expect.patches" in said
    assert (tmp_path / "blocks" / "lamp.svg").read_bytes() == recorded


def test_without_the_extra_dxf_a_pack_and_a_site_are_made(bare: Home, tmp_path: Path) -> None:
    recipe = tmp_path / "lamp.recipe.toml"
    bare.run("seamproof", "new-recipe", "log-cabin", "-o", str(recipe), cwd=tmp_path)
    said = bare.run("seamproof", "pack", str(recipe), "-o", "out", "--dxf", cwd=tmp_path, status=2)
    assert "pip install 'seamproof[dxf]'" in said
    assert not (tmp_path / "out").exists()
    bare.run("seamproof", "pack", str(recipe), "-o", "out", cwd=tmp_path)
    bare.run("seamproof", "gallery", str(recipe), "-o", "site", cwd=tmp_path)
    assert (tmp_path / "out" / "handout.pdf").is_file()
    assert list((tmp_path / "site" / "blocks").glob("*/handout.pdf"))
    assert not list(tmp_path.rglob("*.dxf"))


def test_a_changed_drawing_lays_both_in_the_report(bare: Home, tmp_path: Path) -> None:
    recipe = tmp_path / "lamp.recipe.toml"
    bare.run("seamproof", "new-recipe", "log-cabin", "-o", str(recipe), cwd=tmp_path)
    bare.run("python", "-m", "pytest", "--record", cwd=tmp_path)
    recipe.write_text(re.sub("#[0-9a-f]{6}", "#123456", recipe.read_text("utf-8")), "utf-8")
    bare.run("python", "-m", "pytest", "lamp.recipe.toml::drawing", cwd=tmp_path, status=1)
    assert {path.name for path in (tmp_path / ".seamproof-report").iterdir()} == {"lamp.drawn.svg", "lamp.recorded.svg"}


def test_a_strangers_plugin_passes_its_own_tests(stranger: tuple[Home, Path]) -> None:
    home, project = stranger
    said = home.run("python", "-m", "pytest", "-v", cwd=project)
    assert "recipes/quay-lantern.recipe.toml::expect.foundations PASSED" in said
    assert "test_the_family_keeps_the_laws[harbour-arch] PASSED" in said
    assert " skipped" not in said


def test_a_strangers_plugin_stands_among_the_others_with_its_distribution(stranger: tuple[Home, Path]) -> None:
    home, project = stranger
    said = " ".join(home.run("python", "-m", "seamproof.cli", "families", cwd=project).split())
    assert "fennick (from fennick-lanterns 2.1)" in said
    assert "log-cabin" in said


def test_a_strangers_block_is_packed(stranger: tuple[Home, Path], tmp_path: Path) -> None:
    home, project = stranger
    for recipe in ("quay-lantern", "arch-of-the-customs-house"):
        path = project / "recipes" / f"{recipe}.recipe.toml"
        home.run("python", "-m", "seamproof.cli", "pack", str(path), "-o", recipe, cwd=tmp_path)
        assert (tmp_path / recipe / "handout.pdf").read_bytes().startswith(b"%PDF")


def steps(text: str) -> str:
    """The guide as one script: its `sh` blocks, and every other block written over the file named just before it."""
    section = text.partition(GUIDE)[2].partition("\n## ")[0]
    script, parts = [], re.split(r"^```(\w*)\n", section, flags=re.MULTILINE)
    for before, kind, content in zip(parts[0::4], parts[1::4], parts[2::4], strict=False):
        if kind == "sh":
            script.append(content)
        else:
            path = re.findall(r"`([^`]+)`", before)[-1]
            script.append(f"test -f {path}\ncat > {path} <<'END-OF-FILE'\n{content}END-OF-FILE\n")
    return "".join(script)


def test_the_ten_minutes_lead_where_they_say(wheel: Path, tmp_path: Path) -> None:
    script = steps((ROOT / "DEVELOPERS.md").read_text("utf-8"))
    assert script.count("cat >") == 1
    assert script.count("'seamproof[testing]'") == 1
    here = script.replace("'seamproof[testing]'", f"'{wheel}[testing]'")  # no index need have it
    said = run(["bash", "-euxc", here], tmp_path, shell())
    project = tmp_path / "tide-steps"
    assert len(re.findall(r"\d+ passed", said)) == script.count("\npytest")
    assert "failed" not in said
    assert list((project / "dist").glob("seamproof_tide_steps-*.whl"))
    assert (project / "low-water" / "handout.pdf").is_file()
    assert (project / "recipes" / "low-water.svg").is_file()
    assert f"site-packages{os.sep}seamproof_tide_steps" in said

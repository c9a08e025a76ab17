"""A site of many recipes, all different: how long it takes, how much memory, and what comes of a run that is stopped.

Run by hand: python tests/benchmarks/many_recipes.py 2000 SOME_NEW_FOLDER [PATCHES], where only blocks of up to so many
patches are wanted.
"""

from __future__ import annotations

import re
import signal
import subprocess
import sys
import time
from itertools import count, islice
from pathlib import Path
from typing import TYPE_CHECKING

from seamproof.plugin.registry import families
from seamproof.recipe.writing import FINISHED, new_recipe

if TYPE_CHECKING:
    from collections.abc import Iterator

LOOK_EVERY = 0.5
PAGE = 4096


def recipes(patches: int) -> Iterator[str]:
    """Every design of up to so many patches of every family, in ever new colours and with ever other seeds."""
    designs = [
        (f"{design}, {family.title.lower()}", new_recipe(family.slug, design))
        for family in families().values()
        for design in family.designs
        if len(family.draft(family.design(design), FINISHED).patches) <= patches
    ]
    for number in count():
        for name, text in designs:
            yield varied(text, number, name)


def varied(text: str, number: int, name: str) -> str:
    """A recipe of a name, a seed and colours of its own."""
    text = re.sub("^title = .*$", f'title = "{name.capitalize()} {number}"', text, count=1, flags=re.MULTILINE)
    text = re.sub(r"^seed = (\d+)$", lambda seed: f"seed = {int(seed[1]) + number}", text, flags=re.MULTILINE)
    return re.sub(r'colour = "#[0-9a-f]{2}', f'colour = "#{37 * number % 256:02x}', text)


def say(*words: object) -> None:
    """Tell it at once, since the next may take long."""
    sys.stdout.write(" ".join(map(str, words)) + "\n")
    sys.stdout.flush()


def write(folder: Path, number: int, patches: int) -> None:
    """So many recipes as files."""
    folder.mkdir(parents=True)
    for n, text in enumerate(islice(recipes(patches), number)):
        (folder / f"recipe-{n:04}.recipe.toml").write_text(text, encoding="utf-8")


def memory(process: int) -> list[int]:
    """The memory that a process and those it started hold now [bytes], its own first."""
    own = Path(f"/proc/{process}")
    try:
        held = int((own / "statm").read_text().split()[1]) * PAGE
        inner = (own / "task" / str(process) / "children").read_text().split()
    except (OSError, IndexError):
        return []
    return [held, *(one for child in inner for one in memory(int(child)))]


def run(recipes: Path, site: Path, stop_after: float | None = None) -> None:
    """Run the command, tell how long it took and the most memory seen, or stop it as Ctrl-C does."""
    command = [sys.executable, "-m", "seamproof.cli", "gallery", str(recipes), "-o", str(site), "--jobs", "2"]
    began = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    most: list[int] = []
    while process.poll() is None:
        held = memory(process.pid)
        most = [max(a, b) for a, b in zip([*held, *[0] * len(most)], [*most, *[0] * len(held)], strict=True) if a or b]
        if stop_after is not None and time.perf_counter() - began > stop_after:
            process.send_signal(signal.SIGINT)
            stop_after = None
        time.sleep(LOOK_EVERY)
    said, wrong = process.communicate()
    say(f"{time.perf_counter() - began:.1f} s, exit status {process.returncode}; {said.strip()}{wrong[-600:]}")
    say("most memory, the command first [MB]:", [held // 2**20 for held in most])


def main(number: int, folder: Path, patches: int = 10_000) -> None:
    """Write recipes, then build their site: stopped on the way, from nothing, and with nothing changed."""
    write(folder / "recipes", number, patches)
    site = folder / "site"
    say(f"{number} recipes, stopped after a while:")
    run(folder / "recipes", site, stop_after=max(5.0, number / 50))
    say("left behind:", sorted(path.name for path in folder.iterdir()))
    for what in ("from nothing", "nothing has changed"):
        say(f"{number} recipes, {what}:")
        run(folder / "recipes", site)
    size = (site / "index.html").stat().st_size
    files = sum(1 for path in site.rglob("*") if path.is_file())
    kept = (site / "gallery.json").stat().st_size
    say(f"index {size / 1e6:.2f} MB, what the site remembers {kept / 1e6:.1f} MB, {files} files")


if __name__ == "__main__":
    main(int(sys.argv[1]), Path(sys.argv[2]), *map(int, sys.argv[3:]))

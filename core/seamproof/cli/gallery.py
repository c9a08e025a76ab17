"""`gallery`: a site of blocks, and the index of a repository's recipes."""

from __future__ import annotations

import os
import sys
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from seamproof.cli.paths import PATH

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from seamproof.gallery.building import Built


@click.command()
@click.argument("recipes", metavar="[RECIPE…]", nargs=-1, type=PATH)
@click.option("-o", "--output", metavar="DIR", type=PATH, help="The folder to write the site to.")
@click.option("--title", default="A book of blocks", show_default=True, help="What the first page is called.")
@click.option("--font", metavar="FILE", type=PATH, help="A font for characters that the shipped one lacks.")
@click.option(
    "--jobs", metavar="N", type=click.IntRange(1, 64), help="How many processes work; one a processor unless told."
)
@click.option(
    "--repository",
    metavar="DIR",
    type=PATH,
    help="Instead, write DIR/README.md and a picture beside each recipe in DIR.",
)
def gallery(
    *,
    recipes: tuple[str, ...],
    output: str | None,
    title: str,
    font: str | None,
    jobs: int | None,
    repository: str | None,
) -> None:
    """Make a site to look at, compare and choose blocks: RECIPEs are recipes or folders of them.

    DIR may be new, empty, or an earlier site: then only what changed is made again. Open DIR/index.html; no server is
    needed. Exit status: 0 when every block was made, 1 when a recipe has a fault (the site tells which), 2 when nothing
    could be written.
    """
    if repository is not None:
        if output or recipes:
            raise click.UsageError("--repository takes the recipes of its own folder: leave RECIPE and -o out")
        _record(Path(repository))
        return
    if output is None:
        raise click.UsageError("name the folder to write with -o DIR")
    from seamproof.gallery.building import build

    workers = jobs or len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else jobs or os.cpu_count() or 1
    with _bar() as tell:
        built = build(
            recipes or (".",), Path(output), title=title, font=Path(font) if font else None, workers=workers, tell=tell
        )
    _say(built, output)


def _say(built: Built, output: str) -> None:
    for path, error in built.failed:
        click.echo(f"{path}: {error}" if path not in error else error, err=True)
    with_page = sum(block.card is not None for block in built.blocks)
    pages = "1 block" if with_page == 1 else f"{with_page} blocks"
    news = f"{built.made} made now" if built.is_changed else "nothing has changed"
    click.echo(f"{output}/index.html shows {pages}; {news}")
    if built.failed:
        click.get_current_context().exit(1)


def _record(folder: Path) -> None:
    from seamproof.gallery.repository import record

    changed = record(folder)
    click.echo("\n".join(f"{path} is written" for path in changed) or f"{folder} is up to date")


@contextmanager
def _bar() -> Iterator[Callable[[int, int], None]]:
    """A bar on standard error, where that is a terminal."""
    if not sys.stderr.isatty():
        yield lambda _done, _of: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (TextColumn("blocks"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as progress:
        task = progress.add_task("blocks", total=None)
        yield lambda done, of: progress.update(task, completed=done, total=of)

"""Tables and text on a terminal."""

from __future__ import annotations

import json
import shutil
import sys
from typing import TYPE_CHECKING, Any, Final

import click

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from seamproof.block import Block

_PIPED: Final = 110


def show_json(value: Any) -> None:
    """Write a value as JSON, keys in the order given."""
    click.echo(json.dumps(value, indent=2, ensure_ascii=False))


def show_table(heads: Sequence[str], rows: Iterable[Sequence[str]], *, whole: Sequence[int] = ()) -> None:
    """Write a table that fits the terminal; the columns in `whole` are not wrapped. Markup in cells is text."""
    from rich.box import SIMPLE_HEAD
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    width = shutil.get_terminal_size().columns if sys.stdout.isatty() else _PIPED
    table = Table(box=SIMPLE_HEAD, pad_edge=False, show_edge=False)
    for number, head in enumerate(heads):
        table.add_column(Text(head), no_wrap=number in whole, overflow="fold")
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    console = Console(width=width, file=sys.stdout, highlight=False, safe_box=True)
    with console.capture() as capture:
        console.print(table)
    click.echo("\n".join(line.rstrip() for line in capture.get().splitlines()))


def tell_troubles() -> None:
    """Say on standard error which plugins could not be loaded."""
    from seamproof.plugin.registry import families

    for trouble in families().troubles:
        click.echo(str(trouble), err=True)


def tell_narrow(path: str, block: Block) -> None:
    """Warn on standard error of patches that are hard to sew."""
    from seamproof.plugin.widths import WARN_UNDER, narrow_patches
    from seamproof.units import inches

    narrow = narrow_patches(block)
    if narrow:
        more = f", and {len(narrow) - 1} more are narrow" if len(narrow) > 1 else ""
        why = f"under {inches(WARN_UNDER)} in, so its two allowances overlap and it is hard to sew"
        click.echo(f"{path}: warning: {narrow[0]}, {why}{more}; a larger block is easier", err=True)


def write_new(path: str, text: str) -> None:
    """Write a file that is not there yet.

    Raises:
        OutputError: there is one already, or it cannot be written.
    """
    from pathlib import Path

    from seamproof.errors import OutputError

    try:
        with Path(path).open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        raise OutputError(f"{path} is there already: name another file", path=path) from None
    except OSError as error:
        raise OutputError(f"{path} cannot be written: {error.strerror}", path=path) from None

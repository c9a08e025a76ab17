"""The index of a repository's recipes: a picture beside each recipe, and one page in Markdown that shows them all."""

from __future__ import annotations

import re
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Final

from seamproof.errors import OutputError
from seamproof.recipe.finding import SUFFIX, find_recipes

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.pattern import Pattern

INDEX: Final = "README.md"
_WIDTH: Final = 190
MARK: Final = "<!-- What follows is written by `seamproof gallery --repository`. -->"
"""What stands above it in an index is its owner's, and kept."""

_HEAD: Final = """\
# Blocks

Every recipe of this folder with its picture.

"""
_COLUMNS: Final = ("picture", "block", "family", "finished", "patches", "foundations", "technique", "level")


def picture_of(recipe: Path) -> Path:
    """Where a recipe's picture lies: beside it, under its name."""
    return recipe.with_name(recipe.name.removesuffix(SUFFIX) + ".svg")


def repository_files(folder: Path) -> dict[Path, str]:
    """The index and every picture of a folder of recipes, as they should be.

    Raises:
        SeamproofError: a recipe cannot be read or proven.
    """
    from seamproof.pattern import work_out
    from seamproof.recipe.loading import load_recipe
    from seamproof.sheets.gallery_svg import gallery_svg

    patterns = {Path(path): work_out(load_recipe(path)) for path in find_recipes([str(folder)])}
    files = {picture_of(path): gallery_svg(pattern) for path, pattern in patterns.items()}
    files[folder / INDEX] = _index(folder, patterns)
    return files


def record(folder: Path) -> list[Path]:
    """Write what is not as it should be, and give what was written.

    Raises:
        SeamproofError: a recipe cannot be read or proven.
        OutputError: a file cannot be written.
    """
    changed = []
    for path, text in repository_files(folder).items():
        content = text.encode()
        try:
            if path.exists() and path.read_bytes() == content:
                continue
            path.write_bytes(content)
        except OSError as error:
            raise OutputError(f"{path} cannot be written: {error.strerror}", path=str(path)) from None
        changed.append(path)
    return changed


def _index(folder: Path, patterns: dict[Path, Pattern]) -> str:
    parts = [_head(folder) + MARK + "\n"]
    for group, paths in groupby(sorted(patterns), key=lambda path: path.parent):
        name = group.relative_to(folder).as_posix()
        if name != ".":
            parts.append(f"## {name.replace('-', ' ').replace('/', ', ').capitalize()}\n")
        rows = [_row(folder, path, patterns[path]) for path in paths]
        parts.append("\n".join([_line(_COLUMNS), _line(["---"] * len(_COLUMNS)), *map(_line, rows)]) + "\n")
    return "\n".join(parts)


def _head(folder: Path) -> str:
    """What the owner has written above the mark; what we write where there is no index yet."""
    path = folder / INDEX
    if not path.exists():
        return _HEAD
    text = path.read_text("utf-8")
    if MARK not in text:
        raise OutputError(
            f"{path} is not an index of ours: put the line {MARK} where it is to begin, or take the file away",
            path=str(path),
        )
    return text[: text.index(MARK)]


def _row(folder: Path, path: Path, pattern: Pattern) -> Iterator[str]:
    from seamproof.gallery.words import TECHNIQUE
    from seamproof.sheets.gallery_svg import finished_size

    title = _text(pattern.recipe.title)
    picture = picture_of(path).relative_to(folder).as_posix()
    yield f'<img src="{picture}" width="{_WIDTH}" alt="{title}">'
    yield f"[{title}]({path.relative_to(folder).as_posix()})"
    yield _text(pattern.family.title)
    yield finished_size(pattern)
    yield str(len(pattern.block.patches))
    yield str(len(pattern.construction.foundations))
    yield TECHNIQUE[pattern.construction.technique]
    yield pattern.level.name


def _line(cells: Iterator[str] | list[str] | tuple[str, ...]) -> str:
    return f"| {' | '.join(cells)} |"


def _text(text: str) -> str:
    r"""Text that Markdown takes for nothing else.

    >>> _text("A <b> | *star*")
    'A &lt;b&gt; \\| \\*star\\*'
    """
    escaped = text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")
    return re.sub(r"([\\`*_\[\]|#~!])", r"\\\1", escaped)

"""What a site remembers of its last building, so that only what changed is made again."""

from __future__ import annotations

import hashlib
import json
import re
from dataclasses import asdict, dataclass
from importlib import metadata
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from seamproof.gallery.card import Card
from seamproof.staging import digest

if TYPE_CHECKING:
    from collections.abc import Iterator

MEMORY: Final = "gallery.json"
"""The file by which a folder is known as a site of ours."""

_LARGEST: Final = 256 * 2**20
_OURS: Final = re.compile(
    r"gallery\.json|(?:index|compare)\.html|look/[a-z]+\.(?:css|js)|pictures/[a-z0-9-]+\.svg|blocks/[a-z0-9-]+\.html"
    r"|blocks/[a-z0-9-]+/[A-Za-z0-9.-]+\.(?:pdf|csv|json|svg|toml|dxf)"
)
_MAKERS: Final = ("typst", "pikepdf", "svgwrite", "jinja2", "shapely", "coloraide", "python-sat", "numpy")
_EXTRAS: Final = ("ezdxf",)
"""What a site has more with than without."""


@dataclass(frozen=True)
class Remembered:
    """One block of the site as it was made.

    Attributes:
        shown: How its recipe's file is called on pages.
        name: The name of its page.
        recipe: The digest of its recipe's bytes.
        card: Its card; None where it has no page.
        error: What was wrong with the recipe, or "".
        files: The digest of each of its files, by its place.
    """

    shown: str
    name: str
    recipe: str
    card: Card | None
    error: str
    files: dict[str, str]


def remember(maker: str, blocks: list[Remembered], files: dict[str, str]) -> str:
    """The text of the memory: who made the site, its blocks, and its files that belong to no block."""
    data = {"maker": maker, "files": dict(sorted(files.items())), "blocks": [asdict(block) for block in blocks]}
    return json.dumps(data, indent=0, ensure_ascii=False, separators=(",", ":")) + "\n"


def recall(site: Path, maker: str) -> tuple[dict[tuple[str, str, str], Remembered], dict[str, str]]:
    """Of a site the blocks that need not be made again, and its other files.

    A block is kept when the same maker made it and each of its files is still what it was. A memory that is missing or
    torn remembers nothing.
    """
    try:
        path = site / MEMORY
        if path.stat().st_size > _LARGEST:
            return {}, {}
        data: Any = json.loads(path.read_bytes())
        if data["maker"] != maker:
            return {}, {}
        blocks = [_read(block) for block in data["blocks"]]
        files = {str(place): str(value) for place, value in data["files"].items()}
    except (OSError, ValueError, RecursionError, KeyError, TypeError, AttributeError):
        return {}, {}
    kept = {(block.shown, block.name, block.recipe): block for block in blocks if is_whole(site, block.files)}
    return kept, files if is_whole(site, files) else {}


def _read(data: dict[str, Any]) -> Remembered:
    card = data["card"]
    return Remembered(**(data | {"card": None if card is None else Card.read(card)}))


def is_whole(site: Path, files: dict[str, str]) -> bool:
    """Whether each file is there, unchanged."""
    try:
        return all(_OURS.fullmatch(place) and digest((site / place).read_bytes()) == files[place] for place in files)
    except OSError:
        return False


def strangers(site: Path) -> Iterator[str]:
    """What lies in a site's folder that no gallery writes, by its place."""
    for path in sorted(site.rglob("*")):
        place = path.relative_to(site).as_posix()
        if path.is_symlink() or (not path.is_dir() and not _OURS.fullmatch(place)):
            yield place


def _version(name: str) -> str:
    """The release of a package; "" where it is not installed."""
    if name in _EXTRAS and find_spec(name) is None:
        return ""
    return metadata.version(name)


def maker_of_sites(options: str) -> str:
    """What a site's pages hang on besides their recipes: this program, the plugins, the options."""
    import seamproof
    from seamproof.plugin.registry import families

    folders = {Path(seamproof.__file__).parent}
    for family in families().values():
        home = Path(family.draft.__code__.co_filename if hasattr(family.draft, "__code__") else "")
        if home.is_file():
            folders.add(home.parent)
    seen = hashlib.sha256(options.encode())
    for folder in sorted(folders, key=lambda path: (path.name, str(path))):
        for path in sorted(folder.rglob("*")):
            if path.is_file() and "__pycache__" not in path.parts:
                seen.update(f"{folder.name}/{path.relative_to(folder).as_posix()}\0".encode())
                seen.update(hashlib.sha256(path.read_bytes()).digest())
    for name in _MAKERS + _EXTRAS:
        seen.update(f"{name} {_version(name)}\0".encode())
    return seen.hexdigest()

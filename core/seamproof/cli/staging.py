"""The folder of a pack: written whole or not at all, and never over anything but an earlier pack of its recipe."""

from __future__ import annotations

import json
import re
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, Final

from seamproof.errors import OutputError
from seamproof.staging import digest, folder_to_write, refused, staged_folder

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

MANIFEST: Final = "pattern.json"
"""The file by which a folder is known as a pack: under "pack" it names its recipe and the digest of each other file."""

_NAME: Final = re.compile(r"[a-z0-9][A-Za-z0-9-]{0,79}\.[a-z]{3,4}", re.ASCII)
_LARGEST_MANIFEST: Final = 64 * 2**20


def is_safe_name(name: str) -> bool:
    """Whether a file of this name stays in its folder, on every system."""
    return _NAME.fullmatch(name) is not None


def check_target(folder: Path, identity: Mapping[str, str]) -> Path:
    """The folder to write, resolved, after a look at what is in it.

    Args:
        folder: Where the pack goes: a folder that is not there, an empty one, or an earlier pack of the same recipe.
        identity: What tells one recipe from another.

    Raises:
        OutputError: it is no folder, or holds anything else; nothing of the user's is overwritten.
    """
    return folder_to_write(folder, lambda target: _check_pack(folder, target, identity))


def _check_pack(folder: Path, target: Path, identity: Mapping[str, str]) -> None:
    """Refuse a folder that is not an untouched pack of this recipe."""
    pack = _manifest(target / MANIFEST)
    if pack is None:
        raise refused(folder, "holds files that are not a pack's: name an empty or a new folder")
    if pack.get("recipe") != identity:
        other = pack.get("recipe")
        title = other.get("title") if isinstance(other, dict) else None
        raise refused(folder, f"holds the pack of another recipe, {title!r}: name another folder, or remove this one")
    files = pack.get("files")
    known: dict[str, Any] = files if isinstance(files, dict) else {}
    for path in sorted(target.iterdir()):
        if path.name == MANIFEST:
            continue
        if path.name not in known or not path.is_file():
            raise refused(folder, f"holds {path.name!r}, which is not of its pack: move it away, or name a new folder")
        if digest(path.read_bytes()) != known[path.name]:
            raise refused(
                folder, f"holds {path.name!r}, changed since it was packed: move it away, or name a new folder"
            )


def _manifest(path: Path) -> dict[str, Any] | None:
    try:
        if path.stat().st_size > _LARGEST_MANIFEST:
            return None
        data = json.loads(path.read_bytes())
    except (OSError, ValueError, RecursionError):
        return None
    pack = data.get("pack") if isinstance(data, dict) else None
    return pack if isinstance(pack, dict) else None


class Stage:
    """A folder beside the target, filled file by file."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.digests: dict[str, str] = {}

    def add(self, name: str, content: bytes) -> Path:
        """Write one file.

        Raises:
            OutputError: a name that would leave the folder, or one that is there already.
        """
        if not is_safe_name(name):
            raise OutputError(f"{name!r} is no name for a file of a pack", path=name)
        path = self.folder / name
        try:
            with path.open("xb") as file:
                file.write(content)
        except OSError as error:
            raise OutputError(f"{name} cannot be written: {error.strerror}", path=name) from None
        self.digests[name] = digest(content)
        return path


@contextmanager
def staged(target: Path) -> Iterator[Stage]:
    """Fill a folder beside the target; when all went well it takes the target's place, else nothing is left of it.

    Raises:
        OutputError: the folder round the target cannot be written.
    """
    with staged_folder(target) as folder:
        yield Stage(folder)

"""A folder that is written whole or not at all: filled beside its target, then swapped."""

from __future__ import annotations

import hashlib
import os
import shutil
import tempfile
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from seamproof.errors import OutputError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator


def digest(content: bytes) -> str:
    """The SHA-256 of a file's bytes."""
    return hashlib.sha256(content).hexdigest()


def folder_to_write(folder: Path, look: Callable[[Path], None]) -> Path:
    """A folder that something whole is to be written as, resolved: one that is not there, empty, or that `look` allows.

    Args:
        folder: The folder, as it was asked for.
        look: Is given the resolved folder where anything is in it; raises OutputError where that is not ours.

    Raises:
        OutputError: it is no folder, or the one we are in, or holds anything else; nothing is overwritten unasked.
    """
    try:
        target = folder.resolve()
        if not os.path.lexists(target):
            return target
        if not target.is_dir():
            raise refused(folder, "is a file, not a folder: name a folder")
        if target in (Path.cwd(), *Path.cwd().parents):
            raise refused(folder, "is the folder you are in, or holds it: name another")
        if any(target.iterdir()):
            look(target)
    except OutputError:
        raise
    except (OSError, ValueError) as error:
        raise refused(folder, f"cannot be used: {getattr(error, 'strerror', None) or error}") from None
    return target


def refused(folder: Path, why: str) -> OutputError:
    """The error for a folder that is not written."""
    return OutputError(f"{folder} {why}", path=str(folder))


@contextmanager
def staged_folder(target: Path) -> Iterator[Path]:
    """An empty folder to fill; when all went well it takes the target's place, else nothing is left of it.

    Raises:
        OutputError: the folder round the target cannot be written.
    """
    made = _make_parents(target.parent)
    try:
        folder = Path(tempfile.mkdtemp(prefix=f".{target.name[:60]}-", dir=target.parent))
    except OSError as error:
        _unmake(made)
        raise OutputError(
            f"{target.parent} cannot be written: {error.strerror}: name another folder", path=str(target.parent)
        ) from None
    try:
        yield folder
        folder.chmod(0o777 & ~_umask())
        _swap(folder, target)
    except BaseException:
        shutil.rmtree(folder, ignore_errors=True)
        _unmake(made)
        raise


def _make_parents(parent: Path) -> list[Path]:
    """Make the folders that are missing, and give those that were made, the innermost first."""
    missing = [path for path in (parent, *parent.parents) if not path.exists()]
    try:
        parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        _unmake(missing)
        raise OutputError(f"{parent} cannot be made: {error.strerror}: name another folder", path=str(parent)) from None
    return missing


def _unmake(made: list[Path]) -> None:
    for path in made:
        with suppress(OSError):
            path.rmdir()


def _umask() -> int:
    mask = os.umask(0o022)
    os.umask(mask)
    return mask


def _swap(folder: Path, target: Path) -> None:
    """Put the folder in the target's place; the target is kept aside until that is done, and put back if it is not."""
    try:
        if not os.path.lexists(target):
            folder.rename(target)
            return
        aside = Path(tempfile.mkdtemp(prefix=f".{target.name[:60]}-", dir=target.parent))
        old = aside / "old"
        try:
            target.rename(old)
            folder.rename(target)
        except BaseException:
            if not os.path.lexists(target) and old.exists():
                old.rename(target)
            raise
        finally:
            if target.exists():
                shutil.rmtree(aside, ignore_errors=True)
    except OSError as error:
        raise OutputError(f"{target} cannot be replaced: {error.strerror}", path=str(target)) from None

"""Building a site: only what changed, in parallel, whole or not at all."""

from __future__ import annotations

import shutil
from contextlib import suppress
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Final

from seamproof.errors import Fault, OutputError, RecipeError
from seamproof.gallery.index_page import compare_page, index_page
from seamproof.gallery.making import Job, make
from seamproof.gallery.memory import MEMORY, Remembered, maker_of_sites, recall, remember, strangers
from seamproof.gallery.templating import LOOKS
from seamproof.pages.naming import each_once, page_name
from seamproof.recipe.finding import find_recipes
from seamproof.staging import digest, folder_to_write, refused, staged_folder

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence
    from multiprocessing.synchronize import Event

    from seamproof.gallery.making import Made

TITLE: Final = "A book of blocks"
_FEW: Final = 3
"""So many blocks are made sooner in one process than several take to start."""
_CHUNK: Final = 4
"""So many blocks are given to a process at once: few, so that all end at about the same time."""
_AHEAD: Final = 2
"""So many chunks a process are asked for ahead, so that none waits, and no more than these are ever held."""


@dataclass(frozen=True)
class Built:
    """What came of a building.

    Attributes:
        blocks: Every recipe of the site, in its order.
        made: How many blocks were made; the others had not changed.
        failed: For each recipe with a fault its file and what is wrong.
        is_changed: Whether anything in the folder was written.
    """

    blocks: tuple[Remembered, ...]
    made: int
    failed: tuple[tuple[str, str], ...]
    is_changed: bool


@dataclass(frozen=True)
class Asked:
    """A recipe of a site: its file, how that is called, its page's name, the digest of its bytes."""

    path: str
    shown: str
    name: str
    recipe: str


def check_site(folder: Path) -> Path:
    """The folder to write, resolved: new, empty, or an earlier site with nothing else in it.

    Raises:
        OutputError: it is no folder, or holds anything else; nothing of the user's is overwritten.
    """

    def look(target: Path) -> None:
        if not (target / MEMORY).is_file():
            raise refused(folder, "holds files that are not a gallery's: name an empty or a new folder")
        strange = next(strangers(target), None)
        if strange:
            raise refused(folder, f"holds {strange!r}, which is not of its gallery: move it away")

    return folder_to_write(folder, look)


def build(
    paths: Sequence[str],
    folder: Path,
    *,
    title: str = TITLE,
    font: Path | None = None,
    workers: int = 1,
    tell: Callable[[int, int], None] = lambda _done, _of: None,
) -> Built:
    """Build the site of all recipes that `paths` name, or bring it up to date.

    Args:
        paths: Recipes, or folders of them.
        folder: Where the site goes.
        title: What the index is called.
        font: A font for characters that the shipped one lacks.
        workers: How many processes make blocks at once.
        tell: Is told how many blocks are done, of how many.

    Raises:
        OutputError: the folder cannot be written, or holds what is not a gallery's.
        RecipeError: a path names no recipe.
    """
    target = check_site(folder)
    asked = tuple(ask(paths, target))
    maker = maker_of_sites(f"{title}\0{digest(font.read_bytes()) if font else ''}")
    kept, files = recall(target, maker)
    blocks = {one: kept[key] for one in asked if (key := (one.shown, one.name, one.recipe)) in kept}
    if files and len(blocks) == len(asked) and not _left_over(target, blocks.values(), files):
        tell(len(asked), len(asked))
        found = tuple(blocks[one] for one in asked)
        return Built(found, 0, _faults(found), is_changed=False)
    with staged_folder(target) as stage:
        for block in blocks.values():
            _take_over(target, stage, block.files)
        todo = [one for one in asked if one not in blocks]
        jobs = {Job(one.path, one.shown, one.name, stage, font): one for one in todo}
        tell(len(blocks), len(asked))
        for done, made in enumerate(_make(list(jobs), workers), len(blocks) + 1):
            one = jobs[made.job]
            blocks[one] = Remembered(one.shown, one.name, one.recipe, made.card, made.error, made.files)
            tell(done, len(asked))
        found = tuple(blocks[one] for one in asked)
        _write_shared(stage, title, maker, found)
    return Built(found, len(todo), _faults(found), is_changed=True)


def ask(paths: Sequence[str], target: Path) -> Iterator[Asked]:
    """Every recipe that is meant, with a page name of its own, in the order of their titles' names.

    A site may lie among its recipes: those that it holds to be copied are none of them.

    Raises:
        RecipeError: there is none.
    """
    files = [path for path in find_recipes(paths) if not _is_within(path, target)]
    if not files:
        raise RecipeError(
            [Fault(paths[0], 1, 1, "", "holds only the recipes of the site itself: name where others are")]
        )
    contents = {path: _bytes(path) for path in files}
    names = {path: page_name(_title(contents[path]), Path(path).name) for path in files}
    ordered = sorted(files, key=lambda path: (names[path], path))
    for path, name in zip(ordered, each_once(names[path] for path in ordered), strict=True):
        yield Asked(path, shown(path, paths), name, digest(contents[path]))


def _is_within(path: str, target: Path) -> bool:
    try:
        return Path(path).resolve().is_relative_to(target)
    except (OSError, ValueError, RuntimeError):  # What no path can be is told when it is read.
        return False


def shown(path: str, paths: Sequence[str]) -> str:
    """How a recipe's file is called on pages: from the folder that was named, never with what is above it."""
    for root in paths:
        if path != root and Path(path).is_relative_to(root):
            return Path(path).relative_to(root).as_posix()
    return Path(path).name


def _bytes(path: str) -> bytes:
    from seamproof.recipe.loading import LARGEST

    try:
        with Path(path).open("rb") as file:
            return file.read(LARGEST + 1)
    except (OSError, ValueError):
        return b""


def _title(content: bytes) -> str:
    """A recipe's title, as far as it can be read; what is wrong with it is told when it is made."""
    import tomllib

    with suppress(ValueError, RecursionError):
        title = tomllib.loads(content.decode("utf-8-sig")).get("title")
        return title[:300] if isinstance(title, str) else ""
    return ""


def _make(jobs: list[Job], workers: int) -> Iterator[Made]:
    if workers < 2 or len(jobs) <= _FEW:
        yield from map(make, jobs)
        return
    import multiprocessing
    from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, ProcessPoolExecutor, wait

    chunks = (jobs[n : n + _CHUNK] for n in range(0, len(jobs), _CHUNK))
    spawning = multiprocessing.get_context("spawn")
    stop = spawning.Event()
    with ProcessPoolExecutor(min(workers, len(jobs) // _CHUNK + 1), spawning, _begin_worker, (stop,)) as pool:
        try:
            running = {pool.submit(_make_some, chunk) for chunk in islice(chunks, _AHEAD * workers)}
            while running:
                done, running = wait(running, return_when=FIRST_COMPLETED)
                for future in done:
                    running |= {pool.submit(_make_some, chunk) for chunk in islice(chunks, 1)}
                    yield from future.result()
        except BrokenExecutor:
            raise OutputError(
                "a process that made blocks was ended from outside, perhaps for want of memory: try again with --jobs 1"
            ) from None
        finally:
            stop.set()
            pool.shutdown(wait=True, cancel_futures=True)


_STOP: Final[list[Event]] = []
"""In a process that makes blocks: what tells that no more are wanted."""


def _begin_worker(stop: Event) -> None:
    """Make a process ready to make blocks.

    Garbage is collected more rarely, since a handout is many small values and no ring. What stops a command stops the
    process that asked, and that tells the others, so that each ends the block it has begun.
    """
    import gc
    import signal

    gc.set_threshold(50_000, 20, 20)
    for name in ("SIGINT", "SIGHUP"):
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), signal.SIG_IGN)
    _STOP.append(stop)


def _make_some(jobs: list[Job]) -> list[Made]:
    return [make(job) for job in jobs if not _STOP[0].is_set()]


def _take_over(target: Path, stage: Path, files: dict[str, str]) -> None:
    """What has not changed, by a second link to the same file where the system can."""
    for place in files:
        path = stage / place
        path.parent.mkdir(parents=True, exist_ok=True)
        try:
            path.hardlink_to(target / place)
        except OSError:
            shutil.copyfile(target / place, path)


def _left_over(target: Path, blocks: Iterable[Remembered], files: dict[str, str]) -> bool:
    """Whether the folder holds files of ours that are no longer of the site."""
    known = {MEMORY, *files, *(place for block in blocks for place in block.files)}
    return any(path.is_file() and path.relative_to(target).as_posix() not in known for path in target.rglob("*"))


def _write_shared(stage: Path, title: str, maker: str, blocks: Sequence[Remembered]) -> None:
    """Index, comparison, style and scripts; and the memory, last."""
    cards = sorted((block.card for block in blocks if block.card), key=lambda card: (card.title.casefold(), card.name))
    contents = {
        "index.html": index_page(title, cards, _faults(blocks)).encode(),
        "compare.html": compare_page(cards).encode(),
    }
    for look in LOOKS:
        contents |= {f"look/{path.name}": path.read_bytes() for path in sorted(look.iterdir())}
    for place, content in contents.items():
        path = stage / place
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    files = {place: digest(content) for place, content in contents.items()}
    (stage / MEMORY).write_text(remember(maker, list(blocks), files), encoding="utf-8", newline="\n")


def _faults(blocks: Sequence[Remembered]) -> tuple[tuple[str, str], ...]:
    return tuple((block.shown, block.error) for block in blocks if block.error)

"""Many blocks: few are held at once, and whatever ends the making leaves nothing half made."""

from __future__ import annotations

import concurrent.futures
import os
import signal
import subprocess
import sys
import threading
from concurrent.futures import Future
from concurrent.futures.process import BrokenProcessPool
from typing import TYPE_CHECKING, Any, Self

import pytest

from seamproof import OutputError
from seamproof.gallery import building
from seamproof.gallery.building import build
from seamproof.gallery.making import Made

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from seamproof.gallery.making import Job

    Writing = Callable[..., Path]

WORKERS = 3
BLOCKS = 100


class Pool:
    """Stands for processes: what is asked of it is done at once, and counted."""

    asked = 0

    def __init__(self, *_given: Any) -> None:
        type(self).asked = 0

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_error: object) -> None:
        pass

    def submit(self, _make: object, jobs: list[Job]) -> Future[list[Made]]:
        type(self).asked += len(jobs)
        future: Future[list[Made]] = Future()
        future.set_result([Made(job, None, "not made") for job in jobs])
        return future

    def shutdown(self, **_how: bool) -> None:
        pass


class Dying(Pool):
    """Stands for processes that are ended from outside."""

    def submit(self, _make: object, jobs: list[Job]) -> Future[list[Made]]:
        future: Future[list[Made]] = Future()
        future.set_exception(BrokenProcessPool(f"ended with {len(jobs)} to make"))
        return future


def many(write: Writing, number: int) -> None:
    for n in range(number):
        write(f"block-{n}", f"Block {n}")


def test_no_more_than_a_few_blocks_are_asked_for_ahead(
    recipes: Path, write: Writing, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    many(write, BLOCKS)
    ahead: list[int] = []
    monkeypatch.setattr(concurrent.futures, "ProcessPoolExecutor", Pool)
    built = build([str(recipes)], tmp_path / "site", workers=WORKERS,
                  tell=lambda done, _of: ahead.append(Pool.asked - done))  # fmt: skip
    assert built.made == len(built.blocks) == BLOCKS + 2
    assert 0 < max(ahead) <= (building._AHEAD * WORKERS + 1) * building._CHUNK < BLOCKS


def test_a_process_ended_from_outside_is_told_and_nothing_is_left(
    recipes: Path, write: Writing, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    many(write, 4)
    monkeypatch.setattr(concurrent.futures, "ProcessPoolExecutor", Dying)
    with pytest.raises(OutputError, match=r"ended from outside.*try again with --jobs 1"):
        build([str(recipes)], tmp_path / "site", workers=WORKERS)
    assert set(tmp_path.iterdir()) == {recipes}


def test_a_process_that_is_told_to_stop_makes_no_more(monkeypatch: pytest.MonkeyPatch) -> None:
    stop: Any = threading.Event()
    made: list[str] = []

    def one(job: str) -> str:
        made.append(job)
        stop.set()
        return job

    monkeypatch.setattr(building, "_STOP", [stop])
    monkeypatch.setattr(building, "make", one)
    some: Any = ["a", "b", "c"]
    building._make_some(some)
    assert made == ["a"]


@pytest.mark.skipif(os.name != "posix", reason="signals as shells send them")
def test_ctrl_c_ends_every_process_without_a_word_of_python_and_leaves_nothing(
    recipes: Path, write: Writing, tmp_path: Path
) -> None:
    many(write, 30)
    site = tmp_path / "site"
    command = [sys.executable, "-m", "seamproof.cli", "gallery", str(recipes), "-o", str(site), "--jobs", "2"]
    process = subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True
    )
    while not any(tmp_path.glob(".site-*/blocks/*.html")):
        assert process.poll() is None, process.communicate()
        threading.Event().wait(0.05)
    os.killpg(process.pid, signal.SIGINT)  # To all of them, as a terminal does.
    said, wrong = process.communicate()  # Ends when the last of them has let go of its outputs.
    assert process.returncode == 128 + signal.SIGINT
    assert "Traceback" not in said + wrong
    assert set(tmp_path.iterdir()) == {recipes}

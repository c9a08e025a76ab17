"""A command that is stopped, or whose output nobody takes, ends in words and leaves nothing half-written."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from click.testing import CliRunner

from seamproof.cli import main, packing
from seamproof.cli.ending import orderly_end

if TYPE_CHECKING:
    from collections.abc import Iterator

RECIPE = Path(__file__).parents[2] / "gallery" / "logs" / "slipway.recipe.toml"
FULL = Path("/dev/full")
LONG = 60.0
"""[s] What waits is stopped long before; if not, it fails rather than hangs."""
ENDINGS = ["SIGINT", "SIGTERM", "SIGHUP"]


@pytest.fixture(autouse=True)
def usual_handlers() -> Iterator[None]:
    """Signals as they are where nobody has silenced any: a suite that is run by nohup has SIGHUP ignored."""
    before = {number: signal.signal(number, signal.SIG_DFL) for number in (signal.SIGTERM, signal.SIGHUP)}
    before[signal.SIGINT] = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    for number, handler in before.items():
        signal.signal(number, handler)


def stop_us(name: str) -> None:
    os.kill(os.getpid(), getattr(signal, name))


@pytest.mark.parametrize("name", ENDINGS)
def test_a_pack_that_is_stopped_halfway_leaves_nothing(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fill(stage: Any, *_: object) -> str:
        stage.add("block-line.svg", b"<svg/>")
        assert list(tmp_path.iterdir())
        stop_us(name)
        return ""

    monkeypatch.setattr(packing, "_fill", fill)
    result = CliRunner().invoke(main, ["pack", str(RECIPE), "-o", str(tmp_path / "out")])
    # A shell's status of a command that a signal ended is 128 and its number. Source: POSIX.1-2017, XCU 2.8.2.
    assert result.exit_code == 128 + getattr(signal, name)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ENDINGS)
def test_an_import_comes_to_its_end_before_a_signal_is_heeded(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    module = f"stopped_by_{name.lower()}"
    (tmp_path / f"{module}.py").write_text(f"import os, signal\nos.kill(os.getpid(), signal.{name})\nDONE = True\n")
    monkeypatch.syspath_prepend(str(tmp_path))

    def run() -> None:
        with orderly_end():
            import_module(module)
            time.sleep(LONG)

    with pytest.raises(SystemExit) as caught:
        run()
    assert caught.value.code == 128 + getattr(signal, name)
    assert sys.modules[module].DONE


def test_a_signal_that_was_silenced_stays_so() -> None:
    before = signal.signal(signal.SIGHUP, signal.SIG_IGN)
    try:
        with orderly_end():
            stop_us("SIGHUP")
    finally:
        signal.signal(signal.SIGHUP, before)


def test_the_handlers_of_signals_are_put_back() -> None:
    before = [signal.getsignal(getattr(signal, name)) for name in [*ENDINGS, "SIGALRM"]]
    CliRunner().invoke(main, ["--help"])
    assert [signal.getsignal(getattr(signal, name)) for name in [*ENDINGS, "SIGALRM"]] == before


@pytest.mark.skipif(not FULL.exists(), reason="this system has no /dev/full")
@pytest.mark.parametrize("words", [["--help"], ["families"], ["families", "--json"]])
def test_an_output_that_takes_no_more_is_told(words: list[str]) -> None:
    with FULL.open("w") as full:
        command = [sys.executable, "-m", "seamproof.cli", *words]
        done = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, text=True, check=False)
    assert done.stderr == "the output cannot be written: No space left on device\n"
    assert done.returncode == 2

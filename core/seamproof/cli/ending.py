"""How the command ends when it is stopped from outside, or when nobody can take what it says."""

from __future__ import annotations

import os
import signal
import sys
import threading
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING, Final

import click

if TYPE_CHECKING:
    from collections.abc import Iterator
    from types import FrameType

_SIGNALS: Final = tuple(getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name))
_AGAIN: Final = getattr(signal, "SIGALRM", None)
_SOON: Final = 0.01
"""[s] After so long it is seen again whether an import has come to its end."""
_STOPPED: Final = 128
_NO_OUTPUT: Final = 2


@contextmanager
def orderly_end() -> Iterator[None]:
    """Run a command so that Ctrl-C, a closed terminal or a full disk end it without a traceback, nothing half-written.

    A signal is raised as KeyboardInterrupt, so that what was begun is undone on the way out; then the exit status is
    128 and the signal's number, as shells have it. An import is let come to its end first, or to a second signal: one
    that is interrupted tells of it in its own words.
    """
    stopped: list[int] = []

    def stop(number: int, frame: FrameType | None) -> None:
        if number != _AGAIN:
            stopped.append(number)
        if _AGAIN is None or len(stopped) > 1 or not _is_importing(frame):
            raise KeyboardInterrupt
        signal.signal(_AGAIN, stop)
        signal.setitimer(signal.ITIMER_REAL, _SOON)

    with _handled_by(stop):
        try:
            yield
        except OSError as error:
            if not stopped:
                _tell(error)
                sys.exit(_NO_OUTPUT)
            sys.exit(_STOPPED + stopped[0])
        except BaseException:
            if stopped:
                sys.exit(_STOPPED + stopped[0])
            raise


def _is_importing(frame: FrameType | None) -> bool:
    while frame is not None:
        if frame.f_code.co_filename.startswith("<frozen importlib"):
            return True
        frame = frame.f_back
    return False


@contextmanager
def _handled_by(stop: signal._HANDLER) -> Iterator[None]:
    """Have signals handled, but for those that whoever started us has silenced, and put things back."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    usual = {signal.SIG_DFL, signal.default_int_handler}
    before = {number: signal.getsignal(number) for number in _SIGNALS}
    again = signal.getsignal(_AGAIN) if _AGAIN is not None else None
    taken = [number for number, handler in before.items() if handler in usual]
    for number in taken:
        signal.signal(number, stop)
    try:
        yield
    finally:
        if _AGAIN is not None:
            signal.setitimer(signal.ITIMER_REAL, 0)
            signal.signal(_AGAIN, again)
        for number in taken:
            signal.signal(number, before[number])


def _tell(error: OSError) -> None:
    """Say on standard error what could not be read or written, and keep the interpreter from trying once more."""
    what = (
        f"{error.filename}: {error.strerror}" if error.filename else f"the output cannot be written: {error.strerror}"
    )
    with suppress(OSError):
        click.echo(what, err=True)
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        for stream in (sys.stdout, sys.stderr):
            try:
                stream.flush()
            except OSError:
                os.dup2(nowhere, stream.fileno())

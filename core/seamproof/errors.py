"""What Seamproof raises: one base class and a leaf for each kind of trouble.

Every message says what is wrong, the value, what is allowed and what to do. Each leaf carries its culprit as an
attribute, so that a program need not read the message.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence


class SeamproofError(Exception):
    """The base of everything Seamproof raises on purpose."""


class ArgumentError(SeamproofError, TypeError):
    """A value of another kind than the one asked for. `name` says what it was given as, `value` is it."""

    def __init__(self, message: str, *, name: str = "", value: object = None) -> None:
        super().__init__(message)
        self.name = name
        self.value = value


class LengthError(SeamproofError, ValueError):
    """A size that is no size, or one outside what is allowed."""

    def __init__(self, message: str, *, value: object = None) -> None:
        super().__init__(message)
        self.value = value


class GeometryError(SeamproofError, ValueError):
    """An outline, edge or transform that cannot be: open, not finite, crossing itself, without area."""


class BlockError(SeamproofError, ValueError):
    """Patches that do not tile their block. `patches` names the culprits, `place` is a point [in] near the fault."""

    def __init__(self, message: str, *, patches: Sequence[str] = (), place: tuple[float, float] | None = None) -> None:
        super().__init__(message)
        self.patches = tuple(patches)
        self.place = place


class NotSewable(SeamproofError, ValueError):  # noqa: N818 - a fixed name of the public face
    """No construction of the asked kind exists. `patches` names those that are left, `reason` says why."""

    def __init__(self, message: str, *, patches: Sequence[str] = (), reason: str = "") -> None:
        super().__init__(message)
        self.patches = tuple(patches)
        self.reason = reason or message


class SewingError(SeamproofError, ValueError):
    """The referee's refusal: the construction cannot be sewn as written.

    `reason` is a short fixed word for the kind of fault (see `seamproof.referee`), `step` the index of the step in
    `construction.steps` (or None), `patches` the culprits.
    """

    def __init__(self, message: str, *, reason: str, step: int | None = None, patches: Sequence[str] = ()) -> None:
        super().__init__(message)
        self.reason = reason
        self.step = step
        self.patches = tuple(patches)


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in a file: where (1-based), under which key, what, and what is allowed or to be done."""

    path: str
    line: int
    column: int
    key: str
    message: str

    def __str__(self) -> str:
        """One line; what cannot be printed of a file's name stands as a question mark."""
        path = "".join(char if char.isprintable() else "?" for char in self.path)
        place = f"{path}:{self.line}:{self.column}"
        return f"{place}: {self.key}: {self.message}" if self.key else f"{place}: {self.message}"


class RecipeError(SeamproofError, ValueError):
    """A recipe that cannot be read: every fault at once, each with its file, line, column and key."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = tuple(faults)


class PluginError(SeamproofError, RuntimeError):
    """A plugin or family that is unknown, broken, or claims a slug that is taken. `name` is the culprit."""

    def __init__(self, message: str, *, name: str = "") -> None:
        super().__init__(message)
        self.name = name


class OutputError(SeamproofError, OSError):
    """A folder or file that cannot or must not be written. `path` is the culprit."""

    def __init__(self, message: str, *, path: str = "") -> None:
        super().__init__(message)
        self.path = path


class PrintError(SeamproofError, ValueError):
    """A page that is not, or cannot be made, true to size."""

"""From what pydantic found wrong to faults a designer can mend: where, what, and what is allowed."""

from __future__ import annotations

import difflib
import json
import re
from typing import TYPE_CHECKING, Any, Final

from seamproof.errors import Fault
from seamproof.recipe.allowed import allowed, field_at, model_at
from seamproof.recipe.model import clean_line

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from pydantic import BaseModel

    from seamproof.recipe.positions import Path, Positions

_BARE: Final = re.compile(r"[A-Za-z0-9_-]{1,60}", re.ASCII)
_LONGEST_SHOWN: Final = 60
_TOO_LARGE: Final = {"less_than_equal", "less_than"}
_TOO_SMALL: Final = {"greater_than_equal", "greater_than"}
_TOO_LONG: Final = {"string_too_long", "too_long"}


class Faults:
    """Collects the faults of one file."""

    def __init__(self, path: str, positions: Positions) -> None:
        self._path = path
        self._positions = positions
        self._faults: list[Fault] = []

    @property
    def sorted(self) -> list[Fault]:
        """Every fault once, in the order of the file."""
        return sorted(set(self._faults), key=lambda fault: (fault.line, fault.column, fault.key, fault.message))

    @property
    def any(self) -> bool:
        """Whether there is one."""
        return bool(self._faults)

    def touches(self, *path: str | int) -> bool:
        """Whether a fault lies at a key or below it."""
        name = key_text(path)
        return any(fault.key == name or fault.key.startswith((f"{name}.", f"{name}[")) for fault in self._faults)

    def at_key(self, path: Path, message: str) -> None:
        """A fault of the key itself."""
        self._add(self._positions.key(path), path, message)

    def at_value(self, path: Path, message: str) -> None:
        """A fault of what stands after the key."""
        self._add(self._positions.value(path), path, message)

    def _add(self, place: tuple[int, int], path: Path, message: str) -> None:
        self._faults.append(Fault(self._path, *place, key_text(path), message))

    def validation(self, model: type[BaseModel], errors: Iterable[Mapping[str, Any]], prefix: Path = ()) -> None:
        """What pydantic found when it read the table at `prefix` as `model`."""
        for error in errors:
            inner = tuple(part for part in error["loc"] if part != "[key]")
            path = prefix + inner
            kind = error["type"]
            if kind == "extra_forbidden":
                self.at_key(path, _unknown(model, inner))
            elif kind == "missing":
                self.at_key(path, _missing(model, inner))
            elif error["loc"][-1:] == ("[key]",):
                self.at_key(path, "a name must have 1 to 300 characters")
            else:
                named = _named_in(error, model) if not inner else ()
                self.at_value(path + named, _wrong(model, inner + named, error))


def key_text(path: Path) -> str:
    """A path as it may be written in TOML, safe to print whatever the key holds.

    >>> key_text(("fabrics", "dark amber", "colour"))
    'fabrics."dark amber".colour'
    """
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        else:
            name = part if _BARE.fullmatch(part) else json.dumps(_cut(clean_line(part)), ensure_ascii=False)
            text += f".{name}" if text else name
    return text


def shown(value: object) -> str:
    """A value as a message shows it: one short line.

    >>> shown("x" * 99), shown(True), shown([1, 2])
    ('"xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx…"', 'true', 'a list')
    """
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{_cut(clean_line(value))}"'
    if isinstance(value, (int, float)):
        return _cut(str(value))
    return "a table" if isinstance(value, dict) else "a list" if isinstance(value, (list, tuple)) else "this"


def nearest(word: str, names: Iterable[str]) -> str:
    """The words "did you mean …? " where a name is near, else ""."""
    near = difflib.get_close_matches(word[:_LONGEST_SHOWN], list(names), n=1, cutoff=0.5)
    return f"did you mean {shown(near[0])}? " if near else ""


def listed(names: Iterable[str], most: int = 30) -> str:
    """Names as a list for a message, cut off where it grows too long."""
    every = [key_text((name,)) for name in names]
    return ", ".join(every[:most]) + (f" and {len(every) - most} more" if len(every) > most else "")


def _cut(text: str) -> str:
    return text if len(text) <= _LONGEST_SHOWN else f"{text[:_LONGEST_SHOWN]}…"


def _unknown(model: type[BaseModel], path: Path) -> str:
    table = model_at(model, path[:-1])
    names = list(table.model_fields) if table else []
    have = f"allowed here: {', '.join(names)}" if names else "this table allows none"
    return f"no such key; {nearest(str(path[-1]), names)}{have}"


def _missing(model: type[BaseModel], path: Path) -> str:
    field = field_at(model, path)
    if field is None:
        return "is missing"
    about = field.description or ""
    return f"is missing: write {allowed(field)}. {about}".rstrip()


def _wrong(model: type[BaseModel], path: Path, error: Mapping[str, Any]) -> str:
    if error["type"] == "value_error":
        return f"{error['ctx']['error']}"
    field = field_at(model, path)
    rule = f"write {allowed(field)}" if field else str(error["msg"])
    return f"{_what(error)}: {rule}"


def _what(error: Mapping[str, Any]) -> str:
    kind, value = error["type"], error["input"]
    if kind in _TOO_LARGE:
        return f"{shown(value)} is too large"
    if kind in _TOO_SMALL:
        return f"{shown(value)} is too small"
    if kind in _TOO_LONG:
        return f"{shown(value)} is too long"
    if kind == "string_too_short" or (kind == "too_short" and isinstance(value, str)):
        return "nothing is written"
    if kind == "too_short":
        return "too few are named"
    return f"{shown(value)} is not allowed"


def _named_in(error: Mapping[str, Any], model: type[BaseModel]) -> Path:
    return named_first(str(error["ctx"]["error"]), model) if error["type"] == "value_error" else ()


def named_first(message: str, model: type[BaseModel]) -> Path:
    """The parameter that a message about a whole table names first, as a path; () where it names none."""
    words = re.findall(r"[A-Za-z_][A-Za-z0-9_]*", message)
    return next(((word,) for word in words if word in model.model_fields), ())

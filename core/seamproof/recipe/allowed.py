"""What a key allows, in words: read from the field itself, so that no range is written twice."""

from __future__ import annotations

import types
from enum import Enum
from typing import TYPE_CHECKING, Annotated, Any, Final, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from seamproof.recipe.model import COLOUR, DATE, LENGTH, PATCH_ID, PLACE
from seamproof.units import MM_PER_INCH, inches

if TYPE_CHECKING:
    from collections.abc import Iterable

_PATTERNS: Final = {
    COLOUR: 'a colour as # and six figures or letters a to f, such as "#d99a2b"',
    DATE: 'a date such as "2031-10-05"',
    PATCH_ID: 'a patch number such as "3" or "3a"',
}


def field_at(model: type[BaseModel], path: Iterable[str | int]) -> FieldInfo | None:
    """The field of a model that a path leads to, through tables and tables of tables; None where there is none."""
    field: FieldInfo | None = None
    here: Any = model
    for part in path:
        here = _bare(here)
        if isinstance(here, type) and issubclass(here, BaseModel):
            field = here.model_fields.get(str(part))
            if field is None:
                return None
            here = field.annotation
        elif get_origin(here) in {dict, list, tuple}:
            here = next((arg for arg in reversed(get_args(here)) if arg is not Ellipsis), None)
            field = FieldInfo.from_annotation(here)
        else:
            return None
    return field


def model_at(model: type[BaseModel], path: Iterable[str | int]) -> type[BaseModel] | None:
    """The table's model that a path leads to, or None."""
    parts = tuple(path)
    if not parts:
        return model
    field = field_at(model, parts)
    here = _bare(field.annotation) if field else None
    return here if isinstance(here, type) and issubclass(here, BaseModel) else None


def allowed(field: FieldInfo) -> str:
    """What a field allows, in words that follow "write".

    >>> from seamproof.recipe.model import Make
    >>> allowed(Make.model_fields["copies"])
    'a whole number from 1 to 1000'
    >>> allowed(Make.model_fields["allowance"])
    'a size from 1/8 in to 1 in'
    >>> allowed(Make.model_fields["paper"])
    '"letter" or "a4"'
    """
    return _words(field.annotation, list(field.metadata))


def is_length(field: FieldInfo) -> bool:
    """Whether a field is a size as a maker writes it."""
    return any(item is LENGTH for item in _flat(field.annotation, list(field.metadata))[1])


def size_text(length: float) -> str:
    """A length [in] as a recipe writes it: in inches where that is exact to a thirty-second, else in millimetres.

    >>> size_text(6.5), size_text(1.8 / 25.4)
    ('6 1/2 in', '1.8 mm')
    """
    if length * 32 == round(length * 32):
        return f"{inches(length, 1 / 32)} in"
    return f"{round(length * MM_PER_INCH, 3):g} mm"


def _bare(annotation: Any) -> Any:
    return _flat(annotation, [])[0]


def _flat(annotation: Any, metadata: list[Any]) -> tuple[Any, list[Any]]:
    """An annotation without Annotated and without None, and all that is said about it."""
    while True:
        if get_origin(annotation) is Annotated:
            annotation, *more = get_args(annotation)
            metadata = [*metadata, *(m for item in more for m in _meta(item))]
        elif get_origin(annotation) in {Union, types.UnionType}:
            options = [arg for arg in get_args(annotation) if arg is not type(None)]
            if len(options) != 1:
                return annotation, metadata
            annotation = options[0]
        else:
            return annotation, metadata


def _meta(item: Any) -> list[Any]:
    if isinstance(item, FieldInfo):
        return list(item.metadata)
    return list(item) if type(item).__name__ == "StringConstraints" else [item]


def _words(annotation: Any, metadata: list[Any]) -> str:
    annotation, metadata = _flat(annotation, metadata)
    origin = get_origin(annotation)
    if any(item in (LENGTH, PLACE) for item in metadata):
        return _size(metadata)
    if origin is Literal:
        return _one_of([_toml(value) for value in get_args(annotation)])
    if origin in {Union, types.UnionType}:
        return " or ".join(_words(arg, []) for arg in get_args(annotation) if arg is not type(None))
    if origin in {list, tuple, set, frozenset}:
        inner = next((arg for arg in get_args(annotation) if arg is not Ellipsis), None)
        return f"a list, each {_words(inner, [])}" if inner is not None else "a list"
    if origin is dict or not isinstance(annotation, type) or issubclass(annotation, (BaseModel, dict)):
        return "a table"
    return _plain(annotation, metadata)


def _size(metadata: list[Any]) -> str:
    if any(item is PLACE for item in metadata):
        return 'a size such as "0 in", "2 1/2 in" or "65 mm"'
    limits = _range(metadata, size_text)
    return f"a size{limits}" if limits else _EXAMPLES


_EXAMPLES: Final = 'a size such as "6 in", "6 1/2 in", "15 cm" or "165 mm"'


def _plain(kind: type, metadata: list[Any]) -> str:
    if issubclass(kind, Enum):
        return _one_of([_toml(member.value) for member in kind])
    if issubclass(kind, (bool, int, float)):
        return _numeric(kind, metadata)
    words = _PATTERNS.get(_find(metadata, "pattern"))
    longest = _find(metadata, "max_length")
    return words or (f"text in quotes of 1 to {longest} characters" if longest else "text in quotes")


def _numeric(kind: type, metadata: list[Any]) -> str:
    if kind is bool:
        return "true or false"
    name = "a whole number" if kind is int else "a number"
    return f"{name}{_range(metadata, _number)}"


def _number(value: float) -> str:
    return str(value) if isinstance(value, int) else f"{value:g}"


def _range(metadata: list[Any], write: Any) -> str:
    low, high = _find(metadata, "ge"), _find(metadata, "le")
    over, under = _find(metadata, "gt"), _find(metadata, "lt")
    parts = []
    if low is not None and high is not None:
        parts.append(f"from {write(low)} to {write(high)}")
    else:
        parts += [f"of at least {write(low)}"] if low is not None else []
        parts += [f"of at most {write(high)}"] if high is not None else []
    parts += [f"above {write(over)}"] if over is not None else []
    parts += [f"below {write(under)}"] if under is not None else []
    return "".join(f" {part}" for part in parts)


def _find(metadata: list[Any], name: str) -> Any:
    return next((getattr(item, name) for item in metadata if getattr(item, name, None) is not None), None)


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return f'"{value}"' if isinstance(value, str) else str(value)


def _one_of(values: list[str]) -> str:
    return values[0] if len(values) == 1 else f"{', '.join(values[:-1])} or {values[-1]}"

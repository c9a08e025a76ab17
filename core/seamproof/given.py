"""What is given to the public face, held to the kind that is asked for: the one place for such checks.

They stand at the doors, so that a value of another kind is answered in words there and not by a traceback farther in.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, NamedTuple, TypeVar

from seamproof.errors import ArgumentError, BlockError, LengthError

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

T = TypeVar("T")

MOST_PATCHES: Final = 2_000
"""[patches] As many as a whole pattern is made of. Tiling, seams, plans, replays and pieces have no such limit; what
looks at every patch for every seam, or at every layer of cloth, has."""


def few_enough(title: str, patches: int, what: str) -> None:
    """Hold a block to what a part of its pattern can be worked out for.

    Args:
        title: What the block is called.
        patches: How many patches it has.
        what: The part, as the subject of a sentence: "a pressing plan".

    Raises:
        BlockError: it has more than MOST_PATCHES patches.
    """
    if patches > MOST_PATCHES:
        raise BlockError(
            f"block {title!r} has {patches} patches, and {what} is worked out for {MOST_PATCHES} at most: draw it as "
            "several blocks, and join these as a quilt"
        )


def shown(value: object) -> str:
    """A value as it is written, cut short, with its type.

    >>> shown("1/4"), shown(None)
    ("'1/4' (str)", 'None')
    """
    try:
        written = repr(value)
    except Exception:  # noqa: BLE001 - a stranger's object may raise anything
        return f"a {type(value).__name__}"
    return (
        "None" if value is None else f"{written if len(written) <= 60 else written[:59] + '…'} ({type(value).__name__})"
    )


def of_kind(value: object, kind: type[T], name: str, to_do: str) -> T:
    """The value itself, known to be of the kind.

    Raises:
        ArgumentError: it is of another kind.
    """
    if not isinstance(value, kind):
        article = "an" if kind.__name__[0] in "AEIOUaeiou" else "a"
        raise ArgumentError(f"{name}: {shown(value)} is not {article} {kind.__name__}: {to_do}", name=name, value=value)
    return value


def row_of(values: object, kind: type[T], name: str, to_do: str) -> tuple[T, ...]:
    """Several values as a tuple, each known to be of the kind.

    Raises:
        ArgumentError: they are no list of values, or one is of another kind.
    """
    try:
        row: tuple[object, ...] = tuple(values)  # type: ignore[arg-type]
    except TypeError:
        raise ArgumentError(f"{name}: {shown(values)} is no list: {to_do}", name=name, value=values) from None
    return tuple(of_kind(value, kind, f"{name}[{index}]", to_do) for index, value in enumerate(row))


def number(value: object) -> float:
    """The value as a float. A number in quotes, or a truth, is none: nobody means it where one is asked for.

    Raises:
        ValueError: it is no number, or one too large for a float.
    """
    if isinstance(value, (str, bytes, bytearray, bool)):
        raise ValueError(f"{shown(value)} is no number")  # noqa: TRY004 - whoever asks says what kind of fault it is
    try:
        return float(value)  # type: ignore[arg-type]
    except (TypeError, ValueError):
        raise ValueError(f"{shown(value)} is no number") from None
    except OverflowError:
        raise ValueError(f"{shown(value)} is too large") from None


def is_number(value: object) -> bool:
    """Whether a value is a number that is finite."""
    try:
        return math.isfinite(number(value))
    except ValueError:
        return False


def above_zero(value: object, name: str = "allowance") -> float:
    """A size [in] above zero and finite.

    Raises:
        LengthError: it is none.
    """
    size = number(value) if is_number(value) else math.nan
    if not size > 0:
        why = f"{name} {shown(value)}: it must be a number of inches above zero and finite, such as 0.25"
        raise LengthError(why, value=value)
    return size


def from_zero(value: object, name: str) -> float:
    """A tolerance, zero or more and finite.

    Raises:
        LengthError: it is none.
    """
    size = number(value) if is_number(value) else math.nan
    if not size >= 0:
        raise LengthError(f"{name} {shown(value)}: it must be a number, zero or more and finite", value=value)
    return size


class Rule(NamedTuple):
    """What a field must be, in words, and whether a value is that."""

    words: str
    is_met: Callable[[object], bool]


def optional(rule: Rule) -> Rule:
    """The rule, or None."""
    return Rule(f"{rule.words}, or None", lambda value: value is None or rule.is_met(value))


def tuple_of(rule: Rule, words: str) -> Rule:
    """A tuple whose every item meets the rule."""
    return Rule(words, lambda value: isinstance(value, tuple) and all(map(rule.is_met, value)))


def instance(kind: type[object], words: str) -> Rule:
    """A value of the kind."""
    return Rule(words, lambda value: isinstance(value, kind))


def _is_point(value: object) -> bool:
    return isinstance(value, tuple) and len(value) == 2 and is_number(value[0]) and is_number(value[1])


TEXT = instance(str, "text")
TRUTH = instance(bool, "True or False")
NUMBER = Rule("a number", is_number)
COUNT = Rule(
    "a whole number from 0",
    lambda value: isinstance(value, int) and not isinstance(value, bool) and value >= 0,
)
POINT = Rule("a point, two numbers [in]", _is_point)
POINTS = tuple_of(POINT, "a tuple of points, two numbers [in] each")


def check_fields(value: object, rules: Mapping[str, Rule], name: str) -> None:
    """Every field meets its rule.

    Raises:
        ArgumentError: one does not; the message names it.
    """
    for field, rule in rules.items():
        found = getattr(value, field)
        if not rule.is_met(found):
            why = f"{name}: {field} must be {rule.words}, not {shown(found)}"
            raise ArgumentError(why, name=f"{name}: {field}", value=found)

"""What is wrong with a text that is no TOML, in words for someone who writes recipes and not programs."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from seamproof.recipe.faults import shown
from seamproof.recipe.model import clean_line

if TYPE_CHECKING:
    import tomllib
    from collections.abc import Callable

    from seamproof.recipe.positions import Place

_AT: Final = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")
_PAIR: Final = re.compile(r"""\s*(?P<key>(?:"[^"]*"|'[^']*'|[^\s="'#\[][^="'#]*?))\s*(?P<sign>[=:])\s*(?P<value>.*)""")
_TABLE: Final = re.compile(r"\s*\[\[?\s*(?P<name>[^\]#]*)")
_BARE: Final = re.compile(r"[A-Za-z0-9_-]+(\s*\.\s*[A-Za-z0-9_-]+)*", re.ASCII)
_PLAIN: Final = re.compile(r"""[0-9.]+|true|false|["'\[{].*""")
_DAY: Final = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", re.ASCII)
_NO_DAY: Final = 'this is no day of the calendar: write a date such as "2031-10-05"'
_LINE_ENDS: Final = "lines end with a carriage return alone: save the file with the line ends of this system"
_CURLED: Final = frozenset("“”„‟«»\N{LEFT SINGLE QUOTATION MARK}’\N{SINGLE LOW-9 QUOTATION MARK}′″")
_LINE: Final = "a line is key = value, [table] or # remark, and text stands in quotes"


@dataclass(frozen=True)
class Line:
    """The line at which reading ended.

    Attributes:
        text: The line, without its end.
        key: The key it gives a value, as it stands there; "" where it does not.
        value: What stands after the key's sign, without a remark that follows.
        sign: "=" or ":"; "" where there is none.
    """

    text: str
    key: str
    value: str
    sign: str

    @classmethod
    def of(cls, text: str) -> Line:
        """Take a line to pieces."""
        found = _PAIR.match(text)
        if not found:
            return cls(text, "", "", "")
        return cls(text, found["key"].strip(), _without_remark(found["value"]), found["sign"])


def explain(text: str, error: tomllib.TOMLDecodeError) -> tuple[Place, str, str]:
    """Where reading ended, under which key, and what is wrong with what to do."""
    message = str(error)
    at = _AT.search(message)
    lines = text.split("\n")
    row, column = (int(at[1]), int(at[2])) if at and at[1] else (len(lines), len(lines[-1]) + 1)
    what = message[: at.start()] if at else message
    line = Line.of(lines[row - 1].rstrip("\r") if row <= len(lines) else "")
    words = next((words for start, say in _SAID.items() if what.startswith(start) and (words := say(line, what))), "")
    if "\r" in line.text:
        words = _LINE_ENDS
    elif not words:
        words = f"this cannot be read as TOML, {what[:1].lower()}{what[1:]}: {_LINE}"
    return (row, column), _under(lines[: row - 1], line), clean_line(words)


def _under(before: list[str], line: Line) -> str:
    """The line's key with the table it stands in, as far as both can be made out."""
    if not line.key:
        return ""
    headers = (found["name"].strip() for found in map(_TABLE.match, reversed(before)) if found)
    return clean_line(".".join(part[:60] for part in (next(headers, ""), line.key) if part))


def _without_remark(value: str) -> str:
    return (value if value[:1] in {'"', "'"} else value.split(" #", maxsplit=1)[0]).strip()


def _value(line: Line, _what: str) -> str:
    """A value that is none: in curled quotes, ended too early, or bare."""
    first = line.value[:1]
    if line.sign != "=":
        return ""
    if first in {"[", "{"}:
        return (
            "a list or a table in braces is not closed, or holds what is no value: text stands in quotes, commas part"
        )
    if first in _CURLED:
        return f'these are curled quotes: write straight ones, {_short(line.key)} = "{_short(_bared(line))}"'
    if first in {'"', "'"}:
        return 'the text ended before the line did: write \\" for a quote within text, and one value on a line'
    return _bare(line)


def _bare(line: Line) -> str:
    if not line.value:
        return f"nothing stands after the = sign: write a value, or take the line out; {_LINE}"
    if _DAY.fullmatch(line.value):
        return _NO_DAY
    return (
        f"{_short(line.value)} stands in no quotes and is neither a number nor true or false: "
        f'write {_short(line.key)} = "{_short(_bared(line))}"'
    )


def _bared(line: Line) -> str:
    return line.value.strip("".join(_CURLED) + "\"'").strip()


def _equals(line: Line, _what: str) -> str:
    key = line.key.split(":")[0] if line.sign == ":" else line.key
    if line.sign == ":":
        value = line.value if _PLAIN.fullmatch(line.value) else f'"{line.value}"'
        return f"a colon stands where an = sign must: write {_short(key)} = {_short(value)}"
    if line.sign and not _BARE.fullmatch(key):
        return f'a name of more than letters a to z, figures, - and _ stands in quotes: write "{_short(key)}" = …'
    return f"there is no = sign: {_LINE}"


def _statement(line: Line, _what: str) -> str:
    if line.text.strip()[:1] in _CURLED:
        return 'these are curled quotes: write straight ones, as in "dark log" = "navy"'
    return f"no line begins like this: {_LINE}"


def _table(line: Line, _what: str) -> str:
    found = _TABLE.match(line.text)
    name = found["name"].strip() if found else ""
    last = name.rpartition(".")
    if name and "]" in line.text and not _BARE.fullmatch(name):
        return f'a name of more than one word stands in quotes: write [{_short(last[0] + last[1])}"{_short(last[2])}"]'
    return "the name of a table is not closed: write it between [ and ], alone on its line"


def _twice(line: Line, what: str) -> str:
    named = ".".join(re.findall(r"""['"]([^'"]*)['"]""", what))
    return f"{shown(line.key.strip(chr(34)) or named)} is written more than once: keep one of them"


def _character(_line: Line, what: str) -> str:
    if what.endswith("'\\n'"):
        return "the text in quotes does not end on its line: close it with a quote, or begin and end it with three"
    character = what.split(" ", 2)[-1]
    return f"the character {character} may not stand here: take it out, and write text in quotes"


def _fixed(words: str) -> Callable[[Line, str], str]:
    return lambda _line, _what: words


_SAID: Final[dict[str, Callable[[Line, str], str]]] = {
    "Invalid value": _value,
    "Expected newline or end of document": _value,
    "Expected '='": _equals,
    "Invalid statement": _statement,
    "Invalid initial character": _statement,
    "Expected ']": _table,
    "Cannot overwrite": _twice,
    "Cannot declare": _twice,
    "Cannot mutate": _twice,
    "Cannot redefine": _twice,
    "Duplicate inline table key": _twice,
    "Illegal character": _character,
    "Found invalid character": _character,
    "Unterminated string": _fixed("a text is not closed: end it with the quotes it begins with"),
    'Expected "': _fixed("a text is not closed: end it with the quotes it begins with"),
    "Expected '\"'": _fixed("a text is not closed: end it with the quotes it begins with"),
    "Unescaped '\\'": _fixed("a backslash stands alone: write \\\\ for one, or put the text in single quotes"),
    "Invalid hex value": _fixed("\\u takes four and \\U eight figures or letters a to f: write a character's number"),
    "Escaped character": _fixed("no character has this number: write that of one, or the character itself"),
    "Unclosed array": _fixed("a list is not closed: end it with ], and part its values with commas"),
    "Unclosed inline table": _fixed("a table in braces is not closed: end it with }, and part its keys with commas"),
    "Invalid date or datetime": _fixed(_NO_DAY),
}
"""What to say of each message of the TOML reader, by how it begins; "" where the line shows nothing better to say."""


def _short(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:60]}…"

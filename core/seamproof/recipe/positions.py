"""Where each key of a TOML text stands, read with tree-sitter."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, TypeAlias

import tree_sitter
import tree_sitter_toml

if TYPE_CHECKING:
    from collections.abc import Iterator

Path: TypeAlias = tuple[str | int, ...]
Place: TypeAlias = tuple[int, int]

DEEPEST: Final = 60
"""How deep a recipe's tables, lists and dotted keys may be nested. A real one needs six levels of the tree."""

_KEYS: Final = {"bare_key", "quoted_key", "dotted_key"}
_VALUES: Final = {
    "string", "integer", "float", "boolean", "array", "inline_table",
    "local_date", "local_time", "local_date_time", "offset_date_time",
}  # fmt: skip


@dataclass(frozen=True)
class Positions:
    """Line and column, from 1, of every key and value of a TOML text.

    Attributes:
        keys: Where each key stands; a table's is that of its header.
        values: Where each value stands.
        too_deep: Where nesting goes beyond DEEPEST, or None. Then `keys` and `values` are empty.
    """

    keys: dict[Path, Place]
    values: dict[Path, Place]
    too_deep: Place | None = None

    @classmethod
    def of(cls, text: str) -> Positions:
        """Read a text, which need not be right: of what cannot be read there is no position."""
        source = text.encode()
        tree = tree_sitter.Parser(tree_sitter.Language(tree_sitter_toml.language())).parse(source)
        reader = _Reader(source.split(b"\n"))
        deep = _first_deeper_than(tree.walk(), DEEPEST)
        if deep is not None:
            return cls({}, {}, reader.place(deep))
        reader.document(tree.root_node)
        return cls(reader.keys, reader.values)

    def key(self, path: Path) -> Place:
        """Where a key stands; where it is not there, the table it belongs to; at last the top of the file."""
        return self._find(path, self.keys)

    def value(self, path: Path) -> Place:
        """Where a value stands, or its key, or what it belongs to."""
        return self.values.get(path) or self._find(path, self.keys)

    @staticmethod
    def _find(path: Path, places: dict[Path, Place]) -> Place:
        for length in range(len(path), 0, -1):
            if path[:length] in places:
                return places[path[:length]]
        return (1, 1)


def _first_deeper_than(cursor: tree_sitter.TreeCursor, limit: int) -> tree_sitter.Node | None:
    depth = 0
    while True:
        if cursor.goto_first_child():
            depth += 1
            if depth > limit:
                return cursor.node
            continue
        while not cursor.goto_next_sibling():
            if not cursor.goto_parent():
                return None
            depth -= 1


class _Reader:
    """Walks a tree that is known not to be deep."""

    def __init__(self, lines: list[bytes]) -> None:
        self.lines = lines
        self.keys: dict[Path, Place] = {}
        self.values: dict[Path, Place] = {}
        self._counts: dict[Path, int] = {}

    def place(self, node: tree_sitter.Node) -> Place:
        row, column = node.start_point
        line = self.lines[row] if row < len(self.lines) else b""
        return (row + 1, len(line[:column].decode(errors="replace")) + 1)

    def document(self, root: tree_sitter.Node) -> None:
        for node in root.children:
            if node.type == "pair":
                self.pair(node, ())
            elif node.type in {"table", "table_array_element"}:
                self.table(node)

    def table(self, node: tree_sitter.Node) -> None:
        header = next((child for child in node.children if child.type in _KEYS), None)
        if header is None:
            return
        path = self.current(self.parts(header))
        if node.type == "table_array_element":
            number = self._counts.get(path, -1) + 1
            self._counts[path] = number
            self.keys.setdefault(path, self.place(header))
            path = (*path, number)
        self.keys.setdefault(path, self.place(header))
        for child in node.children:
            if child.type == "pair":
                self.pair(child, path)

    def current(self, parts: Path) -> Path:
        """A header's path, with the number of the latest element where it leads through a list of tables."""
        path: Path = ()
        for part in parts[:-1]:
            path = (*path, part)
            if path in self._counts:
                path = (*path, self._counts[path])
        return path + parts[-1:]

    def pair(self, node: tree_sitter.Node, path: Path) -> None:
        key = next((child for child in node.children if child.type in _KEYS), None)
        value = next((child for child in node.children if child.type in _VALUES), None)
        if key is None:
            return
        parts = self.parts(key)
        for length in range(1, len(parts) + 1):
            self.keys.setdefault(path + parts[:length], self.place(key))
        if value is not None:
            self.value(value, path + parts)

    def value(self, node: tree_sitter.Node, path: Path) -> None:
        self.values.setdefault(path, self.place(node))
        if node.type == "array":
            for number, item in enumerate(child for child in node.children if child.type in _VALUES):
                self.value(item, (*path, number))
        elif node.type == "inline_table":
            for child in node.children:
                if child.type == "pair":
                    self.pair(child, path)

    def parts(self, key: tree_sitter.Node) -> Path:
        """The parts of a key, read by the TOML reader itself."""
        try:
            table: object = tomllib.loads(f"{(key.text or b'').decode(errors='replace')} = 0")
        except (tomllib.TOMLDecodeError, RecursionError):
            return ()
        return tuple(_chain(table))


def _chain(table: object) -> Iterator[str]:
    while isinstance(table, dict) and table:
        name, table = next(iter(table.items()))
        yield name

"""What a handout's text is made of, before it is set: a few kinds of node, as plain values for the typesetter."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.sheets.drawing import Drawing

Words: TypeAlias = "str | list[str | dict[str, str]]"
"""A text: a string, or strings and bold strings in a row."""
Node: TypeAlias = dict[str, Any]


def bold(text: str) -> dict[str, str]:
    """A bold string within words."""
    return {"b": text}


def title(text: str) -> Node:
    """The title of the whole."""
    return {"k": "title", "text": text}


def heading(level: int, text: str, *, new_page: bool = False) -> Node:
    """A heading; `new_page` starts it on a page of its own."""
    return {"k": "h", "level": level, "text": text, "break_": new_page}


def para(text: Words, style: str = "plain") -> Node:
    """A paragraph: "plain", "lead" (large) or "small"."""
    return {"k": "p", "text": text, "style": style}


def bullets(items: Sequence[Words]) -> Node:
    """A list."""
    return {"k": "list", "items": list(items)}


def numbered(items: Sequence[Words]) -> Node:
    """A numbered list."""
    return {"k": "steps-list", "items": list(items)}


def span(text: Words, rows: int) -> Node:
    """A table's cell that reaches over rows; the rows after the first leave it out."""
    return {"span": rows, "text": text}


def facts(items: Sequence[tuple[str, str]]) -> Node:
    """Short facts under one another, each with its name."""
    return {"k": "facts", "items": [list(item) for item in items]}


def terms(items: Sequence[tuple[str, Words]], columns: int) -> Node:
    """Words and what they mean, in columns of about the same length."""
    lengths = [
        len(head) + sum(len(part if isinstance(part, str) else part["b"]) for part in words) + 60
        for head, words in items
    ]
    total, done = sum(lengths), 0
    parted: list[list[list[Any]]] = [[] for _ in range(columns)]
    for item, length in zip(items, lengths, strict=True):
        parted[min(columns - 1, int(columns * (done + length / 2) / total))].append(list(item))
        done += length
    return {"k": "terms", "columns": parted}


def table(
    head: Sequence[str],
    rows: Sequence[Sequence[Any]],
    widths: Sequence[float],
    align: Sequence[str] | None = None,
) -> Node:
    """A table; a width of 0 takes what its column needs, others share the rest."""
    return {
        "k": "table",
        "head": list(head),
        "rows": [list(row) for row in rows],
        "widths": list(widths),
        "align": list(align or ["left"] * len(head)),
    }


def figures(items: Sequence[tuple[str, Words]], columns: int) -> Node:
    """Drawings in rows, each with its words under it."""
    return {"k": "figures", "items": [{"draw": draw, "text": text} for draw, text in items], "columns": columns}


def step(head: Words, text: Words, draw: str | None = None, side: str = "") -> Node:
    """One step: its head, its words, its small picture and which side of it is up."""
    return {"head": head, "text": text, "draw": draw, "side": side}


def steps(items: Sequence[Node], columns: int) -> Node:
    """Steps in rows."""
    return {"k": "steps", "items": list(items), "columns": columns}


def box(head: str, body: Sequence[Node], *, breakable: bool = False) -> Node:
    """Something set apart by a bar at its side."""
    return {"k": "box", "head": head, "body": list(body), "breakable": breakable}


def row(cells: Sequence[Sequence[Node]], widths: Sequence[float]) -> Node:
    """Groups of nodes side by side."""
    return {"k": "row", "cells": [list(cell) for cell in cells], "widths": list(widths)}


def draw(name: str) -> Node:
    """A drawing in the middle of the page."""
    return {"k": "draw", "draw": name}


def keep(body: Sequence[Node]) -> Node:
    """Nodes that stay on one page."""
    return {"k": "keep", "body": list(body)}


def gap(size: float) -> Node:
    """Clear space [in]."""
    return {"k": "gap", "size": size}


class Drawings:
    """The drawings of a handout, each under a name by which nodes show it."""

    def __init__(self) -> None:
        self.named: dict[str, dict[str, Any]] = {}

    def add(self, name: str, drawing: Drawing) -> str:
        """Keep a drawing and give its name back; a name given before keeps its first drawing."""
        self.named.setdefault(name, _as_data(drawing))
        return name


def _as_data(drawing: Drawing) -> dict[str, Any]:
    svg = drawing.svg if isinstance(drawing.svg, str) else drawing.svg.decode()
    labels = [
        {"text": l.text, "x": l.x, "y": l.y, "size": l.size, "anchor": l.anchor, "angle": l.angle,
         "weight": l.weight, "halo": l.halo}
        for l in drawing.labels
    ]  # fmt: skip
    return {"svg": svg, "width": drawing.width, "height": drawing.height, "labels": labels, "alt": drawing.alt}

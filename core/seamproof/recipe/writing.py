"""Writing a first recipe, with every key explained, that loads and packs at once."""

from __future__ import annotations

import json
import textwrap
from itertools import cycle
from typing import TYPE_CHECKING, Any, Final

from seamproof.errors import RecipeError
from seamproof.recipe.allowed import allowed, is_length, size_text
from seamproof.recipe.faults import key_text, listed, nearest, shown
from seamproof.recipe.model import Front, Make, role_names

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pydantic import BaseModel

    from seamproof.block import Block
    from seamproof.plugin import Family

FINISHED: Final = 12.0
"""[in] The finished size of a first recipe; doubled until no patch is too narrow."""

ACCENTS: Final = (("lantern", "#d9912b"), ("brick", "#9c3f2e"), ("plum", "#5b3350"))
LIGHTS: Final = (
    ("sailcloth", "#efe6d2"),
    ("mist", "#b9c7c9"),
    ("straw", "#e3c878"),
    ("shell", "#e6b9a6"),
)
DARKS: Final = (
    ("deep-water", "#1f3a4d"),
    ("moss", "#56643a"),
    ("slate", "#59636b"),
    ("spruce", "#2e5a4b"),
)
"""Fabrics of a first recipe."""

_WIDTH: Final = 100
_FEW: Final = 6
_SAID: Final = {"designer": "Your name", "licence": "All rights reserved", "version": "1.0"}


def new_recipe(slug: str, design: str | None = None) -> str:
    """The text of a first recipe of a family.

    Args:
        slug: The family.
        design: One of its designs, for the parameters; None: its first one.

    Raises:
        PluginError: no family has this slug.
        RecipeError: the family has no design of this name.
    """
    from seamproof.plugin.registry import family as find

    family = find(slug)
    name = next(iter(family.designs)) if design is None else design
    if name not in family.designs:
        raise _no_design(family, name)
    parameters = family.design(name)
    block = _block(family, parameters)
    return "\n".join(
        [
            *_remark(f"{family.title}. {family.about}"),
            *_remark("Lines that begin with # are remarks. Hold the recipe to its claims with `seamproof check FILE`;"),
            *_remark("make its handout with `seamproof pack FILE -o FOLDER`."),
            "",
            *_remark("What the block is called."),
            f"title = {_text(name.capitalize())}",
            *_remark("The family it belongs to: `seamproof families` lists them."),
            f"family = {_text(slug)}",
            *_remark('The finished size of the block, without seam allowance, such as "12 in" or "30 cm".'),
            f"finished = {_text(size_text(max(block.size)))}",
            "",
            "[parameters]",
            *_keys(parameters),
            "",
            *_fabrics(block),
            "",
            "[make]",
            *_keys(Make(), leave=("laying", "narrowest"), unsaid=("measure",)),
            "",
            "[pattern]",
            *_front(),
            "",
            "[expect]",
            *_remark("What you claim of the block: `seamproof check` fails where it does not hold."),
            f"patches = {len(block.patches)}",
            "",
        ]
    )


def _no_design(family: Family[Any], name: str) -> RecipeError:
    from seamproof.errors import Fault

    what = f"{family.slug} has no design {shown(name)}; {nearest(name, family.designs)}it has {listed(family.designs)}"
    return RecipeError([Fault("new-recipe", 1, 1, "design", what)])


def _block(family: Family[Any], parameters: Any) -> Block:
    """The block, as large as it must be for its narrowest patch."""
    from seamproof.plugin.guard import drafted
    from seamproof.plugin.widths import narrow_patches

    size = FINISHED
    while narrow_patches(drafted(family, parameters, size)) and size < FINISHED * 4:
        size += FINISHED / 4
    return drafted(family, parameters, size)


def _remark(text: str) -> list[str]:
    return [f"# {line}" for line in textwrap.wrap(text, _WIDTH)]


def _text(value: str) -> str:
    return json.dumps(value, ensure_ascii=False)


def _keys(table: BaseModel, leave: Iterable[str] = (), unsaid: Iterable[str] = ()) -> list[str]:
    """Every key of a table but some with what it means, what is allowed and, unless it is left unsaid, its value."""
    lines = []
    for name, field in type(table).model_fields.items():
        if name not in leave:
            value = getattr(table, name)
            lines += _remark(f"{field.description or name} Write {allowed(field)}.")
            if value is None or name in unsaid:
                lines.append(f"# {name} =")
            else:
                lines.append(f"{name} = {_text(size_text(value)) if is_length(field) else _value(value)}")
    return lines


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return _text(str(value))
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(map(_value, value))}]"
    return repr(value)


def _fabrics(block: Block) -> list[str]:
    fabric_of = _choose(block)
    lines = _remark('The fabrics: a key of your own for each, its colour, and a name for pages (name = "…").')
    for key, colour in ACCENTS + LIGHTS + DARKS:
        if key in fabric_of.values():
            lines += [f"[fabrics.{key}]", f"colour = {_text(colour)}"]
    lines += ["", "[roles]"]
    lines += _remark("For each role of the block its fabric. A role without its number stands for all of that name.")
    return [*lines, *(f"{key_text((role,))} = {_text(fabric)}" for role, fabric in fabric_of.items())]


def _choose(block: Block) -> dict[str, str]:
    """A fabric for each role; numbered roles share one where there are many kinds, else they go by turns."""
    kinds = list(dict.fromkeys(role_names(role)[-1] for role in block.roles))
    names = list(block.roles) if len(block.roles) <= _FEW or len(kinds) < 3 else kinds
    fabrics = {"accent": cycle(ACCENTS), "light": cycle(LIGHTS), "dark": cycle(DARKS)}
    turns = cycle(("dark", "light"))
    return {name: next(fabrics[_tone(name) or next(turns)])[0] for name in names}


def _tone(role: str) -> str | None:
    """Light or dark where a role says so; an accent for the centre."""
    words = role.split()
    return next((tone for tone in ("light", "dark") if tone in words), "accent" if "centre" in words else None)


def _front() -> list[str]:
    lines = []
    for name, field in Front.model_fields.items():
        lines += _remark(f"{field.description} Write {allowed(field)}.")
        lines.append(f"{name} = {_text(_SAID[name])}" if name in _SAID else f'# {name} = ""')
    return lines

"""Reading a recipe: every fault at once, each with its line, column and key."""

from __future__ import annotations

import codecs
import datetime as dt
import json
import os
import re
import tomllib
from pathlib import Path as File
from typing import TYPE_CHECKING, Any, Final

from pydantic import ValidationError

from seamproof.errors import ArgumentError, Fault, PluginError, RecipeError
from seamproof.recipe.carrying import CarryError, carried
from seamproof.recipe.faults import Faults, listed, nearest, shown
from seamproof.recipe.grammar import explain
from seamproof.recipe.model import Recipe, role_names
from seamproof.recipe.positions import DEEPEST, Positions
from seamproof.units import Measure, is_metric

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.plugin import Family
    from seamproof.recipe.model import Make
    from seamproof.recipe.positions import Path

LARGEST: Final = 64 * 1024
"""[bytes] The largest recipe that is read: thirty times a long one."""

_ANY_SIZE: Final = 12.0
_BIGGEST: Final = 10**1000
"""Beyond every range; a hexadecimal number may be so long that it could not be written again."""

_LONG_NUMBER: Final = re.compile(r"[0-9_]{1000,}")


def load_recipe(path: str | os.PathLike[str]) -> Recipe:
    """Read a recipe file, and draft its block to see that every role has its fabric.

    Raises:
        RecipeError: it cannot be read, or says what is not allowed; it holds every fault.
        ArgumentError: what is no path.
    """
    if not isinstance(path, (str, os.PathLike)):
        raise ArgumentError(f"path: {path!r:.60} is no path: give that of a recipe file", name="path", value=path)
    name = os.fspath(path)
    try:
        if File(name).is_dir():
            raise _one(name, (1, 1), f"is a folder: give the path of a recipe file{_for_instance(name)}")
        with File(name).open("rb") as file:
            content = file.read(LARGEST + 1)
    except RecipeError:
        raise
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise _one(name, (1, 1), f"cannot be read: {reason}: give the path of a recipe file") from None
    return read_recipe(content, name)


def _for_instance(folder: str) -> str:
    from seamproof.recipe.finding import SUFFIX

    found = min((path for path in File(folder).glob(f"*{SUFFIX}") if path.is_file()), default=None)
    return f", such as {found}" if found else f"; one ends in {SUFFIX}"


def read_recipe(content: bytes, name: str = "recipe") -> Recipe:
    """Read a recipe from the bytes of a file called `name`.

    Raises:
        RecipeError: it says what is not allowed; it holds every fault.
    """
    text = _decoded(content, name)
    positions = Positions.of(text)
    if positions.too_deep is not None:
        raise _one(name, positions.too_deep, f"nested more than {DEEPEST} deep: no recipe is")
    faults = Faults(name, positions)
    recipe = _validated(_plain(_parsed(text, name)), faults)
    if recipe is None or faults.any:
        raise RecipeError(faults.sorted)
    return recipe


def _one(name: str, place: tuple[int, int], message: str) -> RecipeError:
    return RecipeError([Fault(name, *place, "", message)])


def _decoded(content: bytes, name: str) -> str:
    if len(content) > LARGEST:
        raise _one(name, (1, 1), f"larger than {LARGEST // 1024} KB: no recipe is; is it the right file?")
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        raise _one(name, (1, 1), "the file is written as UTF-16: save it as UTF-8")
    content = content.removeprefix(codecs.BOM_UTF8)
    try:
        return content.decode()
    except UnicodeDecodeError as error:
        before = content[: error.start]
        column = len(before[before.rfind(b"\n") + 1 :].decode()) + 1
        place = (before.count(b"\n") + 1, column)
        raise _one(name, place, f"byte 0x{content[error.start]:02x} is not UTF-8: save the file as UTF-8") from None


def _parsed(text: str, name: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        place, key, words = explain(text, error)
        raise RecipeError([Fault(name, *place, key, words)]) from None
    except RecursionError:
        raise _one(name, (1, 1), "nested too deep: no recipe is") from None
    except ValueError:
        found = _LONG_NUMBER.search(text)
        before = text[: found.start()] if found else ""
        place = (before.count("\n") + 1, len(before) - before.rfind("\n"))
        raise _one(name, place, "a number of so many digits cannot be read: write fewer") from None


def _plain(value: Any) -> Any:
    """The value as JSON has it: dates as text, whole numbers of no more than a thousand digits."""
    if isinstance(value, dict):
        return {key: _plain(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_plain(item) for item in value]
    if isinstance(value, (dt.date, dt.time)):
        return value.isoformat()
    if isinstance(value, int) and abs(value) > _BIGGEST:
        return _BIGGEST if value > 0 else -_BIGGEST
    return value


def _validated(raw: dict[str, Any], faults: Faults) -> Recipe | None:
    given = raw.get("parameters", {})
    recipe: Recipe | None = None
    try:
        recipe = Recipe.model_validate_json(json.dumps(raw | {"parameters": {}}))
    except ValidationError as error:
        faults.validation(Recipe, error.errors(include_url=False))
    _check_fabrics(raw, faults)
    family = _family(raw.get("family"), faults)
    if not isinstance(given, dict):
        faults.at_value(("parameters",), f"{shown(given)} is not allowed: write a table, [parameters]")
        return None
    parameters = _parameters(family, given, faults) if family else None
    if family is None or parameters is None:
        return None
    block = _drafted(family, parameters, recipe, faults)
    if block is not None:
        _check_roles(raw, block, faults)
    return recipe.model_copy(update={"parameters": parameters, "make": _measured(recipe.make, raw)}) if recipe else None


def _measured(make: Make, raw: dict[str, Any]) -> Make:
    """How it is made, sizes written in millimetres where the finished size is metric and no measure is asked for."""
    if "measure" in make.model_fields_set or not is_metric(raw["finished"]):
        return make
    return make.model_copy(update={"measure": Measure.MILLIMETRES})


def _family(slug: object, faults: Faults) -> Family[Any] | None:
    from seamproof.plugin.registry import families

    if not isinstance(slug, str):
        return None
    known = families()
    if slug in known:
        return known[slug]
    have = f"there is {listed(known)}" if known else "no family is installed"
    broken = "".join(f"; {trouble}" for trouble in known.troubles)
    faults.at_value(("family",), f"no family is called {shown(slug)}; {nearest(slug, known)}{have}{broken}")
    return None


def _parameters(family: Family[Any], given: dict[str, Any], faults: Faults) -> Any:
    try:
        return family.parameters.model_validate_json(json.dumps(given))
    except ValidationError as error:
        faults.validation(family.parameters, error.errors(include_url=False), ("parameters",))
    return None


def _drafted(family: Family[Any], parameters: Any, recipe: Recipe | None, faults: Faults) -> Block | None:
    """The block. Where the size is at fault, one of another size: its roles do not hang on that."""
    from seamproof.plugin.guard import drafted
    from seamproof.plugin.widths import check_widths

    block = None
    try:
        block = drafted(family, parameters, recipe.finished if recipe else _ANY_SIZE)
        if recipe is not None:
            check_widths(family, parameters, block, narrowest=recipe.make.narrowest)
            carried(block, recipe.carry)
    except CarryError as error:
        faults.at_value(("carry", error.number, error.key), str(error))
    except PluginError as error:
        faults.at_value(("family",), str(error))
    except ValueError as error:
        word = str(error).split(":")[0]
        path: Path = ("parameters", word) if word in family.parameters.model_fields else ("finished",)
        faults.at_value(path, str(error).removeprefix(f"{word}: "))
    return block


def _names(raw: dict[str, Any], table: str) -> dict[str, Any] | None:
    value = raw.get(table)
    return value if isinstance(value, dict) else None


def _check_fabrics(raw: dict[str, Any], faults: Faults) -> None:
    """Every role's fabric exists and every fabric is used."""
    fabrics, roles = _names(raw, "fabrics"), _names(raw, "roles")
    if fabrics is None:
        return
    for role, fabric in (roles or {}).items():
        if isinstance(fabric, str) and fabric not in fabrics:
            message = f"no fabric is called {shown(fabric)}; {nearest(fabric, fabrics)}there is {listed(fabrics)}"
            faults.at_value(("roles", role), message)
    expect = _names(raw, "expect") or {}
    cloth = expect.get("cloth")
    for fabric in cloth if isinstance(cloth, dict) else ():
        if fabric not in fabrics:
            message = f"no fabric has this name; {nearest(fabric, fabrics)}there is {listed(fabrics)}"
            faults.at_key(("expect", "cloth", fabric), message)
    if roles is not None:
        used = {fabric for fabric in roles.values() if isinstance(fabric, str)}
        for fabric in fabrics:
            if fabric not in used:
                faults.at_key(
                    ("fabrics", fabric), "no role uses this fabric: give it one under [roles], or take it out"
                )


def _check_roles(raw: dict[str, Any], block: Block, faults: Faults) -> None:
    """Every role of the block has a fabric, and every role that is named is one of the block's."""
    roles = _names(raw, "roles")
    if roles is None:
        return
    for role in block.roles:
        if not any(name in roles for name in role_names(role)):
            faults.at_key(("roles", role), "this role of the block has no fabric: give it one")
    allowed = list(dict.fromkeys(name for role in block.roles for name in role_names(role)))
    for role in roles:
        if role not in allowed:
            message = f"the block has no such role; {nearest(role, allowed)}it has {listed(block.roles)}"
            faults.at_key(("roles", role), message)
    for role in roles:
        if role in allowed and not any(_takes(role, one, roles) for one in block.roles):
            faults.at_key(("roles", role), "every role this stands for is named itself as well: take it out")


def _takes(name: str, role: str, roles: dict[str, Any]) -> bool:
    return next((known for known in role_names(role) if known in roles), None) == name

"""Seamproof: a recipe goes in, a block that is proven sewable comes out.

The public face. Names are loaded when first used, so that `import seamproof` stays quick.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from seamproof.block import Block, Patch
    from seamproof.errors import (
        ArgumentError,
        BlockError,
        GeometryError,
        LengthError,
        NotSewable,
        OutputError,
        PluginError,
        PrintError,
        RecipeError,
        SeamproofError,
        SewingError,
    )
    from seamproof.geometry import Edge, Outline, Transform
    from seamproof.pattern import Pattern, work_out
    from seamproof.planning import plan
    from seamproof.plugin import Family, Parameters, hookimpl
    from seamproof.plugin.registry import families
    from seamproof.recipe import Recipe, load_recipe
    from seamproof.referee import replay
    from seamproof.seams import SeamMap
    from seamproof.sequence import Construction, Foundation, Join, Step

_HOME: Final = {
    "Block": "block", "Patch": "block",
    "Edge": "geometry", "Outline": "geometry", "Transform": "geometry",
    "SeamMap": "seams",
    "Construction": "sequence", "Foundation": "sequence", "Join": "sequence", "Step": "sequence",
    "plan": "planning", "replay": "referee",
    "Family": "plugin", "Parameters": "plugin", "hookimpl": "plugin", "families": "plugin.registry",
    "Recipe": "recipe", "load_recipe": "recipe",
    "Pattern": "pattern", "work_out": "pattern",
    **dict.fromkeys(
        ("ArgumentError", "BlockError", "GeometryError", "LengthError", "NotSewable", "OutputError", "PluginError",
         "PrintError", "RecipeError", "SeamproofError", "SewingError"),
        "errors",
    ),
}  # fmt: skip

__all__ = [
    "ArgumentError", "Block", "BlockError", "Construction", "Edge", "Family", "Foundation", "GeometryError", "Join",
    "LengthError", "NotSewable", "Outline", "OutputError", "Parameters", "Patch", "Pattern", "PluginError",
    "PrintError", "Recipe", "RecipeError", "SeamMap", "SeamproofError", "SewingError", "Step", "Transform",
    "families", "hookimpl", "load_recipe", "plan", "replay", "work_out",
]  # fmt: skip


def __getattr__(name: str) -> object:
    home = _HOME.get(name)
    if home is None:
        raise AttributeError(f"module 'seamproof' has no attribute {name!r}")
    value: object = getattr(import_module(f"seamproof.{home}"), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted(__all__)

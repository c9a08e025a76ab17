"""Curves: drunkard's path, fans, plates of blades, overlapped circles."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from seamproof.plugin import hookimpl
from seamproof_curves.fans import FAN, PLATE
from seamproof_curves.paths import DRUNKARDS_PATH, ORANGE_PEEL

if TYPE_CHECKING:
    from seamproof.plugin import Family


@hookimpl
def seamproof_families() -> list[Family[Any]]:
    """The families of this plugin."""
    return [DRUNKARDS_PATH, ORANGE_PEEL, FAN, PLATE]

"""Stars: on a grid of squares, of diamonds, of wedges, feathered, and compasses."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from seamproof.plugin import hookimpl
from seamproof_stars.compass import COMPASS
from seamproof_stars.diamonds import EIGHT_POINTED, SIX_POINTED
from seamproof_stars.feathered import FEATHERED
from seamproof_stars.squares import FRIENDSHIP, NESTED, OHIO, SAWTOOTH
from seamproof_stars.wedges import KALEIDOSCOPE, MANY_POINTED

if TYPE_CHECKING:
    from seamproof.plugin import Family


@hookimpl
def seamproof_families() -> list[Family[Any]]:
    """The families of this plugin."""
    return [
        SAWTOOTH, OHIO, FRIENDSHIP, NESTED, EIGHT_POINTED, SIX_POINTED, FEATHERED, MANY_POINTED, KALEIDOSCOPE, COMPASS,
    ]  # fmt: skip

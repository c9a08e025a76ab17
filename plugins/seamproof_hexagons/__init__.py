"""Hexagons, rhombi and triangles of 60°: rosettes, honeycombs, tumbling blocks, diamonds in rows, pyramids."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from seamproof.plugin import hookimpl
from seamproof_hexagons.hexagons import HONEYCOMB, ROSETTE
from seamproof_hexagons.rhombi import DIAMOND_ROWS, PYRAMIDS, TUMBLING_BLOCKS

if TYPE_CHECKING:
    from seamproof.plugin import Family


@hookimpl
def seamproof_families() -> list[Family[Any]]:
    """The families of this plugin."""
    return [ROSETTE, HONEYCOMB, TUMBLING_BLOCKS, DIAMOND_ROWS, PYRAMIDS]

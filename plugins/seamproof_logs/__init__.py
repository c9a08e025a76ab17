"""Log cabins: strips sewn round, beside or about a centre."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from seamproof.plugin import hookimpl
from seamproof_logs.cabins import COURTHOUSE_STEPS, HALF_LOG_CABIN, LOG_CABIN, OFF_CENTRE
from seamproof_logs.polygons import POLYGON_CABIN
from seamproof_logs.varied import CORNERSTONES, GRADED_CABIN

if TYPE_CHECKING:
    from seamproof.plugin import Family


@hookimpl
def seamproof_families() -> list[Family[Any]]:
    """The families of this plugin."""
    return [LOG_CABIN, COURTHOUSE_STEPS, HALF_LOG_CABIN, OFF_CENTRE, GRADED_CABIN, CORNERSTONES, POLYGON_CABIN]

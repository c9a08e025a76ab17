"""Strings: strips of any width sewn side by side, and crazy blocks grown round a centre."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from seamproof.plugin import hookimpl
from seamproof_strings.crazy import CRAZY
from seamproof_strings.strips import STRING_DIAMOND, STRINGS

if TYPE_CHECKING:
    from seamproof.plugin import Family


@hookimpl
def seamproof_families() -> list[Family[Any]]:
    """The families of this plugin."""
    return [STRINGS, STRING_DIAMOND, CRAZY]

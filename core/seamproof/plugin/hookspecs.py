"""The hooks a plugin may implement. Nothing else is in this module."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import pluggy

if TYPE_CHECKING:
    from collections.abc import Iterable

    from seamproof.plugin.family import Family

PROJECT: Final = "seamproof"
hookspec: Final = pluggy.HookspecMarker(PROJECT)
hookimpl: Final = pluggy.HookimplMarker(PROJECT)


@hookspec
def seamproof_families() -> Iterable[Family[Any]]:  # type: ignore[empty-body]
    """Give the plugin's families.

    Called once, by the registry, the first time any family is asked for. Return an iterable of Family values; an
    empty one is allowed. An exception is reported with the plugin's name and the other plugins go on.
    """

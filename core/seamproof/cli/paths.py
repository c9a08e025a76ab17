"""Paths as they are given to the command."""

from __future__ import annotations

from typing import Any, Final

import click


class _Named(click.Path):
    """A path that names something: an empty one, as a variable not set leaves it, would mean the folder we are in."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The path as it was given, not looked at; an empty one is refused."""
        if not value:
            self.fail("the path is empty: name a file or a folder", param, ctx)
        return value


PATH: Final = _Named()
"""What every argument and option that is a path is read by."""

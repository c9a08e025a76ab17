"""What a plugin gives: families of blocks, by typed hooks and entry points."""

from seamproof.plugin.family import Family, Parameters
from seamproof.plugin.hookspecs import hookimpl

__all__ = ["Family", "Parameters", "hookimpl"]

"""What a plugin gives: families of blocks, by typed hooks and entry points."""

from seamproof.plugin.draft import Draft, cut, polar, regular
from seamproof.plugin.family import Family, Parameters
from seamproof.plugin.hookspecs import hookimpl

__all__ = ["Draft", "Family", "Parameters", "cut", "hookimpl", "polar", "regular"]

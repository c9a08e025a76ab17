"""Drafting with a family that may be a stranger's: nothing it says is believed unseen."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from seamproof.block import Block
from seamproof.errors import BlockError, PluginError, SeamproofError
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from seamproof.plugin.family import Family, Parameters


def drafted(family: Family[Any], parameters: Parameters, size: float) -> Block:
    """Draft a block of `size` [in] and prove that it is one, of that size, and the same every time.

    Raises:
        ValueError: the parameters contradict one another; the message begins with the parameter's name.
        PluginError: the family broke, or gave something that is no such block; the message names it.
    """
    block = _once(family, parameters, size)
    if block != _once(family, parameters, size):
        raise _blame(family, "drafts another block each time it is asked for the same one")
    try:
        block.check()
    except BlockError as error:
        raise _blame(family, f"drafts patches that do not tile their block: {error}") from error
    if block.outline is None:
        raise _blame(family, "drafts a block without its outline")
    left, bottom, right, top = block.outline.bounds
    if max(abs(left), abs(bottom)) > SAME_POINT or abs(max(right, top) - size) > SAME_POINT:
        corner = f"({left:g}, {bottom:g})"
        raise _blame(family, f"was asked for {size:g} in from (0, 0), and drafts {max(right, top):g} in from {corner}")
    return block


def _once(family: Family[Any], parameters: Parameters, size: float) -> Block:
    try:
        block = family.draft(parameters, size)
    except Exception as error:
        names_one = str(error).split(":")[0] in type(parameters).model_fields
        if isinstance(error, ValueError) and not isinstance(error, SeamproofError) and names_one:
            raise
        raise _blame(family, f"broke while drafting: {type(error).__name__}: {error}") from error
    if not isinstance(block, Block):
        raise _blame(family, f"gave a {type(block).__name__}, not a Block")
    return block


def _blame(family: Family[Any], what: str) -> PluginError:
    from seamproof.plugin.registry import families

    loaded = families()
    owner = f" of plugin {loaded.plugin_of(family.slug)}" if loaded.get(family.slug) is family else ""
    return PluginError(f"family {family.slug!r}{owner} {what}", name=family.slug)

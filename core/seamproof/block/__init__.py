"""Blocks: patches that tile an outline, drawn as seen from the fabric's face."""

from seamproof.block.block import Block, Patch

__all__ = ["Block", "Patch"]

"""The command `seamproof`."""

from seamproof.cli.main import main

__all__ = ["main"]

"""Which seam of a construction every stretch of seam belongs to: see `seamproof.sequence.owners`."""

from seamproof.sequence.owners import Owner, owners

__all__ = ["Owner", "owners"]

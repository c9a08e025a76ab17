"""The claims a pattern makes, and how each was proven."""

from seamproof.proof.claims import Claim

__all__ = ["Claim"]

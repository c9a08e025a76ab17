"""Finding a construction. Never imports the referee, nor the other way round."""

from seamproof.planning.plan import plan

__all__ = ["plan"]

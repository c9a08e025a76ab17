"""Everything worked out for one recipe: one object the outputs share."""

from seamproof.pattern.pattern import FabricLegend, Pattern
from seamproof.pattern.working_out import work_out

__all__ = ["FabricLegend", "Pattern", "work_out"]

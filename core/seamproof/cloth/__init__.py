"""From cut pieces to strips and yardage."""

from seamproof.cloth.needs import ClothPlan, FabricNeed, PieceGroup, Strip
from seamproof.cloth.planning import pieces_from, plan_cloth

__all__ = ["ClothPlan", "FabricNeed", "PieceGroup", "Strip", "pieces_from", "plan_cloth"]

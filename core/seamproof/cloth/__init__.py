"""From cut pieces to strips and yardage."""

from seamproof.cloth.needs import ClothPlan, FabricNeed, PieceGroup, Strip

__all__ = ["ClothPlan", "FabricNeed", "PieceGroup", "Strip"]

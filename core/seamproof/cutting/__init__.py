"""What is cut for each patch: rough pieces for foundations, plain pieces, templates."""

from seamproof.cutting.pieces import CutPiece, MatchTick, Placement, RoughPiece, SewingLine, Template
from seamproof.cutting.rough import rough_pieces

__all__ = ["CutPiece", "MatchTick", "Placement", "RoughPiece", "SewingLine", "Template", "rough_pieces"]

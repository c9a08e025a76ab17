"""What is cut for each patch: rough pieces for foundations, plain pieces, templates."""

from seamproof.cutting.pieces import CutPiece, MatchTick, Placement, RoughPiece, SewingLine, Template

__all__ = ["CutPiece", "MatchTick", "Placement", "RoughPiece", "SewingLine", "Template"]

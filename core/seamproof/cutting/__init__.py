"""What is cut for each patch: rough pieces for foundations, plain pieces, templates."""

from seamproof.cutting.pieces import CutPiece, MatchTick, Placement, RoughPiece, SewingLine, Template
from seamproof.cutting.plain import cut_pieces, tight_curves
from seamproof.cutting.rough import rough_pieces
from seamproof.cutting.sizes import unfinished
from seamproof.cutting.templates import templates
from seamproof.cutting.ticks import match_ticks

__all__ = [
    "CutPiece", "MatchTick", "Placement", "RoughPiece", "SewingLine", "Template",
    "cut_pieces", "match_ticks", "rough_pieces", "templates", "tight_curves", "unfinished",
]  # fmt: skip

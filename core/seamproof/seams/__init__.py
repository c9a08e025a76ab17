"""The seam map of a block: its maximal seam lines and their junctions."""

from seamproof.seams.seam_map import Junction, JunctionKind, SeamLine, SeamMap

__all__ = ["Junction", "JunctionKind", "SeamLine", "SeamMap"]

"""Drawings (the only user of svgwrite) and typeset pages (the only user of typst)."""

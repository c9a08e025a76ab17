"""Drawings (the only writer of SVG) and typeset pages (the only user of typst)."""

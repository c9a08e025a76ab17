"""Plane geometry: points, edges, outlines, transforms, the planar map. Inches, y up, anticlockwise."""

from seamproof.geometry.edges import Edge
from seamproof.geometry.outlines import Outline
from seamproof.geometry.points import Point
from seamproof.geometry.transforms import Transform

__all__ = ["Edge", "Outline", "Point", "Transform"]

"""Recipes: what a designer writes, as TOML, read with every fault at once."""

from seamproof.recipe.loading import load_recipe
from seamproof.recipe.model import Expect, Fabric, Front, Make, Recipe

__all__ = ["Expect", "Fabric", "Front", "Make", "Recipe", "load_recipe"]

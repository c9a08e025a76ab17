"""From a recipe to a proven pattern: each part is worked out once, from what stands before it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from seamproof.given import few_enough, of_kind
from seamproof.pattern.expecting import claims_expected
from seamproof.pattern.legend import fabric_legend, lightness_of
from seamproof.pattern.method import choose_construction
from seamproof.pattern.pattern import Pattern

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.block import Block
    from seamproof.cutting import CutPiece
    from seamproof.cutting.recipes_of_units import Workshop
    from seamproof.plugin import Family
    from seamproof.recipe import Make, Recipe


def work_out(recipe: Recipe) -> Pattern:
    """Work out a recipe's pattern: draft, order, replay, pieces, cloth, claims.

    Raises:
        ArgumentError: what is no recipe.
        PluginError: no family has the recipe's slug, or it broke.
        BlockError: the patches do not tile the block, a role has no fabric, a seam cannot be carried on as asked, or
            there are more than MOST_PATCHES patches.
        NotSewable: no construction of the asked kind exists.
        SewingError: the referee refuses the construction or a rough piece.
        ValueError: the family's parameters are not allowed, or contradict one another.
    """
    from seamproof.cloth.planning import plan_cloth
    from seamproof.cutting.laid import RawEdges, laid_cloths
    from seamproof.cutting.piecing import piecing_of
    from seamproof.cutting.plain import cut_pieces
    from seamproof.cutting.pressed_alike import pressed_alike
    from seamproof.cutting.rough import rough_pieces
    from seamproof.cutting.templates import templates
    from seamproof.cutting.units import Units
    from seamproof.planning import order_for_pressing, plan_pressing
    from seamproof.plugin.registry import family as find
    from seamproof.proof import claims_proven as claim
    from seamproof.recipe import Recipe
    from seamproof.referee import replay
    from seamproof.seams import SeamMap

    of_kind(recipe, Recipe, "recipe", "read one with load_recipe")
    family = find(recipe.family)
    recipe = _with_parameters(recipe, family)
    block = _draft(recipe, family)
    few_enough(block.title, len(block.patches), "a pattern")
    legend = fabric_legend(recipe, block)
    seam_map = SeamMap.of(block)
    make, placement = recipe.make, recipe.make.laying.placement
    lightness = lightness_of(legend, block)
    construction = order_for_pressing(block, choose_construction(block, make), lightness)
    pressing = plan_pressing(block, construction, lightness)
    rough = rough_pieces(block, construction, make.allowance, placement, make.measure)
    cut = cut_pieces(block, construction, make.allowance)
    replayed = replay(block, construction, (*rough, *cut), make.allowance, placement)
    fabric_of = {patch.id: recipe.fabric_of(patch.role) or "" for patch in block.patches}
    piecing = None
    if construction.method == "pieced":
        shop = _workshop(cut, make)
        piecing = piecing_of(block, construction, pressing, fabric_of, shop)
        if alike := pressed_alike(construction, piecing.ways):
            pressing = plan_pressing(block, construction, lightness, alike)
            piecing = piecing_of(block, construction, pressing, fabric_of, shop)
    ways = piecing.ways if piecing else ()
    cloth = plan_cloth(rough, cut, fabric_of, make.copies, make.cloth_width, make.measure, ways)
    papers = templates(block, construction, make.allowance)
    claims = (
        claim.tiles(block),
        claim.wide_enough(block, make.narrowest),
        claim.sews(construction, replayed),
        claim.covers(rough, replayed, placement),
        claim.laid_units(laid_cloths(RawEdges(Units(block, construction), papers, cut, make.allowance))),
        claim.foundations(construction),
        claim.pivots(construction),
        claim.partial_seams(construction),
        claim.nests(pressing),
        claim.fits_the_cloth(cloth),
        *claims_expected(recipe.expect, block, construction, cloth),
    )
    return Pattern(
        recipe=recipe,
        family=family,
        block=block,
        seam_map=seam_map,
        construction=construction,
        pressing=pressing,
        legend=legend,
        rough=rough,
        cut=cut,
        templates=papers,
        cloth=cloth,
        claims=claims,
        piecing=piecing,
    )


def _workshop(cut: Sequence[CutPiece], make: Make) -> Workshop:
    from seamproof.cutting.recipes_of_units import Workshop

    pieces = {piece.patch: piece for piece in cut}
    return Workshop(pieces, make.copies, make.allowance, make.measure, make.cloth_width)


def draft(recipe: Recipe) -> Block:
    """A recipe's block alone, under its title, with its seams carried on.

    Raises:
        PluginError: no family has the recipe's slug, or it broke.
        BlockError: a seam cannot be carried on as asked.
        ValueError: the family's parameters are not allowed, or contradict one another.
    """
    from seamproof.plugin.registry import family as find

    family = find(recipe.family)
    return _draft(_with_parameters(recipe, family), family)


def _with_parameters(recipe: Recipe, family: Family[Any]) -> Recipe:
    """The recipe with its parameters as the family's own model, for one that was made by hand."""
    if isinstance(recipe.parameters, family.parameters):
        return recipe
    return recipe.model_copy(update={"parameters": family.parameters.model_validate(recipe.parameters)})


def _draft(recipe: Recipe, family: Family[Any]) -> Block:
    """The block under the recipe's title; drafted twice and checked, the recipe's seams carried on."""
    from seamproof.plugin.guard import drafted
    from seamproof.recipe.carrying import carried

    drawn = replace(drafted(family, recipe.parameters, recipe.finished), title=recipe.title)
    block = carried(drawn, recipe.carry)
    if recipe.carry:
        block.check()
    return block

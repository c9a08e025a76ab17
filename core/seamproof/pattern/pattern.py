"""The pattern: one frozen object from which every page, picture and list is made."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.cloth import ClothPlan
    from seamproof.cutting import CutPiece, RoughPiece, Template
    from seamproof.cutting.piecing import Piecing
    from seamproof.pattern.level import Level
    from seamproof.planning.forecast import Forecast
    from seamproof.planning.layers import Thickness
    from seamproof.planning.pressing_rows import RowsAdvice
    from seamproof.planning.rescue import Rescue
    from seamproof.plugin import Family
    from seamproof.proof import Claim
    from seamproof.recipe import Recipe
    from seamproof.seams import SeamMap
    from seamproof.sequence import Construction
    from seamproof.sequence.pressing import PressingPlan


@dataclass(frozen=True)
class FabricLegend:
    """One line of the fabric legend.

    Attributes:
        key: Its key in the recipe.
        letter: "a", "b", … small, so that none is taken for a foundation.
        name: What it is called on pages.
        colour: "#rrggbb".
        hatch: The index of its hatch, from 0 (plain), never shared by two fabrics of one block of up to twelve.
        roles: The roles it is used for.
    """

    key: str
    letter: str
    name: str
    colour: str
    hatch: int
    roles: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Pattern:
    """Everything worked out for one recipe.

    Attributes:
        recipe: What the designer wrote.
        family: Its family.
        block: The drafted block.
        seam_map: Its seam lines and junctions.
        construction: How it is sewn; it has passed the referee.
        pressing: Where every allowance lies.
        legend: The fabrics in order of first use.
        rough: One rough piece for each foundation patch, in sewing order.
        cut: One plain piece for each loose patch.
        templates: One for each foundation that is printed (twins once), then one for each loose patch.
        cloth: What to buy and how to cut it.
        claims: What is claimed, and how each was proven.
        piecing: How a block that is cut and pieced is made, batch by batch; None for other methods.
    """

    recipe: Recipe
    family: Family[Any]
    block: Block
    seam_map: SeamMap
    construction: Construction
    pressing: PressingPlan
    legend: tuple[FabricLegend, ...]
    rough: tuple[RoughPiece, ...]
    cut: tuple[CutPiece, ...]
    templates: tuple[Template, ...]
    cloth: ClothPlan
    claims: tuple[Claim, ...]
    piecing: Piecing | None = None

    @cached_property
    def layers(self) -> tuple[Thickness, ...]:
        """The layers of cloth at every inner junction, the thickest first."""
        from seamproof.planning.layers import LayerMap

        return LayerMap(self.block, self.construction, self.pressing, self.recipe.make.allowance).thickest

    @cached_property
    def level(self) -> Level:
        """How hard it is, with the figures that say so."""
        from seamproof.pattern.level import find_level

        return find_level(self)

    @cached_property
    def forecast(self) -> Forecast:
        """How far the block strays when it is sewn with a careful beginner's errors."""
        from seamproof.planning.forecast import forecast

        return forecast(self.block, self.construction)

    @cached_property
    def forecast_pieced(self) -> Forecast | None:
        """The same for the block cut and pieced, without paper; None where no seams serve."""
        from seamproof.errors import NotSewable
        from seamproof.planning import plan
        from seamproof.planning.forecast import forecast

        if self.construction.method == "pieced":
            return self.forecast
        try:
            pieced = plan(self.block, "pieced", allowance=self.recipe.make.allowance)
        except NotSewable:
            return None
        return forecast(self.block, pieced)

    @cached_property
    def rows(self) -> RowsAdvice | None:
        """How blocks are laid and pressed in rows; None for one block, or where its outline is no rectangle."""
        from seamproof.cutting.pressed_alike import pressed_before
        from seamproof.pattern.legend import lightness_of
        from seamproof.planning.pressing_rows import advise_rows, grid_of

        if self.recipe.make.copies == 1:
            return None
        columns, rows = grid_of(self.recipe.make.copies)
        lightness = lightness_of(self.legend, self.block)
        fixed = pressed_before(self.construction, self.piecing.ways) if self.piecing else frozenset()
        return advise_rows(
            self.block, self.construction, self.pressing, columns, rows, lightness=lightness, fixed=fixed
        )

    @cached_property
    def rescue(self) -> tuple[Rescue, ...]:
        """For every patch what to unpick when it went wrong."""
        from seamproof.planning.rescue import plan_rescue

        return plan_rescue(self.block, self.construction)

    @property
    def ok(self) -> bool:
        """Whether every claim holds."""
        return all(claim.ok for claim in self.claims)

    @cached_property
    def _fabric_of_role(self) -> dict[str, FabricLegend]:
        return {role: line for line in self.legend for role in line.roles}

    def fabric(self, patch_id: str) -> FabricLegend:
        """The legend line of a patch's fabric."""
        return self._fabric_of_role[self.block.patch(patch_id).role]

    @cached_property
    def names(self) -> dict[str, str]:
        """What each patch is called on pages: "A3" (third on foundation A), or "12" when it is cut plain."""
        names = {patch: patch for patch in self.construction.loose}
        for foundation in self.construction.foundations:
            names |= {
                patch: f"{foundation.label}{n}"
                for n, patch in enumerate(foundation.order, 1)
                if patch not in self.construction.laid
            }
        return names

    @cached_property
    def offered(self) -> Construction | None:
        """How it would be sewn with finished units laid on papers, where that leaves fewer loose pieces; else None."""
        from seamproof.planning import plan

        con, make = self.construction, self.recipe.make
        if make.prepieced or con.method != "foundation" or not (con.foundations and con.loose):
            return None
        other = plan(self.block, allowance=make.allowance, prefer=make.prefer, prepieced=True)
        return other if len(other.loose) < len(con.loose) else None

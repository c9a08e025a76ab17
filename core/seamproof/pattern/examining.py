"""Looking at a recipe's claims, whether or not it can be worked out to the end."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamproof.errors import BlockError, LengthError, NotSewable, PluginError, RecipeError, SeamproofError, SewingError
from seamproof.pattern.expecting import names_expected
from seamproof.pattern.working_out import work_out

if TYPE_CHECKING:
    from seamproof.pattern.pattern import Pattern
    from seamproof.proof.claims import Claim
    from seamproof.recipe import Recipe


@dataclass(frozen=True)
class Examination:
    """What was found of a recipe.

    Attributes:
        recipe: The recipe.
        claims: Every claim it makes, in a fixed order, each looked at or said not to be reached.
        pattern: What was worked out; None where it could not be.
    """

    recipe: Recipe
    claims: tuple[Claim, ...]
    pattern: Pattern | None

    @property
    def ok(self) -> bool:
        """Whether every claim holds."""
        return all(claim.ok for claim in self.claims)


def claim_names(recipe: Recipe) -> tuple[str, ...]:
    """The names of the claims a recipe makes, known before any is looked at."""
    from seamproof.proof.claims_proven import STANDARD

    return STANDARD + names_expected(recipe.expect)


def examine(recipe: Recipe) -> Examination:
    """Look at every claim of a recipe; one that cannot be worked out fails at the claim that it breaks.

    Raises:
        PluginError: the recipe's family is not installed, or broke.
    """
    from seamproof.proof.claims_proven import failed, not_reached

    try:
        pattern = work_out(recipe)
    except (PluginError, RecipeError):
        raise
    except SeamproofError as error:
        broken = _broken(error)
        claims = [failed(name, str(error)) if name == broken else not_reached(name) for name in claim_names(recipe)]
        return Examination(recipe, tuple(claims), None)
    return Examination(recipe, pattern.claims, pattern)


def _broken(error: SeamproofError) -> str:
    """The claim that an error breaks."""
    from seamproof.referee import Reason

    of_pieces = {Reason.NO_PIECE, Reason.WRONG_PIECE, Reason.LAID_ON_OWN_AREA, Reason.WRONG_FLIP, Reason.NOT_COVERED}
    if isinstance(error, BlockError):
        return "tiles"
    if isinstance(error, LengthError):
        return "fits-the-cloth"
    if isinstance(error, SewingError) and error.reason in of_pieces:
        return "covers"
    return "sews" if isinstance(error, (NotSewable, SewingError)) else "covers"

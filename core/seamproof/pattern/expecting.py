"""The designer's own claims, as `[expect]` gives them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from seamproof.proof.claims import Claim
from seamproof.tolerance import ROUND_OFF

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.block import Block
    from seamproof.cloth import ClothPlan
    from seamproof.recipe import Expect
    from seamproof.sequence import Construction

_PROOF = "counted in what was worked out, and held to [expect]"


def names_expected(expect: Expect) -> tuple[str, ...]:
    """The names of the claims that `[expect]` makes, in a fixed order."""
    plain = [f"expect.{key}" for key in ("patches", "foundations", "technique") if getattr(expect, key) is not None]
    return (*plain, *(f"expect.cloth.{fabric}" for fabric in expect.cloth))


def claims_expected(expect: Expect, block: Block, construction: Construction, cloth: ClothPlan) -> Sequence[Claim]:
    """One claim for each key of `[expect]`, in the order of `names_expected`."""
    figures: dict[str, tuple[int | str, int | str | None, str]] = {
        "patches": (len(block.patches), expect.patches, "patches"),
        "foundations": (len(construction.foundations), expect.foundations, "papers"),
        "technique": (construction.technique, expect.technique, ""),
    }
    claims = [
        Claim(f"expect.{key}", value, bound, unit, _PROOF, value == bound)
        for key, (value, bound, unit) in figures.items()
        if bound is not None
    ]
    buy = {need.fabric: need.buy for need in cloth.needs}
    for fabric, most in expect.cloth.items():
        length = buy.get(fabric, 0.0)
        proof = "the length of cloth to buy, held to [expect]"
        claims.append(Claim(f"expect.cloth.{fabric}", length, most, "in", proof, length <= most + ROUND_OFF))
    return claims

"""Three classic cut lists, worked out by plain arithmetic: strips across 40 in of cloth, bought by eighths of a yard.

Common practice, no source: usable width 40 in; half-square triangles two at a time of squares finished + 7/8 in; flying
geese four at a time of one square of 2h + 1 1/4 in and four of h + 7/8 in; strip sets squared with 1/2 in to spare.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import pytest

from seamproof.pattern import work_out
from seamproof.recipe import Recipe

if TYPE_CHECKING:
    from seamproof.cloth import FabricNeed

WIDTH = 40.0


def needs(family: str, roles: dict[str, str], finished: str, copies: int, **parameters: Any) -> dict[str, FabricNeed]:
    fabrics = {"dark": {"colour": "#3f6b5c"}, "light": {"colour": "#e5d3ad"}}
    pattern = work_out(
        Recipe.model_validate(
            {
                "title": "Tried", "family": family, "finished": finished, "parameters": parameters, "fabrics": fabrics,
                "roles": roles, "make": {"copies": copies, "method": "pieced", "cloth_width": f"{WIDTH:g} in"},
            }
        )
    )  # fmt: skip
    return {need.fabric: need for need in pattern.cloth.needs}


def strips(need: FabricNeed) -> list[tuple[int, float]]:
    return [(strip.count, strip.width) for strip in need.strips]


def yards(length: float) -> float:
    """The length to buy [yd], rounded up to an eighth."""
    return math.ceil(length / 4.5 - 1e-9) / 8


@pytest.mark.parametrize("fabric", ["dark", "light"])
def test_thirty_six_half_square_triangles_of_two_inches(fabric: str) -> None:
    # derived: 36 units are 18 pairs; 40 / 2 7/8 is 13 to a strip, so 2 strips: 5 3/4 in, a quarter of a yard.
    (need,) = (
        row
        for key, row in needs("half-square-triangles", {"dark": "dark", "light": "light"}, "4 in", 9).items()
        if key == fabric
    )
    assert [(group.width, group.cut) for group in need.groups] == [(2.875, 18)]
    assert strips(need) == [(2, 2.875)]
    assert (need.length, need.buy / 36) == (5.75, yards(5.75)) == (5.75, 0.25)


def test_sixty_four_half_square_triangles_of_two_inches_by_eights() -> None:
    # derived: 8 squares of 5 3/4 in; 40 / 5 3/4 is 6 to a strip, so 2 strips: 11 1/2 in, three eighths of a yard. By
    # twos it is 32 squares of 2 7/8 in, 13 to a strip, 3 strips: 8 5/8 in; less than 4 1/2 in more.
    found = needs("half-square-triangles", {"dark": "dark", "light": "light"}, "4 in", 16)
    for need in found.values():
        assert [(group.width, group.cut) for group in need.groups] == [(5.75, 8)]
        assert strips(need) == [(2, 5.75)]
        assert need.buy / 36 == yards(11.5) == 0.375


def test_twenty_nine_patches_of_six_inches() -> None:
    # derived: rows dark-light-dark (two in each block) and light-dark-light (one), of strips 2 1/2 in wide cut across
    # at 2 1/2 in: (40 − 1/2) / 2 1/2 = 15 from a set, so 3 sets for the 40 and 2 for the 20. Dark 3·2 + 2·1 = 8 strips,
    # 20 in, five eighths of a yard; light 3·1 + 2·2 = 7, 17 1/2 in, half a yard.
    found = needs("checks", {"dark": "dark", "light": "light"}, "6 in", 20, across=3)
    assert sum(count * width for count, width in strips(found["dark"])) == 8 * 2.5
    assert sum(count * width for count, width in strips(found["light"])) == 7 * 2.5
    assert found["dark"].buy / 36 == yards(20) == 0.625
    assert found["light"].buy / 36 == yards(17.5) == 0.5


def test_sixteen_flying_geese_of_four_by_two_inches() -> None:
    # derived: 4 squares of 5 1/4 in, 7 to a strip, 1 strip; 16 of 2 7/8 in, 13 to a strip, 2 strips: 5 3/4 in. Of
    # either a quarter of a yard.
    found = needs("flying-geese", {"goose": "dark", "wing": "light"}, "8 in", 2, columns=2, geese=4)
    assert strips(found["dark"]) == [(1, 5.25)]
    assert strips(found["light"]) == [(2, 2.875)]
    assert found["dark"].buy / 36 == yards(5.25) == 0.25
    assert found["light"].buy / 36 == yards(5.75) == 0.25

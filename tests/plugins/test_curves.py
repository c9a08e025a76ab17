from __future__ import annotations

import math
from typing import Any

import pytest

import seamproof as sp

FAMILIES = sp.families()


def draft(slug: str, **chosen: Any) -> sp.Block:
    family = FAMILIES[slug]
    return family.draft(family.parameters(**chosen), 12.0)


def share(block: sp.Block, *roles: str) -> float:
    assert block.outline is not None
    return sum(p.outline.area for p in block.patches if p.role.startswith(roles)) / block.outline.area


@pytest.mark.parametrize("radius", [0.4, 2 / 3, 0.85])
# derived: a quarter of a circle of radius r in a square of side b covers πr²/4b²
def test_a_drunkards_path_covers_a_quarter_circle_of_its_square(radius: float) -> None:
    block = draft("drunkards-path", plan="d", radius=radius)
    assert len(block.patches) == 2
    assert share(block, "dark") == pytest.approx(math.pi * radius**2 / 4)


# derived: a capital letter swaps the fabrics, so a plan with as many of either is dark by half
def test_a_plan_with_as_many_capitals_is_half_dark() -> None:
    block = draft("drunkards-path", plan="bCcc bBCD BADd aaAd")
    assert len(block.patches) == 32
    assert share(block, "dark") == pytest.approx(1 / 2)


@pytest.mark.parametrize("plump", [40.0, 60.0, 80.0])
# derived: two segments of an arc of angle α on a chord √2 b: each r²(α − sin α)/2 with r = b / (√2 sin α/2)
def test_a_petal_is_two_segments_of_a_circle(plump: float) -> None:
    block = draft("orange-peel", across=2, plump=plump)
    angle = math.radians(plump)
    radius = 1 / (math.sqrt(2) * math.sin(angle / 2))
    assert len(block.patches) == 3 * 4
    assert share(block, "petal") == pytest.approx(radius**2 * (angle - math.sin(angle)))


@pytest.mark.parametrize("blades", [2, 5, 9])
# derived: m blades of 90°/m between two quarter circles
def test_a_fan_of_m_blades_has_m_and_two_patches(blades: int) -> None:
    block = draft("fan", blades=blades, hub=0.3, reach=0.8)
    assert len(block.patches) == blades + 2
    areas = [patch.outline.area / 144 for patch in block.patches if patch.role.startswith("blade")]
    assert areas == pytest.approx([math.pi * (0.8**2 - 0.3**2) / 4 / blades] * blades)


@pytest.mark.parametrize("blades", [2, 3, 4])
# derived: straight across, a blade of n is 2r·tan(180°/n) wide at the distance r from the middle of the plate
def test_a_straight_blade_is_as_wide_as_its_closed_form(blades: int) -> None:
    block = draft("plate", blades=blades, edge="straight", hub=0.4, reach=0.8)
    first = next(patch.outline for patch in block.patches if patch.role == "blade 1")
    lengths = sorted(edge.length for edge in first.edges)
    wide = [2 * 6 * reach * math.tan(math.pi / (4 * blades)) for reach in (0.4, 0.8)]
    assert any(length == pytest.approx(wide[0]) for length in lengths)
    assert any(length == pytest.approx(wide[1]) for length in lengths)
    assert len(block.patches) == 4 * (blades + 2)


@pytest.mark.parametrize("slug", ["drunkards-path", "orange-peel", "fan", "plate"])
# derived: every arc is one smooth seam between a part and what lies about it, all other seams run right across
def test_a_block_of_arcs_takes_curved_seams_and_no_pivot(slug: str) -> None:
    construction = sp.plan(draft(slug))
    assert (construction.technique, construction.pivots, construction.partial_seams) == ("curved", 0, 0)


# derived: hub and ground of each quarter meet three straight blades in two corners each: 4 × 2 × 2
def test_a_plate_of_straight_blades_takes_a_pivot_at_every_corner_of_hub_and_rim() -> None:
    construction = sp.plan(draft("plate", edge="straight", blades=3, reach=0.8))
    assert (construction.technique, construction.pivots) == ("set-in", 16)


@pytest.mark.parametrize(
    ("slug", "chosen", "message"),
    [
        ("plate", {"edge": "straight", "blades": 2, "reach": 0.95}, r"^reach: 0\.95 takes 2 .* make it 0\.9 or less"),
        ("drunkards-path", {"plan": "ab c"}, r"^plan: row 2 has 1 letters and row 1 has 2: make it 2"),
    ],
)
def test_parameters_that_contradict_one_another_are_refused_by_name(
    slug: str, chosen: dict[str, Any], message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        draft(slug, **chosen)

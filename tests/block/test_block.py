"""Laws of blocks and of the tiling proof."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

import seamproof as sp
from seamproof.geometry import Edge, Outline

SQUARE = [(0, 0), (3, 0), (3, 3), (0, 3)]
FOUR = [[(0, 0), (2, 0), (2, 1), (0, 1)], [(2, 0), (3, 0), (3, 2), (2, 2)], [(1, 2), (3, 2), (3, 3), (1, 3)],
        [(0, 1), (1, 1), (1, 3), (0, 3)]]  # fmt: skip
MIDDLE = [(1, 1), (2, 1), (2, 2), (1, 2)]


def test_patches_that_tile_are_accepted() -> None:
    sp.Block.from_polygons([*FOUR, MIDDLE], outline=SQUARE).check()


def test_ids_are_numbers_in_the_order_given() -> None:
    block = sp.Block.from_polygons([*FOUR, MIDDLE], roles=list("abcde"))
    assert block.ids == ("1", "2", "3", "4", "5")
    assert block.patch("5").role == "e"
    assert block.size == (3, 3)


def test_a_gap_is_named_with_its_place() -> None:
    with pytest.raises(sp.BlockError, match=r"leave a gap of 1\.0000 in²") as caught:
        sp.Block.from_polygons(FOUR, outline=SQUARE).check()
    assert caught.value.place == pytest.approx((1.5, 1.5))
    assert caught.value.patches == ("1", "2", "3", "4")


@given(st.floats(0.05, 0.9), st.floats(0.05, 0.9))
def test_an_overlap_is_named_wherever_it_lies(dx: float, dy: float) -> None:
    moved = [(x + dx, y + dy) for x, y in MIDDLE]
    with pytest.raises(sp.BlockError, match="overlap") as caught:
        sp.Block.from_polygons([*FOUR, MIDDLE, moved]).check()
    assert "6" in caught.value.patches


def test_a_patch_inside_another_overlaps_it() -> None:
    with pytest.raises(sp.BlockError, match="patches 1 and 2"):
        sp.Block.from_polygons([SQUARE, MIDDLE]).check()


def test_a_patch_off_the_outline_is_named() -> None:
    with pytest.raises(sp.BlockError, match="stand out of the outline") as caught:
        sp.Block.from_polygons([*FOUR, MIDDLE, [(3, 0), (4, 0), (4, 1), (3, 1)]], outline=SQUARE).check()
    assert caught.value.patches == ("2", "6")


@pytest.mark.parametrize(
    ("ring", "said"),
    [([(0, 0), (1, 0), (2, 0)], "no area"), ([(0, 0), (3, 3), (3, 0), (0, 2)], "crosses or touches itself")],
)
def test_a_patch_that_is_no_patch_is_named(ring: list[tuple[float, float]], said: str) -> None:
    with pytest.raises(sp.BlockError, match=said) as caught:
        sp.Block.from_polygons([ring]).check()
    assert caught.value.patches == ("1",)


def test_curved_patches_tile() -> None:
    bow = math.tan(math.pi / 8)
    fan = Outline((Edge((0, 0), (2, 0)), Edge((2, 0), (0, 2), bow), Edge((0, 2), (0, 0))))
    rest = Outline((Edge((2, 0), (3, 0)), Edge((3, 0), (3, 3)), Edge((3, 3), (0, 3)), Edge((0, 3), (0, 2)),
                    Edge((0, 2), (2, 0), -bow)))  # fmt: skip
    patches = (sp.Patch("1", fan), sp.Patch("2", rest))
    sp.Block("fan", patches, Outline.of(SQUARE)).check()
    wide = Outline((Edge((0, 0), (2, 0)), Edge((2, 0), (0, 2), bow * 1.5), Edge((0, 2), (0, 0))))
    with pytest.raises(sp.BlockError, match="overlap"):
        sp.Block("fan", (sp.Patch("1", wide), sp.Patch("2", rest)), Outline.of(SQUARE)).check()


# a floating union of these five patches, as GEOS 3.14 makes it, lacks two of them at some angles
def test_a_pinwheel_turned_by_any_angle_still_tiles() -> None:
    low = (1 - 0.4) / 2
    arm = [(0.0, 0.0), (1 - low, 0.0), (1 - low, low), (0.0, low)]
    arms = [[sp.Transform.turn(90 * n, (0.5, 0.5)).point(p) for p in arm] for n in range(4)]
    middle = [(low, low), (low + 0.4, low), (low + 0.4, low + 0.4), (low, low + 0.4)]
    block = sp.Block.from_polygons([middle, *arms], outline=[(0, 0), (1, 0), (1, 1), (0, 1)])
    block = block.transformed(sp.Transform.scale(143 / 25.4))
    for degrees in range(360):
        block.transformed(sp.Transform.mirror().then(sp.Transform.turn(degrees))).check()


@pytest.mark.parametrize("patch_id", ["", "A", "7B", "7bb", "-1", "٧"])
def test_an_id_that_could_be_taken_for_a_foundation_is_refused(patch_id: str) -> None:
    with pytest.raises(sp.BlockError, match="digits"):
        sp.Patch(patch_id, Outline.of(SQUARE))


def test_a_block_of_no_patches_is_refused() -> None:
    with pytest.raises(sp.BlockError, match="no patches"):
        sp.Block("x", ())


def test_an_id_given_twice_is_refused() -> None:
    patch = sp.Patch("1", Outline.of(SQUARE))
    with pytest.raises(sp.BlockError, match="given twice"):
        sp.Block("x", (patch, patch))


def test_roles_that_do_not_count_are_refused() -> None:
    with pytest.raises(sp.BlockError, match="1 patches and 2 roles"):
        sp.Block.from_polygons([SQUARE], roles=["a", "b"])


def test_a_ring_of_patches_that_closes_at_a_point_fits_and_has_a_hole() -> None:
    corners = [(0, 0), (1, 0), (2, 0), (2, 1), (2, 2), (1, 2), (0, 1)]
    ring = sp.Block.from_polygons([[(x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)] for x, y in corners])
    ring.check()
    with pytest.raises(sp.NotSewable, match="hole"):
        sp.plan(ring)

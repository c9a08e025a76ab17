from __future__ import annotations

import itertools
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

import seamproof as sp
from seamproof.plugin.guard import drafted
from seamproof.plugin.widths import check_widths, narrow_patches, sharpest_of, width_of

if TYPE_CHECKING:
    from collections.abc import Callable

CABIN = sp.families()["log-cabin"]
_count = itertools.count()


def _lie(draft: Callable[[sp.Parameters, float], object]) -> sp.Family[sp.Parameters]:
    return replace(CABIN, slug="liar", draft=draft)  # type: ignore[arg-type]


def _square(size: float, corner: float = 0.0) -> list[tuple[float, float]]:
    return [(corner, corner), (size, corner), (size, size), (corner, size)]


def _overlap(_: object, size: float) -> sp.Block:
    return sp.Block.from_polygons([_square(size), _square(size / 2)], outline=_square(size))


def _off(_: object, size: float) -> sp.Block:
    return sp.Block.from_polygons([_square(size, 1.0)], outline=_square(size, 1.0))


def _small(_: object, size: float) -> sp.Block:
    return sp.Block.from_polygons([_square(size / 2)], outline=_square(size / 2))


def _fickle(_: object, size: float) -> sp.Block:
    return sp.Block.from_polygons([_square(size)], title=f"take {next(_count)}", outline=_square(size))


@pytest.mark.parametrize(
    ("draft", "word"),
    [
        (_overlap, "tile"),
        (_off, "asked for"),
        (_small, "asked for"),
        (_fickle, "another block"),
        (lambda _, size: sp.Block.from_polygons([_square(size)]), "without its outline"),
        (lambda *_: "a block, honestly", "not a Block"),
        (lambda *_: 1 / 0, "ZeroDivisionError"),
        (lambda *_: sp.Outline.of([]), "GeometryError"),
    ],
)
def test_a_family_that_lies_is_named(draft: Callable[[sp.Parameters, float], object], word: str) -> None:
    with pytest.raises(sp.PluginError, match=rf"'liar'.*{word}") as caught:
        drafted(_lie(draft), CABIN.design(), 6.0)
    assert caught.value.name == "liar"


def test_parameters_that_contradict_one_another_are_not_the_familys_fault() -> None:
    pineapple = sp.families()["pineapple"]
    with pytest.raises(ValueError, match=r"^centre: 0\.2 is too small for 6 rounds.* 0\.25 or more"):
        drafted(pineapple, pineapple.parameters(centre=0.2), 6.0)


# derived: the altitude of a 3-4-5 triangle on its hypotenuse is 3·4/5
def test_the_width_of_a_right_triangle_is_its_least_altitude() -> None:
    assert width_of(sp.Outline.of([(0, 0), (4, 0), (0, 3)])) == pytest.approx(2.4)


# derived: the largest circle in an L of two unit arms touches both outer sides and the inner corner,
# r(1 + 1/√2)√2 = √2, so its diameter is 2√2/(1 + √2)
def test_the_width_of_a_bent_patch_is_the_circle_it_holds() -> None:
    bent = sp.Outline.of([(0, 0), (4, 0), (4, 1), (1, 1), (1, 4), (0, 4)])
    assert width_of(bent) == pytest.approx(2 * 2**0.5 / (1 + 2**0.5), abs=0.02)


# derived: an arc of a quarter circle leaves its chord at half of 90°, so with the square's side it makes 45 + 45
def test_the_corner_at_an_arc_is_taken_by_its_tangent() -> None:
    quarter = sp.Outline((sp.Edge((0, 0), (1, 0)), sp.Edge((1, 0), (0, 1), 2**0.5 - 1), sp.Edge((0, 1), (0, 0))))
    assert sharpest_of(quarter) == pytest.approx(90)


def test_patches_under_a_quarter_inch_are_warned_of_the_narrowest_first() -> None:
    parameters = CABIN.parameters(rounds=10, centre=0.5)
    narrow = check_widths(CABIN, parameters, CABIN.draft(parameters, 5.125))
    assert [patch.patch for patch in narrow] == ["1", "2"]
    assert narrow[0].width == pytest.approx(5.125 / 41)
    assert check_widths(CABIN, parameters, CABIN.draft(parameters, 10.25)) == ()


def test_a_patch_under_an_eighth_is_refused_with_the_nearest_value_that_works() -> None:
    parameters = CABIN.parameters(rounds=10)
    block = CABIN.draft(parameters, 2.0)
    with pytest.raises(sp.LengthError, match=r"^rounds: with 10 .* make it 7, or make the block 2 5/8 in") as caught:
        check_widths(CABIN, parameters, block)
    assert caught.value.value == pytest.approx(2 / 21)
    assert not narrow_patches(CABIN.draft(CABIN.parameters(rounds=7), 2.0), 1 / 8)
    assert narrow_patches(CABIN.draft(CABIN.parameters(rounds=8), 2.0), 1 / 8)
    assert not narrow_patches(CABIN.draft(parameters, 2.625), 1 / 8)


def test_a_narrow_patch_is_allowed_where_told_so() -> None:
    parameters = CABIN.parameters(rounds=10)
    assert check_widths(CABIN, parameters, CABIN.draft(parameters, 2.0), narrowest=0)

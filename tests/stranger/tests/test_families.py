from __future__ import annotations

from typing import Any

import pytest
from fennick_lanterns.arch import ARCH
from fennick_lanterns.lantern import LANTERN
from hypothesis import given

import seamproof as sp
from seamproof.testing import assert_same_geometry, check_family, parameters, sizes


@pytest.mark.parametrize("family", [LANTERN, ARCH], ids=lambda family: family.slug)
def test_the_family_keeps_the_laws(family: sp.Family[Any]) -> None:
    check_family(family)


@pytest.mark.parametrize("family", [LANTERN, ARCH], ids=lambda family: family.slug)
def test_the_family_arrives_by_its_entry_point(family: sp.Family[Any]) -> None:
    assert sp.families()[family.slug] is family
    assert sp.families().plugin_of(family.slug).distribution == "fennick-lanterns"


# derived: a quarter circle of radius r has the area π r² / 4
@given(choice=parameters(ARCH.parameters), size=sizes())
def test_the_window_is_a_quarter_circle(choice: Any, size: float) -> None:
    window = ARCH.draft(choice, size).patch("1").outline
    assert window.area == pytest.approx(3.14159265358979 / 4 * (choice.radius * size) ** 2)


def test_the_window_is_sewn_by_a_curved_seam() -> None:
    assert sp.plan(ARCH.draft(ARCH.design(), 8.0)).technique == "curved"


def test_a_lantern_is_drafted_the_same_at_any_size() -> None:
    small, large = (LANTERN.draft(LANTERN.design(), size) for size in (5.0, 10.0))
    assert_same_geometry(small.transformed(sp.Transform.scale(2)), large)

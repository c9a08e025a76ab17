"""Which templates a handout prints of patches that are joined by themselves."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
import shapely

from seamproof.cutting.twins import laid_on
from seamproof.pattern import work_out
from seamproof.recipe import Recipe
from seamproof.sheets.leaves import units_of
from seamproof.sheets.options import HandoutOptions
from seamproof.sheets.pages import lay_out
from seamproof.sheets.printed import is_trimmed, printed_templates

if TYPE_CHECKING:
    from seamproof.pattern import Pattern


def made(family: str, roles: dict[str, str], finished: str = "8 in", **more: Any) -> Pattern:
    make = {"copies": 4} | {key: more.pop(key) for key in ("method", "copies") if key in more}
    colours = {"a": {"colour": "#3f6b5c"}, "b": {"colour": "#e5d3ad"}}
    recipe = {"title": "Tried", "family": family, "finished": finished, "parameters": more, "fabrics": colours}
    return work_out(Recipe.model_validate(recipe | {"roles": roles, "make": make}))


@pytest.fixture(scope="module")
def path() -> Pattern:
    return made("drunkards-path", {"dark": "a", "light": "b"}, method="pieced")


@pytest.fixture(scope="module")
def rosette() -> Pattern:
    return made("hexagon-rosette", {"centre": "a", "ring 1": "b"}, "9 in", rings=1, method="hand")


def test_patches_of_one_shape_share_a_template_that_is_printed_once(path: Pattern) -> None:
    # derived: a circle of four quarters in a square: four hollow pieces and four full ones.
    templates = printed_templates(path)
    assert sorted(len(template.stands_for) for template in templates) == [4, 4]
    assert [page.prints * len(page.placed) for page in lay_out(path, HandoutOptions())] == [1, 1]


def test_a_shared_template_leaves_every_patch_what_its_own_has(path: Pattern) -> None:
    own = {template.label: template for template in path.templates}
    for template in printed_templates(path):
        shared = shapely.Polygon(template.cut.polygon).buffer(1e-3)
        for label in template.stands_for:
            move = laid_on(units_of(path), label, template.label)
            assert move is not None
            assert shared.covers(shapely.Polygon(own[label].cut.transformed(move).polygon))


def test_a_paper_is_printed_for_every_patch_of_every_block(rosette: Pattern) -> None:
    # derived: seven hexagons, four blocks.
    count = sum(page.prints * len(page.placed) for page in lay_out(rosette, HandoutOptions()))
    assert count == 7 * 4
    assert all(not template.ticks for template in printed_templates(rosette))


def test_a_square_that_no_rule_shows_is_trimmed_by_its_template() -> None:
    # derived: a third of 8 in with two seams is 3 1/6 in, cut 3 1/4 in; a third of 9 in is cut 3 1/2 in as it is.
    odd = made("checks", {"dark": "a", "light": "b"}, "8 in", across=3, method="pieced")
    even = made("checks", {"dark": "a", "light": "b"}, "9 in", across=3, method="pieced", copies=1)
    assert all(is_trimmed(odd, piece) for piece in odd.cut)
    assert sorted(len(template.stands_for) for template in printed_templates(odd)) == [4, 5]
    assert not printed_templates(even)


def test_units_made_several_at_a_time_need_no_template() -> None:
    geese = made("flying-geese", {"goose": "a", "wing": "b"}, columns=2, geese=4, method="pieced")
    assert geese.piecing is not None
    assert geese.piecing.ways
    assert not printed_templates(geese)


def test_what_is_left_of_a_rectangle_with_flipped_corners_needs_no_template_whatever_its_shape() -> None:
    flipped = made("square-in-a-square", {"centre": "a", "round 1": "b"}, rounds=1, method="pieced")
    assert flipped.piecing is not None
    assert [way.kind for way in flipped.piecing.ways] == ["corners"]
    odd = replace(flipped, cut=tuple(replace(piece, shape="template") for piece in flipped.cut))
    assert not printed_templates(odd)
    assert len(printed_templates(replace(odd, piecing=None))) > 0

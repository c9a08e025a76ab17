"""A sharp tip is cut by one rule wherever it is cut, drawn, measured or counted."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

import seamproof as sp
from seamproof.cutting import cut_pieces, rough_pieces, templates
from seamproof.cutting.corners import cut_line
from seamproof.geometry import Outline
from seamproof.geometry.points import bounds
from seamproof.planning import plan_pressing
from seamproof.planning.layers import LayerMap
from seamproof.sheets.hand_svg import paper_sketches
from seamproof.sheets.unit_shapes import unit_shape
from seamproof.sheets.words_joins import size_words, unit_size_words

COMPASS = Path(__file__).parents[2] / "gallery" / "stars" / "pilots-compass.recipe.toml"
SEAM = 0.25
HIGH, HALF = 8.0, 8.0 * math.tan(math.radians(8))
REACH = SEAM / math.sin(math.radians(22.5))
"""How far past its corner a tip of 16° is cut. derived: where the mitre of 45° stands, s/sin 22.5°; its own mitre
would stand s/sin 8° = 7.2 s out."""


def compass_point() -> sp.Block:
    """A point of 16° on its foot: two patches, one above the other, the tip of the upper one free."""
    wide = HALF / 2
    foot = [(-HALF, 0.0), (HALF, 0.0), (wide, HIGH / 2), (-wide, HIGH / 2)]
    return sp.Block.from_polygons([foot, [(-wide, HIGH / 2), (wide, HIGH / 2), (0.0, HIGH)]])


def top(outline: Outline) -> float:
    return bounds(outline.polygon)[3]


def test_a_sharp_tip_is_cut_alike_on_paper_and_plain() -> None:
    block = compass_point()
    (template,) = templates(block, sp.plan(block), SEAM)
    pieced = sp.plan(block, "pieced")
    (piece,) = (piece for piece in cut_pieces(block, pieced, SEAM) if piece.patch == "2")
    assert top(template.cut) == pytest.approx(HIGH + REACH)
    assert top(piece.cut) == pytest.approx(HIGH + REACH)


@pytest.mark.parametrize("method", ["foundation", "pieced"])
def test_layers_end_where_the_tip_is_cut(method: str) -> None:
    block = compass_point()
    con = sp.plan(block, method)  # type: ignore[arg-type]
    layers = LayerMap(block, con, plan_pressing(block, con), SEAM)
    assert [layers.at((0.0, HIGH + REACH + by)) for by in (-0.01, 0.01)] == [1, 0]


def test_the_referee_asks_for_no_more_than_that_tip() -> None:
    block = compass_point()
    con = sp.plan(block)
    seen = sp.replay(block, con, rough_pieces(block, con, SEAM), SEAM)
    assert seen.least_slack is not None
    assert 0 <= seen.least_slack < SEAM
    pieced = sp.plan(block, "pieced")
    assert sp.replay(block, pieced, cut_pieces(block, pieced, SEAM), SEAM).covered == len(block.patches)


def test_cloth_over_a_paper_is_cut_alike() -> None:
    outline = compass_point().patch("2").outline
    sketch, _ = paper_sketches(outline, "#336699", SEAM, 2.0)
    cloth = next(shape.bounds for shape in sketch.shapes if shape.kind == "wrong-side")
    x0, y0, x1, y1 = bounds(cut_line(outline, (), SEAM).polygon)
    assert (cloth[3] - cloth[1]) / (cloth[2] - cloth[0]) == pytest.approx((y1 - y0) / (x1 - x0))


def test_the_size_that_is_told_is_that_of_the_cut_line() -> None:
    pattern = sp.work_out(sp.load_recipe(COMPASS))
    for template in (template for template in pattern.templates if template.lines):
        assert unit_size_words(pattern, template.label) == size_words(pattern, template.finished, template.cut)
    for join in pattern.construction.joins:
        shape = unit_shape(pattern, join.label)
        told, drawn = unit_size_words(pattern, join.label), Outline.of(shape.cut)
        assert told.split(" unfinished")[0] == size_words(pattern, drawn, drawn).split(" unfinished")[0]

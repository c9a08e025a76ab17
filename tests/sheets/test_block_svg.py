import math
import xml.etree.ElementTree as ET
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.geometry import Outline
from seamproof.geometry.points import is_inside
from seamproof.pattern import Pattern
from seamproof.sheets.block_svg import block_sketch, block_svg
from seamproof.sheets.hatches import HATCHES, hatch
from seamproof.tones import grey, luminance, tint

SVG = "{http://www.w3.org/2000/svg}"
COLOURS = st.integers(0, 0xFFFFFF).map("#{:06x}".format)


def test_each_patch_is_one_path_in_its_fabrics_colour(lamp: Pattern) -> None:
    fills: dict[str | None, str | None] = {}
    for group in ET.fromstring(block_svg(lamp)).iter(SVG + "g"):
        fills |= {path.get("id"): group.get("fill") for path in group if "patch" in (path.get("class") or "")}
    assert fills == {f"patch-{patch.id}": lamp.fabric(patch.id).colour for patch in lamp.block.patches}


def test_the_block_is_as_wide_as_asked(lamp: Pattern) -> None:
    sketch = block_sketch(lamp, width=2.0)
    assert sketch.width == pytest.approx(2.0)
    left, _, right, _ = next(shape for shape in sketch.shapes if shape.kind == "outline").bounds
    assert right - left == pytest.approx(2.0, abs=0.03)


def test_lines_to_colour_hold_no_fill(lamp: Pattern) -> None:
    assert {shape.ink.fill for shape in block_sketch(lamp, "line").shapes} == {None}


def test_values_hold_greys_alone(lamp: Pattern) -> None:
    fills = [shape.ink.fill for shape in block_sketch(lamp, "values").shapes if shape.ink.fill]
    assert all(fill[1:3] == fill[3:5] == fill[5:7] for fill in fills)


@given(COLOURS)
def test_a_grey_is_as_light_as_its_colour(colour: str) -> None:
    # derived: one step of 255 changes the luminance by at most 12.92 / 255 / 12.92 … 2.4 / 255; half a step is rounding
    assert luminance(grey(colour)) == pytest.approx(luminance(colour), abs=1.2 / 255)


def test_luminance_of_the_primaries() -> None:
    # W3C, Web Content Accessibility Guidelines 2.2, relative luminance
    assert [luminance(c) for c in ("#ff0000", "#00ff00", "#0000ff", "#ffffff", "#000000")] == pytest.approx(
        [0.2126, 0.7152, 0.0722, 1.0, 0.0]
    )


@given(COLOURS)
def test_a_tint_runs_from_white_to_the_colour(colour: str) -> None:
    assert tint(colour, 1) == colour
    assert tint(colour, 0) == "#ffffff"


def test_no_two_hatches_are_alike() -> None:
    ring = Outline.rectangle(1, 1).polygon
    drawn = [frozenset(hatch(index, ring)) for index in range(2 * len(HATCHES)) if index % len(HATCHES)]
    assert all(a != b for a, b in combinations(drawn, 2))
    assert hatch(0, ring) == []


@given(
    st.integers(1, len(HATCHES) - 1),
    st.lists(st.floats(0.2, 1.0), min_size=3, max_size=9),
)
def test_hatches_stay_inside_their_patch(index: int, radii: list[float]) -> None:
    turn = 2 * math.pi / len(radii)
    ring = [(r * math.cos(i * turn), r * math.sin(i * turn)) for i, r in enumerate(radii)]
    for p, q in hatch(index, ring):
        assert is_inside(((p[0] + q[0]) / 2, (p[1] + q[1]) / 2), ring)


def test_letters_stand_inside_their_patch(lamp: Pattern) -> None:
    sketch = block_sketch(lamp, lettered=True)
    rings = [tuple(map(sketch.place.point, patch.outline.polygon)) for patch in lamp.block.patches]
    letters = [lamp.fabric(patch.id).letter for patch in lamp.block.patches]
    for label in sketch.labels:
        assert label.text in [x for x, ring in zip(letters, rings, strict=True) if is_inside((label.x, label.y), ring)]
    assert len(sketch.labels) == len(rings)

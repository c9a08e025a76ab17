import re
from dataclasses import replace

import pytest

from seamproof.geometry.points import is_inside
from seamproof.pattern import Pattern
from seamproof.sheets.cutting_svg import (
    fold_sketch,
    halved_square_sketch,
    key_sketch,
    quartered_square_sketch,
    strip_sketch,
)
from seamproof.sheets.gallery_svg import caption, gallery_svg
from seamproof.sheets.leaders import frame_of
from seamproof.sheets.lettering import text_width
from seamproof.sheets.overview_svg import overview_sketch, swatch_sketch
from seamproof.units import Measure

ASCII = [chr(code) for code in range(32, 127) if chr(code) not in "&<>{}"]


def test_every_patch_is_named_once_as_the_pages_call_it(lamp: Pattern) -> None:
    for large in (False, True):
        sketch = overview_sketch(lamp, width=2.0, large=large)
        assert sorted(label.text for label in sketch.labels) == sorted(lamp.names.values())


def test_a_name_stands_in_its_patch_or_at_the_end_of_a_leader(lamp: Pattern) -> None:
    sketch = overview_sketch(lamp, width=2.0)
    rings = {lamp.names[p.id]: tuple(map(sketch.place.point, p.outline.polygon)) for p in lamp.block.patches}
    outside = [label for label in sketch.labels if not is_inside((label.x, label.y), rings[label.text])]
    assert len(outside) == [shape.kind for shape in sketch.shapes].count("leader")


def test_each_section_is_outlined_once(lamp: Pattern) -> None:
    assert [shape.kind for shape in overview_sketch(lamp).shapes].count("section") == 1


def test_a_swatch_says_its_hatch_in_words(lamp: Pattern) -> None:
    assert "level lines" in swatch_sketch(lamp.legend[2]).alt
    assert [shape.kind for shape in swatch_sketch(lamp.legend[2]).shapes].count("hatch") == 1
    assert "hatch" not in [shape.kind for shape in swatch_sketch(lamp.legend[2], hatched=False).shapes]


def test_the_gallery_picture_is_the_same_bytes_each_time_and_has_its_caption(lamp: Pattern) -> None:
    assert gallery_svg(lamp) == gallery_svg(lamp)
    assert "By hand · 5 × 4 in · 7 patches · 1 foundation" in gallery_svg(lamp)


def test_a_halved_square_is_cut_once_and_a_quartered_one_twice() -> None:
    # common practice, no source: a square cut once gives two triangles, cut twice gives four
    for sketch, cuts in ((halved_square_sketch("4 in"), 1), (quartered_square_sketch("4 in"), 2)):
        assert [shape.kind for shape in sketch.shapes].count("blade") == cuts
        assert [label.text for label in sketch.labels] == ["4 in"]


@pytest.mark.parametrize("ratio", [0.2, 1.0, 3.0, 40.0])
def test_a_left_handed_strip_is_the_mirror_image_with_its_words_unturned(ratio: float) -> None:
    right, left = (strip_sketch("2 1/2 in", "3 in", ratio=ratio, left_handed=hand) for hand in (False, True))
    blades = [sorted(shape.bounds[0] for shape in s.shapes if shape.kind == "blade") for s in (right, left)]
    assert blades[0] == pytest.approx(sorted(right.width - x for x in blades[1]))
    assert {label.text for label in left.labels} == {"2 1/2 in", "3 in"}
    assert {label.angle for label in left.labels} == {0.0}


def test_labels_of_cutting_pictures_stay_on_them() -> None:
    sketches = [strip_sketch("10 3/4 in", "12 5/8 in", left_handed=hand) for hand in (False, True)]
    for sketch in (*sketches, key_sketch(), fold_sketch(), halved_square_sketch("10 3/4 in")):
        for label in sketch.labels:
            left, top, right, bottom = frame_of(label, 0)
            assert min(left, top) >= 0
            assert right <= sketch.width
            assert bottom <= sketch.height


def test_letters_are_never_narrower_in_the_shipped_font_than_they_are_planned() -> None:
    # the advance widths of the shipped font itself, read with fontTools
    from importlib.resources import as_file, files

    from fontTools.ttLib import TTFont

    texts = ("A1", "B12", "12 · b", "AB3 · c", "2 1/2 in", "a", "10 3/4 in", "right side", *ASCII)
    with as_file(files("seamproof.sheets") / "fonts" / "NotoSans-Bold.ttf") as path, TTFont(path) as font:
        names, widths, em = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
        for text in texts:
            real = sum(widths[names[ord(char)]][0] for char in text) / em * 10 / 72
            assert real <= text_width(text, 10)


def test_drawings_alone_hold_no_letters(lamp: Pattern) -> None:
    for sketch in (overview_sketch(lamp), key_sketch(), strip_sketch("a", "b")):
        assert not re.search("<text", str(sketch.drawing.svg))


def test_the_caption_of_a_recipe_in_millimetres_is_in_millimetres(lamp: Pattern) -> None:
    # derived: 5 × 4 in are 127 × 101.6 mm
    make = lamp.recipe.make.model_copy(update={"measure": Measure.MILLIMETRES})
    metric = replace(lamp, recipe=lamp.recipe.model_copy(update={"make": make}))
    assert "127 × 101.6 mm" in caption(metric)
    assert "in ·" not in caption(metric)

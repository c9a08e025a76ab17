import math
import re
import xml.etree.ElementTree as ET

import pytest

from seamproof.errors import GeometryError
from seamproof.geometry import Edge
from seamproof.sheets.ink import CUT
from seamproof.sheets.sketch import Pad
from seamproof.sheets.svg import UNITS_PER_INCH, plain, write_svg

SVG = "{http://www.w3.org/2000/svg}"


def square_pad() -> Pad:
    pad = Pad((0, 0, 2, 1), margin=0.5)
    pad.outline([(0, 0), (2, 0), (2, 1), (0, 1)], CUT, name="box")
    return pad


def test_an_inch_is_96_user_units() -> None:
    # W3C CSS Values and Units, absolute lengths: 1 in = 96 px
    root = ET.fromstring(square_pad().sketch("box").svg)
    assert root.get("width") == "3in"
    assert root.get("height") == "2in"
    assert root.get("viewBox") == "0 0 288 192"
    assert UNITS_PER_INCH == 96


def test_y_points_up_in_the_block_and_down_on_the_page() -> None:
    pad = square_pad()
    assert pad.place.point((0, 0)) == (0.5, 1.5)
    assert pad.place.point((0, 1)) == (0.5, 0.5)


def test_a_mirrored_pad_swaps_left_and_right_only() -> None:
    pad = Pad((0, 0, 2, 1), margin=0.5, mirrored=True)
    assert pad.place.point((0, 0)) == (2.5, 1.5)


def test_title_and_description_come_first_and_the_picture_has_a_role() -> None:
    root = ET.fromstring(square_pad().sketch("A box", "One box.").svg)
    assert [child.tag for child in root][:2] == [SVG + "title", SVG + "desc"]
    assert root[0].text == "A box"
    assert root.get("role") == "img"


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_a_number_that_is_not_finite_is_refused(bad: float) -> None:
    pad = square_pad()
    pad.write("x", (bad, 0.0), 8)
    with pytest.raises(GeometryError, match="finite"):
        _ = pad.sketch("box").svg


def test_texts_hold_no_control_characters_and_markup_is_text() -> None:
    assert plain("a\x00b\nc\ud800\uffff") == "a b c  "
    pad = square_pad()
    pad.write("<b>&\x07", (1, 1), 8)
    root = ET.fromstring(pad.sketch("t\x1b<i>").svg)
    assert [text.text for text in root.iter(SVG + "text")] == ["<b>& "]
    assert root[0].text == "t <i>"


def test_lines_alone_hold_no_text() -> None:
    pad = square_pad()
    pad.write("A1", (1, 1), 8)
    drawing = pad.sketch("box").drawing
    assert "<text" not in str(drawing.svg)
    assert [label.text for label in drawing.labels] == ["A1"]


def test_the_same_sketch_gives_the_same_bytes() -> None:
    assert square_pad().sketch("box").svg == square_pad().sketch("box").svg


def test_a_quarter_turn_to_the_left_becomes_an_arc_that_turns_left_on_the_page() -> None:
    pad = Pad((0, 0, 1, 1))
    pad.edges((Edge((1, 0), (0, 1), math.tan(math.pi / 8)),), CUT)
    path = re.search(r' d="([^"]*)"', write_svg(pad.sketch("arc"), text=False))
    # derived: the arc about (0, 0) of radius 1 runs from the page's lower right to its upper left, bulging up and
    # right; on a page with y down that is a turn of falling angle, which SVG writes with sweep flag 0
    assert path is not None
    assert path[1] == "M96 96A96 96 0 0 0 0 0"


def test_a_window_moves_shapes_and_labels_alike() -> None:
    pad = square_pad()
    pad.write("in", (1.0, 1.0), 8)
    pad.write("out", (0.1, 0.1), 8)
    seen = pad.sketch("box").window(0.5, 0.5, 2, 1)
    assert [(label.text, label.x, label.y) for label in seen.labels] == [("in", 0.5, 0.5)]
    assert seen.shapes[0].bounds == (0, 0, 2, 1)
    assert seen.place.point((0, 1)) == (0, 0)


def test_to_be_printed_lines_of_one_ink_are_one_path_and_fills_each_their_own() -> None:
    filled = CUT.filled("#aa8844")
    pad = square_pad()
    pad.line((0, 0), (1, 1), CUT, kind="seam")
    for left in (0, 1):
        pad.outline([(left, 0), (left + 1, 0), (left + 1, 1)], filled)
    written = write_svg(pad.sketch("box"), text=False)
    assert re.findall(r' d="([^"]*)"', written) == [
        "M48 144L240 144L240 48L48 48ZM48 144L144 48",
        "M48 144L144 144L144 48Z",
        "M144 144L240 144L240 48Z",
    ]
    assert not re.search(" id=| class=", written)

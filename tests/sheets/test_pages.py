"""Templates on pages: papers, corrections, shelves, tiles and rules."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.errors import PrintError
from seamproof.geometry import Transform
from seamproof.geometry.points import bounds
from seamproof.sheets.lettering import text_width
from seamproof.sheets.options import PAPERS, HandoutOptions, correction, parse_printed, wrong_settings
from seamproof.sheets.pages import lay_out
from seamproof.sheets.pages_frame import Frame, rule_sketch
from seamproof.sheets.pages_shelves import shelve
from seamproof.sheets.pages_tiles import CLEAR, GLUE, tile_count, tiles_of
from seamproof.sheets.sketch import Sketch

if TYPE_CHECKING:
    from seamproof.pattern import Pattern

SIZES = st.tuples(st.floats(0.5, 7.0), st.floats(0.5, 8.0))


@pytest.mark.parametrize(
    ("paper", "scales"),
    [
        # Letter fitted on A4 0.9727; Letter fitted inside 1/4 in margins 0.9412. derived: 210/215.9, 8/8.5
        ("letter", [0.9727, 0.9412]),
        # A4 fitted on Letter 0.9407; inside 1/4 in margins 0.9395. derived: 279.4/297, (210 − 12.7)/210
        ("a4", [0.9407, 0.9395]),
    ],
)
def test_wrong_settings_are_known_by_their_scale(paper: Any, scales: list[float]) -> None:
    assert [setting.scale for setting in wrong_settings(paper)] == pytest.approx(scales, abs=5e-5)


def test_what_the_rules_measured_is_undone() -> None:
    assert correction((5.97, 5.98), "letter") == pytest.approx((6 / 5.97, 6 / 5.98))
    assert correction(None, "letter") == (1.0, 1.0)


@pytest.mark.parametrize(
    ("printed", "paper", "cause"),
    [
        ((5.65, 5.65), "letter", "fitted inside the printer’s margins"),
        ((5.644, 5.644), "a4", "A4 pages were fitted on Letter paper"),
        ((5.4, 5.4), "letter", "a wrong setting"),
        ((5.99, 5.5), "letter", "a wrong setting"),
        ((6.3, 6.0), "letter", "a wrong setting"),
    ],
)
def test_a_printer_more_than_three_per_cent_off_is_refused_with_the_cause(
    printed: tuple[float, float], paper: Any, cause: str
) -> None:
    with pytest.raises(PrintError, match=cause):
        correction(printed, paper)


@pytest.mark.parametrize(
    ("text", "size"),
    [("5.97x5.98", (5.97, 5.98)), ("6 × 5 15/16", (6.0, 5.9375)), ("5.97 in X 6.0 in", (5.97, 6.0))],
)
def test_measures_are_read_as_a_maker_writes_them(text: str, size: tuple[float, float]) -> None:
    assert parse_printed(text) == pytest.approx(size)


@pytest.mark.parametrize(
    "text", ["", "5.97", "axb", "5.97x", "0x6", "-6x6", "6x1/0", "nanx6", "9" * 60, "6x6x6", "1e3x6"]
)
def test_measures_that_are_none_are_refused(text: str) -> None:
    with pytest.raises(PrintError, match=r"like 5\.97x5\.98"):
        parse_printed(text)


@given(st.lists(SIZES, min_size=1, max_size=12))
def test_shelves_hold_every_box_once_apart_and_in_the_room(sizes: list[tuple[float, float]]) -> None:
    pages = shelve(sizes, (7.0, 8.0), 0.5)
    assert sorted(spot.index for page in pages for spot in page) == list(range(len(sizes)))
    for page in pages:
        boxes = [(s.x, s.y, s.x + sizes[s.index][0], s.y + sizes[s.index][1]) for s in page]
        assert all(x1 <= 7.0 + 1e-6 and y1 <= 8.0 + 1e-6 for _, _, x1, y1 in boxes)
        for n, one in enumerate(boxes):
            for other in boxes[n + 1 :]:
                apart = max(other[0] - one[2], one[0] - other[2], other[1] - one[3], one[1] - other[3])
                assert apart >= 0.5 - 1e-6


def blank(width: float, height: float) -> Sketch:
    return Sketch(width, height, (), (), "blank", "blank", Transform())


@given(st.floats(4, 24), st.floats(4, 24))
def test_tiles_fit_the_room_and_cover_the_template(width: float, height: float) -> None:
    tiles = tiles_of(blank(width, height), (7.4, 8.0), [], "A")
    assert len(tiles) == tile_count((width, height), (7.4, 8.0))
    for tile in tiles:
        assert tile.sketch.width <= 7.4 + 1e-9
        assert tile.sketch.height <= 8.0 + 1e-9
    for i in range(21):
        x, y = width * i / 20, height * (20 - i) / 20
        assert any(
            t.left - 1e-9 <= x <= t.left + t.sketch.width + 1e-9 and t.top - 1e-9 <= y <= t.top + t.sketch.height + 1e-9
            for t in tiles
        )


@given(st.floats(1.0, 9.0))
def test_a_page_join_keeps_off_a_seam_that_runs_along_it(seam: float) -> None:
    tiles = tiles_of(blank(10.0, 5.0), (7.4, 8.0), [((seam, 0.0), (seam, 5.0))], "A")
    join = tiles[1].left + GLUE
    assert not join - GLUE - CLEAR < seam < join + CLEAR


def test_tiles_that_would_be_too_many_are_refused() -> None:
    with pytest.raises(PrintError, match="make the block smaller"):
        tiles_of(blank(60, 60), (7.4, 8.0), [], "A")


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("shape", ["upright", "upright wide", "across", "across wide"])
@pytest.mark.parametrize("large", [False, True])
def test_rules_and_square_lie_inside_the_margins_and_off_the_room(paper: Any, shape: Any, large: bool) -> None:
    frame = Frame.of(paper, shape, (1.0, 1.0), large=large, footer=0.4)
    width, height = PAPERS[paper] if shape.startswith("upright") else PAPERS[paper][::-1]
    for rule in frame.rules():
        sketch, (x, y) = rule_sketch(rule, large=large)
        assert rule.inches >= 1
        assert rule.down or (rule.inches, rule.centimetres) == (6, 15)
        x0, y0, x1, y1 = bounds(point for shape in sketch.shapes for run in shape.runs for edge in run
                                for point in (edge.start, edge.end))  # fmt: skip
        halves = [(label.x, text_width(label.text, label.size) / 2) for label in sketch.labels]
        assert x + min(x0, *(at - half for at, half in halves)) >= 0.25
        assert x + max(x1, *(at + half for at, half in halves)) <= width - 0.25
        assert y + y0 >= 0.25
        assert y + max(y1, *(label.y + 0.05 for label in sketch.labels)) <= height - 0.5
    left, top = frame.left, frame.top
    assert frame.square[0] + 1 <= width - 0.25
    assert frame.square[1] + 1 <= height - 0.5
    assert top + frame.room[1] <= frame.square[1]
    assert left + frame.room[0] <= width - 0.25 + 1e-9


def test_a_template_as_wide_as_the_paper_takes_a_wide_page_before_it_is_parted(lamp: Pattern) -> None:
    grow = Transform.scale(7.8 / 4.5)
    big = lamp.templates[0]
    wide = replace(big, finished=big.finished.transformed(grow), cut=big.cut.transformed(grow), lines=(), ticks=(),
                   patches=())  # fmt: skip
    page = lay_out(replace(lamp, templates=(wide,), cut=()), HandoutOptions())[0]
    assert page.shape != "upright"
    assert page.placed[0].tile is None


def test_small_templates_are_repeated_until_the_page_is_full(lamp: Pattern) -> None:
    shrink = Transform.scale(0.4)
    big = lamp.templates[0]
    small = replace(big, finished=big.finished.transformed(shrink), cut=big.cut.transformed(shrink), lines=(),
                    ticks=(), patches=())  # fmt: skip
    recipe = lamp.recipe.model_copy(update={"make": lamp.recipe.make.model_copy(update={"copies": 8})})
    pages = lay_out(replace(lamp, recipe=recipe, templates=(small,), cut=()), HandoutOptions())
    assert len(pages) == 1
    assert pages[0].prints * len(pages[0].placed) == 8
    assert len(pages[0].placed) > 1


def test_a_square_or_rectangle_joined_plain_needs_no_template(lamp: Pattern) -> None:
    labels = [item.template.label for page in lay_out(lamp, HandoutOptions()) for item in page.placed]
    assert labels == ["A"]
    as_template = replace(lamp, cut=tuple(replace(piece, shape="template") for piece in lamp.cut))
    labels = [item.template.label for page in lay_out(as_template, HandoutOptions()) for item in page.placed]
    assert sorted(labels) == ["7", "A"]


def test_a_loose_template_is_laid_on_the_right_side_and_is_not_mirrored(lamp: Pattern) -> None:
    as_template = replace(lamp, cut=tuple(replace(piece, shape="template") for piece in lamp.cut))
    mirrored = {item.template.label: item.is_mirrored for page in lay_out(as_template, HandoutOptions())
                for item in page.placed}  # fmt: skip
    assert mirrored == {"A": True, "7": False}


def test_a_paper_to_sew_over_by_hand_is_seen_from_behind_and_printed_for_every_patch(lamp: Pattern) -> None:
    by_hand = replace(lamp, construction=replace(lamp.construction, method="hand"))
    items = [item for page in lay_out(by_hand, HandoutOptions()) for item in page.placed]
    assert {item.template.label for item in items} == {"A", "7"}
    assert all(item.is_mirrored for item in items)


def test_a_correction_stretches_the_page_and_keeps_the_margins() -> None:
    frame = Frame.of("letter", "upright", (6 / 5.9, 6 / 6.1), large=False, footer=0.3)
    assert frame.width * 6 / 5.9 == pytest.approx(8.5)
    assert frame.height * 6 / 6.1 == pytest.approx(11)
    assert frame.margins[0] * 6 / 5.9 == pytest.approx(0.25)
    assert frame.margins[3] * 6 / 6.1 == pytest.approx(0.5)
    assert math.isfinite(frame.room[0])

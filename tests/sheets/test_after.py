"""What a handout says of the whole block: pressing, layers, level, forecast and rescue."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from seamproof import load_recipe, work_out
from seamproof.sheets import words_forecast, words_layers, words_pressing, words_rescue
from seamproof.sheets.handout import handout_data
from seamproof.sheets.layers_svg import layers_sketch
from seamproof.sheets.options import HandoutOptions
from seamproof.sheets.pressing_svg import SIGNS, meeting_signs, pressing_sketch, sign_drawing, signs_of

if TYPE_CHECKING:
    from seamproof.pattern import Pattern

GALLERY = Path(__file__).parents[2] / "gallery"


def worked(path: str, **make: Any) -> Pattern:
    pattern = work_out(load_recipe(GALLERY / f"{path}.recipe.toml"))
    recipe = pattern.recipe.model_copy(update={"make": pattern.recipe.make.model_copy(update=make)})
    return replace(pattern, recipe=recipe)


@pytest.fixture(scope="module")
def lantern() -> Pattern:
    return worked("rings/storm-lantern")


@pytest.fixture(scope="module")
def star() -> Pattern:
    return worked("stars/first-watch")


@pytest.fixture(scope="module")
def stairs() -> Pattern:
    return worked("logs/net-loft-stairs")


def text(words: Any) -> str:
    return words if isinstance(words, str) else "".join(w if isinstance(w, str) else w["b"] for w in words)


def test_the_map_has_an_arrow_on_every_seam_and_the_label_of_every_join(star: Pattern) -> None:
    sketch = pressing_sketch(star)
    labels = [label.text for label in sketch.labels]
    assert all(labels.count(join.label) == 1 for join in star.construction.joins)
    seams = len(star.pressing.seams)
    spins = sum(sign == "spins" for sign in meeting_signs(star).values())
    # Each arrow is a shaft and two head strokes, or one head, each drawn twice: ground and line. derived
    assert sum(shape.kind == "arrow" for shape in sketch.shapes) == 4 * (seams + spins)


def test_the_map_is_seen_from_the_back(lamp: Pattern) -> None:
    # The join's upright line is at x = 4 of 5 on the face, so at 1 of 5 from behind. derived
    sketch = pressing_sketch(lamp, width=5.0)
    join = next(shape for shape in sketch.shapes if shape.kind == "join")
    assert (join.bounds[0] - 0.04, join.bounds[2] - 0.04) == pytest.approx((1.0, 1.0))


def test_arrows_on_paper_point_to_the_newer_patch(lamp: Pattern) -> None:
    import shapely

    sketch = pressing_sketch(lamp, width=10.0)
    rings = {
        patch.id: [sketch.place.point(p) for p in patch.outline.polygon] for patch in lamp.block.patches
    }  # fmt: skip
    shafts = [shape.runs[0][0] for shape in sketch.shapes if shape.kind == "arrow" and len(shape.runs[0]) == 1]
    tips = [shaft.end for shaft in shafts]
    for seam in lamp.pressing.seams:
        if seam.patch is not None:
            assert any(shapely.Polygon(rings[seam.patch]).contains(shapely.Point(tip)) for tip in tips), seam.patch


def test_the_key_explains_every_sign_on_the_map_and_no_other(stairs: Pattern, lantern: Pattern) -> None:
    assert {"join", "paper", "spins", "misses"} <= set(signs_of(stairs))
    assert set(signs_of(lantern)) == {"paper", "dark"}
    assert set(words_pressing.KEY) == set(SIGNS)
    assert all(sign_drawing(sign).alt for sign in SIGNS)


def test_an_open_seam_has_a_sign_of_its_own(star: Pattern) -> None:
    seams = tuple(replace(s, toward="open") if s.join == "J1" else s for s in star.pressing.seams)
    opened = replace(star, pressing=replace(star.pressing, seams=seams))
    assert "open" in signs_of(opened)
    assert pressing_sketch(opened).shapes != pressing_sketch(star).shapes
    assert ("J1", "open") in words_pressing.join_rows(opened)


def test_pictures_stay_on_their_sheets(stairs: Pattern) -> None:
    for sketch in (pressing_sketch(stairs), layers_sketch(stairs, words_layers.thickest(stairs))):
        for shape in sketch.shapes:
            left, top, right, bottom = shape.bounds
            assert min(left, top) >= -0.01
            assert right <= sketch.width + 0.01
            assert bottom <= sketch.height + 0.01


def test_each_join_is_told_in_words_by_what_it_is_pressed_to(star: Pattern) -> None:
    rows = dict(words_pressing.join_rows(star))
    for join in star.construction.joins:
        way = star.pressing.toward(join.label)
        unit = {"left": join.first, "right": join.second}[way]
        assert rows[join.label].endswith(unit)


def test_places_that_do_not_nest_are_named(stairs: Pattern) -> None:
    told = words_pressing.meeting_words(stairs)
    assert stairs.pressing.missed
    assert f"at {stairs.pressing.missed} they do not nest" in told
    first = next(meeting for meeting in stairs.pressing.meetings if not meeting.nests)
    assert words_pressing.where_words(stairs, first.place) in told


def test_dark_allowances_are_named_with_what_to_do(lantern: Pattern) -> None:
    told = text(words_pressing.dark_words(lantern))
    assert "A10 to A13" in told
    assert "narrower" in told


def test_where_no_dark_lies_under_light_nothing_is_said(lamp: Pattern) -> None:
    assert words_pressing.dark_words(lamp) is None


def test_one_block_has_no_word_about_rows(lamp: Pattern) -> None:
    assert words_pressing.row_words(lamp) is None


def test_blocks_in_rows_are_told_how_to_nest() -> None:
    told = text(words_pressing.row_words(worked("grids/crab-creel", copies=4)))
    # Four blocks share four edges; five patches a side meet at four places on each. derived
    assert "meet at 16 places and nest at none" in told
    assert "Turn every second block" in told
    assert "all nest" in told
    pressed = text(words_pressing.row_words(worked("grids/pier-railing", copies=4)))
    assert "press J1 the other way" in pressed


def test_where_four_blocks_meet_is_told() -> None:
    creel = text(words_pressing.row_words(worked("grids/crab-creel", copies=4)))
    assert "at the point where four blocks meet they nest, and it may be spun" in creel
    gulls = text(words_pressing.row_words(worked("grids/gulls-going-home")))
    assert "each of the 4 points where four blocks meet they nest, and so do the seams that run into" in gulls
    row = text(words_pressing.row_words(worked("grids/crab-creel", copies=3)))
    assert "four blocks" not in row


def test_spinning_is_explained_where_it_is_only_between_blocks() -> None:
    whelk = worked("rings/whelk")
    assert not any(meeting.spins for meeting in whelk.pressing.meetings)
    assert words_pressing.may_spin(whelk)
    assert not words_pressing.may_spin(worked("rings/whelk", copies=1))


def test_the_thickest_places_are_named_with_what_to_do(star: Pattern) -> None:
    told = [text(words) for words in words_layers.layers_words(star)]
    for number, thick in enumerate(star.layers[:3], 1):
        assert told[number - 1].startswith(f"{number}: {thick.layers} layers where ")
    assert "Spin it." in told[2]
    assert "needle" in told[-1]
    assert [label.text for label in layers_sketch(star, words_layers.thickest(star)).labels] == ["1", "2", "3"]


def test_allowances_darken_where_they_lie_over_one_another(lamp: Pattern) -> None:
    strips = [shape for shape in layers_sketch(lamp, ()).shapes if shape.kind == "allowance"]
    assert len(strips) == len(lamp.pressing.seams)
    assert all(0 < shape.ink.opacity < 1 for shape in strips)


def test_pressing_a_join_open_is_advised_only_where_it_thins(stairs: Pattern) -> None:
    told = " ".join(text(words) for words in words_layers.layers_words(stairs))
    found = re.findall(r"(\d+) layers where[^:]*?open instead leaves (\d+)", told)
    assert found
    assert all(int(after) < int(before) for before, after in found)


def test_every_figure_of_the_level_stands_beside_its_limits(lantern: Pattern) -> None:
    rows = words_forecast.level_rows(lantern)
    assert len(rows) == len(lantern.level.figures)
    assert ("Longest sewing order", "25") in [row[:2] for row in rows]
    assert {row[-1] for row in rows} <= {"beginner", "intermediate", "advanced"}


def test_the_forecast_stands_beside_the_one_without_paper(star: Pattern) -> None:
    head, rows = words_forecast.forecast_rows(star)
    assert head == ["", "On paper, as planned", "Cut and pieced"]
    assert len(rows) == 5
    assert all(len(row) == 3 for row in rows)
    worst = max(star.forecast.points, key=lambda point: point.worst)
    assert words_pressing.where_words(star, worst.place) in rows[2][0]


def test_a_pieced_block_has_one_forecast() -> None:
    curves = worked("curves/moon-over-the-bar")
    assert curves.forecast_pieced is curves.forecast
    assert words_forecast.forecast_rows(curves)[0] == ["", "Cut and pieced"]


def test_the_seam_setting_is_told_with_a_trial(star: Pattern) -> None:
    # Each seam’s fold takes 1/64 in, so each is set that much scant; strips of 1 in finished are cut 1 1/2 in. derived
    told = words_forecast.setting_words(star) or ""
    assert "1/64 in scant" in told
    assert "1 1/2 in wide" in told


def test_a_sharp_tip_slides_by_the_sine_of_its_corner(lantern: Pattern) -> None:
    assert f"{1 / math.sin(math.radians(45)):.2g} times" in text(words_forecast.why_paper(lantern))


def test_every_patch_has_its_row_of_rescue_and_the_last_sewn_comes_first(lantern: Pattern) -> None:
    rows = dict(words_rescue.rescue_rows(lantern))
    assert len(rows) == 25
    assert rows["A25"] == "A25"
    assert rows["A18"] == "A25, A22, then A18"


def test_patches_of_one_list_share_a_row(lamp: Pattern) -> None:
    rows = words_rescue.rescue_rows(lamp)
    named = " ".join(patches for patches, _ in rows)
    assert all(name in named or "to" in named for name in lamp.names.values())
    assert len({seams for _, seams in rows}) == len(rows)


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (["A25", "A24", "A23", "A7"], "A25 to A23 and A7"),
        (["A2", "A3", "B4"], "A2, A3 and B4"),
        (["J3", "J2", "J1"], "J3 to J1"),
        (["1", "2", "3", "5b", "6b"], "1 to 3, 5b and 6b"),
        (["A1", "A2", "A1"], "A1, A2 and A1"),
    ],
)
def test_runs_of_names_are_drawn_together(names: list[str], told: str) -> None:
    assert words_pressing.ranged(names) == told


def heads(pattern: Pattern, **options: bool) -> tuple[list[str], dict[str, Any]]:
    data = handout_data(pattern, HandoutOptions(**options))  # type: ignore[arg-type]

    def headings(nodes: list[dict[str, Any]]) -> list[str]:
        found = []
        for node in nodes:
            found += [node["text"]] if node["k"] == "h" else []
            found += headings(node.get("body", []))
        return found

    return headings(data["body"]), data["drawings"]


def test_the_sections_stand_between_finishing_and_the_colouring_page(lamp: Pattern) -> None:
    found, drawings = heads(lamp)
    start = found.index("Pressing")
    named = [head.split(":")[0] for head in found[start:]]
    assert named == ["Pressing", "Layers", "Level", "How true it comes out", "If a patch went wrong", "To colour"]
    assert start > found.index("Taking the paper out")
    assert {"pressing", "layers"} <= drawings.keys()


def test_words_alone_leave_out_the_maps_and_no_section(lamp: Pattern) -> None:
    (with_pictures, _), (alone, drawings) = heads(lamp), heads(lamp, text_only=True)
    assert alone == with_pictures
    assert not {"pressing", "layers"} & drawings.keys()


def test_by_hand_over_papers_nothing_is_said_of_pressing() -> None:
    found, drawings = heads(worked("hexagons/buoy-field"))
    assert "Pressing" not in found
    assert "If a patch went wrong" in found
    assert "pressing" not in drawings

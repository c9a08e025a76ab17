"""The words of a handout."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.sheets import words_before, words_cutting, words_front, words_joins, words_steps
from seamproof.sheets.handout_fonts import FONTS, SURE, check_characters, plain_line
from seamproof.sheets.words_say import Say, counted, listed, times
from seamproof.units import MM_PER_INCH

if TYPE_CHECKING:
    from seamproof.pattern import Pattern
    from seamproof.sheets.handout_nodes import Words


def said(words: Words) -> str:
    return words if isinstance(words, str) else "".join(w if isinstance(w, str) else w["b"] for w in words)


@pytest.mark.parametrize(
    ("millimetres", "per_inch"),
    [(1.8, 14.1), (1.5, 16.9), (2.0, 12.7)],  # Source: 25.4 mm to the inch over the stitch. derived
)
def test_a_stitch_is_told_in_millimetres_and_to_the_inch(millimetres: float, per_inch: float) -> None:
    told = words_before.stitch_words(millimetres / MM_PER_INCH)
    found = re.fullmatch(r"([\d.]+) mm \((\d+) to the inch\)", told)
    assert found is not None
    assert float(found[1]) == pytest.approx(millimetres)
    assert float(found[2]) == pytest.approx(per_inch, abs=0.5)


def test_basting_is_an_eighth_inside_in_long_stitches() -> None:
    # Common practice, no source: about 1/8 in from the raw edge, stitch about 4 mm.
    assert pytest.approx(1 / 8) == words_before.BASTING_INSIDE
    assert pytest.approx(4) == words_before.BASTING_STITCH * MM_PER_INCH


@given(st.lists(st.sampled_from("ABCDEFG"), min_size=1, max_size=7, unique=True))
def test_a_list_names_everything_once_in_order(items: list[str]) -> None:
    assert re.findall("[A-G]", listed(items)) == items
    assert listed(items).count(" and ") == (len(items) > 1)


def test_counts_agree_with_their_words() -> None:
    assert [counted(n, "strip") for n in (0, 1, 2)] == ["0 strips", "1 strip", "2 strips"]
    assert [times(n) for n in (1, 2, 3)] == ["once", "twice", "3 times"]


def test_a_step_names_size_trim_edge_and_line(lamp: Pattern) -> None:
    piece = next(piece for piece in lamp.rough if piece.patch == "3")
    told = said(words_steps.short_words(lamp, piece, 3, pressed=True))
    size = Say(lamp).pair(max(piece.width, piece.height), min(piece.width, piece.height))
    assert size.removeprefix("about ") in told
    for part in ("trim to 1/4 in", "Long edge", "right side down", "centred on the line", "line 3", "Flip and press"):
        assert part in told


def test_a_piece_that_is_not_centred_is_placed_by_its_arrowhead(lamp: Pattern) -> None:
    piece = next(piece for piece in lamp.rough if piece.patch == "3")
    aside = replace(piece, ticks=(piece.placed[0], piece.placed[1]))
    assert "arrowhead" in words_steps.lay_words(aside)
    assert "arrowhead" not in words_steps.lay_words(piece)
    assert words_steps.kind_of(aside) != words_steps.kind_of(piece)


def test_a_piece_is_laid_on_the_earlier_patches_and_not_on_its_own_area(lamp: Pattern) -> None:
    told = words_steps.lay_words(lamp.rough[1])
    assert "over the patches already sewn, not on its own area" in told


def test_patches_that_are_free_are_told_as_one_group(lamp: Pattern) -> None:
    group = lamp.construction.foundations[0].groups[1]
    assert words_steps.group_words(lamp, group) == "A2 to A5 in any order, then press"
    assert words_steps.group_words(lamp, group[:2]) == "A2 and A3 in any order, then press"


def test_a_foundation_tells_its_unfinished_size(lamp: Pattern) -> None:
    # The section is 4 × 4 in; with 1/4 in on every side 4 1/2 × 4 1/2 in. derived
    told = said(words_steps.foundation_words(lamp, lamp.construction.foundations[0], lamp.templates[0]))
    assert "4 1/2 × 4 1/2 in unfinished" in told


def test_a_join_tells_match_points_pressing_and_unfinished_size(lamp: Pattern) -> None:
    # 5 × 4 in joined; with 1/4 in on every side 5 1/2 × 4 1/2 in. derived
    told = " ".join(map(said, words_joins.join_words(lamp, lamp.construction.joins[0])))
    for part in (
        "right sides together",
        "m, n, p and q",
        "Baste",
        "Open and look",
        "press the seam",
        "5 1/2 × 4 1/2 in",
    ):
        assert part in told


@pytest.mark.parametrize(
    ("kind", "word"), [("set-in", "needle down"), ("partial", "leave the rest open"), ("curved", "quarter points")]
)
def test_every_kind_of_seam_has_its_own_words(lamp: Pattern, kind: Any, word: str) -> None:
    join = replace(lamp.construction.joins[0], kind=kind, pivots=((4.0, 2.0),) if kind == "set-in" else ())
    assert word in " ".join(map(said, words_joins.join_words(lamp, join)))


def test_cautions_say_what_their_sources_say(lamp: Pattern) -> None:
    told = {head: said(words) for head, words in words_before.cautions(lamp)}
    # Source: 4-H contest safety guide (USA).
    assert "Close the blade" in told["Rotary cutter"]
    assert "away from your body" in told["Rotary cutter"]
    assert "Wrap old blades" in told["Rotary cutter"]
    assert "on its heel" in told["Iron"]
    # Source: University of Kentucky Cooperative Extension, 4JF-12PB "Needlework: Quilting", 2011.
    assert "Adults stay with children" in told["Rotary cutter"]
    # Source: American Academy of Pediatrics, Pediatrics 150(1), e2022057990: under 12 months.
    assert "12 months" in told["Babies"]
    assert "local" in told["Selling what you make"]


def test_only_words_that_are_used_are_explained(lamp: Pattern) -> None:
    heads = [head for head, _ in words_before.explained(lamp)]
    assert "Foundation" in heads
    assert "Match point" in heads
    for absent in ("Set-in seam", "Partial seam", "Curved seam", "Bias", "Arrowhead on a line"):
        assert absent not in heads
    assert len(set(heads)) == len(heads)


def test_patches_on_the_bias_are_named(lamp: Pattern) -> None:
    biased = replace(lamp, rough=tuple(replace(piece, bias=piece.patch == "3") for piece in lamp.rough))
    assert words_before.bias_words(lamp) is None
    told = said(words_before.bias_words(biased) or "")
    assert told.startswith("A3 has its outer edge on the bias")
    assert "Keep the paper in" in told


@pytest.mark.parametrize(
    ("shape", "words"),
    [
        ("half-square", "cut each once, corner to corner"),
        ("quarter-square", "cut each twice, corner to corner"),
        ("half-square triangle", "cut each once, corner to corner"),
    ],
)
def test_triangles_say_how_their_squares_are_cut(lamp: Pattern, shape: str, words: str) -> None:
    from seamproof.cloth import FabricNeed, PieceGroup, Strip

    group = PieceGroup(("2", "3"), shape, 3.0, 3.0, 1, 4, 2)
    need = FabricNeed("linen", (group,), (Strip(1, 3.0, 40.0, 0, 13),), 3.0, 4.5)
    ((strips, told, patches),) = words_cutting.group_rows(lamp, need)
    assert strips == "1 strip, 3 in wide"
    assert words in told
    assert patches == "A2, A3 (2 pieces to spare)"


def test_the_foot_of_a_page_names_what_the_recipe_says(lamp: Pattern) -> None:
    front = lamp.recipe.pattern.model_copy(update={"designer": "Orla Venn", "corrections": "fennick.example"})
    made = replace(lamp, recipe=lamp.recipe.model_copy(update={"pattern": front}))
    assert words_front.footer_lines(made) == [
        "Lamp in the window · by Orla Venn · version 1.0",
        "Corrections: fennick.example",
    ]


def test_the_font_holds_every_character_that_is_taken_for_sure() -> None:
    from fontTools.ttLib import TTFont

    for name in ("NotoSans-Regular.ttf", "NotoSans-Bold.ttf"):
        assert set(map(ord, SURE)) <= set(TTFont(FONTS / name).getBestCmap())


@given(st.text(max_size=60))
def test_a_plain_line_is_one_line_and_stays_itself(text: str) -> None:
    line = plain_line(text)
    assert not re.search(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e]", line)
    assert plain_line(line) == line


def test_letters_of_other_latin_greek_and_cyrillic_writing_need_no_other_font() -> None:
    check_characters(["Ångström, Łódź, Đà Nẵng, Αθήνα, Київ, ½ × 3 – “x”"])

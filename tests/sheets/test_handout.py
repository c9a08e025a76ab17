"""The handout as a PDF: what every page holds, that it can be read, and that it is the same each time."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pdfplumber
import pikepdf
import pytest

from seamproof import load_recipe, work_out
from seamproof.errors import PrintError
from seamproof.proof.measure import placements
from seamproof.sheets.handout import handout_data, handout_pdf
from seamproof.sheets.handout_fonts import FONTS
from seamproof.sheets.options import HandoutOptions
from seamproof.units import Measure

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.pattern import Pattern

GALLERY = Path(__file__).parents[2] / "gallery"
PINEAPPLE = GALLERY / "rings" / "storm-lantern.recipe.toml"
STEPS = "A2 to A5 in any order, then press"


@pytest.fixture(scope="module")
def pineapple() -> Pattern:
    return work_out(load_recipe(str(PINEAPPLE)))


@pytest.fixture(scope="module")
def handout(pineapple: Pattern) -> bytes:
    return handout_pdf(pineapple)


@pytest.fixture(scope="module")
def texts(handout: bytes) -> list[str]:
    with pdfplumber.open(io.BytesIO(handout)) as pdf:
        return [page.extract_text() for page in pdf.pages]


def with_front(pattern: Pattern, **front: str) -> Pattern:
    recipe = pattern.recipe.model_copy(update={"pattern": pattern.recipe.pattern.model_copy(update=front)})
    return replace(pattern, recipe=recipe)


def with_make(pattern: Pattern, **make: Any) -> Pattern:
    recipe = pattern.recipe.model_copy(update={"make": pattern.recipe.make.model_copy(update=make)})
    return replace(pattern, recipe=recipe)


def with_title(pattern: Pattern, title: str) -> Pattern:
    return replace(pattern, recipe=pattern.recipe.model_copy(update={"title": title}))


def text_of(pdf: bytes) -> str:
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        return "\n".join(page.extract_text() for page in document.pages)


def test_the_same_pattern_gives_the_same_bytes_whatever_hash_seed_locale_and_zone(handout: bytes) -> None:
    code = (
        "import sys; from seamproof import load_recipe, work_out; from seamproof.sheets.handout import handout_pdf;"
        "sys.stdout.buffer.write(handout_pdf(work_out(load_recipe(sys.argv[1]))))"
    )
    env = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Pacific/Auckland", "LC_ALL": "C"}
    again = subprocess.run([sys.executable, "-c", code, str(PINEAPPLE)], env=env, capture_output=True, check=True)
    assert again.stdout == handout


def test_viewers_are_asked_for_no_scaling_and_one_side(handout: bytes) -> None:
    # Source: ISO 32000-1, 12.2 (viewer preferences).
    with pikepdf.open(io.BytesIO(handout)) as pdf:
        preferences = pdf.Root.ViewerPreferences
        assert preferences.PrintScaling == "/None"
        assert preferences.Duplex == "/Simplex"


def test_the_document_is_tagged_and_says_its_title_and_language(handout: bytes) -> None:
    # Source: ISO 14289-1 (PDF/UA-1), clauses 5 and 7.1: the identifier, Marked, DisplayDocTitle, a title.
    with pikepdf.open(io.BytesIO(handout)) as pdf:
        assert pdf.Root.MarkInfo.Marked
        assert pdf.Root.Lang == "en"
        assert pdf.Root.ViewerPreferences.DisplayDocTitle
        with pdf.open_metadata() as metadata:
            assert metadata["pdfuaid:part"] == "1"
            assert metadata["dc:title"] == "Storm lantern"


def figures(element: Any) -> Iterator[Any]:
    if isinstance(element, pikepdf.Array):
        for child in element:
            yield from figures(child)
    elif isinstance(element, pikepdf.Dictionary):
        if element.get("/S") == "/Figure":
            yield element
        yield from figures(element.get("/K", pikepdf.Array()))


def test_every_image_has_an_alternative_text(handout: bytes, pineapple: Pattern) -> None:
    with pikepdf.open(io.BytesIO(handout)) as pdf:
        found = list(figures(pdf.Root.StructTreeRoot.K))
        assert len(found) > len(pineapple.block.patches)
        assert all(len(str(figure.get("/Alt", ""))) > 10 for figure in found)


def test_every_font_is_embedded(handout: bytes) -> None:
    with pikepdf.open(io.BytesIO(handout)) as pdf:
        described = [thing for thing in pdf.objects if isinstance(thing, pikepdf.Dictionary)
                     and thing.get("/Type") == "/FontDescriptor"]  # fmt: skip
        assert described
        assert all("/FontFile2" in one or "/FontFile3" in one for one in described)
        assert all("NotoSans" in str(one.FontName) for one in described)


@pytest.mark.parametrize(
    ("paper", "size"),
    [
        ("letter", (612.0, 792.0)),  # Source: ANSI/ASME Y14.1, 8.5 × 11 in; ISO 32000-1, 8.3.2.3, 1/72 in.
        ("a4", (595.2756, 841.8898)),  # Source: ISO 216, 210 × 297 mm; ISO 32000-1, 8.3.2.3.
    ],
)
def test_pages_are_of_the_paper_asked_for(lamp: Pattern, paper: Any, size: tuple[float, float]) -> None:
    with pikepdf.open(io.BytesIO(handout_pdf(lamp, HandoutOptions(paper=paper)))) as pdf:
        boxes = [[float(value) for value in page.MediaBox] for page in pdf.pages]
    assert all(box == pytest.approx([0, 0, *size], abs=0.001) for box in boxes)


def test_the_foot_of_every_page_says_who_what_and_which_page(texts: list[str]) -> None:
    for number, text in enumerate(texts, 1):
        assert f"page {number} of {len(texts)}" in text
        for part in ("Orla Venn", "version 1.0, 2031-10-05", "CC BY 4.0", "Print it for yourself", "fennick-quay"):
            assert part in text


def test_the_handout_tells_all_that_a_maker_needs(texts: list[str]) -> None:
    text = "\n".join(texts)
    for part in (
        "Storm lantern",
        "What you need",
        "Take care",
        "Cutting",
        "Sewing",
        STEPS,
        "Finish foundation A",
        "Taking the paper out",
        "To colour",
        "printed side up",
        "cloth side up",
        "Long edge",
        "trim to 1/4 in",
        "This is the printed side",
        "6 1/2 × 6 1/2 in unfinished",
        "Lamp flame",
        "1.8 mm (14 to the inch)",
    ):
        assert part in text, part


def test_every_patch_has_its_step(texts: list[str], pineapple: Pattern) -> None:
    text = "\n".join(texts)
    for patch, name in pineapple.names.items():
        assert f"{name} · {pineapple.fabric(patch).letter} {pineapple.fabric(patch).name}" in text


def test_lettering_on_templates_is_not_mirrored(handout: bytes) -> None:
    page_number = placements(handout)[0]["page"]
    with pdfplumber.open(io.BytesIO(handout)) as pdf:
        page = pdf.pages[page_number - 1]
        assert "A25" in page.extract_text()
        turns = [char["matrix"] for char in page.chars]
    # A matrix [a b c d] of positive determinant turns; a mirror's is negative. derived
    assert all(a * d - b * c > 0 for a, b, c, d, _, _ in turns)


def test_lines_on_a_foundation_are_mirrored(lamp: Pattern) -> None:
    # The seam of patch 2 runs from (2, 0) to (0, 1.9) on the face, at the lower left; seen from behind the 4 × 4 in
    # section it runs from (2, 0) to (4, 1.9), at the lower right. derived
    pdf = handout_pdf(lamp)
    place = placements(pdf)[0]
    left, bottom = place["x"] + 0.25, place["y"] + place["height"] - 0.25
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        page = document.pages[place["page"] - 1]
        runs = [[(x / 72 - left, bottom - y / 72) for x, y in line["pts"]] for line in page.lines]
    slopes = [(q[1] - p[1]) / (q[0] - p[0]) for p, q in runs if on_line(p, q, (2, 0), (4, 1.9))]
    assert slopes == [pytest.approx(1.9 / 2, abs=0.001)]


def on_line(p: tuple[float, float], q: tuple[float, float], a: tuple[float, float], b: tuple[float, float]) -> bool:
    return (
        all(abs((b[0] - a[0]) * (end[1] - a[1]) - (b[1] - a[1]) * (end[0] - a[0])) < 0.01 for end in (p, q)) and p != q
    )


def test_nothing_on_a_template_page_lies_where_printers_print_nothing(handout: bytes) -> None:
    # 1/4 in at the sides and the head, 1/2 in at the foot: common practice, no source.
    with pdfplumber.open(io.BytesIO(handout)) as pdf:
        page = pdf.pages[placements(handout)[0]["page"] - 1]
        things = [*page.lines, *page.curves, *page.rects, *(char for char in page.chars if char["text"].strip())]
        assert min(thing["x0"] for thing in things) >= 0.25 * 72
        assert max(thing["x1"] for thing in things) <= page.width - 0.25 * 72
        assert min(thing["top"] for thing in things) >= 0.25 * 72
        assert max(thing["bottom"] for thing in things) <= page.height - 0.5 * 72


def test_a_square_of_one_inch_stands_on_every_template_page_as_one_closed_path(handout: bytes) -> None:
    with pdfplumber.open(io.BytesIO(handout)) as pdf:
        page = pdf.pages[placements(handout)[0]["page"] - 1]
        squares = [rect for rect in page.rects if rect["width"] == pytest.approx(72, abs=0.01)
                   and rect["height"] == pytest.approx(72, abs=0.01)]  # fmt: skip
    assert len(squares) == 1


def test_a_corrected_page_says_for_which_printer(lamp: Pattern) -> None:
    text = " ".join(text_of(handout_pdf(lamp, HandoutOptions(printed=(5.9, 6.1)))).split())
    assert "6 in rules measured 5.90 in across and 6.10 in down" in text


def test_large_print_leaves_templates_at_their_size(pineapple: Pattern, handout: bytes) -> None:
    large = handout_pdf(pineapple, HandoutOptions(large_print=True))
    sizes = [[(place["width"], place["height"]) for place in placements(pdf)] for pdf in (handout, large)]
    assert sizes[0] == sizes[1]
    assert len(large) != len(handout)


def test_large_print_is_set_in_sixteen_points_at_least(pineapple: Pattern) -> None:
    # Source: common practice, no source: large print begins at 16 points.
    pdf = handout_pdf(pineapple, HandoutOptions(large_print=True))
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        words = document.pages[2].extract_words(extra_attrs=["size"])
    body = [word["size"] for word in words if word["text"] in {"machine", "paper", "Ruler,", "needle,"}]
    assert body
    assert min(body) >= 16


def test_left_handed_mirrors_cutting_pictures_and_no_template(pineapple: Pattern) -> None:
    right = handout_data(pineapple, HandoutOptions())["drawings"]
    left = handout_data(pineapple, HandoutOptions(left_handed=True))["drawings"]
    changed = {name for name in right if right[name] != left[name]}
    assert changed == {"cut-strip"}


def test_text_only_has_no_pictures_of_steps_and_says_all_the_same(pineapple: Pattern) -> None:
    told = handout_data(pineapple, HandoutOptions(text_only=True))
    assert not [name for name in told["drawings"] if name.startswith("step")]
    text = text_of(handout_pdf(pineapple, HandoutOptions(text_only=True)))
    assert "Fold and trim (printed side up)" in text
    assert "A25" in text


@pytest.mark.parametrize(
    "title",
    ["#strong[x] *b* _i_ $x^2$", "<a> @b `c` \\n //", "= heading", 'a "b" {c} [d] ~', '#read("/etc/passwd")'],
)
def test_markup_in_a_title_is_set_as_it_was_typed(lamp: Pattern, title: str) -> None:
    first = text_of(handout_pdf(with_title(lamp, title))).splitlines()
    assert title in first[:2]


def test_control_characters_and_marks_of_direction_are_dropped(lamp: Pattern) -> None:
    text = text_of(handout_pdf(with_title(lamp, "One\ttwo\x00three\u202efour")))
    assert "One two threefour" in text


def test_a_long_footer_is_shortened_and_stands_whole_on_the_first_page(lamp: Pattern) -> None:
    long = "Print it as often as you like for a class " * 7
    made = with_front(lamp, may_print=long.strip(), licence=long.strip(), credit=long.strip())
    with pdfplumber.open(io.BytesIO(handout_pdf(made))) as pdf:
        foot = pdf.pages[1].crop((0, 700, 612, 792)).extract_text()
        assert "…" in foot
        assert max(char["bottom"] for page in pdf.pages for char in page.chars) <= 792 - 0.25 * 72


def test_a_character_that_the_font_lacks_is_named_with_the_way_out(lamp: Pattern) -> None:
    with pytest.raises(PrintError, match=r"'燈' \(CJK UNIFIED IDEOGRAPH-71C8\).*--font FILE"):
        handout_pdf(with_title(lamp, "燈"))


def test_a_font_that_is_none_is_refused(lamp: Pattern, tmp_path: Path) -> None:
    broken = tmp_path / "broken.ttf"
    broken.write_bytes(b"no font")
    for font in (broken, tmp_path / "absent.ttf", tmp_path):
        with pytest.raises(PrintError, match="cannot be read as a font"):
            handout_pdf(lamp, HandoutOptions(font=font))


def test_a_web_font_is_refused(lamp: Pattern, tmp_path: Path) -> None:
    from fontTools.ttLib import TTFont

    font = TTFont(FONTS / "NotoSans-Regular.ttf")
    font.flavor = "woff"
    font.save(tmp_path / "web.woff")
    with pytest.raises(PrintError, match="web font"):
        handout_pdf(lamp, HandoutOptions(font=tmp_path / "web.woff"))


def test_a_font_that_is_given_sets_what_the_shipped_one_lacks(lamp: Pattern, tmp_path: Path) -> None:
    font = font_with("燈", tmp_path / "given.ttf")
    assert "燈" in text_of(handout_pdf(with_title(lamp, "燈"), HandoutOptions(font=font)))


def font_with(character: str, path: Path) -> Path:
    """The shipped font under another name, with one character more."""
    from fontTools.ttLib import TTFont

    font = TTFont(FONTS / "NotoSans-Regular.ttf")
    for table in font["cmap"].tables:
        table.cmap[ord(character)] = "H"
    for record in font["name"].names:
        if record.nameID in {1, 3, 4, 6, 16}:
            record.string = "Given"
    font.save(path)
    return path


def test_two_templates_are_half_an_inch_apart_or_more() -> None:
    boxes = placements(handout_pdf(work_out(load_recipe(str(GALLERY / "logs" / "slipway.recipe.toml")))))
    for n, one in enumerate(boxes):
        for other in boxes[n + 1 :]:
            if one["page"] == other["page"]:
                across = max(other["x"] - one["x"] - one["width"], one["x"] - other["x"] - other["width"])
                down = max(other["y"] - one["y"] - one["height"], one["y"] - other["y"] - other["height"])
                assert max(across, down) >= 0.5


@pytest.mark.parametrize("foundation", ["tear-away", "freezer-paper", "leave-in", "cloth"])
def test_how_the_paper_comes_out_fits_the_paper(lamp: Pattern, foundation: Any) -> None:
    text = text_of(handout_pdf(with_make(lamp, foundation=foundation)))
    assert ("tear it out" in text) == (foundation == "tear-away")
    assert ("Peel it off" in text) == (foundation == "freezer-paper")
    assert ("stays in the block" in text) == (foundation in {"leave-in", "cloth"})


def test_a_metric_pattern_gives_its_sizes_in_millimetres(lamp: Pattern) -> None:
    text = text_of(handout_pdf(with_make(lamp, measure=Measure.MILLIMETRES)))
    assert "114.3 × 114.3 mm unfinished" in text  # 4 in + 2 · 1/4 in = 4.5 in = 114.3 mm. derived

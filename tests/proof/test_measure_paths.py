"""The reader of a page's lines against another one, and against what the standard says of operators."""

from __future__ import annotations

import io
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pdfplumber
import pikepdf
import pypdfium2
import pytest

from seamproof import load_recipe, work_out
from seamproof.errors import PrintError
from seamproof.proof.measure import measure_pdf, placements
from seamproof.proof.measure_paths import LinedPages
from seamproof.proof.measure_raster import Canvas
from seamproof.sheets.handout import handout_pdf

if TYPE_CHECKING:
    from seamproof.geometry import Point

GALLERY = Path(__file__).parents[2] / "gallery"


def drawn(content: bytes, forms: dict[str, tuple[bytes, dict[str, Any]]] | None = None) -> bytes:
    """A page 2 in wide and 3 in high with this content."""
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(144, 216))
    page.contents_add(content)
    named = pikepdf.Dictionary()
    for name, (inner, entries) in (forms or {}).items():
        named[name] = pdf.make_stream(inner, Type=pikepdf.Name.XObject, Subtype=pikepdf.Name.Form, **entries)
    page.obj.Resources = pikepdf.Dictionary(XObject=named)
    for name in forms or {}:  # Forms see one another, as a form that shows itself would.
        named[name].Resources = pikepdf.Dictionary(XObject=named)
    out = io.BytesIO()
    pdf.save(out)
    return out.getvalue()


def lines(content: bytes) -> list[tuple[Point, ...]]:
    with closing(LinedPages(content)) as pages:
        return [tuple((round(x, 6), round(y, 6)) for x, y in path) for path in pages.stroked(1)]


@pytest.mark.parametrize("recipe", ["logs/slipway", "curves/petals-on-the-water"])
def test_another_reader_finds_the_same_lines(recipe: str) -> None:
    # Source: computed independently, by pdfplumber (pdfminer.six), which reads whole pages with text and colours.
    handout = handout_pdf(work_out(load_recipe(str(GALLERY / f"{recipe}.recipe.toml"))))
    with closing(LinedPages(handout)) as pages, pdfplumber.open(io.BytesIO(handout)) as plumbed:
        for number in {place["page"] for place in placements(handout)}:
            page = plumbed.pages[number - 1]
            theirs = sorted(
                (
                    float(thing["x0"]) / 72,
                    float(thing["top"]) / 72,
                    float(thing["x1"]) / 72,
                    float(thing["bottom"]) / 72,
                )
                for thing in (*page.lines, *page.rects, *page.curves)
                if thing["stroke"]
            )
            boxes = [(*np.min(path, axis=0), *np.max(path, axis=0)) for path in map(np.array, pages.stroked(number))]
            assert len(boxes) == len(theirs) > 50
            straight = [box for box in sorted(boxes) if min(box[2] - box[0], box[3] - box[1]) < 0.01]
            assert all(np.abs(np.array(theirs) - box).max(axis=1).min() < 0.0001 for box in straight)


def test_a_rectangle_is_a_ring_from_the_upper_left_corner() -> None:
    # 1 in from the left; its lower side 1 in above the page's lower edge, 2 in below its upper one. derived
    assert lines(drawn(b"72 72 36 72 re S")) == [((1, 2), (1.5, 2), (1.5, 1), (1, 1), (1, 2))]


def test_a_line_is_moved_by_every_matrix_before_it_and_put_back_after() -> None:
    found = lines(drawn(b"q 2 0 0 2 72 0 cm q 1 0 0 1 0 36 cm 0 0 m 18 0 l S Q Q 0 0 m 72 0 l S"))
    # (0, 0) → (0, 36) → (72, 72) pt; (18, 0) → (18, 36) → (108, 72) pt. derived
    assert found == [((1, 2), (1.5, 2)), ((0, 3), (1, 3))]


def test_what_is_only_filled_or_only_clips_is_no_line() -> None:
    assert lines(drawn(b"0 0 m 72 0 l 72 72 l f 0 0 72 72 re W n 0 0 m 72 72 l h S")) == [((0, 3), (1, 2), (0, 3))]


@pytest.mark.parametrize("operator", [b"s", b"b", b"b*"])
def test_what_closes_before_it_strokes_is_a_ring(operator: bytes) -> None:
    assert lines(drawn(b"0 0 m 72 0 l 72 72 l " + operator)) == [((0, 3), (1, 3), (1, 2), (0, 3))]


def test_every_kind_of_curve_ends_where_it_says() -> None:
    (path,) = lines(drawn(b"0 0 m 0 40 32 72 72 72 c 72 72 36 72 v 18 72 0 36 y S"))
    assert {path[0], path[24], path[48], path[72]} == {(0, 3), (1, 2), (0.5, 2), (0, 2.5)}
    # The middle of the first: (0 + 0 + 3·32 + 72)/8 pt across, (0 + 3·40 + 3·72 + 72)/8 pt up. derived
    assert path[12] == pytest.approx((21 / 72, 3 - 51 / 72), abs=1e-5)


def test_a_form_is_drawn_by_its_own_matrix_within_that_of_the_page() -> None:
    forms: dict[str, tuple[bytes, dict[str, Any]]] = {"/F": (b"0 0 m 36 0 l S", {"Matrix": [2, 0, 0, 2, 0, 36]})}
    found = lines(drawn(b"q 1 0 0 1 36 0 cm /F Do Q 0 0 m 36 0 l S", forms))
    assert found == [((0.5, 2.5), (1.5, 2.5)), ((0, 3), (0.5, 3))]


def test_a_form_that_shows_itself_is_refused() -> None:
    with pytest.raises(PrintError, match="damaged"):
        lines(drawn(b"/F Do", {"/F": (b"/F Do", {})}))


@pytest.mark.parametrize("content", [b"1 0 0 1 cm", b"/a 0 m 1 1 l S", b"0 m 1 1 l S", b"1 2 3 re S", b"Do"])
def test_operators_that_lack_their_numbers_are_refused(content: bytes) -> None:
    with pytest.raises(PrintError, match="damaged"):
        lines(drawn(content))


def test_a_canvas_shows_nothing_of_the_page_before() -> None:
    canvas = Canvas()
    small, large = (pypdfium2.PdfDocument(drawn(content)) for content in (b"0 0 144 216 re f", b""))
    large[0].set_mediabox(0, 0, 200, 300)
    assert canvas.ink(small[0]).max() == 0
    assert canvas.ink(large[0]).min() == 255
    assert canvas.ink(small[0]).max() == 0


def test_one_canvas_for_many_handouts_measures_as_one_for_each() -> None:
    canvas = Canvas()
    for name in ("slipway", "windward-window"):
        handout = handout_pdf(work_out(load_recipe(str(GALLERY / "logs" / f"{name}.recipe.toml"))))
        assert measure_pdf(handout, canvas) == measure_pdf(handout)

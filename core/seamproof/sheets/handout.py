"""The handout: from a pattern to the bytes of a PDF. The only user of typst."""

from __future__ import annotations

import json
import shutil
import tempfile
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from seamproof.errors import PrintError
from seamproof.sheets.handout_finish import with_print_settings
from seamproof.sheets.handout_fonts import FAMILY, FONTS, breakable, check_characters, family_of, plain_line, user_texts
from seamproof.sheets.handout_nodes import Drawings
from seamproof.sheets.handout_pages import expectations, page_data
from seamproof.sheets.handout_sections import body
from seamproof.sheets.options import PAPERS, HandoutOptions
from seamproof.sheets.pages import lay_out
from seamproof.sheets.words_front import FOOT_LARGE, FOOT_SIZE, footer_height, footer_lines

if TYPE_CHECKING:
    from seamproof.pattern import Pattern

_LOOK: Final = Path(__file__).with_name("handout.typ")
_SHORT: Final = 30
"""A text of no more characters has no word that must be broken."""


def handout_pdf(pattern: Pattern, options: HandoutOptions | None = None) -> bytes:
    """Typeset the whole handout as a tagged PDF (PDF/UA-1); the same pattern and options give the same bytes.

    Raises:
        PrintError: the font lacks a character, the font given cannot be read, the printer is too far off to be
            corrected, or a template takes too many pages.
    """
    chosen = options or HandoutOptions()
    data = handout_data(pattern, chosen)
    check_characters(user_texts(data), chosen.font)
    with tempfile.TemporaryDirectory(prefix="seamproof-") as folder:
        return with_print_settings(_compiled(data, chosen.font, Path(folder)))


def handout_data(pattern: Pattern, options: HandoutOptions) -> dict[str, Any]:
    """Everything the typesetter is told, as one value."""
    pages = lay_out(pattern, options)
    drawings = Drawings()
    recipe = pattern.recipe
    base, terms, foot, head = (16.0, 16.0, FOOT_LARGE, 10.5) if options.large_print else (10.0, 9.2, FOOT_SIZE, 7.4)
    paper = PAPERS[options.paper or recipe.make.paper]
    fonts = [FAMILY, *([family_of(options.font)] if options.font else [])]
    data: dict[str, Any] = {
        "meta": {
            "title": recipe.title,
            "author": recipe.pattern.designer or "",
            "description": f"A {recipe.family} quilt block with true-size templates",
            "keywords": ["quilt block", "templates"],
        },
        "look": {
            "base": base,
            "terms": terms,
            "foot": foot,
            "head": head,
            "fonts": fonts,
            "bottom": 0.62 + footer_height(pattern, paper[0] - 1.6, foot),
            "zoom": 1.5 if options.large_print else 1.0,
            "small-zoom": 1.3 if options.large_print else 1.0,
            "paper": list(paper),
        },
        "footer": footer_lines(pattern),
        "body": body(pattern, pages, options, drawings),
        "pages": page_data(pattern, pages, options, drawings),
        "drawings": drawings.named,
        "expect": expectations(pages),
    }  # fmt: skip
    data["meta"] = {key: plain_line(value) if isinstance(value, str) else value for key, value in data["meta"].items()}
    kept = {"meta", "expect"}
    return {key: value if key in kept else _plain_all(value) for key, value in data.items()}


def _compiled(data: dict[str, Any], font: Path | None, folder: Path) -> bytes:
    """Set the data in an empty root, so that nothing but what ships here can be read."""
    import typst

    compile_document: Any = typst.compile

    root = folder / "root"
    root.mkdir()
    try:
        made = compile_document(
            _LOOK.read_bytes(),
            root=str(root),
            font_paths=_fonts_with(font, folder) if font else _fonts(),
            ignore_system_fonts=True,
            format="pdf",
            sys_inputs={"data": json.dumps(data, ensure_ascii=False)},
            pdf_standards=["ua-1"],
            timestamp=0,
        )
    except typst.TypstError as error:
        raise PrintError(f"the handout could not be typeset: {error}") from error
    return bytes(made)


@lru_cache(maxsize=1)
def _fonts() -> Any:
    """The shipped fonts, read once for all handouts of a process."""
    import typst

    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FONTS)])


def _fonts_with(font: Path, folder: Path) -> list[str]:
    """Where the shipped fonts lie, and a folder with nothing but the font given."""
    given = folder / "font"
    given.mkdir()
    shutil.copy(font, given / "given.ttf")
    return [str(FONTS), str(given)]


def _plain_all(value: Any) -> Any:
    """The same value with every text made fit to be set; drawings are left as they are."""
    if isinstance(value, str):
        if value.isascii() and value.isprintable() and len(value) <= _SHORT and "  " not in value:
            return value
        return breakable(plain_line(value))
    if isinstance(value, dict):
        return {key: item if key == "svg" else _plain_all(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain_all(item) for item in value]
    return value

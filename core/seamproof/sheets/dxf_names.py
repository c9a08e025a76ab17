"""Names and texts that any program that reads DXF can read: plain letters, no codes of the format's own."""

from __future__ import annotations

import re
import unicodedata
from typing import Final

from seamproof.sheets.handout_fonts import plain_line

LONGEST_NAME: Final = 31
"""[1] Characters of a layer's name. Source: from memory: names of releases before 2000 had 31 at the most."""
LONGEST_TEXT: Final = 250
"""[1] Characters of one text as written. Source: from memory: older releases hold 255 at the most."""

ENCODING: Final = "cp1252"
"""How a file is written. Source: the DXF Reference, header variable $DWGCODEPAGE (ANSI_1252)."""
_PLAIN: Final = str.maketrans(
    {"\u2019": "'", "\u2018": "'", "\u201c": '"', "\u201d": '"', "\u2013": "-", "\u2014": "-", "\u2026": "...",
     "\xa0": " ", "\u2032": "'", "\u2033": '"', "\\": "/"}
)  # fmt: skip


def layer_name(*parts: str) -> str:
    """A layer's name of letters, digits and hyphens; what has no such letters is left out.

    >>> layer_name("CUT", "a", "Old brass / worn"), layer_name("b", "מגדלור"), layer_name("c", "Crème*brûlée")
    ('CUT-a-Old-brass-worn', 'b', 'c-Creme-brulee')
    """
    bare = unicodedata.normalize("NFKD", "-".join(parts))
    bare = re.sub(r"['\u2019\u02bc\u0300-\u036f]", "", bare)
    return "-".join(re.findall(r"[A-Za-z0-9]+", bare))[:LONGEST_NAME].strip("-")


def dxf_text(text: str) -> str:
    r"""A text of one line as it stands in a file: no more than Western letters, and nothing that is a code.

    Quotes, dashes and dots become plain ones, other scripts are written by their code points. Two percent signs, which
    would begin a code, are parted by a space; a backslash is written as a slash; a caret is followed by a space, which
    readers take off again. A character beyond the first 65 536, which the format cannot name, becomes a question mark.
    Source: the DXF Reference (\U+XXXX, %%, ^).

    >>> dxf_text("Ferryman’s ½"), dxf_text("קן"), dxf_text("100%%u"), dxf_text("\\U+0041"), dxf_text("a^b")
    ("Ferryman's ½", '\\U+05E7\\U+05DF', '100% %u', '/U+0041', 'a^ b')
    """
    line = re.sub("%(?=%)", "% ", plain_line(text).translate(_PLAIN)).strip()
    written = ""
    for char in line:
        coded = _coded(char)
        if len(written) + len(coded) > LONGEST_TEXT - 3:
            return f"{written}..."
        written += coded
    return written


def _coded(char: str) -> str:
    if char == "^":
        return "^ "
    try:
        char.encode(ENCODING)
    except UnicodeEncodeError:
        return f"\\U+{ord(char):04X}" if ord(char) <= 0xFFFF else "?"
    return char

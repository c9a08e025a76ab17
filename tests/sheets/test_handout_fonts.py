"""A font that is given is read, or refused in words, whatever the file is."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from seamproof.errors import PrintError
from seamproof.sheets.handout_fonts import FONTS, check_characters, family_of

FONT = (FONTS / "NotoSans-Regular.ttf").read_bytes()
TABLES = 12
"""Where a font's list of tables begins, 16 bytes each. Source: ISO/IEC 14496-22, 4.5, font file organisation."""


def test_what_cannot_be_a_font_is_told_and_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.ttf")
    told = {"pipe.ttf": "it is no file", "absent.ttf": "there is no such file", ".": "it is a folder"}
    for name, why in told.items():
        with pytest.raises(PrintError, match=f"cannot be read as a font: {why}: give a .ttf"):
            family_of(tmp_path / name)


@given(st.integers(0, len(FONT)), st.lists(st.tuples(st.integers(0, 600), st.integers(0, 255)), max_size=20))
@example(len(FONT) - 1, [])
@example(len(FONT), [(TABLES + 16 * table, 0) for table in range(12)])
def test_a_damaged_font_is_read_or_refused(length: int, changes: list[tuple[int, int]]) -> None:
    content = bytearray(FONT[:length])
    for place, byte in changes:
        content[place : place + 1] = bytes([byte])
    with tempfile.TemporaryDirectory() as folder:
        font = Path(folder) / "given.ttf"
        font.write_bytes(content)
        with suppress(PrintError):
            assert family_of(font)
        with suppress(PrintError):
            check_characters(["é"], font)

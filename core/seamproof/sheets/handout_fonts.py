"""The font of a handout, and the proof that it holds every character that is set.

The typesetter leaves out a character its fonts lack without a word, so each is looked up before.
"""

from __future__ import annotations

import io
import logging
import re
import unicodedata
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from seamproof.errors import PrintError

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

FONTS: Final = Path(__file__).parent / "fonts"
FAMILY: Final = "Noto Sans"
_FILES: Final = ("NotoSans-Regular.ttf", "NotoSans-Bold.ttf")

LARGEST: Final = 200_000_000
"""[bytes] A larger file is no font: one of all Chinese, Japanese and Korean characters takes a tenth of this."""

SURE: Final = frozenset(map(chr, (*range(0x20, 0x7F), *range(0xA0, 0x17F)))) - {"\xad"} | set("–—’“”•…×′″°½¼¾⅛")
"""Characters that the shipped font is known to hold, so that most handouts need no look into it (a test looks)."""

_JOINERS: Final = {"\u200c", "\u200d"}
_NO_INK: Final = _JOINERS | {"\u200b", "\n"}


def plain_line(text: str) -> str:
    """A text of the user's as one line to set: composed, control characters as spaces, direction marks dropped."""
    kept = (_plain(char) for char in unicodedata.normalize("NFC", text))
    return re.sub(" {2,}", " ", "".join(kept))


def breakable(line: str) -> str:
    """A line in which a word of more than thirty characters may be broken after each twelve, without a hyphen.

    >>> breakable("short words stay"), len(breakable("x" * 31))
    ('short words stay', 33)
    """
    return re.sub(r"\S{31,}", lambda word: "\u200b".join(re.findall(".{1,12}", word[0])), line)


def check_characters(texts: Iterable[str], font: Path | None = None) -> None:
    """Prove that the shipped font, or the one given, holds every character.

    Raises:
        PrintError: it does not, or the font given cannot be read; the message names the characters.
    """
    wanted = {char for text in texts for char in text} - SURE - _NO_INK
    if not wanted and font is None:
        return
    held = frozenset().union(*(_characters(FONTS / name) for name in _FILES[:1]), _characters(font) if font else ())
    lacking = sorted(wanted - held)
    if not lacking:
        return
    named = ", ".join(f"{char!r} ({unicodedata.name(char, f'U+{ord(char):04X}')})" for char in lacking[:5])
    more = f" and {len(lacking) - 5} more" if len(lacking) > 5 else ""
    which = f"the shipped font and {font.name} lack" if font else "the shipped font lacks"
    raise PrintError(
        f"{which} {named}{more}: give a font file that has {'it' if len(lacking) == 1 else 'them'} with --font FILE "
        "(.ttf or .otf)"
    )


def family_of(font: Path) -> str:
    """The family name of a font file, by which the typesetter knows it.

    Raises:
        PrintError: it cannot be read as a font.
    """
    with _opened(font) as opened:
        if opened.flavor:
            raise PrintError(f"{font.name} is a web font ({opened.flavor}): give a .ttf or .otf file with --font")
        names = opened["name"]
        found = names.getDebugName(16) or names.getDebugName(1)
    if not found:
        raise PrintError(f"{font.name} has no family name: give another font with --font FILE (.ttf or .otf)")
    return str(found)


def _plain(char: str) -> str:
    if char in _JOINERS:
        return char
    category = unicodedata.category(char)
    if category in {"Cc", "Zl", "Zp", "Cs"}:
        return " "
    return "" if category == "Cf" else char


def _characters(font: Path) -> frozenset[str]:
    with _opened(font) as opened:
        return frozenset(map(chr, opened.getBestCmap() or {}))


@contextmanager
def _opened(font: Path) -> Iterator[Any]:
    """A font to look into. Its tables are read as they are looked at, and a damaged one may fail anyhow."""
    from fontTools.ttLib import TTFont

    logger = logging.getLogger("fontTools")
    before = logger.level
    logger.setLevel(logging.CRITICAL)
    try:
        yield TTFont(io.BytesIO(_bytes_of(font)), lazy=True, fontNumber=0)
    except PrintError:
        raise
    except Exception as error:  # noqa: BLE001 - whatever a damaged table makes its reader raise
        why = getattr(error, "strerror", None) or str(error) or "it is damaged"
        raise _no_font(font, why) from None
    finally:
        logger.setLevel(before)


def _bytes_of(font: Path) -> bytes:
    if not font.is_file():
        why = "it is a folder" if font.is_dir() else "it is no file" if font.exists() else "there is no such file"
        raise _no_font(font, why)
    if font.stat().st_size > LARGEST:
        raise _no_font(font, f"it is larger than {LARGEST // 1_000_000} MB")
    return font.read_bytes()


def _no_font(font: Path, why: str) -> PrintError:
    return PrintError(f"{font} cannot be read as a font: {why}: give a .ttf or .otf file with --font")


def user_texts(value: object) -> Iterator[str]:
    """Every string in a value of lists and tables, keys left out."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, item in value.items():
            if key != "svg":
                yield from user_texts(item)
    elif isinstance(value, (list, tuple)):
        for item in value:
            yield from user_texts(item)

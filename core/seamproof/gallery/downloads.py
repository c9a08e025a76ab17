"""What can be taken along from a block's page, and what of it the page itself carries, to give it in other colours."""

from __future__ import annotations

import base64
import zlib
from dataclasses import dataclass
from typing import Literal, TypeAlias

Carried: TypeAlias = Literal["", "cloth", "values", "cut-list", "figures", "recipe"]
"""By what a page makes a file anew in the colours that it shows; "": it has no colours, or cannot be made there."""


@dataclass(frozen=True)
class Download:
    """A file beside a block's page.

    Attributes:
        address: Its address, from the page.
        what: What it is, in words.
        carried: By what the page makes it in other colours.
        label: The template that it holds, or "".
    """

    address: str
    what: str
    carried: Carried = ""
    label: str = ""


def packed(text: str) -> str:
    """A long text as it lies in a page: in zlib's format (RFC 1950), by base 64, a quarter of its length.

    >>> zlib.decompress(base64.b64decode(packed("lamp"))).decode()
    'lamp'
    """
    return base64.b64encode(zlib.compress(text.encode(), 9)).decode("ascii")

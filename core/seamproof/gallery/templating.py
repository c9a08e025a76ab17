"""The gallery's own templates and scripts."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from seamproof.pages.templating import LOOK as SHARED
from seamproof.pages.templating import render

HERE: Final = Path(__file__).parent
LOOKS: Final = (SHARED, HERE / "look")
"""Where the style and the scripts of the site come from."""


def page(template: str, **values: Any) -> str:
    """One page of the gallery."""
    return render(HERE / "templates", template, **values)

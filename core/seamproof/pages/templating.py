"""Pages from templates, with everything of the user's shown as text. The only user of jinja2."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup

HERE: Final = Path(__file__).parent
LOOK: Final = HERE / "look"
"""The folder of the style and scripts that all pages share."""

_IN_SCRIPT: Final = str.maketrans(
    {"<": "\\u003c", ">": "\\u003e", "&": "\\u0026", "\u2028": "\\u2028", "\u2029": "\\u2029"}
)


@cache
def environment(folder: Path) -> Environment:
    """The templates of a folder, over those that all pages share; texts are escaped, a missing name is an error."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    made = Environment(
        loader=FileSystemLoader([folder, HERE / "templates"]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        auto_reload=False,
    )
    made.filters["data"] = page_data
    return made


def render(folder: Path, template: str, **values: Any) -> str:
    """One page from a template of a folder."""
    return environment(folder).get_template(template).render(**values)


def page_data(value: Any) -> Markup:
    r"""A value as JSON that may stand inside a script element: no `<`, so that nothing of it can end the element.

    >>> str(page_data("</script>"))
    '"\\u003c/script\\u003e"'
    """
    from markupsafe import Markup

    text = json.dumps(value, ensure_ascii=False, separators=(",", ":")).translate(_IN_SCRIPT)
    return Markup(text)  # noqa: S704 - every character that means something to HTML is written as its number


def as_is(svg: str) -> Markup:
    """A drawing of our own, put into a page as it stands: its texts were escaped when it was written."""
    from markupsafe import Markup

    return Markup(svg)  # noqa: S704 - see above

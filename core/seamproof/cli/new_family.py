"""`new-family`: a complete project of a plugin, to begin a family of blocks with."""

from __future__ import annotations

import os
import re
import unicodedata
from importlib import metadata, resources, util
from pathlib import Path
from string import Template
from typing import Final

import click

from seamproof.cli.paths import PATH

FILES: Final = {
    "pyproject.toml": "pyproject.toml.txt",
    "README.md": "README.md.txt",
    ".gitignore": "gitignore.txt",
    "src/$module/__init__.py": "init.py.txt",
    "src/$module/family.py": "family.py.txt",
    "tests/test_family.py": "test_family.py.txt",
    "recipes/$name.recipe.toml": "recipe.toml.txt",
}
"""Each file of a project, and the one in `new_family_files` it is made from; $words stand for what the name gives."""

_NAME: Final = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*", re.ASCII)
_LONGEST: Final = 40


@click.command("new-family")
@click.argument("name")
@click.option(
    "-o",
    "--output",
    metavar="DIR",
    type=PATH,
    help="The folder to write, which must not be there yet; NAME unless told.",
)
def new_family(name: str, output: str | None) -> None:
    """Write a project of a plugin with the family NAME, which draws, and whose tests pass.

    NAME is what recipes will call it: small letters, digits and hyphens, such as harbour-steps.
    """
    from seamproof.errors import OutputError
    from seamproof.staging import staged_folder

    said = _words(name)
    folder = Path(name if output is None else output)
    try:
        target = folder.resolve()
        is_there = os.path.lexists(folder)
    except (OSError, ValueError) as error:
        raise OutputError(f"{output!r} is no folder to write: {error}", path=str(output)) from None
    if is_there:
        raise OutputError(f"{folder} is there already: name a new folder with -o DIR", path=str(folder))
    with staged_folder(target) as stage:
        for path, text in project(said).items():
            file = stage / path
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(text, encoding="utf-8", newline="\n")
    click.echo(f"{folder} holds the family {name}. Next, in that folder: pip install -e '.[test]' && pytest")


def project(words: dict[str, str]) -> dict[str, str]:
    """The files of a project: path → text."""
    home = resources.files("seamproof.cli") / "new_family_files"
    texts = {path: (home / source).read_text("utf-8") for path, source in FILES.items()}
    return {Template(path).substitute(words): Template(text).substitute(words) for path, text in texts.items()}


def _words(name: str) -> dict[str, str]:
    """What stands for each $word. Raises PluginError where the name is none, or is taken."""
    if len(name) > _LONGEST or not _NAME.fullmatch(name):
        raise _refused(name, f"is no name for a family: {_allowed(name)}")
    module = f"seamproof_{name.replace('-', '_')}"
    if taken := _owner(name, module):
        raise _refused(name, f"is taken by {taken}: choose another name")
    spaced = name.replace("-", " ")
    return {
        "name": name,
        "words": spaced,
        "title": spaced.capitalize(),
        "module": module,
        "distribution": f"seamproof-{name}",
        "version": metadata.version("seamproof"),
    }


def _refused(name: str, why: str) -> Exception:
    from seamproof.errors import PluginError

    return PluginError(f"{name[:60]!r} {why}", name=name)


def _allowed(name: str) -> str:
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    near = re.sub(r"[^a-z0-9]+", "-", plain).lstrip("-0123456789")[:_LONGEST].strip("-")
    rule = f"write up to {_LONGEST} small letters, digits and single hyphens, a letter first"
    return f"{rule}; {near!r} would do" if near else f"{rule}, such as 'harbour-steps'"


def _owner(name: str, module: str) -> str | None:
    """Who has a family, a plugin or a module of this name already."""
    from seamproof.plugin.registry import GROUP, families

    known = families()
    if name in known:
        return f"a family of plugin {known.plugin_of(name)}"
    if name in metadata.entry_points(group=GROUP).names:
        return "a plugin that is installed"
    return f"the module {module}, which is installed" if util.find_spec(module) else None

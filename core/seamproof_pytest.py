"""Recipes as tests: pytest collects each `*.recipe.toml` as one item for each claim it makes.

`storm-lantern.recipe.toml::covers` holds where the claim "covers" holds; a recipe that cannot be read has one item,
`loads`, which fails with every fault. Nothing of Seamproof is imported before a recipe is collected.

`pytest --record` draws each recipe as an SVG beside it (`storm-lantern.svg`). Where there is one, the item `drawing`
holds the block to it, byte for byte; both drawings of one that changed are laid in `.seamproof-report`.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from seamproof.pattern.examining import Examination
    from seamproof.recipe import Recipe

_SUFFIX = ".recipe.toml"
"""As `seamproof.recipe.finding` has it; written again, so that nothing of that is loaded for other files."""
_REPORT = ".seamproof-report"
DRAWING = "drawing"
"""The name of the item that holds a recipe to its recorded picture."""


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add `--record`."""
    group = parser.getgroup("seamproof", "recipes of quilt blocks")
    group.addoption("--record", action="store_true", help="draw every recipe that is collected as an SVG beside it")


def pytest_collect_file(file_path: Path, parent: pytest.Collector) -> RecipeFile | None:
    """Collect recipes."""
    return RecipeFile.from_parent(parent, path=file_path) if file_path.name.endswith(_SUFFIX) else None


class RecipeFile(pytest.File):
    """A recipe, worked out once for all its claims."""

    @cached_property
    def recipe(self) -> Recipe:
        """The recipe. Raises RecipeError where it cannot be read."""
        from seamproof.recipe import load_recipe

        return load_recipe(self.path)

    @cached_property
    def examination(self) -> Examination:
        """What was found of its claims."""
        from seamproof.pattern.examining import examine

        return examine(self.recipe)

    def collect(self) -> Iterator[_RecipeItem]:
        """One item for each claim, or one that fails where the recipe cannot be read."""
        from seamproof.errors import SeamproofError
        from seamproof.pattern.examining import claim_names

        try:
            names = claim_names(self.recipe)
        except SeamproofError as error:
            yield ClaimItem.from_parent(self, name="loads", trouble=str(error))
            return
        for name in names:
            yield ClaimItem.from_parent(self, name=name)
        if self.picture.exists() or self.config.getoption("--record"):
            yield DrawingItem.from_parent(self, name=DRAWING)

    @property
    def picture(self) -> Path:
        """Where the recipe's picture lies."""
        from seamproof.gallery.repository import picture_of

        return picture_of(self.path)


class ClaimFailed(Exception):  # noqa: N818 - it is no error: a claim was looked at and does not hold
    """A claim that does not hold."""


class _RecipeItem(pytest.Item):
    """Something a recipe is held to."""

    parent: RecipeFile

    def repr_failure(self, excinfo: pytest.ExceptionInfo[BaseException], style: Any = None) -> Any:
        """The reason alone, for a claim; a traceback for anything else."""
        from seamproof.errors import SeamproofError

        if isinstance(excinfo.value, (ClaimFailed, SeamproofError)):
            return str(excinfo.value)
        return super().repr_failure(excinfo, style)

    def reportinfo(self) -> tuple[Path, int, str]:
        """Where the item is, for reports."""
        return self.path, 0, f"{self.path.name}: {self.name}"


class ClaimItem(_RecipeItem):
    """One claim of one recipe."""

    def __init__(self, *, trouble: str | None = None, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._trouble = trouble

    def runtest(self) -> None:
        """Fail where the claim does not hold."""
        if self._trouble is not None:
            raise ClaimFailed(self._trouble)
        claim = next((claim for claim in self.parent.examination.claims if claim.claim == self.name), None)
        if claim is None:
            raise ClaimFailed(f"{self.name} was not looked at")
        if not claim.ok:
            bound = "" if claim.bound is None else f", held to {claim.bound}"
            raise ClaimFailed(f"{self.name}: {claim.value}{bound} {claim.unit}".rstrip() + f"\n{claim.proof}")


class DrawingItem(_RecipeItem):
    """A recipe's picture, held to the one recorded, or recorded."""

    def runtest(self) -> None:
        """Fail where the picture has changed, or record it."""
        from seamproof.sheets.gallery_svg import gallery_svg

        pattern = self.parent.examination.pattern
        if pattern is None:
            raise ClaimFailed("the recipe cannot be worked out, so it cannot be drawn")
        drawn, picture = gallery_svg(pattern).encode(), self.parent.picture
        recorded = picture.read_bytes() if picture.exists() else b""
        if drawn == recorded:
            return
        if self.config.getoption("--record"):
            picture.write_bytes(drawn)
            return
        folder = self.config.rootpath / _REPORT
        folder.mkdir(exist_ok=True)
        for word, content in (("recorded", recorded), ("drawn", drawn)):
            (folder / f"{picture.stem}.{word}.svg").write_bytes(content)
        raise ClaimFailed(
            f"{picture.name} is not what is drawn now: both lie in {_REPORT}; to take the new one: pytest --record"
        )

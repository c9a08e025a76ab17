"""One block of a site: its page, its picture and what can be downloaded, made in whichever process has time."""

from __future__ import annotations

import json
import traceback
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from seamproof.gallery.downloads import Download
from seamproof.staging import digest

if TYPE_CHECKING:
    from seamproof.gallery.card import Card
    from seamproof.gallery.downloads import Carried
    from seamproof.pattern import Pattern
    from seamproof.proof.measure_raster import Canvas
    from seamproof.recipe import Recipe
    from seamproof.sheets.block_svg import Look


@dataclass(frozen=True)
class Job:
    """A block to make.

    Attributes:
        path: Its recipe's file.
        shown: How that file is called on pages.
        name: The name of its page.
        folder: The folder that is being filled.
        font: A font for characters that the shipped one lacks, for the handout.
    """

    path: str
    shown: str
    name: str
    folder: Path
    font: Path | None = None


@dataclass(frozen=True)
class Made:
    """What came of it.

    Attributes:
        job: What was asked.
        card: The block's card; None where it has no page.
        error: What is wrong with the recipe, or "".
        files: The digest of each file that was written, by its place in the folder.
    """

    job: Job
    card: Card | None
    error: str = ""
    files: dict[str, str] = field(default_factory=dict)


@lru_cache(maxsize=1)
def _canvas() -> Canvas:
    """What this process draws on to measure handouts."""
    from seamproof.proof.measure_raster import Canvas

    return Canvas()


def make(job: Job) -> Made:
    """Make one block. A recipe that cannot be read, proven or printed is told in the result, never raised."""
    from seamproof.errors import OutputError, SeamproofError
    from seamproof.recipe.loading import load_recipe

    try:
        source = Path(job.path).read_bytes()
        return _Block(job, load_recipe(job.path), source).made()
    except OutputError:
        raise
    except SeamproofError as error:
        return Made(job, None, str(error).replace(job.path, job.shown))
    except OSError as error:
        return Made(job, None, f"{job.shown} cannot be read: {error.strerror}")
    except Exception as error:  # noqa: BLE001 - a fault of ours in one block must not cost a class the others
        return Made(job, None, f"{job.shown}: a fault of Seamproof's own, please report it: {_place(error)}")


def _place(error: Exception) -> str:
    """What went wrong and in which line of which module, for whoever mends it."""
    last = traceback.extract_tb(error.__traceback__)[-1]
    return f"{type(error).__name__} at {Path(last.filename).name}:{last.lineno}: {error}"


class _Block:
    def __init__(self, job: Job, recipe: Recipe, source: bytes) -> None:
        self.job = job
        self.recipe = recipe
        self.source = source
        self.contents: dict[str, bytes] = {}
        self.downloads: list[Download] = []
        self.figures = ""
        self.error = ""

    def made(self) -> Made:
        """Make every file of the block, and write them once all are there."""
        from seamproof.gallery import pictures
        from seamproof.gallery.block_page import block_page
        from seamproof.gallery.card import card_of
        from seamproof.pattern import work_out
        from seamproof.recipe.model import clean_line
        from seamproof.sheets.svg import UNITS_PER_INCH

        pattern = work_out(self.recipe)
        bad = [f"{claim.claim} fails: {claim.value}, held to {claim.bound} {claim.unit}" for claim in pattern.claims
               if not claim.ok]  # fmt: skip
        if bad:
            return Made(self.job, None, clean_line("; ".join(bad)))
        name = self.job.name
        picture = pictures.card_sketch(pattern)
        card = card_of(pattern, name, (round(picture.width * UNITS_PER_INCH), round(picture.height * UNITS_PER_INCH)))
        self._add(f"pictures/{name}.svg", picture.svg.encode())
        self._handout(pattern)
        self._templates(pattern)
        self._lists(pattern)
        self._pictures(pattern)
        text = self.source.decode("utf-8-sig")
        page = block_page(pattern, card, text, self.figures, self.downloads)
        self._add(f"blocks/{name}.html", page.encode())
        return Made(self.job, card, self.error, self._written())

    def _handout(self, pattern: Pattern) -> None:
        from seamproof.errors import PrintError
        from seamproof.proof.measure import measure_pdf
        from seamproof.sheets.handout import handout_pdf
        from seamproof.sheets.options import HandoutOptions

        try:
            content = handout_pdf(pattern, HandoutOptions(font=self.job.font))
        except PrintError as error:
            self.error = f"{self.job.shown}: its handout is missing: {error}"
            return
        report = measure_pdf(content, _canvas())
        if not report.ok:
            self.error = f"{self.job.shown}: its handout is missing, since it is not true to size: {report}"
            return
        self._download("handout.pdf", "The handout, to print (PDF)", content)

    def _lists(self, pattern: Pattern) -> None:
        from seamproof.pattern.cut_list import cut_list_csv
        from seamproof.pattern.data import pattern_data

        self._download("cut-list.csv", "The cut list (CSV)", cut_list_csv(pattern).encode(), "cut-list")
        self.figures = json.dumps(pattern_data(pattern), separators=(",", ":"), ensure_ascii=False)
        self._download("pattern.json", "Every figure (JSON)", f"{self.figures}\n".encode(), "figures")
        self._download(f"{self.job.name}.recipe.toml", "The recipe (TOML)", self.source, "recipe")

    def _templates(self, pattern: Pattern) -> None:
        from seamproof.sheets.dxf import is_dxf_there
        from seamproof.sheets.dxf_sheet import pattern_dxf
        from seamproof.sheets.template_svg import template_svg

        for template in pattern.templates:
            svg = template_svg(pattern, template)
            what = f"Template {template.label}, true size (SVG)"
            self._download(f"template-{template.label}.svg", what, svg.encode(), label=template.label)
        if is_dxf_there():
            what = "The block and its templates, for cutting machines (DXF)"
            self._download("pattern.dxf", what, pattern_dxf(pattern))

    def _pictures(self, pattern: Pattern) -> None:
        from seamproof.sheets.block_svg import block_svg

        looks: dict[Look, str] = {"cloth": "in its fabrics", "line": "in line", "values": "in values"}
        for look, words in looks.items():
            svg = block_svg(pattern, look)
            self._download(
                f"block-{look}.svg", f"The block {words} (SVG)", svg.encode(), "" if look == "line" else look
            )

    def _download(self, file: str, what: str, content: bytes, carried: Carried = "", label: str = "") -> None:
        self._add(f"blocks/{self.job.name}/{file}", content)
        self.downloads.append(Download(f"{self.job.name}/{file}", what, carried, label))

    def _add(self, place: str, content: bytes) -> None:
        self.contents[place] = content

    def _written(self) -> dict[str, str]:
        for place, content in self.contents.items():
            path = self.job.folder / place
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        return {place: digest(content) for place, content in self.contents.items()}

"""The print proof: a handout read back, to say whether each template and test square is true to size."""

from __future__ import annotations

from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from seamproof.errors import PrintError
from seamproof.proof.measure_expected import ATTACHED, read_expected
from seamproof.tolerance import PRINT_TRUE
from seamproof.units import MM_PER_INCH, POINTS_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.proof.measure_expected import Expected, ExpectedPage
    from seamproof.proof.measure_paths import LinedPages
    from seamproof.proof.measure_raster import Canvas, Ink
    from seamproof.proof.measure_vector import Lines

_LARGEST_PAGE: Final = 15.0
"""[in] A larger page is not drawn: a raster of it would take more memory than a handout's page ever does."""
_LARGEST_FILE: Final = 200_000_000


@dataclass(frozen=True)
class Measured:
    """One template, square or rule, measured.

    Attributes:
        page: Its page in the document, from 1.
        kind: "template", "square" or "rule".
        name: What it is called.
        expected: The width and height it must have on this page [in]: stretched where the page is corrected.
        found: The width and height in the page's coordinates [in]; None where it was not found.
        vector_off: The farthest any of its points is from its place, in the page's coordinates [in]; or None.
        raster_off: The same in the ink at 600 dots to the inch [in]; None where a line shows no ink.
    """

    page: int
    kind: str
    name: str
    expected: tuple[float, float]
    found: tuple[float, float] | None
    vector_off: float | None
    raster_off: float | None

    @property
    def off(self) -> float | None:
        """The larger of the two [in]; None where it was not found by both."""
        if self.vector_off is None or self.raster_off is None:
            return None
        return max(self.vector_off, self.raster_off)

    @property
    def ok(self) -> bool:
        """Whether it is true to a tenth of a millimetre by both measures."""
        return self.off is not None and self.off <= PRINT_TRUE

    def __str__(self) -> str:
        name = f"template {self.name}" if self.kind == "template" else f"the {self.name}"
        where = f"page {self.page}, {name}"
        if self.found is None:
            return f"{where}: not found on the page"
        size = f"{self.found[0]:.3f} × {self.found[1]:.3f} in"
        if self.off is None:
            return f"{where}: {size}, but a line of it shows no ink where it must be"
        off = f"off by {self.off * MM_PER_INCH:.2f} mm at the most"
        if self.ok:
            return f"{where}: {size}, {off}: true"
        return f"{where}: {size} where it must be {self.expected[0]:.3f} × {self.expected[1]:.3f} in, {off}: not true"


@dataclass(frozen=True)
class PrintReport:
    """What was measured in a handout.

    Attributes:
        measured: Every template, square and rule, in the order of the pages.
        stretch: The correction of the template pages, across and down; (1, 1) for none.
    """

    measured: tuple[Measured, ...]
    stretch: tuple[float, float] = (1.0, 1.0)

    @property
    def ok(self) -> bool:
        """Whether all of it is true to size; a handout without anything to measure is."""
        return all(one.ok for one in self.measured)

    @property
    def faults(self) -> tuple[Measured, ...]:
        """What is not true to size."""
        return tuple(one for one in self.measured if not one.ok)

    @property
    def worst(self) -> float:
        """The farthest anything found is off [in]."""
        return max((one.off for one in self.measured if one.off is not None), default=0.0)

    def __str__(self) -> str:
        templates = sum(one.kind == "template" for one in self.measured)
        squares = sum(one.kind == "square" for one in self.measured)
        if not self.measured:
            return "nothing to measure: this handout has no templates"
        if not self.ok:
            return "\n".join(map(str, self.faults))
        corrected = "" if self.stretch == (1.0, 1.0) else " as corrected for your printer"
        return (
            f"{templates} {'template' if templates == 1 else 'templates'} and {squares} test "
            f"{'square' if squares == 1 else 'squares'} true to size{corrected}, "
            f"off by {self.worst * MM_PER_INCH:.2f} mm at the most"
        )


def measure_pdf(source: str | Path | bytes, canvas: Canvas | None = None) -> PrintReport:
    """Measure a handout: its templates, test squares and rules, in coordinates and in ink.

    Args:
        source: A path, or the bytes of a PDF.
        canvas: What pages are drawn on; whoever measures many handouts gives the same one each time.

    Raises:
        PrintError: it cannot be read, is no PDF, is damaged or locked, or is no handout of ours; it names the path.
    """
    if not isinstance(source, bytes):
        try:
            return measure_pdf(_read(Path(source)), canvas)
        except PrintError as error:
            raise PrintError(f"{source}: {error}") from error
    pages, document = _opened(source)
    try:
        measured = tuple(_measured_pages(source, document, pages, canvas))
    finally:
        document.close()
    return PrintReport(measured, pages[0].stretch if pages else (1.0, 1.0))


def placements(content: bytes) -> list[dict[str, Any]]:
    """Where each template lies in a handout: page, x, y, width and height [in, from the page's upper left corner].

    Raises:
        PrintError: as `measure_pdf`.
    """
    pages, document = _opened(content)
    document.close()
    return [
        {
            "template": item.label,
            "name": item.name,
            "page": page.number,
            **dict(zip(("x", "y", "width", "height"), (round(value, 4) for value in item.box), strict=True)),
        }
        for page in pages
        for item in page.items
        if item.kind == "template"
    ]


def _read(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise PrintError("is a folder: give the handout.pdf in it")
        if path.stat().st_size > _LARGEST_FILE:
            raise PrintError("is larger than any handout: give the handout.pdf of a pack")
        return path.read_bytes()
    except (OSError, ValueError) as error:
        if isinstance(error, PrintError):
            raise
        reason = getattr(error, "strerror", None) or error
        raise PrintError(f"cannot be read: {reason}: give the handout.pdf of a pack") from None


def _opened(content: bytes) -> tuple[tuple[ExpectedPage, ...], Any]:
    """The sizes inside a PDF, and the document."""
    import pypdfium2

    if b"%PDF-" not in content[:1024]:
        raise PrintError("this file is not a PDF: give the handout.pdf of a pack")
    try:
        document = pypdfium2.PdfDocument(content)
    except pypdfium2.PdfiumError as error:
        if "password" in str(error).lower():
            raise PrintError("this PDF is locked with a password: give the handout.pdf of a pack as it was") from None
        raise PrintError("this PDF is damaged and cannot be opened: make the handout again") from None
    try:
        pages = read_expected(_attached(document))
    except PrintError:
        document.close()
        raise
    if pages and pages[-1].number > len(document):
        document.close()
        raise PrintError("pages are missing from this handout: make it again")
    return pages, document


def _attached(document: Any) -> bytes:
    import pypdfium2

    try:
        for i in range(document.count_attachments()):
            attachment = document.get_attachment(i)
            if attachment.get_name() == ATTACHED:
                return bytes(attachment.get_data())
    except pypdfium2.PdfiumError:
        raise PrintError("this PDF is damaged: make the handout again") from None
    raise PrintError("this PDF is no handout of Seamproof’s: it does not say how large its templates must be")


def _measured_pages(
    content: bytes, document: Any, pages: tuple[ExpectedPage, ...], canvas: Canvas | None
) -> Iterator[Measured]:
    from seamproof.proof.measure_paths import LinedPages
    from seamproof.proof.measure_raster import Canvas

    drawn_on = canvas or Canvas()
    with closing(LinedPages(content)) as lined:
        for page in pages:
            yield from _page(page, document[page.number - 1], lined, drawn_on)


def _page(page: ExpectedPage, drawn: Any, lined: LinedPages, canvas: Canvas) -> Iterator[Measured]:
    from seamproof.proof.measure_vector import Lines

    unit = lined.unit(page.number)
    width, height = (side * unit / POINTS_PER_INCH for side in drawn.get_size())
    if max(width, height) > _LARGEST_PAGE:
        raise PrintError(f"page {page.number} is {width:.1f} × {height:.1f} in: no page of a handout")
    if max(abs(width - page.width), abs(height - page.height)) > PRINT_TRUE:
        raise PrintError(
            f"page {page.number} is {width:.2f} × {height:.2f} in where the handout was made for "
            f"{page.width:.2f} × {page.height:.2f} in: it was changed after it was made; make it again"
        )
    lines, ink = Lines(lined.stroked(page.number)), canvas.ink(drawn)
    for item in page.items:
        yield _measured(page, item, lines, ink)


def _measured(page: ExpectedPage, item: Expected, lines: Lines, ink: Ink) -> Measured:
    from seamproof.proof.measure_raster import raster_off

    found = lines.find(item)
    return Measured(
        page=page.number,
        kind=item.kind,
        name=item.name,
        expected=(item.box[2], item.box[3]),
        found=(found.width, found.height) if found else None,
        vector_off=found.off if found else None,
        raster_off=raster_off(item, ink),
    )

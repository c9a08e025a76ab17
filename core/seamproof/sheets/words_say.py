"""How sizes, names and lists are said on pages."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING, Final

from seamproof.units import MM_PER_INCH, Measure, inches, rounded_text, text, text_pair

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamproof.pattern import Pattern

FINEST: Final = 1 / 64
"""[in] The finest mark of usual rulers."""


@dataclass(frozen=True)
class Say:
    """Says what a pattern holds in the measure its recipe asks for."""

    pattern: Pattern

    @property
    def measure(self) -> Measure:
        """How sizes are written."""
        return self.pattern.recipe.make.measure

    @property
    def fine(self) -> Measure:
        """The same, with sixteenths for inches: for sizes that are measured, not cut."""
        return self.measure if self.measure is Measure.MILLIMETRES else Measure.SIXTEENTHS

    def size(self, length: float) -> str:
        """A cut size [in]."""
        return text(length, self.measure)

    def fine_size(self, length: float) -> str:
        """A size that is measured [in], to a sixteenth; with "about" where it is none."""
        return text(length, self.fine)

    def roughly(self, length: float) -> str:
        """A size that is measured [in], for a sentence that says "about" itself."""
        return rounded_text(length, self.fine)

    def small(self, length: float) -> str:
        """A small difference [in]: in sixty-fourths, the finest mark of usual rulers, or in tenths of a millimetre."""
        if self.measure is Measure.MILLIMETRES:
            tenths = f"{length * MM_PER_INCH:.1f}"
            return "less than 0.1 mm" if tenths == "0.0" else f"{tenths} mm"
        written = inches(length, FINEST)
        return "less than 1/64 in" if written == "0" else f"{written} in"

    def pair(self, width: float, height: float) -> str:
        """A cut size of two lengths [in]."""
        return text_pair(width, height, self.measure)

    def fine_pair(self, width: float, height: float) -> str:
        """A measured size of two lengths [in], to a sixteenth; with "about" where one is none."""
        return text_pair(width, height, self.fine)

    def cloth(self, length: float) -> str:
        """A length of cloth to buy [in]: in yards, or in metres."""
        if self.measure is Measure.MILLIMETRES:
            return f"{length * MM_PER_INCH / 1000:.1f} m"
        return f"{inches(length / 36, 1 / 8)} yd"

    def name(self, patch: str) -> str:
        """What a patch is called on pages."""
        return self.pattern.names[patch]

    def fabric(self, patch: str) -> str:
        """The letter and name of a patch's fabric."""
        legend = self.pattern.fabric(patch)
        return f"{legend.letter} {shortened(legend.name)}"


def shortened(text: str, most: int = 40) -> str:
    """A text of at most so many characters, its end left out where it is longer.

    >>> shortened("Rain on glass", 6)
    'Rain…'
    """
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"


def capital(text: str) -> str:
    """A text with its first letter large, the others as they are.

    >>> capital("J3 and so on"), capital("pivots"), capital("")
    ('J3 and so on', 'Pivots', '')
    """
    return text[:1].upper() + text[1:]


def listed(items: Sequence[str], last: str = "and") -> str:
    """Things in a row: "A", "A and B", "A, B and C".

    >>> listed(["A", "B", "C"])
    'A, B and C'
    """
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"


def parted(name: str) -> tuple[str, int, str]:
    """A name as its letters, its number, and what comes after: ("A", 12, "")."""
    parts = ["".join(run) for _, run in groupby(name, key=str.isdigit)]
    if parts and parts[0].isdigit():
        parts.insert(0, "")
    return parts[0], int(parts[1]) if len(parts) > 1 else 0, "".join(parts[2:])


def times(count: int) -> str:
    """How often: "once", "twice", "3 times"."""
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def counted(count: int, one: str, many: str | None = None) -> str:
    """A number with its word.

    >>> counted(1, "patch", "patches"), counted(4, "strip")
    ('1 patch', '4 strips')
    """
    return f"{count} {one if count == 1 else many or one + 's'}"

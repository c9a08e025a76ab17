"""The words of the rescue page: for every patch what to unpick."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from seamproof.sheets.words_joins import join_names
from seamproof.sheets.words_pressing import ranged

if TYPE_CHECKING:
    from seamproof.pattern import Pattern

ABOUT: Final = (
    "A piece that slipped, does not cover or is of the wrong fabric comes out when the seams below are unpicked, the "
    "last sewn first; no seam more need be opened. Sew them again in their old order."
)


def how_words(pattern: Pattern) -> str:
    """How a seam is unpicked."""
    how = "Cut every third stitch on one side, then draw the thread out on the other; never pull the cloth apart."
    if not pattern.construction.foundations:
        return how
    return f"{how} Where the paper tore, mend it behind the line with a strip of the same paper and glue stick."


def named_words(pattern: Pattern) -> str:
    """How seams are named, and what is left out for a patch that was forgotten."""
    if not pattern.construction.foundations:
        return f"A seam is named by {'the unit it makes' if pattern.piecing else 'its join'}."
    called = "A seam on paper is named by the patch that it added"
    joins = ", any other by its join" if pattern.construction.joins else ""
    return f"{called}{joins}. If a patch was forgotten, its own seam was never sewn: leave it out."


def rescue_rows(pattern: Pattern) -> list[tuple[str, str]]:
    """Patches and what to unpick for them; patches whose list is the same share a row."""
    groups: dict[tuple[str, ...], list[str]] = {}
    for rescue in pattern.rescue:
        seams = tuple(join_names(pattern, [_named(pattern, seam) for seam in rescue.slipped]))
        groups.setdefault(seams, []).append(pattern.names[rescue.patch])
    order = list(pattern.names.values())
    rows = sorted((sorted(patches, key=order.index), seams) for seams, patches in groups.items())
    rows.sort(key=lambda row: order.index(row[0][0]))
    return [(ranged(patches), f"{_then(seams)}") for patches, seams in rows if seams]


def _named(pattern: Pattern, seam: str) -> str:
    """What a seam is called: by its patch, its join, or the unit that was laid with it."""
    return f"unit {seam[1:]} laid" if seam.startswith("+") else pattern.names.get(seam, seam)


def _then(seams: tuple[str, ...]) -> str:
    """Seams in the order in which they are unpicked: "A25, A24, then A7"."""
    if len(seams) == 1:
        return seams[0]
    return f"{ranged_only(seams[:-1])}, then {seams[-1]}"


def ranged_only(seams: tuple[str, ...]) -> str:
    """The same as `ranged`, with commas alone."""
    return ranged(seams).replace(" and ", ", ")

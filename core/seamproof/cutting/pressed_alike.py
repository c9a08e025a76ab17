"""Seams that a way sews and presses before it is known of which unit they will be: all must lie alike.

A pair of squares is pressed before it is laid on another and cut; a small square on a large one before the geese are
parted. So the plan of pressing chooses one way for all of these seams of a way, and pages tell that one.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Iterable

    from seamproof.cutting.ways import Way
    from seamproof.sequence import Construction

Tied: TypeAlias = "tuple[tuple[str, Literal['first', 'second']], ...]"
"""Joins, each with the side of it that corresponds to that of the others."""


def pressed_alike(construction: Construction, ways: Iterable[Way]) -> tuple[Tied, ...]:
    """For each way that presses seams before it cuts, in the order of the ways, these seams; a way alone is left out.

    The side named is, of a quarter-square unit, that of the fabric that lies opposite itself; of half and quarters,
    that of the first quarter; of geese, that of the goose.
    """
    groups = (alike_of(construction, way) for way in dict.fromkeys(ways))
    return tuple(group for group in groups if len(group) > 1)


def alike_of(construction: Construction, way: Way) -> Tied:
    """The seams that a way presses before it cuts, all of which lie alike; none for a way that has none."""
    if way.kind not in {"quarter-square", "half and quarters", "geese"}:
        return ()
    one_side = set(way.cuts[1 if way.kind == "half and quarters" else 0].patches)
    joins = {join.label: join for join in construction.joins}
    found: list[tuple[str, Literal["first", "second"]]] = []
    for label in way.labels:
        whole = joins[label]
        seams = [joins[part] for part in (whole.first, whole.second) if part in joins]
        if way.kind == "geese":
            seams.append(whole)
        for join in seams:
            is_first = bool(one_side & set(construction.patches_of(join.first)))
            found.append((join.label, "first" if is_first else "second"))
    return tuple(found)


def pressed_before(construction: Construction, ways: Iterable[Way]) -> frozenset[str]:
    """The joins that are pressed before it is known of which block they will be: in every block they lie alike."""
    found: set[str] = set()
    for way in dict.fromkeys(ways):
        found |= {label for label, _ in alike_of(construction, way)}
        if way.kind == "strip set":
            within = [set(construction.patches_of(label)) for label in way.labels]
            found |= {
                join.label
                for join in construction.joins
                if any(set(construction.patches_of(join.label)) <= patches for patches in within)
            }
    return frozenset(found)

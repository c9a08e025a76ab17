"""A block and its patches."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Final

from seamproof.errors import BlockError, GeometryError
from seamproof.geometry import Outline, Transform
from seamproof.geometry.points import bounds
from seamproof.given import of_kind, row_of, shown

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from seamproof.geometry import Point

_ID: Final = re.compile(r"[0-9]+[a-z]?", re.ASCII)


@dataclass(frozen=True)
class Patch:
    """One finished area of one fabric.

    Attributes:
        id: Digits, then at most one small letter, such as "7" or "7b"; capital letters are kept for foundations.
        outline: Its finished outline [in], without seam allowance.
        role: What it is in the design, such as "centre" or "dark log 3".
    """

    id: str
    outline: Outline
    role: str = "patch"

    def __post_init__(self) -> None:
        if not isinstance(self.id, str) or not _ID.fullmatch(self.id):
            raise BlockError(
                f"patch id {shown(self.id)}: write digits, then at most one small letter, such as 7 or 7b",
                patches=(str(self.id),),
            )
        of_kind(self.outline, Outline, f"outline of patch {self.id}", "make one of points with Outline.of")
        of_kind(self.role, str, f"role of patch {self.id}", "name it, such as “centre”")


@dataclass(frozen=True)
class Block:
    """Patches that tile an outline exactly, as seen from the face, y up [in].

    Making a Block looks at its ids only; `check` proves the rest.

    Attributes:
        title: What it is called.
        patches: One patch or more, each id once.
        outline: What they must tile; None: whatever they cover.

    Raises:
        BlockError: no patch, or an id given twice.
        ArgumentError: something that is no Patch, a title that is no text, or an outline that is none.
    """

    title: str
    patches: tuple[Patch, ...]
    outline: Outline | None = None

    def __post_init__(self) -> None:
        of_kind(self.title, str, "title", "give the block a name")
        patches = row_of(self.patches, Patch, "patches", "give Patches, or polygons to Block.from_polygons")
        object.__setattr__(self, "patches", patches)
        if self.outline is not None:
            of_kind(self.outline, Outline, "outline", "make one of points with Outline.of, or leave it out")
        if not self.patches:
            raise BlockError(f"block {self.title!r} has no patches: give at least one")
        seen: set[str] = set()
        for patch in self.patches:
            if patch.id in seen:
                raise BlockError(f"patch id {patch.id!r} is given twice: each once", patches=(patch.id,))
            seen.add(patch.id)

    @classmethod
    def from_polygons(
        cls,
        polygons: Iterable[Iterable[Point]],
        roles: Sequence[str] | None = None,
        title: str = "untitled block",
        outline: Iterable[Point] | Outline | None = None,
    ) -> Block:
        """A block of straight-edged patches, with ids "1" … "n" in the order given.

        Args:
            polygons: For each patch its (x, y) corners [in], in either direction.
            roles: One role for each patch; without them, every patch is a "patch".
            title: What it is called.
            outline: What the patches must tile; None: whatever they cover.

        Raises:
            GeometryError: a polygon of fewer than three points, or with a coordinate that is no finite number.
            BlockError: no polygons, or not one role each.
            ArgumentError: a role or title that is no text.
        """
        try:
            rings = list(polygons)
        except TypeError:
            raise GeometryError(f"polygons: {polygons!r:.60} is no list of polygons") from None
        outlines = [Outline.of(polygon) for polygon in rings]
        names = row_of(roles, str, "roles", "name one for each patch") if roles is not None else ("patch",) * len(rings)
        if len(names) != len(outlines):
            raise BlockError(f"{len(outlines)} patches and {len(names)} roles: give one role for each patch")
        patches = tuple(
            Patch(str(number), ring, role) for number, (ring, role) in enumerate(zip(outlines, names, strict=True), 1)
        )
        border = outline if outline is None or isinstance(outline, Outline) else Outline.of(outline)
        return cls(title, patches, border)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """The least box round it, as (left, bottom, right, top) [in]."""
        return bounds(point for patch in self.patches for point in patch.outline.polygon)

    @property
    def size(self) -> tuple[float, float]:
        """Its finished width and height [in]."""
        x0, y0, x1, y1 = self.bounds
        return (x1 - x0, y1 - y0)

    @property
    def ids(self) -> tuple[str, ...]:
        """The patch ids, in order."""
        return tuple(patch.id for patch in self.patches)

    @property
    def roles(self) -> tuple[str, ...]:
        """Every role once, in the order of the patches."""
        return tuple(dict.fromkeys(patch.role for patch in self.patches))

    @cached_property
    def _by_id(self) -> dict[str, Patch]:
        return {patch.id: patch for patch in self.patches}

    def patch(self, patch_id: str) -> Patch:
        """The patch of this id. Raises BlockError where there is none."""
        try:
            return self._by_id[patch_id]
        except (KeyError, TypeError):
            raise BlockError(f"block {self.title!r} has no patch {patch_id!r}", patches=(str(patch_id),)) from None

    def transformed(self, transform: Transform) -> Block:
        """The block after a turn, mirror, scale or shift, ids and roles kept."""
        of_kind(transform, Transform, "transform", "make one with Transform.turn, mirror, scale or shift")
        return replace(
            self,
            patches=tuple(replace(patch, outline=patch.outline.transformed(transform)) for patch in self.patches),
            outline=self.outline.transformed(transform) if self.outline else None,
        )

    def check(self) -> None:
        """Prove that the patches tile the outline: no gap, no overlap, none degenerate.

        Raises:
            BlockError: they do not; the message names the patches and the place.
        """
        from seamproof.block.checking import check_tiling

        check_tiling(self)

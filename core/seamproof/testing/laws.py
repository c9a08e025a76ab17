"""The laws of families and blocks, one function each; each raises AssertionError where its law is broken."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from seamproof.geometry import Transform
from seamproof.geometry.points import distance
from seamproof.plugin.widths import sharpest_of, width_of
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.plugin import Family, Parameters
    from seamproof.sequence import Construction


def tiles_its_block(block: Block, size: float) -> None:
    """The patches tile the outline, which stands at (0, 0) and is as large as asked [in]."""
    block.check()
    assert block.outline is not None, f"{block.title}: give the block its outline"
    left, bottom, right, top = block.outline.bounds
    assert max(abs(left), abs(bottom)) <= SAME_POINT, f"{block.title}: its corner is at ({left}, {bottom}), not (0, 0)"
    assert abs(max(right, top) - size) <= SAME_POINT, f"{block.title}: {max(right, top)} in, and {size} in was asked"


def is_the_same_every_time(family: Family[Any], parameters: Parameters, size: float) -> None:
    """The same input gives the same bytes."""
    once, again = (repr(family.draft(parameters, size)).encode() for _ in range(2))
    assert once == again, f"{family.slug}: two drafts of the same parameters differ"


def scales_with_its_size(family: Family[Any], parameters: Parameters, size: float) -> None:
    """A block of twice the size is the block, twice as large."""
    larger = family.draft(parameters, 2 * size)
    assert_same_geometry(family.draft(parameters, size).transformed(Transform.scale(2)), larger)


def holds_the_roles_it_declares(family: Family[Any], block: Block) -> None:
    """Every role of the block is among the family's, where "#" stands for a number."""
    known = [role_pattern(role) for role in family.roles]
    strange = [role for role in block.roles if not any(pattern.fullmatch(role) for pattern in known)]
    assert not strange, f"{family.slug}: roles {strange} are not declared; declared are {list(family.roles)}"


def role_pattern(role: str) -> re.Pattern[str]:
    """A declared role as a pattern, "#" standing for a number from 1."""
    return re.compile(re.escape(role).replace(re.escape("#"), "[1-9][0-9]*"))


def holds_no_patch_narrower_than_declared(family: Family[Any], block: Block) -> None:
    """No patch is narrower than the family's declared share of the block's size."""
    assert family.smallest > 0, f"{family.slug}: declare smallest, the least width of a patch over the block's size"
    least = family.smallest * max(block.size) - SAME_POINT
    narrow = {patch.id: width for patch in block.patches if (width := width_of(patch.outline)) < least}
    assert not narrow, f"{family.slug}: narrower than the declared {family.smallest} of {max(block.size)} in: {narrow}"


def holds_no_corner_sharper_than_declared(family: Family[Any], block: Block) -> None:
    """No corner of a patch is sharper than the family declares."""
    assert family.sharpest > 0, f"{family.slug}: declare sharpest, the sharpest corner of a patch in degrees"
    sharp = {p.id: angle for p in block.patches if (angle := sharpest_of(p.outline)) < family.sharpest}
    assert not sharp, f"{family.slug}: sharper than the declared {family.sharpest}°: {sharp}"


def is_sewable(block: Block) -> Construction:
    """A construction exists and the referee accepts it."""
    from seamproof.planning import plan
    from seamproof.referee import replay

    construction: Construction = plan(block)
    replay(block, construction)
    return construction


def keeps_its_construction_when_moved(block: Block, construction: Construction, move: Transform) -> None:
    """A turn, a mirror or another size changes nothing of how a block is sewn but where."""
    from seamproof.planning import plan

    moved = plan(block.transformed(move))
    before, after = _facts(construction), _facts(moved)
    if construction.optimal and moved.optimal:
        before["foundations"], after["foundations"] = len(construction.foundations), len(moved.foundations)
    assert before == after, f"{block.title}: sewn with {before}, and when moved with {after}"


def names_the_parameter_it_refuses(family: Family[Any], error: ValueError) -> None:
    """A refusal begins with the name of a parameter and a colon."""
    named = str(error).split(":")[0]
    assert named in family.parameters.model_fields, f"{family.slug}: a refusal must name its parameter: {error}"


def assert_same_geometry(one: Block, other: Block, tolerance: float = SAME_POINT) -> None:
    """The blocks have the same patches, with the same ids and roles, each corner within the tolerance [in]."""
    assert [(p.id, p.role) for p in one.patches] == [(p.id, p.role) for p in other.patches]
    for first, second in zip(one.patches, other.patches, strict=True):
        a, b = first.outline.edges, second.outline.edges
        assert len(a) == len(b), f"patch {first.id}: {len(a)} edges and {len(b)}"
        start = min(range(len(b)), key=lambda i: distance(b[i].start, a[0].start))
        for e, f in zip(a, b[start:] + b[:start], strict=True):
            apart = distance(e.start, f.start)
            assert apart <= tolerance, f"patch {first.id}: corners {e.start} and {f.start} are {apart} in apart"
            bow = abs(e.bulge - f.bulge) * e.chord / 2
            assert bow <= tolerance, f"patch {first.id}: the edges from {e.start} bow differently by {bow} in"


def _facts(construction: Construction) -> dict[str, object]:
    return {
        "technique": construction.technique,
        "pivots": construction.pivots,
        "partial seams": construction.partial_seams,
    }

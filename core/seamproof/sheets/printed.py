"""Which templates a handout prints, and how often each is needed."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from seamproof.cutting.corners import common_cuts, cut_line, matched_corners
from seamproof.cutting.twins import laid_on
from seamproof.geometry import Transform
from seamproof.sheets.leaves import units_of
from seamproof.tolerance import area_slack
from seamproof.units import round_up

if TYPE_CHECKING:
    from seamproof.cutting import CutPiece, Template
    from seamproof.pattern import Pattern

_PLAIN: Final = frozenset({"square", "rectangle"})
_PLAIN_TRIANGLES: Final = frozenset({"half-square triangle", "quarter-square triangle"})
OVERSIZE: Final = 1 / 32
"""[in] A square or rectangle that a rule cuts larger than this is trimmed by its template: a rule's finest mark."""


def printed_templates(pattern: Pattern) -> tuple[Template, ...]:
    """The templates that a handout prints: all but those of loose patches that a rule cuts.

    Squares and rectangles whose sizes a rule shows need none; nor do halves and quarters of squares, unless a seam of
    the block stops at a dot; nor what is made several at a time. Papers to sew over by hand are printed for every
    patch. Loose patches of one shape and role share a template, which names no match points then.
    """
    construction = pattern.construction
    if construction.method == "hand":
        return _shared(pattern, [replace(template, ticks=()) for template in pattern.templates])
    stops = construction.pivots or construction.partial_seams
    plain = _PLAIN if stops else _PLAIN | _PLAIN_TRIANGLES
    by_rule = {piece.patch for piece in pattern.cut if piece.shape in plain and not is_trimmed(pattern, piece)}
    if not stops:
        by_rule |= _made(pattern)
    return _shared(pattern, [template for template in pattern.templates if template.label not in by_rule])


def is_trimmed(pattern: Pattern, piece: CutPiece) -> bool:
    """Whether a square or rectangle is on no mark of the rule, so that it is cut larger and trimmed by its template."""
    if piece.shape not in _PLAIN or piece.patch in _made(pattern):
        return False
    step = pattern.recipe.make.measure.step
    return any(round_up(size, step) - size > OVERSIZE for size in piece.sizes)


def _made(pattern: Pattern) -> set[str]:
    """The patches that come of a way of making units, without a plain piece."""
    ways = pattern.piecing.ways if pattern.piecing else ()
    return {patch for way in ways for cut in way.cuts for patch in cut.patches}


def times_needed(pattern: Pattern, template: Template) -> int:
    """How often a template is printed: papers for each patch of each block, other loose patches' once for all."""
    if template.label in pattern.construction.loose and pattern.construction.method != "hand":
        return 1
    return len(template.stands_for) * pattern.recipe.make.copies


def _shared(pattern: Pattern, templates: list[Template]) -> tuple[Template, ...]:
    """One template for all loose patches of one shape and role; each by itself where seams stop at dots."""
    pivots = [pivot for join in pattern.construction.joins for pivot in join.pivots]
    if pivots and pattern.construction.method != "hand":
        return tuple(templates)
    units = units_of(pattern)
    groups: list[tuple[Template, list[tuple[str, Transform]]]] = []
    for template in templates:
        for model, rows in groups:
            is_same = not template.lines and _is_same(pattern, model, template)
            move = laid_on(units, template.label, model.label) if is_same else None
            if move is not None:
                rows.append((template.label, move))
                break
        else:
            groups.append((template, [(template.label, Transform())]))
    return tuple(_for_all(pattern, model, rows) for model, rows in groups)


def _for_all(pattern: Pattern, model: Template, rows: list[tuple[str, Transform]]) -> Template:
    """A template that fits all of some patches: its corners are cut no more than any of them needs them."""
    if len(rows) == 1:
        return model
    allowance = pattern.recipe.make.allowance
    corners = matched_corners(units_of(pattern), allowance)
    cuts = common_cuts([[cut.moved(move) for cut in corners.get(label, ())] for label, move in rows])
    return replace(
        model,
        cut=cut_line(model.finished, cuts, allowance),
        ticks=tuple(replace(tick, letter="") for tick in model.ticks),
        stands_for=tuple(label for label, _ in rows),
    )


def _is_same(pattern: Pattern, other: Template, template: Template) -> bool:
    """Whether two templates may be of one shape: of loose patches of one role, of one area."""
    if other.lines or len(other.finished.edges) != len(template.finished.edges):
        return False
    roles = {pattern.block.patch(label).role for label in (other.label, template.label)}
    slack = area_slack(template.finished.perimeter)
    return len(roles) == 1 and abs(other.finished.area - template.finished.area) <= slack

"""Which templates a handout prints, and how often each is needed."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from seamproof.cutting.twins import laid_on
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
    return _shared(pattern, [template for template in pattern.templates if template.label not in by_rule])


def is_trimmed(pattern: Pattern, piece: CutPiece) -> bool:
    """Whether a square or rectangle is on no mark of the rule, so that it is cut larger and trimmed by its template."""
    ways = pattern.piecing.ways if pattern.piecing else ()
    made = {patch for way in ways for cut in way.cuts for patch in cut.patches}
    if piece.shape not in _PLAIN or piece.patch in made:
        return False
    step = pattern.recipe.make.measure.step
    return any(round_up(size, step) - size > OVERSIZE for size in piece.sizes)


def times_needed(pattern: Pattern, template: Template) -> int:
    """How often a template is printed: papers for each patch of each block, other loose patches' once for all."""
    if template.label in pattern.construction.loose and pattern.construction.method != "hand":
        return 1
    return len(template.stands_for) * pattern.recipe.make.copies


def _shared(pattern: Pattern, templates: list[Template]) -> tuple[Template, ...]:
    """One template for all loose patches of one shape and role, of which none stops a seam."""
    units = units_of(pattern)
    pivots = [pivot for join in pattern.construction.joins for pivot in join.pivots]
    is_free = pattern.construction.method == "hand" or not pivots
    kept: list[Template] = []
    for template in templates:
        model = None
        if is_free and not template.lines:
            model = next((n for n, other in enumerate(kept) if _is_same(pattern, other, template)), None)
        if model is not None and laid_on(units, template.label, kept[model].label) is not None:
            labels = (*kept[model].stands_for, template.label)
            ticks = tuple(replace(tick, letter="") for tick in kept[model].ticks)
            kept[model] = replace(kept[model], stands_for=labels, ticks=ticks)
        else:
            kept.append(template)
    return tuple(kept)


def _is_same(pattern: Pattern, other: Template, template: Template) -> bool:
    """Whether two templates may be of one shape: of loose patches of one role, of one area."""
    if other.lines or len(other.cut.edges) != len(template.cut.edges):
        return False
    roles = {pattern.block.patch(label).role for label in (other.label, template.label)}
    return len(roles) == 1 and abs(other.cut.area - template.cut.area) <= area_slack(template.cut.perimeter)

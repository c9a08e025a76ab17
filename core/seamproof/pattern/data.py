"""Everything that was worked out, as plain data for `pattern.json`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from collections.abc import Iterable

    from seamproof.block import Block
    from seamproof.cloth import ClothPlan
    from seamproof.cutting import CutPiece, RoughPiece, Template
    from seamproof.cutting.piecing import Piecing
    from seamproof.geometry import Edge, Outline
    from seamproof.pattern.pattern import Pattern
    from seamproof.planning.forecast import Forecast
    from seamproof.planning.pressing_rows import RowsAdvice
    from seamproof.proof import Claim
    from seamproof.seams import SeamMap
    from seamproof.sequence import Construction, Join, Step
    from seamproof.sequence.pressing import PressingPlan

_DIGITS: Final = 4
"""A ten-thousandth of an inch: what two points may differ by and still be one."""


def pattern_data(pattern: Pattern) -> dict[str, Any]:
    """The whole pattern in dicts, lists, texts and numbers; sizes in inches; the same for the same recipe."""
    recipe = pattern.recipe
    return {
        "title": recipe.title,
        "family": pattern.family.slug,
        "finished": rounded(recipe.finished),
        "parameters": rounded(recipe.parameters.model_dump(mode="json")),
        "carry": [rounded(carry.model_dump(mode="json")) for carry in recipe.carry],
        "make": rounded(recipe.make.model_dump(mode="json")),
        "pattern": recipe.pattern.model_dump(mode="json"),
        "fabrics": [_fields(line, "key letter name colour hatch roles") for line in pattern.legend],
        "block": _block(pattern),
        "seam_map": _seams(pattern.seam_map),
        "construction": _construction(pattern.construction),
        "pressing": _pressing(pattern.pressing),
        "layers": [_fields(thickness, "place layers patch") for thickness in pattern.layers],
        "level": {
            "name": pattern.level.name,
            "figures": [_fields(figure, "name value unit limits falls level") for figure in pattern.level.figures],
        },
        "forecast": _forecast(pattern.forecast),
        "forecast_pieced": None if pattern.forecast_pieced is None else _forecast(pattern.forecast_pieced),
        "rows": _rows(pattern.rows),
        "rescue": [_fields(rescue, "patch slipped forgotten") for rescue in pattern.rescue],
        "rough_pieces": [_rough(piece) for piece in pattern.rough],
        "cut_pieces": [_cut(piece) for piece in pattern.cut],
        "templates": [_template(template) for template in pattern.templates],
        "piecing": _piecing(pattern.piecing),
        "cloth": _cloth(pattern.cloth),
        "claims": [claim_data(claim) for claim in pattern.claims],
    }


def claim_data(claim: Claim) -> dict[str, Any]:
    """One claim as plain data."""
    return _fields(claim, "claim value bound unit proof ok")


def rounded(value: Any) -> Any:
    """Plain data with every number rounded, −0 as 0, tuples as lists.

    >>> rounded({"a": (1 / 3, -0.0, "x", True)})
    {'a': [0.3333, 0.0, 'x', True]}
    """
    if isinstance(value, float):
        return round(value, _DIGITS) + 0.0
    if isinstance(value, dict):
        return {key: rounded(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [rounded(item) for item in value]
    return value


def _fields(thing: object, names: str) -> dict[str, Any]:
    return {name: rounded(getattr(thing, name)) for name in names.split()}


def _outline(outline: Outline | None) -> list[Any] | None:
    """Where each edge starts, with its bulge where it is an arc: [x, y] or [x, y, bulge]."""
    if outline is None:
        return None
    return [rounded((*edge.start, edge.bulge) if edge.is_arc else edge.start) for edge in outline.edges]


def _edges(edges: Iterable[Edge]) -> list[Any]:
    return [rounded({"from": edge.start, "to": edge.end, "bulge": edge.bulge}) for edge in edges]


def _block(pattern: Pattern) -> dict[str, Any]:
    block: Block = pattern.block
    return {
        "size": rounded(block.size),
        "outline": _outline(block.outline),
        "patches": [
            {
                "id": patch.id,
                "name": pattern.names[patch.id],
                "role": patch.role,
                "fabric": pattern.fabric(patch.id).key,
                "area": rounded(patch.outline.area),
                "outline": _outline(patch.outline),
            }
            for patch in block.patches
        ],
    }


def _seams(seam_map: SeamMap) -> dict[str, Any]:
    lines = [{**_edges([line.edge])[0], "left": list(line.left), "right": list(line.right)} for line in seam_map.lines]
    return {"lines": lines, "junctions": [_fields(junction, "place kind patches") for junction in seam_map.junctions]}


def _construction(construction: Construction) -> dict[str, Any]:
    foundations = [
        _fields(foundation, "label order groups twin_of") | {"precedes": sorted(map(list, foundation.precedes))}
        for foundation in construction.foundations
    ]
    return {
        "method": construction.method,
        "technique": construction.technique,
        "foundations": foundations,
        "loose": list(construction.loose),
        "joins": [_join(join) for join in construction.joins],
        "steps": [_step(step) for step in construction.steps],
        "pivots": construction.pivots,
        "partial_seams": construction.partial_seams,
        "bounds": _fields(construction.bounds, "foundations pivots partial_seams"),
        "optimal": construction.optimal,
    }


def _join(join: Join) -> dict[str, Any]:
    return _fields(join, "label first second kind pivots length") | {
        "seam": _edges(join.seam),
        "passes": [_edges(stretch) for stretch in join.passes],
    }


def _step(step: Step) -> dict[str, Any]:
    return _fields(step, "kind foundation patch unit join") | {"seam": _edges(step.seam)}


def _pressing(pressing: PressingPlan) -> dict[str, Any]:
    return {
        "seams": [
            _fields(seam, "toward join patch unit dark") | {"seam": _edges(seam.seam)} for seam in pressing.seams
        ],
        "meetings": [_fields(meeting, "place join nests spins") for meeting in pressing.meetings],
        "open": pressing.open_seams,
        "missed": pressing.missed,
        "proven": pressing.proven,
    }


def _forecast(cast: Forecast) -> dict[str, Any]:
    points = [_fields(point, "place join median worst") for point in cast.points]
    return _fields(cast, "trials width height setting") | {"points": points}


def _rows(advice: RowsAdvice | None) -> dict[str, Any] | None:
    if advice is None:
        return None
    ways = [_fields(way, "way meetings nests corners corners_nest spins joins") for way in advice.ways]
    return _fields(advice, "columns rows") | {"ways": ways, "best": advice.best.way}


def _rough(piece: RoughPiece) -> dict[str, Any]:
    return _fields(piece, "patch foundation shape width height line_edge placed seam ticks slack trim bias")


def _cut(piece: CutPiece) -> dict[str, Any]:
    outlines = {"outline": _outline(piece.outline), "cut": _outline(piece.cut)}
    return _fields(piece, "patch shape sizes bias") | outlines


def _template(template: Template) -> dict[str, Any]:
    return {
        "label": template.label,
        "stands_for": list(template.stands_for),
        "finished": _outline(template.finished),
        "cut": _outline(template.cut),
        "patches": [
            {"patch": patch, "number": number, "place": rounded(place)} for patch, number, place, _ in template.patches
        ],
        "lines": [_fields(line, "patch number seam printed") for line in template.lines],
        "units": [_fields(unit, "label number place") for unit in template.laid],
        "ticks": [_fields(tick, "letter place join") for tick in template.ticks],
    }


def _piecing(piecing: Piecing | None) -> list[dict[str, Any]] | None:
    if piecing is None:
        return None
    return [
        {
            "units": [_fields(kind, "name labels") for kind in batch.kinds],
            "way": batch.way
            and _fields(batch.way, "kind times makes needed length size spare")
            | {"cuts": [_fields(cut, "kind fabric width height cut gives patches") for cut in batch.way.cuts]},
        }
        for batch in piecing.batches
    ]


def _cloth(cloth: ClothPlan) -> dict[str, Any]:
    return {
        "usable": rounded(cloth.usable),
        "copies": cloth.copies,
        "needs": [
            _fields(need, "fabric length buy")
            | {
                "groups": [_fields(group, "patches shape width height cut pieces needed") for group in need.groups],
                "strips": [_fields(strip, "count width length group each") for strip in need.strips],
            }
            for need in cloth.needs
        ],
    }

"""A small pattern worked out by hand: five patches in a square and a narrow one on foundation A, one joined plain."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from seamproof.block import Block
from seamproof.cloth import ClothPlan
from seamproof.cutting import CutPiece, MatchTick, RoughPiece, SewingLine, Template
from seamproof.geometry import Edge
from seamproof.geometry.offsets import offset
from seamproof.geometry.outlines import Outline
from seamproof.geometry.points import height_over
from seamproof.pattern import FabricLegend, Pattern
from seamproof.planning import plan_pressing
from seamproof.plugin import Family, Parameters
from seamproof.recipe import Recipe
from seamproof.seams import SeamMap
from seamproof.sequence import Construction, Foundation, Join, Step

if TYPE_CHECKING:
    from seamproof.geometry import Point

ALLOWANCE = 0.25
W, N, E, S = (0.0, 1.9), (2.0, 3.8), (4.0, 1.9), (2.0, 0.0)
POLYGONS = (
    (W, S, E, N),
    ((0, 0), S, W),
    (S, (4, 0), E),
    (E, (4, 3.8), N),
    (N, (0, 3.8), W),
    ((0, 3.8), (4, 3.8), (4, 4), (0, 4)),
    ((4, 0), (5, 0), (5, 4), (4, 4)),
)
SEAMS = {"2": (S, W), "3": (E, S), "4": (N, E), "5": (W, N), "6": ((0.0, 3.8), (4.0, 3.8))}
ROLES = ("centre", "corner", "corner", "corner", "far corner", "strip", "side")
FABRICS = {"amber": "#d99a2b", "ink": "#27324a", "linen": "#ece4d3", "moss": "#6f7d4c"}
USE = {"centre": "amber", "corner": "linen", "far corner": "moss", "strip": "ink", "side": "linen"}


def run_on(p: Point, q: Point, by: float) -> tuple[Point, Point]:
    u = ((q[0] - p[0]) / math.dist(p, q), (q[1] - p[1]) / math.dist(p, q))
    return (p[0] - by * u[0], p[1] - by * u[1]), (q[0] + by * u[0], q[1] + by * u[1])


def rough_piece(block: Block, patch_id: str) -> RoughPiece:
    ring = block.patch(patch_id).outline.polygon
    if patch_id not in SEAMS:
        xs, ys = zip(*ring, strict=True)
        x0, x1, y0, y1 = min(xs) - 0.4, max(xs) + 0.4, min(ys) - 0.4, max(ys) + 0.4
        corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
        return RoughPiece(patch_id, "A", "rectangle", x1 - x0, y1 - y0, "any edge", corners, None, None, 0.1, 0.0)
    p, q = SEAMS[patch_id]
    a, b = run_on(p, q, 0.6)
    nx, ny = -(q[1] - p[1]) / math.dist(p, q), (q[0] - p[0]) / math.dist(p, q)
    high = max(height_over(r, p, q) for r in ring) + 0.6
    corners = (
        (a[0] - ALLOWANCE * nx, a[1] - ALLOWANCE * ny),
        (b[0] - ALLOWANCE * nx, b[1] - ALLOWANCE * ny),
        (b[0] + high * nx, b[1] + high * ny),
        (a[0] + high * nx, a[1] + high * ny),
    )
    size = (math.dist(a, b), high + ALLOWANCE)
    return RoughPiece(patch_id, "A", "rectangle", *size, "long edge", corners, (p, q), None, 0.1, ALLOWANCE)


def make_pattern() -> Pattern:
    block = Block.from_polygons(POLYGONS, ROLES, "Lamp in the window", Outline.rectangle(5, 4))
    order = ("1", "2", "3", "4", "5", "6")
    seam = Edge((4, 4), (4, 0))
    join = Join("J1", "7", "A", (seam,))
    steps = (
        Step("first", foundation="A", patch="1"),
        *(Step("add", (Edge(*SEAMS[k]),), "A", k) for k in order[1:]),
        Step("join", (seam,), join="J1"),
    )
    groups = (("1",), ("2", "3", "4", "5"), ("6",))
    construction = Construction("foundation", (Foundation("A", order, groups),), ("7",), (join,), steps, optimal=True)
    ticks = (MatchTick("a", (4, 4), "J1"), MatchTick("b", (4, 1.9), "J1"), MatchTick("c", (4, 0), "J1"))
    whole, side = Outline.rectangle(4, 4), Outline.of(POLYGONS[6])
    lines = tuple(
        SewingLine(k, number, SEAMS[k], run_on(*SEAMS[k], ALLOWANCE * (1 if k == "6" else math.sqrt(2))))
        for number, k in enumerate(order[1:], 2)
    )
    centres = {k: block.patch(k).outline.centroid for k in (*order, "7")}
    rooms = {"1": 1.3, "6": 0.1}
    templates = (
        Template("A", whole, offset(whole, ALLOWANCE),
                 tuple((k, n, centres[k], rooms.get(k, 0.5)) for n, k in enumerate(order, 1)), lines, ticks, ("A",)),
        Template("7", side, offset(side, ALLOWANCE), (("7", 1, centres["7"], 0.5),), (), ticks, ("7",)),
    )  # fmt: skip
    recipe = Recipe.model_validate(
        {
            "title": "Lamp in the window",
            "family": "by-hand",
            "finished": "5 in",
            "fabrics": {key: {"colour": colour} for key, colour in FABRICS.items()},
            "roles": USE,
        }
    )
    legend = tuple(
        FabricLegend(key, "abcd"[i], key, FABRICS[key], i, tuple(role for role, used in USE.items() if used == key))
        for i, key in enumerate(("amber", "linen", "moss", "ink"))
    )
    return Pattern(
        recipe=recipe,
        family=Family("by-hand", "By hand", Parameters, lambda _given, _size: block, ("common practice, no source",)),
        block=block,
        seam_map=SeamMap((), ()),
        construction=construction,
        pressing=plan_pressing(block, construction),
        legend=legend,
        rough=tuple(rough_piece(block, k) for k in order),
        cut=(CutPiece("7", side, offset(side, ALLOWANCE), "rectangle", (1.5, 4.5)),),
        templates=templates,
        cloth=ClothPlan(40.0, 1, ()),
        claims=(),
    )  # fmt: skip


@pytest.fixture(scope="session")
def lamp() -> Pattern:
    """The pattern of this folder."""
    return make_pattern()

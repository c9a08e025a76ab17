"""Feathered star: a sawtooth star whose points are edged with rows of small triangles."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters, rectangle, turned

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.geometry import Point

_MIDDLE: Final = (2.0, 2.0)


class FeatheredParameters(Parameters):
    """What may be chosen of a feathered star."""

    feathers: int = Field(
        default=2, ge=1, le=4, description="Feathers in each row; more than 4 are too small to sew in a block."
    )


def _row(frame: tuple[Point, Point, Point], first: float, width: float, count: int) -> list[tuple[str, list[Point]]]:
    """Squares of this width from `first` on along one axis of a frame (corner, axis, across), each halved."""
    corner, axis, across = frame

    def at(s: float, t: float) -> Point:
        return (corner[0] + axis[0] * s + across[0] * t, corner[1] + axis[1] * s + across[1] * t)

    shapes: list[tuple[str, list[Point]]] = []
    for n in range(count):
        s = first + n * width
        shapes.append(("feather", [at(s, 0), at(s + width, 0), at(s, width)]))
        shapes.append(("background", [at(s + width, 0), at(s + width, width), at(s, width)]))
    return shapes


def _between_points(feathers: int) -> list[tuple[str, list[Point]]]:
    """What lies between the two points of the top side: a triangle (1, 4), (2, 3), (3, 4), feathered on its legs."""
    step = 1.0 / (feathers + 2)
    corner, right, left = (2.0, 3.0), (1.0, 1.0), (-1.0, 1.0)

    def at(s: float, t: float) -> Point:
        return (corner[0] + (s - t), corner[1] + (s + t))

    shapes: list[tuple[str, list[Point]]] = [("background", [at(step, step), at(1 - step, step), at(step, 1 - step)])]
    shapes += _row((corner, left, right), step, step, feathers)
    shapes.append(("feather", [at(0, 1 - step), at(step, 1 - step), at(0, 1)]))
    shapes.append(("tip", [at(0, 0), at(step, 0), at(step, step), at(0, step)]))
    shapes += _row((corner, right, left), step, step, feathers)
    shapes.append(("feather", [at(1 - step, 0), at(1, 0), at(1 - step, step)]))
    return shapes


def _corner(feathers: int) -> list[tuple[str, list[Point]]]:
    """The square at (0, 0), its two inner sides feathered, the tip towards the centre."""
    step = 1.0 / (feathers + 1)
    inner = 1 - step
    shapes: list[tuple[str, list[Point]]] = [("corner", rectangle(0.0, 0.0, inner))]
    shapes += _row(((1.0, inner), (0.0, -1.0), (-1.0, 0.0)), 0.0, step, feathers)
    shapes += _row(((inner, 1.0), (-1.0, 0.0), (0.0, -1.0)), 0.0, step, feathers)
    shapes.append(("tip", rectangle(inner, inner, step)))
    return shapes


def draft_feathered(parameters: FeatheredParameters, size: float) -> Block:
    """Draft on a grid of four: the centre, the points, the feathered sides, the feathered corners."""
    draft = Draft.square(4.0)
    draft.add("centre", rectangle(1.0, 1.0, 2.0))
    for quarters in range(4):
        draft.add("point", turned([(1.0, 3.0), (2.0, 3.0), (1.0, 4.0)], quarters, _MIDDLE))
        draft.add("point", turned([(2.0, 3.0), (3.0, 3.0), (3.0, 4.0)], quarters, _MIDDLE))
        for role, shape in _between_points(parameters.feathers):
            draft.add(role, turned(shape, quarters, _MIDDLE))
    for quarters in range(4):
        for role, shape in _corner(parameters.feathers):
            draft.add(role, turned(shape, quarters, _MIDDLE))
    return draft.block("Feathered star", size)


FEATHERED: Final = Family(
    slug="feathered-star",
    title="Feathered star",
    parameters=FeatheredParameters,
    draft=draft_feathered,
    sources=("common practice, no source: here on a grid, so that the feathers of a side and of a corner differ",),
    designs={"feathered star": {}, "finely feathered star": {"feathers": 4}, "lightly feathered star": {"feathers": 1}},
    roles=("centre", "point", "feather", "background", "tip", "corner"),
    smallest=0.035,
    sharpest=44.9,
    about="A sawtooth star edged with small triangles.",
)

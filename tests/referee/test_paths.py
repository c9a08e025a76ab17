"""Laws of the referee's paths: one path, one line, the same places."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from seamproof.geometry import Edge
from seamproof.referee.paths import chained, is_same_path, merged
from seamproof.referee.touching import Touch


def touch(start: int, end: int) -> Touch:
    return Touch(0, 1, Edge((float(start), 0.0), (float(end), 0.0)), start, end)


def line(*xs: float) -> tuple[Edge, ...]:
    return tuple(Edge((a, 0.0), (b, 0.0)) for a, b in pairwise(xs))


def test_touches_are_chained_from_their_one_head() -> None:
    row = [touch(2, 3), touch(1, 2), touch(3, 4)]
    assert chained(row) == (row[1], row[0], row[2])


@pytest.mark.parametrize(
    "pairs",
    [
        [(1, 2), (3, 4)],  # two paths
        [(1, 2), (2, 3), (3, 1)],  # a ring
        [(1, 2), (2, 3), (2, 4)],  # a fork
        [(1, 3), (2, 3), (3, 4)],  # two that meet
        [(1, 2), (3, 4), (4, 3)],  # a path and a ring beside it
    ],
)
def test_what_is_no_one_path_is_not_chained(pairs: list[tuple[int, int]]) -> None:
    assert chained([touch(a, b) for a, b in pairs]) is None


def test_a_path_is_the_same_however_it_is_parted() -> None:
    assert is_same_path(line(0, 1, 3), line(0, 2, 3))
    assert is_same_path(line(0, 3), line(0, 1, 2, 3))


@pytest.mark.parametrize(
    ("path", "other"),
    [
        (line(0, 3), line(0, 2)),  # shorter
        (line(0, 2), line(0, 3)),  # longer
        (line(0, 3), line(1, 3)),  # begun later
        (line(0, 3), ()),
        ((), line(0, 3)),
        (line(0, 2, 1), line(0, 1)),  # turned back
        (line(0, 1), (Edge((0.0, 0.0), (0.0, 1.0)),)),  # another way
        (line(0, 2), (Edge((0.0, 0.0), (2.0, 0.0), 0.3),)),  # an arc over the same ends
    ],
)
def test_paths_along_other_places_are_told_apart(path: tuple[Edge, ...], other: tuple[Edge, ...]) -> None:
    assert not is_same_path(path, other)


def test_a_straight_path_is_one_line_and_a_bent_one_is_none() -> None:
    assert merged(line(0, 1, 3)) == Edge((0.0, 0.0), (3.0, 0.0))
    assert merged((*line(0, 1), Edge((1.0, 0.0), (2.0, 0.1)))) is None


def test_two_arcs_of_one_circle_are_one_arc() -> None:
    bow = math.tan(math.pi / 16)
    half = math.sqrt(0.5)
    whole = merged((Edge((1.0, 0.0), (half, half), bow), Edge((half, half), (0.0, 1.0), bow)))
    assert whole is not None
    assert whole.bulge == pytest.approx(math.tan(math.pi / 8))
    assert merged((Edge((1.0, 0.0), (half, half), bow), Edge((half, half), (0.0, 1.0), -bow))) is None


def test_a_path_that_comes_back_to_its_start_is_no_line() -> None:
    assert merged((Edge((0.0, 0.0), (1.0, 0.0), 1.0), Edge((1.0, 0.0), (0.0, 0.0), 1.0))) is None

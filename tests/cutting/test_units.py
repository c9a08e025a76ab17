"""Stretches of a seam or a ring that are one line or one arc are told as one."""

from __future__ import annotations

import math

import pytest

from seamproof.cutting.units import merged
from seamproof.geometry import Edge

EIGHTH = math.tan(math.pi / 16)
ROUND = [Edge((math.cos(a), math.sin(a)), (math.cos(a + math.pi / 4), math.sin(a + math.pi / 4)), EIGHTH)
         for a in (k * math.pi / 4 for k in range(8))]  # fmt: skip


@pytest.mark.parametrize("count", [2, 3, 4])
def test_a_path_of_arcs_of_one_circle_is_one_arc_though_it_does_not_close(count: int) -> None:
    (arc,) = merged(ROUND[:count])
    assert (arc.start, arc.end) == (ROUND[0].start, ROUND[count - 1].end)
    assert arc.length == pytest.approx(count * math.pi / 4)


def test_a_path_of_lines_that_bends_keeps_its_bend() -> None:
    path = [Edge((0, 0), (1, 0)), Edge((1, 0), (3, 0)), Edge((3, 0), (3, 1))]
    assert merged(path) == [Edge((0, 0), (3, 0)), Edge((3, 0), (3, 1))]


def test_a_ring_is_told_from_a_corner_on() -> None:
    ring = [Edge((1, 0), (2, 0)), Edge((2, 0), (2, 2)), Edge((2, 2), (0, 0)), Edge((0, 0), (1, 0))]
    assert merged(ring) == [Edge((2, 0), (2, 2)), Edge((2, 2), (0, 0)), Edge((0, 0), (2, 0))]

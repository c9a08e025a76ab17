"""Laws of the seam map."""

from __future__ import annotations

import math

import pytest

import seamproof as sp


def rosette() -> list[list[tuple[float, float]]]:
    """A hexagon and its six neighbours."""

    def ring(x: float, y: float) -> list[tuple[float, float]]:
        return [(x + math.cos(math.radians(60 * i)), y + math.sin(math.radians(60 * i))) for i in range(6)]

    around = [(math.sqrt(3) * math.cos(math.radians(30 + 60 * i)), math.sqrt(3) * math.sin(math.radians(30 + 60 * i)))
              for i in range(6)]  # fmt: skip
    return [ring(0, 0), *(ring(x, y) for x, y in around)]


def test_a_pinwheel_of_five_has_four_tees_and_no_wye() -> None:
    # Source: derived: each of the four lines ends on the next.
    pinwheel = [[(0, 0), (2, 0), (2, 1), (0, 1)], [(2, 0), (3, 0), (3, 2), (2, 2)], [(1, 2), (3, 2), (3, 3), (1, 3)],
                [(0, 1), (1, 1), (1, 3), (0, 3)], [(1, 1), (2, 1), (2, 2), (1, 2)]]  # fmt: skip
    seam_map = sp.SeamMap.of(sp.Block.from_polygons(pinwheel))
    assert (len(seam_map.lines), seam_map.count("tee"), seam_map.count("wye")) == (4, 4, 0)
    assert sorted(len(line.left) + len(line.right) for line in seam_map.lines) == [3, 3, 3, 3]


@pytest.mark.parametrize(("n", "m"), [(2, 2), (3, 2), (4, 5)])
def test_a_grid_has_a_crossing_at_every_inner_corner(n: int, m: int) -> None:
    cells = [[(i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1)] for i in range(n) for j in range(m)]
    seam_map = sp.SeamMap.of(sp.Block.from_polygons(cells))
    assert seam_map.count("crossing") == (n - 1) * (m - 1)
    assert seam_map.count("edge") == 2 * (n - 1) + 2 * (m - 1)


def test_every_inner_corner_of_a_hexagon_rosette_is_a_wye() -> None:
    # Source: derived: three hexagons meet at 120° at each corner of the middle one.
    assert sp.SeamMap.of(sp.Block.from_polygons(rosette())).count("wye") == 6


def test_a_corner_within_a_seam_is_a_bend() -> None:
    ell = [(0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2)]
    seam_map = sp.SeamMap.of(sp.Block.from_polygons([ell, [(1, 1), (2, 1), (2, 2), (1, 2)]]))
    assert seam_map.count("bend") == 1
    assert [line.left + line.right for line in seam_map.lines] in ([("1", "2")] * 2, [("2", "1")] * 2)

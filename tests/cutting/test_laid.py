"""What is proven of a finished unit that is laid on a foundation."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given

import seamproof as sp
from seamproof.cutting import cut_pieces, templates
from seamproof.cutting.laid import LaidCloth, RawEdges, laid_cloths
from seamproof.cutting.units import Units
from seamproof.geometry import Outline, Transform
from seamproof.proof.claims_proven import laid_units
from seamproof.testing.strategies import slicing_tilings

SEAM = 0.25


def cloths(block: sp.Block, construction: sp.Construction) -> tuple[LaidCloth, ...]:
    units, plain = Units(block, construction), cut_pieces(block, construction, SEAM)
    return laid_cloths(RawEdges(units, templates(block, construction, SEAM), plain, SEAM))


@pytest.fixture(scope="module")
def cloth() -> LaidCloth:
    """One half of a four-patch of 1 in squares, which is laid on the other half within a round of logs."""
    corners = [(0, 0, 1, 1), (1, 0, 2, 1), (0, 1, 1, 2), (1, 1, 2, 2)]
    logs = [(0, -1, 2, 0), (2, -1, 3, 2), (0, 2, 3, 3), (-1, -1, 0, 3)]
    block = sp.Block.from_polygons([[(a, b), (c, b), (c, d), (a, d)] for a, b, c, d in corners + logs])
    (found,) = cloths(block, sp.plan(block, prepieced=True))
    return found


def test_a_laid_unit_has_its_allowance_all_round(cloth: LaidCloth) -> None:
    # derived: 2 by 1 in and two allowances of 1/4 in, the raw edge one allowance past the line.
    assert cloth.measured == pytest.approx((2.5, 1.5))
    assert sorted(cloth.size) == pytest.approx([1.5, 2.5])
    assert (cloth.beyond, cloth.past_the_line) == pytest.approx((SEAM, SEAM))
    assert cloth.is_right


@pytest.mark.parametrize("wrong", ["trimmed", "pushed over", "short of the line", "other side", "size"])
def test_a_unit_that_lies_wrong_is_found(cloth: LaidCloth, wrong: str) -> None:
    (p, q), (up, down) = cloth.line, (Transform.shift(0, 0.1), Transform.shift(0, -0.1))
    changed = {
        "trimmed": replace(cloth, cut=cloth.finished),
        "pushed over": replace(cloth, line=(up.point(p), up.point(q)), cut=cloth.cut),
        "short of the line": replace(cloth, line=(down.point(p), down.point(q))),
        "other side": replace(cloth, line=(q, p)),
        "size": replace(cloth, size=(2.0, 1.0)),
    }[wrong]
    assert not changed.is_right
    claim = laid_units([cloth, changed])
    assert (claim.value, claim.bound, claim.ok) == (1, 2, False)


def test_a_corner_cut_off_is_no_edge_cut_off(cloth: LaidCloth) -> None:
    x0, y0, x1, y1 = cloth.cut.bounds
    ring = [(x0, y0), (x1, y0), (x1, y1 - SEAM), (x1 - SEAM, y1), (x0, y1)]
    assert replace(cloth, cut=Outline.of(ring)).is_right
    ring = [(x0, y0), (x1, y0), (x1, y1 - SEAM), (x1 - 5 * SEAM, y1), (x0, y1)]
    assert not replace(cloth, cut=Outline.of(ring)).is_right


def test_without_laid_units_the_claim_says_so() -> None:
    claim = laid_units([])
    assert claim.ok
    assert claim.proof == "no finished unit is laid on a foundation"


def test_the_claim_gives_the_unfinished_size(cloth: LaidCloth) -> None:
    claim = laid_units([cloth])
    assert (claim.claim, claim.ok, claim.unit) == ("laid-units", True, "units")
    assert "A 2 1/2 × 1 1/2 in" in claim.proof


@given(slicing_tilings(most=9))
def test_every_unit_that_is_laid_lies_right(block: sp.Block) -> None:
    construction = sp.plan(block, prepieced=True)
    found = cloths(block, construction)
    assert [cloth.label for cloth in found] == list(construction.laid)
    assert all(cloth.is_right for cloth in found)

"""Laws of the rescue page."""

from __future__ import annotations

import seamproof as sp
from seamproof.planning.rescue import plan_rescue


def log_cabin() -> sp.Block:
    """A centre and four logs going round."""
    return sp.Block.from_polygons(
        [[(2, 2), (4, 2), (4, 4), (2, 4)], [(2, 0), (4, 0), (4, 2), (2, 2)], [(4, 0), (6, 0), (6, 4), (4, 4)],
         [(2, 4), (6, 4), (6, 6), (2, 6)], [(0, 0), (2, 0), (2, 6), (0, 6)]]
    )  # fmt: skip


def test_the_last_patch_needs_its_own_seam_alone() -> None:
    block = log_cabin()
    order = sp.plan(block).foundations[0].order
    rescue = {r.patch: r for r in plan_rescue(block, sp.plan(block))}
    assert rescue[order[-1]].slipped == (order[-1],)
    assert rescue[order[-1]].forgotten == ()


def test_an_inner_log_needs_every_seam_over_it_the_last_first() -> None:
    block = log_cabin()
    order = sp.plan(block).foundations[0].order
    rescue = {r.patch: r for r in plan_rescue(block, sp.plan(block))}
    assert rescue[order[1]].slipped == tuple(reversed(order[1:]))
    assert rescue[order[1]].forgotten == tuple(reversed(order[2:]))


def test_what_is_free_of_a_patch_stays() -> None:
    strips = sp.Block.from_polygons([[(i, 0), (i + 1, 0), (i + 1, 4), (i, 4)] for i in range(5)])
    rescue = {r.patch: r for r in plan_rescue(strips, sp.plan(strips))}
    assert len(rescue["5"].slipped) == 1
    assert len(rescue["4"].slipped) == 2

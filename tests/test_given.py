"""Whatever is given to the public face is answered in words, never by a traceback from farther in."""

from __future__ import annotations

import math
from dataclasses import fields, replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import seamproof as sp
from seamproof.cutting import Placement, cut_pieces, rough_pieces, templates, unfinished
from seamproof.given import of_kind
from seamproof.sequence import Bounds

RINGS = [[(0, 0), (1, 0), (1, 2), (0, 2)], [(1, 0), (2, 0), (2, 2), (1, 2)], [(0, 2), (2, 2), (2, 3), (0, 3)]]
change: Any = replace
BLOCK = sp.Block.from_polygons(RINGS)
PLAN = sp.plan(BLOCK)
HARD = sp.plan(
    sp.Block.from_polygons([[(0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4)], [(2, 2), (4, 2), (4, 4), (2, 4)]])
)
PIECES: tuple[Any, ...] = (*rough_pieces(BLOCK, PLAN), *cut_pieces(BLOCK, PLAN))
NO_SIZES: tuple[Any, ...] = ("0.25", "1/4 in", None, 0, -0.25, math.nan, math.inf, -math.inf, True, False, [0.25],
                             10**400, 1j, b"1", BLOCK, Decimal("NaN"))  # fmt: skip
STRANGE: tuple[Any, ...] = (None, 7, 2.5, True, "text", b"bytes", [], {}, (), object(), RINGS, int, np.zeros(3))


def _kind(value: object) -> str:
    return type(value).__name__


ANYTHING = st.sampled_from(STRANGE)


@pytest.mark.parametrize("bad", NO_SIZES, ids=_kind)
def test_an_allowance_that_is_no_size_is_refused_at_every_door(bad: Any) -> None:
    doors: tuple[Any, ...] = (
        lambda: sp.plan(BLOCK, allowance=bad),
        lambda: sp.replay(BLOCK, PLAN, allowance=bad),
        lambda: sp.replay(BLOCK, PLAN, PIECES, bad),
        *(lambda door=door: door(BLOCK, PLAN, bad) for door in (rough_pieces, cut_pieces, templates, unfinished)),
    )
    for door in doors:
        with pytest.raises(sp.LengthError, match=r"such as 0\.25") as caught:
            door()
        assert caught.value.value is bad


@pytest.mark.parametrize("good", [0.25, 1, Fraction(1, 4), np.float32(0.25), np.int64(1), Decimal("0.25")], ids=repr)
def test_any_number_above_zero_is_an_allowance(good: Any) -> None:
    assert sp.plan(BLOCK, allowance=good) == PLAN
    pieces: Any = (*rough_pieces(BLOCK, PLAN, good), *cut_pieces(BLOCK, PLAN, good))
    assert sp.replay(BLOCK, PLAN, pieces, good).covered == 3


@pytest.mark.parametrize("bad", STRANGE, ids=_kind)
def test_what_is_no_block_or_no_construction_is_refused_at_every_door(bad: Any) -> None:
    doors: tuple[Any, ...] = (sp.replay, rough_pieces, cut_pieces, templates, unfinished)
    for door in doors:
        with pytest.raises(sp.ArgumentError, match="is not a Block") as caught:
            door(bad, PLAN)
        assert caught.value.value is bad
        with pytest.raises(sp.ArgumentError, match="is not a Construction"):
            door(BLOCK, bad)
    with pytest.raises(sp.ArgumentError, match=r"Block\.from_polygons"):
        sp.plan(bad)
    with pytest.raises(sp.ArgumentError, match="is not a Block"):
        sp.SeamMap.of(bad)


@pytest.mark.parametrize("bad", STRANGE, ids=_kind)
def test_what_is_no_recipe_is_refused(bad: Any) -> None:
    with pytest.raises(sp.ArgumentError, match="load_recipe"):
        sp.work_out(bad)


@pytest.mark.parametrize("bad", [bad for bad in STRANGE if not isinstance(bad, str)], ids=_kind)
def test_what_is_no_path_is_refused(bad: Any) -> None:
    with pytest.raises(sp.ArgumentError, match="give that of a recipe file"):
        sp.load_recipe(bad)


@pytest.mark.parametrize("bad", ["1", b"1", True, None, [1], 1j, "one", object()], ids=_kind)
def test_a_coordinate_that_is_no_number_is_refused(bad: Any) -> None:
    with pytest.raises(sp.GeometryError, match="no number"):
        sp.Block.from_polygons([[(0, 0), (bad, 0), (1, 1)]])
    with pytest.raises(sp.GeometryError, match="no number"):
        sp.Block.from_polygons(RINGS, outline=[(0, 0), (2, bad), (2, 3), (0, 3)])
    if not isinstance(bad, bool):
        with pytest.raises(sp.GeometryError, match="two numbers each"):
            sp.Edge((0, 0), (bad, 0))
        with pytest.raises(sp.GeometryError, match="bulge as a number"):
            sp.Edge((0, 0), (1, 0), bad)


@pytest.mark.parametrize("bad", [None, 7, "12", (1,), (1, 2, 3)], ids=_kind)
def test_an_end_that_is_no_point_is_refused(bad: Any) -> None:
    with pytest.raises(sp.GeometryError, match="two numbers each"):
        sp.Edge(bad, (1, 0))
    with pytest.raises(sp.GeometryError, match="two numbers each"):
        sp.Outline.of([(0, 0), bad, (1, 1)])


@pytest.mark.parametrize("bad", STRANGE, ids=_kind)
def test_parts_of_a_block_that_are_of_another_kind_are_refused(bad: Any) -> None:
    outline = BLOCK.patches[0].outline
    makers = (
        lambda: sp.Patch("1", bad),
        lambda: sp.Patch("1", outline, bad) if not isinstance(bad, str) else sp.Patch("one", outline),
        lambda: sp.Patch(bad, outline),
        lambda: sp.Block("block", bad),
        lambda: sp.Block("block", (BLOCK.patches[0], bad)),
        lambda: sp.Block(bad if not isinstance(bad, str) else 0, BLOCK.patches),  # type: ignore[arg-type]
        lambda: sp.Block("block", BLOCK.patches, bad if bad is not None else 0),  # type: ignore[arg-type]
        lambda: sp.Block.from_polygons(bad if bad is not RINGS else None),  # type: ignore[arg-type]
        lambda: sp.Block.from_polygons(RINGS, roles=bad if bad is not None else 0),  # type: ignore[arg-type]
        lambda: sp.Outline(bad),
        lambda: BLOCK.patch(bad),
        lambda: BLOCK.transformed(bad),
    )
    for make in makers:
        with pytest.raises(sp.SeamproofError):
            make()


def test_lists_serve_where_tuples_are_meant() -> None:
    patches = [sp.Patch("1", sp.Outline(list(BLOCK.patches[0].outline.edges)))]  # type: ignore[arg-type]
    block = sp.Block("block", patches)  # type: ignore[arg-type]
    assert hash(block) == hash(sp.Block("block", BLOCK.patches[:1]))


@pytest.mark.parametrize("part", ["construction", "foundation", "join", "step", "bounds"])
@given(bad=ANYTHING)
def test_a_field_of_another_kind_is_named(part: str, bad: Any) -> None:
    con = HARD if part == "join" else PLAN
    owners: dict[str, Any] = {"construction": con, "foundation": PLAN.foundations[0], "step": PLAN.steps[0]}
    owner = (owners | {"join": HARD.joins[0], "bounds": PLAN.bounds})[part]
    for field in fields(owner):
        if field.name == "method" or _is_fit(getattr(owner, field.name), bad):
            continue
        if field.name == "passes" and (isinstance(bad, np.ndarray) or not bad):
            continue  # a join without passes is sewn in one
        spoiled = change(owner, **{field.name: bad})
        where = {"foundation": "foundations", "join": "joins", "step": "steps", "bounds": "bounds"}.get(part)
        told = spoiled if where is None else change(con, **{where: spoiled if part == "bounds" else (spoiled,)})
        with pytest.raises(sp.ArgumentError, match=f"{field.name} must be"):
            sp.replay(BLOCK, told)


def _is_fit(found: object, bad: object) -> bool:
    """Whether a value is of a kind the field may have, so that replaying it is for other tests."""
    if found is None or isinstance(found, str):
        return bad is None or isinstance(bad, str)
    return isinstance(bad, type(found)) and not (isinstance(bad, bool) and not isinstance(found, bool))


@pytest.mark.parametrize("bad", [-1, 1.0, True, "0", None], ids=repr)
def test_a_bound_is_a_whole_number_from_zero(bad: Any) -> None:
    with pytest.raises(sp.ArgumentError, match="bounds: pivots must be a whole number from 0"):
        sp.replay(BLOCK, replace(PLAN, bounds=Bounds(pivots=bad)))


@pytest.mark.parametrize("bad", [7, True, "text", object(), [None], ["1"], [BLOCK], {"1": None}], ids=_kind)
def test_pieces_that_are_none_are_refused(bad: Any) -> None:
    with pytest.raises(sp.ArgumentError, match="rough_pieces and cut_pieces"):
        sp.replay(BLOCK, PLAN, bad)


@pytest.mark.parametrize(
    ("field", "bad"),
    [("patch", 1), ("foundation", None), ("width", "3"), ("height", math.nan), ("placed", None),
     ("placed", ((0, "1"),)), ("placed", [(0, 0)]), ("seam", ((0, 0),)), ("seam", 5)],
)  # fmt: skip
def test_a_field_of_a_piece_of_another_kind_is_named(field: str, bad: Any) -> None:
    pieces = [change(PIECES[1], **{field: bad}), *PIECES[:1], *PIECES[2:]]
    with pytest.raises(sp.ArgumentError, match=f"piece: {field} must be"):
        sp.replay(BLOCK, PLAN, pieces)


def test_pieces_of_another_block_are_refused() -> None:
    four = sp.Block.from_polygons([*RINGS, [(0, 3), (2, 3), (2, 4), (0, 4)]])
    con = sp.plan(four)
    with pytest.raises(sp.SewingError, match="'4', which this block does not have") as caught:
        sp.replay(BLOCK, PLAN, (*rough_pieces(four, con), *cut_pieces(four, con)))
    assert caught.value.reason == "wrong-piece"
    large = BLOCK.transformed(sp.Transform.scale(2))
    with pytest.raises(sp.SewingError) as caught:
        sp.replay(large, sp.plan(large), PIECES)
    assert caught.value.reason in {"not-covered", "wrong-piece"}


def test_a_piece_under_another_patchs_id_is_refused() -> None:
    named = {piece.patch: piece for piece in PIECES}
    assert sp.replay(BLOCK, PLAN, named).covered == 3
    with pytest.raises(sp.SewingError, match="given as that of") as caught:
        sp.replay(BLOCK, PLAN, named | {"2": named["1"], "1": named["2"]})
    assert caught.value.reason == "wrong-piece"


def test_a_construction_of_another_block_is_answered_in_words() -> None:
    other = sp.Block.from_polygons([[(x, 0), (x + 1, 0), (x + 1, 1), (x, 1)] for x in range(5)])
    for method, cut in (("foundation", rough_pieces), ("pieced", cut_pieces)):
        con = sp.plan(other, method=method)  # type: ignore[arg-type]
        for door in (sp.replay, cut, templates, unfinished):
            with pytest.raises(sp.SeamproofError):
                door(BLOCK, con)


@pytest.mark.parametrize("name", ["along", "over", "tilt", "fold"])
@pytest.mark.parametrize("bad", ["0.1", None, -0.1, math.nan, math.inf, True], ids=repr)
def test_a_tolerance_of_a_placement_that_is_no_size_is_refused(name: str, bad: Any) -> None:
    with pytest.raises(sp.LengthError, match=f"placement: {name}"):
        Placement(**{name: bad})


def test_a_placement_or_measure_of_another_kind_is_refused() -> None:
    with pytest.raises(sp.ArgumentError, match="placement"):
        sp.replay(BLOCK, PLAN, placement=0.1)  # type: ignore[arg-type]
    with pytest.raises(sp.ArgumentError, match="placement"):
        rough_pieces(BLOCK, PLAN, 0.25, 0.1)  # type: ignore[arg-type]
    with pytest.raises(sp.ArgumentError, match="measure"):
        rough_pieces(BLOCK, PLAN, measure="inches")  # type: ignore[arg-type]


@pytest.mark.parametrize("method", [None, 3, [], {}, "sewn", "", object()], ids=_kind)
def test_a_method_first_or_preference_that_is_none_is_refused(method: Any) -> None:
    for door in ({"method": method}, {"prefer": method}, {"first": method or "nine"}):
        with pytest.raises(sp.SeamproofError):
            sp.plan(BLOCK, **door)


def test_an_object_that_cannot_be_written_is_named_by_its_type() -> None:
    class Silent:
        def __repr__(self) -> str:
            raise RuntimeError("no words")

    with pytest.raises(sp.ArgumentError, match="size: a Silent is not an int"):
        of_kind(Silent(), int, "size", "write one")

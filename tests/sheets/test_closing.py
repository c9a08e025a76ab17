"""The closing of a partial seam, drawn and told: where it was left open, from where to where it is sewn, what meets."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from seamproof import Pattern, load_recipe, work_out
from seamproof.geometry import Edge
from seamproof.geometry.points import distance
from seamproof.sequence import Join
from seamproof.sheets.closing_svg import CLOSING, ClosingPosition, closing_sketch
from seamproof.sheets.handout import handout_data
from seamproof.sheets.join_svg import ROOM
from seamproof.sheets.leaves import join_ticks, open_stretch, sides_of
from seamproof.sheets.options import HandoutOptions
from seamproof.sheets.words_joins import finish_words
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from seamproof.geometry import Point
    from seamproof.sheets.sketch import Sketch

RECIPE = Path(__file__).parents[2] / "gallery" / "grids" / "five-boathouses.recipe.toml"


@pytest.fixture(scope="module")
def pinwheel() -> Pattern:
    """Four oblongs round a square: one partial seam."""
    return work_out(load_recipe(RECIPE))


@pytest.fixture(scope="module")
def partial(pinwheel: Pattern) -> Join:
    (join,) = (join for join in pinwheel.construction.joins if len(join.passes) > 1)
    return join


def drawn(pinwheel: Pattern, partial: Join, position: ClosingPosition) -> Sketch:
    whole = pinwheel.construction.whole
    return closing_sketch(pinwheel, partial.label, 1, whole, position, toward="first")


def centre_of(sketch: Sketch, kind: str) -> Point:
    ((x0, y0, x1, y1),) = (shape.bounds for shape in sketch.shapes if shape.kind == kind)
    return ((x0 + x1) / 2, (y0 + y1) / 2)


@pytest.mark.parametrize("position", list(CLOSING))
def test_a_picture_of_closing_fits_its_room(pinwheel: Pattern, partial: Join, position: ClosingPosition) -> None:
    sketch = drawn(pinwheel, partial, position)
    assert sketch.width <= ROOM[0] + SAME_POINT
    assert sketch.height <= ROOM[1] + SAME_POINT
    assert sketch.alt


def test_a_ring_stands_where_the_sewn_stretch_stops(pinwheel: Pattern, partial: Join) -> None:
    ends = [end for stretch in partial.passes for edge in stretch for end in (edge.start, edge.end)]
    (meet,) = (p for p in set(ends) if ends.count(p) == 2)
    for position in ("open", "closing"):
        sketch = drawn(pinwheel, partial, position)
        assert distance(centre_of(sketch, "start"), sketch.place.point(meet)) < SAME_POINT


def test_the_needle_goes_from_the_ring_to_the_end_of_the_stretch_and_over_the_edge(
    pinwheel: Pattern, partial: Join
) -> None:
    sketch = drawn(pinwheel, partial, "closing")
    (stitched,) = (shape.runs[0] for shape in sketch.shapes if shape.kind == "stitched")
    assert distance(stitched[0].start, centre_of(sketch, "start")) < SAME_POINT
    # The stitches run on from the dot to the raw edge, one allowance on. derived
    beyond = distance(stitched[-1].end, centre_of(sketch, "stop"))
    scale = distance(sketch.place.point((0, 0)), sketch.place.point((1, 0)))
    assert beyond == pytest.approx(pinwheel.recipe.make.allowance * scale, abs=0.001)


def test_the_open_stretch_gapes_and_is_closed_at_last(pinwheel: Pattern, partial: Join) -> None:
    kinds = {p: [shape.kind for shape in drawn(pinwheel, partial, p).shapes] for p in CLOSING}
    assert [kinds[p].count("gap") for p in CLOSING] == [1, 0, 0]
    assert [kinds[p].count("seam-sewn") for p in CLOSING] == [1, 1, 2]


def test_what_lies_along_the_open_stretch_is_named(pinwheel: Pattern, partial: Join) -> None:
    left, right = sides_of(pinwheel, open_stretch(partial, 1))
    names = {pinwheel.names[patch] for patch in left + right}
    assert len(names) == 2
    labels = {label.text for label in drawn(pinwheel, partial, "open").labels}
    letters = {tick.letter for tick in join_ticks(pinwheel, partial.label)}
    assert names <= labels <= names | letters
    assert all(name in drawn(pinwheel, partial, "closing").alt for name in names)


def test_the_words_say_at_which_letters_it_begins_and_ends(pinwheel: Pattern, partial: Join) -> None:
    stretch = open_stretch(partial, 1)
    ticks = join_ticks(pinwheel, partial.label)
    first, last = (
        next(tick.letter for tick in ticks if distance(tick.place, place) < SAME_POINT)
        for place in (stretch[0].start, stretch[-1].end)
    )
    told = str(finish_words(pinwheel, partial, pinwheel.construction.whole)[1])
    assert f"Begin at {first}, on the last stitches" in told
    assert f"sew on to {last}." in told


def test_each_later_pass_is_sewn_from_where_the_earlier_ones_stop() -> None:
    edges = [Edge((float(x), 0.0), (x + 1.0, 0.0)) for x in range(3)]
    seam = tuple(edges)
    join = Join("J1", "1", "2", seam, "partial", passes=((edges[1],), (edges[0],), (edges[2],)))
    assert [edge.end for edge in open_stretch(join, 1)] == [(0.0, 0.0)]
    assert [edge.end for edge in open_stretch(join, 2)] == [(3.0, 0.0)]
    with pytest.raises(IndexError):
        open_stretch(join, 3)


def test_the_handout_shows_the_closing_unless_it_is_words_alone(pinwheel: Pattern) -> None:
    shown = str(handout_data(pinwheel, HandoutOptions()))
    assert all(caption in shown for caption in CLOSING.values())
    words = str(handout_data(pinwheel, HandoutOptions(text_only=True)))
    assert not any(caption in words for caption in CLOSING.values())
    assert "on the last stitches" in words


def test_a_curved_stretch_folds_on_its_tangent(pinwheel: Pattern, partial: Join) -> None:
    bent = replace(partial, passes=(partial.passes[0], tuple(replace(e, bulge=0.05) for e in partial.passes[1])))
    joins = tuple(bent if join.label == partial.label else join for join in pinwheel.construction.joins)
    other = replace(pinwheel, construction=replace(pinwheel.construction, joins=joins))
    sketch = closing_sketch(other, partial.label, 1, other.construction.whole, "closing")
    (stitched,) = (shape.runs[0] for shape in sketch.shapes if shape.kind == "stitched")
    assert stitched[0].is_arc

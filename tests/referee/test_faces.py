"""Templates read as printed: the face they show when they are sewn."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.block import Block
from seamproof.errors import SewingError
from seamproof.geometry import Outline, Transform
from seamproof.referee import Reason, check_template, read_face, replay
from seamproof.sequence import Foundation

if TYPE_CHECKING:
    from collections.abc import Callable

    from seamproof.geometry import Point


def box(x0: float, y0: float, x1: float, y1: float) -> list[Point]:
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


# The letter F: 1 the short arm, 2 the ground at its end, 3 the ground between the arms, 4 the long arm, 5 the ground
# at the foot, 6 the stem.
LETTER = [box(1, 2, 2, 3), box(2, 2, 3, 3), box(1, 3, 3, 4), box(1, 4, 3, 5), box(1, 0, 3, 2), box(0, 0, 1, 5)]
LINES = {2: ((2, 2), (2, 3)), 3: ((1, 3), (3, 3)), 4: ((1, 4), (3, 4)), 5: ((1, 2), (3, 2)), 6: ((1, 0), (1, 5))}
PLACES = {1: (1.5, 2.5), 2: (2.5, 2.5), 3: (2, 3.5), 4: (2, 4.5), 5: (2, 1), 6: (0.5, 2)}
FOUNDATION = Foundation("A", tuple("123456"), tuple((patch,) for patch in "123456"))
BLOCK = Block.from_polygons(LETTER)

Printed = tuple[Outline, dict[int, tuple[tuple[float, float], tuple[float, float]]], dict[int, tuple[float, float]]]


def printed(move: Transform) -> Printed:
    """What the page shows after a move of the face."""
    outline = Outline.rectangle(3, 5).transformed(move)
    lines = {number: (move.point(p), move.point(q)) for number, (p, q) in LINES.items()}
    return outline, lines, {number: move.point(place) for number, place in PLACES.items()}


def reason(page: Printed) -> str:
    with pytest.raises(SewingError) as caught:
        check_template(BLOCK, FOUNDATION, *page)
    return caught.value.reason


def test_the_letter_is_sewn_on_one_foundation(sewing: Callable[..., Any]) -> None:
    hand = sewing(LETTER).paper("A", "123456")
    assert replay(hand.block, hand.construction).contacts == 10


def test_the_mirrored_template_shows_the_letter() -> None:
    face = read_face(*printed(Transform.mirror(1.5)))
    assert list(face) == [1, 2, 3, 4, 5, 6]
    stem, long_arm = face[6], face[4]
    assert max(x for x, _ in stem) <= min(x for x, _ in long_arm)
    assert max(y for _, y in long_arm) == pytest.approx(5)


@given(st.floats(0, 360), st.floats(-5, 5))
def test_a_mirrored_template_is_right_however_it_lies_on_the_page(turn: float, shift: float) -> None:
    move = Transform.mirror().then(Transform.turn(turn)).then(Transform.shift(shift, 2))
    check_template(BLOCK, FOUNDATION, *printed(move))


@given(st.floats(0, 360))
def test_an_unmirrored_template_is_refused(turn: float) -> None:
    assert reason(printed(Transform.turn(turn))) == Reason.UNMIRRORED


@pytest.mark.parametrize("factor", [0.94, 0.97, 1.03])
def test_a_template_not_true_to_size_is_refused(factor: float) -> None:
    assert reason(printed(Transform.mirror().then(Transform.scale(factor)))) == Reason.WRONG_FACE


def test_numbers_exchanged_show_another_face() -> None:
    outline, lines, places = printed(Transform.mirror())
    assert reason((outline, lines, {**places, 1: places[2], 2: places[1]})) == Reason.WRONG_FACE


def test_a_line_forgotten_or_moved_shows_another_face() -> None:
    outline, lines, places = printed(Transform.mirror())
    assert reason((outline, {n: line for n, line in lines.items() if n != 4}, places)) == Reason.WRONG_FACE
    assert reason((outline, {**lines, 4: ((-1, 4.25), (-3, 4.25))}, places)) == Reason.WRONG_FACE
    assert reason((outline, {**lines, 4: ((-1, 7), (-3, 7))}, places)) == Reason.WRONG_FACE


WITH_UNIT = Foundation("A", ("B", "3", "4", "5", "6"), (("B",), ("3",), ("4",), ("5",), ("6",)))


def with_unit(page: Printed) -> Printed:
    """The same page where short arm and ground at its end are one finished unit: one number and one line fewer."""
    outline, lines, places = page
    return (
        outline,
        {number - 1: line for number, line in lines.items() if number > 2},
        {1: places[1], **{number - 1: place for number, place in places.items() if number > 2}},
    )


@given(st.floats(0, 360))
def test_a_template_with_a_finished_unit_shows_the_unit_as_one(turn: float) -> None:
    page = with_unit(printed(Transform.mirror().then(Transform.turn(turn))))
    check_template(BLOCK, WITH_UNIT, *page, units={"B": ("1", "2")})
    for units in ({"B": ("1", "3")}, {"B": ("1",)}):
        with pytest.raises(SewingError) as caught:
            check_template(BLOCK, WITH_UNIT, *page, units=units)
        assert (caught.value.reason, caught.value.patches) == (Reason.WRONG_FACE, WITH_UNIT.order)


def test_an_unmirrored_template_is_told_with_its_patches() -> None:
    with pytest.raises(SewingError) as caught:
        check_template(BLOCK, FOUNDATION, *printed(Transform.shift(1, 0)))
    assert (caught.value.reason, caught.value.patches) == (Reason.UNMIRRORED, FOUNDATION.order)


@pytest.mark.parametrize(
    ("lines", "places"),
    [({2: LINES[2]}, {1: PLACES[1]}), ({}, {1: PLACES[1], 2: PLACES[2]}), ({2: LINES[2]}, {2: PLACES[2]}),
     ({2: LINES[2], 3: LINES[3]}, {2: PLACES[2], 3: PLACES[3]}), ({}, {}), ({}, {2: PLACES[2]})],
)  # fmt: skip
def test_numbers_and_lines_that_do_not_belong_together_are_refused(
    lines: dict[int, Any], places: dict[int, Point]
) -> None:
    with pytest.raises(SewingError, match="do not belong together") as caught:
        read_face(Outline.rectangle(3, 5), lines, places)
    assert caught.value.reason == Reason.WRONG_FACE

"""What a recipe may say, and that everything wrong in one is told at once, with its place."""

from __future__ import annotations

import json
import math
import tomllib
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from seamproof import RecipeError, load_recipe
from seamproof.recipe.loading import LARGEST, read_recipe

if TYPE_CHECKING:
    from pathlib import Path

    from seamproof.errors import Fault

GOOD = """
title = "Harbour light"
family = "pineapple"
finished = "8 in"

[fabrics.amber]
colour = "#d99a2b"
[fabrics.navy]
colour = "#14284b"

[roles]
centre = "amber"
"straight log" = "amber"
"diagonal log" = "navy"
corner = "navy"
"""


def faults(text: str | bytes) -> tuple[Fault, ...]:
    content = text if isinstance(text, bytes) else text.encode()
    with pytest.raises(RecipeError) as caught:
        read_recipe(content, "x.toml")
    return caught.value.faults


def only(text: str | bytes) -> Fault:
    found = faults(text)
    assert len(found) == 1, [str(fault) for fault in found]
    return found[0]


def test_a_recipe_is_read(tmp_path: Path) -> None:
    path = tmp_path / "harbour-light.recipe.toml"
    path.write_text(GOOD)
    recipe = load_recipe(path)
    assert (recipe.title, recipe.family, recipe.finished) == ("Harbour light", "pineapple", 8.0)
    assert recipe.parameters.rounds == 6
    assert recipe.make.allowance == 0.25
    assert recipe.slug == "harbour-light"


def test_sizes_are_read_as_makers_write_them() -> None:
    # 15 cm is 15 / 2.54 in. Source: derived, 1 in = 2.54 cm by definition.
    assert read_recipe(GOOD.replace("8 in", "15 cm").encode()).finished == pytest.approx(15 / 2.54)


@pytest.mark.parametrize(
    ("finished", "make", "measure"),
    [
        ("8 in", "", "eighths"),
        ("20 cm", "", "millimetres"),
        ("200 mm", "copies = 4", "millimetres"),
        ("20 cm", "measure = 'eighths'", "eighths"),
        ("8 in", "measure = 'millimetres'", "millimetres"),
        ("8 in", "allowance = '6 mm'", "eighths"),
    ],
)
def test_sizes_are_printed_as_the_finished_size_is_written_unless_told(finished: str, make: str, measure: str) -> None:
    recipe = read_recipe(GOOD.replace("8 in", finished).encode() + f"[make]\n{make}\n".encode())
    assert recipe.make.measure == measure


def test_every_fault_is_told_at_once_in_the_order_of_the_file() -> None:
    text = GOOD.replace("title", "titel").replace('"#d99a2b"', '"red"').replace('corner = "navy"', 'corner = "nvy"')
    found = faults(text)
    assert [(fault.line, fault.column, fault.key) for fault in found] == [
        (1, 1, "title"),
        (2, 1, "titel"),
        (7, 10, "fabrics.amber.colour"),
        (15, 10, "roles.corner"),
    ]
    assert str(found[1]).startswith("x.toml:2:1: titel: no such key; did you mean")


@pytest.mark.parametrize(
    ("old", "new", "key", "says"),
    [
        ('"pineapple"', '"pinapple"', "family", 'did you mean "pineapple"?'),
        ('"8 in"', '"10 mi"', "finished", "unit 'mi' is not known"),
        ('"8 in"', '"633600 in"', "finished", "too large: write a size from 1 in to 60 in"),
        ('"8 in"', '"0 in"', "finished", "above zero"),
        ('"8 in"', '"-8 in"', "finished", "not a size"),
        ('"8 in"', "8", "finished", "8 is not a size"),
        ('"8 in"', "nan", "finished", "nan is not a size"),
        ('"8 in"', "true", "finished", "not a size"),
        ('"#d99a2b"', '"#d99a2"', "fabrics.amber.colour", "six figures or letters a to f"),
        ('colour = "#d99a2b"', "", "fabrics.amber.colour", "is missing"),
        ('corner = "navy"', "", "roles.corner", "no fabric: give it one"),
        ('corner = "navy"', 'corner = "nevy"', "roles.corner", 'did you mean "navy"?'),
        ('corner = "navy"', 'corner = "navy"\ncormer = "navy"', "roles.cormer", 'did you mean "corner"?'),
        ('centre = "amber"', "centre = 5", "roles.centre", "5 is not allowed"),
        ('"Harbour light"', '"\\u0007 \\n"', "title", "nothing is written"),
        ('"Harbour light"', f'"{"x" * 301}"', "title", "too long"),
        ("[roles]", "[fabrics.moss]\ncolour = '#556b2f'\n[roles]", "fabrics.moss", "no role uses this fabric"),
        ("[roles]", "[make]\ncopies = true\n[roles]", "make.copies", "true is not allowed: write a whole number"),
        ("[roles]", "[make]\ncopies = 0\n[roles]", "make.copies", "too small: write a whole number from 1 to 1000"),
        ("[roles]", "[make]\ncopies = 1.0\n[roles]", "make.copies", "write a whole number"),
        ("[roles]", "[make]\npaper = 'A5'\n[roles]", "make.paper", 'write "letter" or "a4"'),
        ("[roles]", "[make]\ncopys = 2\n[roles]", "make.copys", 'did you mean "copies"?'),
        ("[roles]", "[make]\nlaying = {tilt = nan}\n[roles]", "make.laying.tilt", "nan is not allowed"),
        ("[roles]", "[make.laying]\nalong = '3 in'\n[roles]", "make.laying.along", "too large"),
        ("[roles]", "[parameters]\nrounds = 99\n[roles]", "parameters.rounds", "write a whole number from 1 to 12"),
        ("[roles]", "[parameters]\nround = 4\n[roles]", "parameters.round", 'did you mean "rounds"?'),
        ("[roles]", "[parameters]\ncentre = inf\n[roles]", "parameters.centre", "inf is not allowed"),
        ("[roles]", "[parameters]\ncentre = 0.125\nrounds = 4\n[roles]", "parameters.centre", "make it"),
        ("[roles]", "[expect.cloth]\nambr = '1 yd'\n[roles]", "expect.cloth.ambr", 'did you mean "amber"?'),
        ("[roles]", "[pattern]\ndate = 2031-13-01\n[roles]", "pattern.date", "no day of the calendar"),
        ("[roles]", "[pattern]\ndate = '2031-13-01'\n[roles]", "pattern.date", "no day of the calendar"),
        ("[roles]", "[make]\ncopies = 99999999999999999999\n[roles]", "make.copies", "too large"),
    ],
)
def test_what_is_wrong_is_named(old: str, new: str, key: str, says: str) -> None:
    assert old in GOOD
    fault = next(fault for fault in faults(GOOD.replace(old, new)) if fault.key == key)
    assert says in fault.message


def test_a_fault_of_one_value_comes_alone() -> None:
    fault = only(GOOD.replace("#14284b", "blue"))
    assert (fault.line, fault.column) == (9, 10)


def test_no_roles_table_is_told_once() -> None:
    fault = only(GOOD[: GOOD.index("[roles]")])
    assert fault.key == "roles"


def test_columns_count_characters_not_bytes() -> None:
    fault = only(GOOD.replace('colour = "#14284b"', 'name = "blåbær", colour = 1').replace("[fabrics.navy]\n", ""))
    assert "on a line" in fault.message
    text = GOOD.replace('[fabrics.navy]\ncolour = "#14284b"', "[fabrics]\nnavy = {name = 'blåbær', colour = 1}")
    assert only(text).column == 35


def test_a_date_may_stand_without_quotes() -> None:
    assert read_recipe((GOOD + "[pattern]\ndate = 2031-10-05\n").encode()).pattern.date == "2031-10-05"


def test_control_characters_become_spaces_and_markup_stays_text() -> None:
    title = '"<b>Storm</b>\\n\\u0000\\u202elantern #let \\\\"'
    recipe = read_recipe(GOOD.replace('"Harbour light"', title).encode())
    assert recipe.title == "<b>Storm</b> lantern #let \\"


def test_a_bare_role_stands_for_the_numbered_ones_that_are_not_named() -> None:
    recipe = read_recipe(GOOD.replace("[roles]", '[roles]\n"straight log 2" = "navy"').encode())
    assert recipe.fabric_of("straight log 1") == "amber"
    assert recipe.fabric_of("straight log 2") == "navy"
    assert recipe.fabric_of("nothing") is None


def test_a_bare_role_that_stands_for_none_is_told() -> None:
    every = '[roles]\n"straight log 1" = "navy"\n"straight log 2" = "navy"\n"straight log 3" = "navy"'
    found = [fault.key for fault in faults(GOOD.replace("[roles]", every))]
    assert 'roles."straight log"' in found


def test_a_file_marked_as_utf8_is_read() -> None:
    assert read_recipe(b"\xef\xbb\xbf" + GOOD.encode()).title == "Harbour light"


def test_line_ends_of_other_systems_are_read() -> None:
    assert read_recipe(GOOD.replace("\n", "\r\n").encode()).title == "Harbour light"


def test_bytes_that_are_not_utf8_are_told_with_their_place() -> None:
    fault = only(GOOD.encode().replace(b"Harbour", b"H\xe9rbour"))
    assert (fault.line, fault.column) == (2, 11)
    assert "save the file as UTF-8" in fault.message


def test_other_encodings_are_named() -> None:
    assert only(GOOD.encode("utf-16")).message == "the file is written as UTF-16: save it as UTF-8"


def test_a_long_number_where_a_size_stands_is_cut_short() -> None:
    found = faults(GOOD.replace('"8 in"', f"0x{'f' * 2000}"))
    assert all(len(str(fault)) < 200 for fault in found if fault.key == "finished")


def test_not_toml_is_told_with_its_place() -> None:
    fault = only(GOOD.replace('finished = "8 in"', "finished = 8 in"))
    assert (fault.line, fault.column) == (4, 14)


@pytest.mark.parametrize(
    "text",
    [
        "x = " + "[" * 30000,
        "x = " + "[" * 30000 + "]" * 30000,
        "x = " + "{a = " * 12000,
        "x = " + "{a=" * 12000 + "1" + "}" * 12000,
        "a" + ".a" * 30000 + " = 1",
        "x = " + "[" * 100000 + "]" * 100000,
    ],
    ids=["open", "closed", "tables", "closed tables", "dots", "a hundred thousand"],
)
def test_deep_nesting_is_refused(text: str) -> None:
    fault = only(text)
    assert any(word in fault.message for word in ("nested", "is not closed", "larger than", "nothing stands"))


def test_a_number_of_five_thousand_digits_is_refused() -> None:
    fault = only("\nx = " + "9" * 5000)
    assert (fault.line, fault.column) == (2, 5)
    assert "digits" in fault.message


def test_a_long_hexadecimal_number_is_refused() -> None:
    found = faults(GOOD.replace("[roles]", f"[make]\ncopies = 0x{'f' * 20000}\n[roles]"))
    assert any(fault.key == "make.copies" and "too large" in fault.message for fault in found)


def test_a_huge_file_is_refused() -> None:
    assert "larger than" in only(b"#" * (LARGEST + 1)).message


def test_a_folder_is_answered_with_a_recipe_to_give(tmp_path: Path) -> None:
    with pytest.raises(RecipeError, match=r":1:1: is a folder: give the path of a recipe file; one ends in"):
        load_recipe(tmp_path)
    (tmp_path / "storm.recipe.toml").write_text(GOOD)
    with pytest.raises(RecipeError, match=r"such as \S+storm\.recipe\.toml$"):
        load_recipe(tmp_path)


@pytest.mark.parametrize("name", ["none.recipe.toml", "a\0b"])
def test_a_path_that_cannot_be_read_is_told(tmp_path: Path, name: str) -> None:
    with pytest.raises(RecipeError, match="cannot be read"):
        load_recipe(f"{tmp_path}/{name}")


def test_a_fault_is_one_line_whatever_its_file_is_called(tmp_path: Path) -> None:
    path = tmp_path / "a\x1b[31m\nb.recipe.toml"
    path.write_text("title = Storm")
    with pytest.raises(RecipeError) as caught:
        load_recipe(path)
    assert str(caught.value).isprintable()
    assert "/a?[31m?b.recipe.toml:1:9: title: Storm stands in no quotes" in str(caught.value)


def test_the_message_holds_no_control_character_whatever_the_keys_are() -> None:
    found = faults('"\\u001b[31m\\n\\u202e" = 1\n[fabrics."\\u0000"]\n')
    assert found
    assert all(ord(char) >= 32 and char != "\u202e" for fault in found for char in str(fault))


@given(st.binary(max_size=300))
@example(b"\xff\xfe")
@example(b"\r")
@example(b"title = '''")
def test_whatever_bytes_a_file_holds_it_is_read_or_refused_with_a_fault(content: bytes) -> None:
    with pytest.raises(RecipeError) as caught:
        read_recipe(content, "x")
    assert all(fault.line >= 1 and fault.column >= 1 and fault.message for fault in caught.value.faults)


_SCALARS = st.one_of(
    st.integers(), st.floats(), st.booleans(), st.text(max_size=5), st.sampled_from(["8 in", "pineapple", "amber"])
)
_VALUES = st.recursive(
    _SCALARS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner, max_size=3)
)
_KEYS = st.sampled_from(
    ["title", "family", "finished", "parameters", "fabrics", "roles", "make", "pattern", "expect", "colour", "amber",
     "rounds", "laying", "cloth", "copies", "story"]
)  # fmt: skip


def toml(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, float):
        return repr(value) if math.isfinite(value) else str(value)
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{toml(key)} = {toml(item)}" for key, item in value.items()) + "}"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=True).replace("\\/", "/") if value.isascii() else f'"{len(value)}"'
    return str(value)


@given(st.dictionaries(_KEYS, _VALUES | st.dictionaries(_KEYS, _VALUES, max_size=4), max_size=6))
def test_whatever_stands_under_a_key_it_is_read_or_refused_with_a_fault(table: dict[str, Any]) -> None:
    lines = {**tomllib.loads(GOOD), **table}
    text = "\n".join(f"{key} = {toml(value)}" for key, value in lines.items())
    try:
        recipe = read_recipe(text.encode(), "x")
    except RecipeError as error:
        assert error.faults
    else:
        assert recipe.fabrics

"""Names of pages are safe and given once; data in a page cannot end it."""

from __future__ import annotations

import json
import re

from hypothesis import given
from hypothesis import strategies as st

from seamproof.gallery.block_page import recipe_parts
from seamproof.pages.naming import each_once, page_name
from seamproof.pages.templating import page_data

TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=80)
JSON = st.recursive(TEXTS | st.integers() | st.booleans() | st.none(), lambda inner: st.lists(inner, max_size=3))


@given(st.lists(TEXTS, max_size=3))
def test_a_page_name_is_safe_on_every_system(texts: list[str]) -> None:
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", page_name(*texts))
    assert page_name(*texts) not in {"con", "nul", "aux", "prn", "com1"}


def test_a_page_is_named_after_its_title_or_else_its_file() -> None:
    assert page_name("Lamplighter’s hut", "x.recipe.toml") == "lamplighters-hut"
    assert page_name("Ébauche d’été") == "ebauche-dete"
    assert page_name("מגדלור", "lighthouse.recipe.toml") == "lighthouse"
    assert page_name("…", "…") == "block"
    assert page_name("CON") == "con-block"


@given(st.lists(st.sampled_from(["bell", "bell-2", "bell-3", "lamp"]), max_size=8))
def test_no_two_pages_have_one_name(names: list[str]) -> None:
    given_names = list(each_once(names))
    assert len(set(given_names)) == len(names)


@given(st.lists(st.sampled_from(["bell", "bell-2", "lamp"]), unique=True))
def test_names_that_differ_are_kept(names: list[str]) -> None:
    assert list(each_once(names)) == names


@given(JSON)
def test_data_in_a_page_is_read_back_and_holds_no_markup(value: object) -> None:
    text = str(page_data(value))
    assert json.loads(text) == value
    assert not re.search(r"[<>&\u2028\u2029]", text)


RECIPE = """title = "x"
[fabrics.a]  # "#000000"
colour = '#112233'
[fabrics."b c"]
name = "#445566"
colour = "#445566"
[fabrics]
d = { colour = "#778899" }
"""


def test_a_recipe_is_parted_at_the_colours_of_its_fabrics() -> None:
    parts = list(recipe_parts(RECIPE, {"a": "a", "b c": "b", "d": "c"}))
    assert "".join(text for text, _ in parts) == RECIPE
    assert [part for part in parts if part[1]] == [("#112233", "a"), ("#445566", "b"), ("#778899", "c")]


@given(TEXTS)
def test_a_recipe_in_parts_is_the_recipe(text: str) -> None:
    source = f"title = '''x'''\n# {text}\n" + RECIPE
    assert "".join(part for part, _ in recipe_parts(source, {"a": "a"})) == source

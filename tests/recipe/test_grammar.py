"""A recipe that is no TOML: what its writer did, in words, at its place, under its key."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import example, given
from hypothesis import strategies as st

from seamproof import RecipeError
from seamproof.cli import main
from seamproof.recipe.loading import read_recipe

RECIPES = [path.read_bytes() for path in sorted((Path(__file__).parents[2] / "gallery").rglob("*.recipe.toml"))]


def told(text: str) -> str:
    with pytest.raises(RecipeError) as caught:
        read_recipe(text.encode(), "x")
    return str(caught.value)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("title = Storm", "x:1:9: title: Storm stands in no quotes and is neither a number nor true or false: write"),
        ("[make]\nallowance = 6 mm", "x:2:15: make.allowance: 6 mm stands in no quotes"),
        ("finished = 15,5 cm # about", "15,5 cm stands in no quotes"),
        ("[fabrics.a]\ncolour = #d99a2b", 'write colour = "#d99a2b"'),
        ("title =", "x:1:8: title: nothing stands after the = sign: write a value, or take the line out"),
        ("title = “Storm”", 'these are curled quotes: write straight ones, title = "Storm"'),
        ("[roles]\n“dark log” = 'navy'", "these are curled quotes"),
        ('title = "Storm\n', "does not end on its line: close it with a quote"),
        ("title = 'Storm", "is not closed: end it with the quotes it begins with"),
        ('title = """Storm', "is not closed: end it with the quotes it begins with"),
        ('title = "The "big" one"', 'write \\" for a quote within text'),
        ('title = "a\\d"', "write \\\\ for one, or put the text in single quotes"),
        ('title = "\\u12"', "\\u takes four and \\U eight"),
        ('title = "\\ud800"', "no character has this number"),
        ("title: Storm", 'a colon stands where an = sign must: write title = "Storm"'),
        ("copies: 4", "a colon stands where an = sign must: write copies = 4"),
        ("hello there", "there is no = sign: a line is key = value, [table] or # remark"),
        ("[roles]\ndark log = 'navy'", 'stands in quotes: write "dark log" = …'),
        ("größe = 1", 'stands in quotes: write "größe" = …'),
        ("[fabrics.dark blue]", 'stands in quotes: write [fabrics."dark blue"]'),
        ("[fabrics", "the name of a table is not closed: write it between [ and ]"),
        ("[[carry]", "the name of a table is not closed"),
        ("title = 'a'\ntitle = 'b'", 'x:2:12: title: "title" is written more than once: keep one of them'),
        ("[make]\n[make]", '"make" is written more than once'),
        ("make = {copies = 1, copies = 2}", "is written more than once"),
        ("start = ['1 in' '2 in']", "a list is not closed: end it with ], and part its values with commas"),
        ("make = {copies = 1", "a table in braces is not closed: end it with }"),
        ("[pattern]\ndate = 2031-02-30", "pattern.date: this is no day of the calendar: write a date such as"),
        ("start = [", "is not closed, or holds what is no value"),
        ("start = [one, two]", "is not closed, or holds what is no value"),
        ("title = 'a'\rfamily = 'b'", "lines end with a carriage return alone"),
        ("title = 'a'\x00", "title"),
        ('{"title": "Storm"}', "no line begins like this: a line is key = value, [table] or # remark"),
    ],
)  # fmt: skip
def test_what_was_done_is_told_and_what_to_write(text: str, says: str) -> None:
    assert says in told(text)


@st.composite
def spoilt(draw: st.DrawFn) -> bytes:
    """A recipe of the gallery that something happened to: cut off, bytes changed, a part left out or said twice."""
    content = bytearray(draw(st.sampled_from(RECIPES)))
    places = st.integers(0, len(content) - 1)
    start, end = sorted((draw(places), draw(places)))
    match draw(st.sampled_from(["cut", "change", "leave", "repeat"])):
        case "cut":
            del content[start:]
        case "change":
            content[start : start + 1] = draw(st.binary(min_size=1, max_size=4))
        case "leave":
            del content[start : min(end, start + 60)]
        case _:
            content[start:start] = content[start : min(end, start + 60)]
    return bytes(content)


@given(spoilt())
@example(b'title = "\xe2\x80\xae"\n[\xe2\x80\xae\n')
def test_a_spoilt_recipe_is_read_or_told_in_lines_of_their_own_with_places(content: bytes) -> None:
    try:
        read_recipe(content, "x")
    except RecipeError as error:
        rows = content.count(b"\n") + 1
        for fault in error.faults:
            assert 1 <= fault.line <= rows
            assert fault.column >= 1
            assert str(fault).isprintable()
            assert fault.message


@given(spoilt(), st.sampled_from(["check", "check --json", "pack -o out", "repair -o mended.recipe.toml"]))
def test_a_recipe_that_is_refused_is_told_by_every_command_and_nothing_is_written(content: bytes, words: str) -> None:
    command, *rest = words.split()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "spoilt.recipe.toml")
        path.write_bytes(content)
        try:
            read_recipe(content, str(path))
        except RecipeError as error:
            rest = [str(Path(folder, word)) if word in {"out", "mended.recipe.toml"} else word for word in rest]
            result = CliRunner().invoke(main, [command, str(path), *rest])
            assert (result.exit_code, result.stderr) == (2, f"{error}\n")
            assert list(Path(folder).iterdir()) == [path]

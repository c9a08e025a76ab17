"""The cut list in parts, so that a page can give it in other colours."""

from __future__ import annotations

import csv
from dataclasses import replace

from seamproof import work_out
from seamproof.pattern.cut_list import HEADS, cut_list, cut_list_csv, cut_list_parts
from seamproof.recipe.loading import read_recipe
from seamproof.recipe.writing import new_recipe

ODD = 'Rust, "worn" and #112233'


def test_every_row_has_its_fabrics_colour_and_the_parts_tell_where() -> None:
    pattern = work_out(read_recipe(new_recipe("log-cabin").encode()))
    pattern = replace(pattern, legend=tuple(replace(line, name=ODD) for line in pattern.legend))
    rows = list(csv.reader(cut_list_csv(pattern).splitlines()))
    colours = {line.letter: line.colour for line in pattern.legend}
    assert [row[HEADS.index("colour")] for row in rows[1:]] == [colours[row[0]] for row in rows[1:]]
    assert [tuple(row) for row in rows] == [HEADS, *cut_list(pattern)]
    told = [(text, letter) for text, letter in cut_list_parts(pattern) if letter]
    assert told == [(colours[row[0]], row[0]) for row in rows[1:]]
    assert {row[1] for row in rows[1:]} == {ODD}

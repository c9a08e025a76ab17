"""What the built-in families answer to parameters that cannot be: the name of one, and the nearest value that works."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import pytest
from click.testing import CliRunner

import seamproof as sp
from seamproof.cli import main
from seamproof.plugin.widths import REFUSE_UNDER, check_widths, narrow_patches, numbers_of
from seamproof.recipe.loading import read_recipe
from seamproof.recipe.writing import new_recipe

if TYPE_CHECKING:
    from pathlib import Path

FAMILIES = sp.families()
NUMBERS = [(slug, name) for slug in FAMILIES for name in numbers_of(FAMILIES[slug].parameters)]


def changed(slug: str, **values: Any) -> sp.Parameters:
    parameters: sp.Parameters = FAMILIES[slug].parameters(**values)
    return parameters


@pytest.mark.parametrize(("slug", "name"), NUMBERS)
def test_a_parameter_outside_its_range_is_named_with_the_end_of_the_range(slug: str, name: str) -> None:
    low, high = numbers_of(FAMILIES[slug].parameters)[name]
    text = new_recipe(slug)
    for value, end in ((low - 1, low), (high + 1, high)):
        wrong = re.sub(rf"(?<=\[parameters\])(.*?\n){name} = .*?\n", rf"\g<1>{name} = {value}\n", text, flags=re.DOTALL)
        with pytest.raises(sp.RecipeError) as caught:
            read_recipe(wrong.encode())
        faults = [fault for fault in caught.value.faults if fault.key == f"parameters.{name}"]
        assert len(faults) == 1
        assert f"{end:g}" in faults[0].message


CONTRADICTORY = [
    ("pineapple", {"rounds": 6, "centre": 0.2}),
    ("plate", {"edge": "straight", "reach": 0.95, "blades": 2}),
    ("spiral", {"rounds": 16, "turn": 0.3}),
    ("spiral", {"sides": 3, "rounds": 12}),
    ("checks", {"across": 2, "middle": 3.0}),
    ("string-diamond", {"strips": 6}),
]


@pytest.mark.parametrize(("slug", "values"), CONTRADICTORY)
def test_parameters_that_contradict_one_another_are_answered_with_a_value_that_works(
    slug: str, values: dict[str, Any]
) -> None:
    family = FAMILIES[slug]
    with pytest.raises(ValueError, match=r"make it") as caught:
        family.draft(changed(slug, **values), 12.0)
    said = re.fullmatch(r"(\w+): .*?make it ([\d.]*\d).*", str(caught.value))
    assert said, str(caught.value)
    name, value = said[1], type(family.parameters().model_dump()[said[1]])(float(said[2]))
    family.draft(changed(slug, **{**values, name: value}), 12.0).check()


@pytest.mark.parametrize("slug", FAMILIES)
def test_a_block_too_small_to_be_sewn_is_answered_with_what_works(slug: str) -> None:
    family, parameters = FAMILIES[slug], FAMILIES[slug].design()
    size = 3.0
    while not narrow_patches(family.draft(parameters, size), REFUSE_UNDER):
        size /= 2
    with pytest.raises(sp.LengthError) as caught:
        check_widths(family, parameters, family.draft(parameters, size))
    said = str(caught.value)
    large = re.search(r"make the block (?:(\d+) ?)?(?:(\d)/(\d))? in or larger$", said)
    assert large, said
    enough = int(large[1] or 0) + int(large[2] or 0) / int(large[3] or 1)
    assert not narrow_patches(family.draft(parameters, enough), REFUSE_UNDER)
    assert narrow_patches(family.draft(parameters, enough - 1 / 8), REFUSE_UNDER)
    name = said.partition(":")[0]
    assert name in {"finished", *family.parameters.model_fields}
    if name != "finished":
        value = float(re.findall(r"make it ([\d.]*\d)", said)[0])
        value = type(getattr(parameters, name))(value)
        works = changed(slug, **(parameters.model_dump() | {name: value}))
        assert not narrow_patches(family.draft(works, size), REFUSE_UNDER)


def told(tmp_path: Path, finished: str, make: str = "") -> tuple[int, str]:
    text = re.sub(r'finished = ".*"', f'finished = "{finished}"', new_recipe("log-cabin", "log cabin"))
    text = text.replace("[make]", f"[make]\n{make}")
    path = tmp_path / "small.recipe.toml"
    path.write_text(text, "utf-8")
    done = CliRunner().invoke(main, ["check", str(path), "--json"])
    return done.exit_code, done.stderr


# common practice, no source: under a quarter inch finished the two allowances of a patch overlap beneath it
def test_a_patch_under_a_quarter_inch_is_warned_of_and_one_of_a_quarter_is_not(tmp_path: Path) -> None:
    narrow = FAMILIES["log-cabin"].draft(FAMILIES["log-cabin"].design("log cabin"), 1.0)
    share = narrow_patches(narrow, 1.0)[0].width
    status, said = told(tmp_path, f"{25.4 * 0.24 / share:.2f} mm")
    assert status == 0
    assert "warning: patch" in said
    assert "under 1/4 in" in said
    assert told(tmp_path, f"{25.4 * 0.26 / share:.2f} mm") == (0, "")


def test_a_patch_under_an_eighth_is_refused_unless_told_otherwise(tmp_path: Path) -> None:
    status, said = told(tmp_path, "1 in")
    assert status == 2
    assert "parameters.rounds" in said
    assert "make it" in said
    status, said = told(tmp_path, "1 in", 'narrowest = "1/16 in"')
    assert "parameters.rounds" not in said
    assert "warning: patch" in said

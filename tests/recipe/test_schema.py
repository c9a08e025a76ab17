"""The schema that editors use says what `load_recipe` says."""

from __future__ import annotations

import json
import tomllib
from typing import Any

import jsonschema
import pytest

from seamproof import families
from seamproof.recipe.schema import parameters_schema, recipe_schema
from seamproof.recipe.writing import new_recipe

# The validator is an independent implementation of the standard. Source: JSON Schema draft 2020-12.
VALIDATOR = jsonschema.Draft202012Validator(recipe_schema())


def valid(text: str) -> bool:
    return VALIDATOR.is_valid(json.loads(json.dumps(tomllib.loads(text))))


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(recipe_schema())
    for family in families().values():
        jsonschema.Draft202012Validator.check_schema(parameters_schema(family))


@pytest.mark.parametrize("slug", families())
def test_a_first_recipe_of_each_family_fits_the_schema(slug: str) -> None:
    assert valid(new_recipe(slug))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("rounds = 6", "rounds = 99"),
        ("rounds = 6", "rounds = true"),
        ("rounds = 6", "round = 6"),
        ('"12 in"', '"12"'),
        ('"12 in"', '"ten miles"'),
        ('"12 in"', "12"),
        ('"pineapple"', '"pinapple"'),
        ('"letter"', '"a5"'),
        ("copies = 1", "copies = 0"),
        ("#d9912b", "orange"),
        ("finished", "finish"),
    ],
)
def test_what_a_recipe_may_not_say_the_schema_refuses(old: str, new: str) -> None:
    text = new_recipe("pineapple")
    assert old in text
    assert valid(text)
    assert not valid(text.replace(old, new))


def test_each_family_has_its_own_parameters() -> None:
    assert not valid(new_recipe("log-cabin").replace('"log-cabin"', '"square-in-a-square"'))


def test_every_key_is_described() -> None:
    def described(part: dict[str, Any], path: tuple[str, ...]) -> None:
        for name, field in part.get("properties", {}).items():
            assert field.get("description") or "$ref" in field, (*path, name)

    schema = recipe_schema()
    described(schema, ())
    for name, part in schema["$defs"].items():
        described(part, (name,))


def test_sizes_in_the_schema_are_written_as_a_maker_writes_them() -> None:
    make = recipe_schema()["$defs"]["Make"]["properties"]
    assert make["allowance"]["default"] == "1/4 in"
    assert make["allowance"]["description"].endswith("Write at least 1/8 in, at most 1 in.")
    assert make["stitch"]["default"] == "1.8 mm"

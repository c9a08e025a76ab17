"""The JSON Schema of recipes, with which editors complete and check them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from seamproof.recipe.allowed import size_text
from seamproof.recipe.model import Recipe

if TYPE_CHECKING:
    from seamproof.plugin import Family

_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_SIZE: Final = r"""^\s*([0-9]+[ -]+[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*\.?[0-9]+)\s*(in|inch|inches|"|cm|mm|yd|m)\s*$"""
_RANGE: Final = {"ge": "at least", "le": "at most", "gt": "more than", "lt": "less than"}


def recipe_schema() -> dict[str, Any]:
    """The schema of a whole recipe, with the parameters of every family that is installed."""
    from seamproof.plugin.registry import families

    known = families()
    schema = Recipe.model_json_schema(ref_template="#/$defs/{model}")
    schema["properties"]["family"]["enum"] = list(known)
    schema["properties"]["parameters"]["type"] = "object"
    defs = schema["$defs"]
    for family in known.values():
        own = family.parameters.model_json_schema(ref_template=f"#/$defs/{family.slug}.{{model}}")
        defs |= {f"{family.slug}.{name}": part for name, part in own.pop("$defs", {}).items()}
        defs[f"parameters of {family.slug}"] = own
    schema["allOf"] = [_of_family(slug) for slug in known]
    tidy: dict[str, Any] = _tidy(schema)
    return {"$schema": _DIALECT, "title": "Seamproof recipe"} | tidy


def parameters_schema(family: Family[Any]) -> dict[str, Any]:
    """The schema of one family's parameters, whole in itself."""
    tidy: dict[str, Any] = _tidy(family.parameters.model_json_schema())
    return tidy


def _of_family(slug: str) -> dict[str, Any]:
    reference = {"$ref": f"#/$defs/parameters of {slug}"}
    return {
        "if": {"properties": {"family": {"const": slug}}, "required": ["family"]},
        "then": {"properties": {"parameters": reference}},
    }


def _tidy(part: Any) -> Any:
    """Sizes with their pattern, range in words and default as text; without null, which TOML has not."""
    if isinstance(part, list):
        return [_tidy(item) for item in part]
    if not isinstance(part, dict):
        return part
    tidy = {key: _tidy(value) for key, value in part.items() if key != "title" or not isinstance(value, str)}
    options = [option for option in tidy.get("anyOf", []) if option != {"type": "null"}]
    if "anyOf" in tidy and len(options) == 1:
        del tidy["anyOf"]
        tidy |= options[0]
    if tidy.get("default", ...) is None:
        del tidy["default"]
    return _size(tidy) if tidy.get("type") == "string" and "examples" in tidy else tidy


def _size(part: dict[str, Any]) -> dict[str, Any]:
    limits = [f"{words} {size_text(part.pop(key))}" for key, words in _RANGE.items() if key in part]
    if limits:
        part["description"] = f"{part.get('description', '')} Write {', '.join(limits)}.".strip()
    if isinstance(part.get("default"), float):
        part["default"] = size_text(part["default"])
    return part | {"pattern": _SIZE}

"""What hypothesis draws: sizes, parameters, blocks, fabrics, moves."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final, Literal, TypeVar, get_args, get_origin

from hypothesis import strategies as st

from seamproof.geometry import Transform
from seamproof.geometry.points import along
from seamproof.plugin.draft import Draft, cut
from seamproof.plugin.family import Parameters
from seamproof.plugin.registry import families
from seamproof.units import MM_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pydantic.fields import FieldInfo

    from seamproof.block import Block
    from seamproof.geometry import Point
    from seamproof.recipe.model import Fabric

P = TypeVar("P", bound=Parameters)
_LIMITS: Final = ("ge", "gt", "le", "lt", "pattern", "min_length", "max_length")


def sizes(least: float = 1.0, most: float = 60.0) -> st.SearchStrategy[float]:
    """Finished sizes [in]: eighths of an inch, whole millimetres, and any float between."""
    return st.one_of(
        st.integers(round(least * 8), round(most * 8)).map(lambda n: n / 8),
        st.integers(round(least * MM_PER_INCH) + 1, round(most * MM_PER_INCH) - 1).map(lambda n: n / MM_PER_INCH),
        st.floats(least, most),
    )


def parameters(model: type[P]) -> st.SearchStrategy[P]:
    """All that a family's parameters allow, read from the ranges of the model.

    Raises:
        TypeError: a field of a type, or without a range, for which no strategy is known.
    """
    return st.builds(model, **{name: _field(name, field) for name, field in model.model_fields.items()})


def extremes(model: type[P]) -> Iterator[P]:
    """The smallest, the largest and the most lopsided: all least, all most, and each alone at its ends."""
    ends = {name: _ends(field) for name, field in model.model_fields.items()}
    settings: list[dict[str, Any]] = [{name: pair[i] for name, pair in ends.items() if pair} for i in (0, -1)]
    settings += [{name: value} for name, pair in ends.items() for value in pair]
    for setting in settings:
        yield model(**setting)


def fabrics(least: int = 1, most: int = 12) -> st.SearchStrategy[dict[str, Fabric]]:
    """Fabrics of a recipe under their keys, in any colours."""
    from seamproof.recipe.model import Fabric

    keys = st.from_regex(r"[a-z][a-z0-9-]{0,11}", fullmatch=True)
    colours = st.integers(0, 0xFFFFFF).map(lambda n: Fabric(colour=f"#{n:06x}"))
    return st.dictionaries(keys, colours, min_size=least, max_size=most)


def moves() -> st.SearchStrategy[Transform]:
    """A turn by any angle, with or without a mirror before it."""
    turns = st.one_of(st.sampled_from([90.0, 180.0, 45.0]), st.floats(0, 360)).map(Transform.turn)
    return st.builds(lambda turn, flips: Transform.mirror().then(turn) if flips else turn, turns, st.booleans())


@st.composite
def slicing_tilings(draw: st.DrawFn, most: int = 12, size: float = 12.0) -> Block:
    """A square parted again and again by straight cuts: straight seams always serve.

    Cuts run between points at quarters of edges, so that corners either meet exactly or lie well apart.
    """
    patches: list[list[Point]] = [[(0.0, 0.0), (size, 0.0), (size, size), (0.0, size)]]
    for _ in range(draw(st.integers(0, most - 1))):
        ring = patches.pop(draw(st.integers(0, len(patches) - 1)))
        first, second = sorted(draw(st.sets(st.integers(0, len(ring) - 1), min_size=2, max_size=2)))
        p, q = (along(ring[i], ring[(i + 1) % len(ring)], draw(st.integers(1, 3)) / 4) for i in (first, second))
        patches += cut(ring, p, q)
    draft = Draft.square(size)
    for patch in patches:
        draft.add("patch", patch)
    return draft.block("Cut again and again", size)


def blocks(size: float = 6.0) -> st.SearchStrategy[Block]:
    """Designs of every installed family, and slicing tilings."""
    named = [(family, name) for family in families().values() for name in family.designs]
    designs = st.sampled_from(named).map(lambda pair: pair[0].draft(pair[0].design(pair[1]), size))
    return st.one_of(designs, slicing_tilings())


def _limits(field: FieldInfo) -> dict[str, Any]:
    found = {key: getattr(limit, key, None) for limit in field.metadata for key in _LIMITS if hasattr(limit, key)}
    return {key: value for key, value in found.items() if value is not None}


def _field(name: str, field: FieldInfo) -> st.SearchStrategy[Any]:
    kind, limits = field.annotation, _limits(field)
    if get_origin(kind) is Literal:
        return st.sampled_from(get_args(kind))
    if kind is bool:
        return st.booleans()
    if kind is str and "pattern" in limits:
        return st.from_regex(limits["pattern"], fullmatch=True, alphabet=st.characters(max_codepoint=126)).filter(
            lambda text: limits.get("min_length", 0) <= len(text) <= limits.get("max_length", len(text))
        )
    if kind is int and {"ge", "le"} <= limits.keys():
        return st.integers(limits["ge"], limits["le"])
    if kind is float and {"ge", "le"} <= limits.keys():
        return st.floats(limits["ge"], limits["le"])
    raise TypeError(f"parameter {name!r}: give it a range (ge and le), a Literal, a bool, or a str with a pattern")


def _ends(field: FieldInfo) -> tuple[Any, ...]:
    kind, limits = field.annotation, _limits(field)
    if get_origin(kind) is Literal:
        return tuple(get_args(kind))
    if kind is bool:
        return (False, True)
    return (limits["ge"], limits["le"]) if {"ge", "le"} <= limits.keys() else ()

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
from pydantic import Field

import seamproof as sp
from seamproof.plugin import Draft
from seamproof.testing import check_family

if TYPE_CHECKING:
    from collections.abc import Callable

_count = itertools.count()


class Choices(sp.Parameters):
    """What may be chosen of two strips."""

    share: float = Field(default=0.5, ge=0.2, le=0.8, description="Width of the left strip over the whole.")


def _strips(share: float, size: float, roles: tuple[str, str] = ("strip 1", "strip 2")) -> sp.Block:
    draft = Draft.square()
    draft.add(roles[0], [(0, 0), (share, 0), (share, 1), (0, 1)])
    draft.add(roles[1], [(share, 0), (1, 0), (1, 1), (share, 1)])
    return draft.block("Two strips", size)


def draft_sound(parameters: Choices, size: float) -> sp.Block:
    return _strips(parameters.share, size)


SOUND: sp.Family[Any] = sp.Family(
    slug="two-strips",
    title="Two strips",
    parameters=Choices,
    draft=draft_sound,
    sources=("invented",),
    designs={"halves": {}},
    roles=("strip #",),
    smallest=0.199,
    sharpest=89.9,
)


def _overlap(parameters: Choices, size: float) -> sp.Block:
    block = _strips(parameters.share, size)
    return replace(block, patches=(block.patches[0], sp.Patch("2", sp.Outline.rectangle(size, size), "strip 2")))


def _gap(parameters: Choices, size: float) -> sp.Block:
    block = _strips(parameters.share, size)
    return replace(block, patches=block.patches[:1])


def _fickle(parameters: Choices, size: float) -> sp.Block:
    return replace(_strips(parameters.share, size), title=str(next(_count)))


def _no_scale(parameters: Choices, size: float) -> sp.Block:
    return _strips(min(parameters.share, 1.3 / size), size)


def _wrong_size(parameters: Choices, size: float) -> sp.Block:
    return _strips(parameters.share, size * 0.94)


def _moved(parameters: Choices, size: float) -> sp.Block:
    return _strips(parameters.share, size).transformed(sp.Transform.shift(1, 0))


def _refuses(parameters: Choices, size: float) -> sp.Block:
    if parameters.share > 0.7:
        raise ValueError("too wide")
    return _strips(parameters.share, size)


def _breaks(parameters: Choices, size: float) -> sp.Block:
    return _strips(parameters.share, size / (parameters.share - 0.2))


class Undescribed(sp.Parameters):
    """A parameter without a word."""

    share: float = Field(default=0.5, ge=0.2, le=0.8)


def test_a_sound_family_keeps_every_law() -> None:
    check_family(SOUND)


@pytest.mark.parametrize(
    ("draft", "error", "word"),
    [
        (_overlap, sp.BlockError, "overlap"),
        (_gap, sp.BlockError, "gap"),
        (_fickle, AssertionError, "differ"),
        (_no_scale, AssertionError, "apart"),
        (_wrong_size, AssertionError, "was asked"),
        (_moved, AssertionError, "not \\(0, 0\\)"),
        (_refuses, AssertionError, "must name its parameter"),
        (_breaks, ZeroDivisionError, "zero"),
    ],
)
def test_a_family_that_breaks_a_law_is_caught(
    draft: Callable[[Choices, float], sp.Block], error: type[Exception], word: str
) -> None:
    with pytest.raises(error, match=word):
        check_family(replace(SOUND, draft=draft))


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"roles": ("strip 1",)}, "not declared"),
        ({"roles": ("strip #", "border")}, "no design has"),
        ({"roles": ()}, "declare its roles"),
        ({"sources": ()}, "name its sources"),
        ({"smallest": 0.21}, "narrower than the declared"),
        ({"smallest": 0.0}, "declare smallest"),
        ({"sharpest": 90.1}, "sharper than the declared"),
        ({"sharpest": 0.0}, "declare sharpest"),
        ({"designs": {}}, "no design"),
        ({"designs": {"wide": {"share": 0.9}}}, "not allowed by its own parameters"),
        ({"slug": "Two Strips"}, "slug"),
        ({"parameters": Undescribed}, "describe parameter share"),
    ],
)
def test_a_family_that_says_something_untrue_is_caught(change: dict[str, Any], word: str) -> None:
    with pytest.raises(AssertionError, match=word):
        check_family(replace(SOUND, **change))

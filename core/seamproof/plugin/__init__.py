"""What a plugin gives: families of blocks, by typed hooks and entry points."""

from seamproof.plugin.draft import (
    Draft,
    cut,
    facing,
    goose,
    half_square,
    letter_plan,
    peel,
    polar,
    quarter_square,
    rectangle,
    regular,
    side_line,
    turned,
)
from seamproof.plugin.family import Family, Parameters
from seamproof.plugin.hookspecs import hookimpl

__all__ = [
    "Draft",
    "Family",
    "Parameters",
    "cut",
    "facing",
    "goose",
    "half_square",
    "hookimpl",
    "letter_plan",
    "peel",
    "polar",
    "quarter_square",
    "rectangle",
    "regular",
    "side_line",
    "turned",
]

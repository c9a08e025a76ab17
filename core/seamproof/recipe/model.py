"""The model of a recipe. Every range of a recipe's keys stands here and nowhere else."""

from __future__ import annotations

import re
from datetime import date
from typing import Annotated, Any, Final, Literal, TypeAlias

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints

from seamproof.cutting.pieces import Placement
from seamproof.errors import LengthError
from seamproof.plugin.widths import REFUSE_UNDER
from seamproof.sequence.construction import Method, Technique
from seamproof.units import ALLOWANCE, MM_PER_INCH, USABLE, Measure, parse_length


def _length(value: object) -> float:
    if not isinstance(value, str):
        raise ValueError(f'{str(value)[:40]} is not a size: write it like "6 in", "6 1/2 in", "15 cm" or "165 mm"')  # noqa: TRY004 - pydantic collects ValueError
    try:
        return parse_length(value)
    except LengthError as error:
        raise ValueError(str(error)) from None


LENGTH: Final = BeforeValidator(_length, json_schema_input_type=str)
"""Reads a size; a field that bears it is a Length."""

_LENGTH_SCHEMA: Final = {"type": "string", "examples": ["6 in", "6 1/2 in", "15 cm", "165 mm"]}
Length: TypeAlias = Annotated[float, LENGTH, Field(json_schema_extra=_LENGTH_SCHEMA)]
"""A size written by a maker, held in inches."""


def _place(value: object) -> float:
    return 0.0 if isinstance(value, str) and _ZERO.fullmatch(value) else _length(value)


_ZERO: Final = re.compile(r"""\s*0+(\.0+)?\s*(in|inch|inches|"|cm|mm|yd|m)\s*""", re.ASCII)
PLACE: Final = BeforeValidator(_place, json_schema_input_type=str)
"""Reads how far a point stands from the block's left or lower side; 0 is allowed."""

Place: TypeAlias = Annotated[float, PLACE, Field(json_schema_extra=_LENGTH_SCHEMA)]
"""How far right of the block's left side, or above its lower side, a point stands, held in inches."""

_UNSEEN: Final = re.compile(r"[\x00-\x20\x7f-\xa0\u1680\u2000-\u200a\u2028-\u202f\u205f\u2066-\u2069\u3000]+")


def clean_line(text: str) -> str:
    r"""Text as one line: every run of spaces, line ends, control and direction-override characters as one space.

    >>> clean_line("  Storm\n\x07 lantern ")
    'Storm lantern'
    """
    return _UNSEEN.sub(" ", text).strip()


def _line(value: object) -> object:
    return clean_line(value) if isinstance(value, str) else value


LINE: Final = BeforeValidator(_line, json_schema_input_type=str)
"""Makes one line of a text."""

Line: TypeAlias = Annotated[str, LINE, StringConstraints(min_length=1, max_length=300)]
"""One line of text for a page; control characters become spaces, markup stays text."""

Key: TypeAlias = Annotated[str, StringConstraints(min_length=1, max_length=300)]
"""A name that stands in a recipe's other tables just as it is written here."""

COLOUR: Final = r"^#[0-9a-fA-F]{6}$"
"""A colour as a recipe writes it."""

PATCH_ID: Final = r"^[0-9]+[a-z]?$"
"""A patch as a recipe names it."""

DATE: Final = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"
"""A date as a recipe writes it."""


def _day(text: str) -> str:
    try:
        date.fromisoformat(text)
    except ValueError:
        raise ValueError(f'"{text}" is no day of the calendar: write a date such as "2031-10-05"') from None
    return text


Paper: TypeAlias = Literal["letter", "a4"]
PaperKind: TypeAlias = Literal["tear-away", "freezer-paper", "leave-in", "cloth"]


class Part(BaseModel):
    """A table of a recipe: frozen, strict, no key unknown."""

    model_config = ConfigDict(frozen=True, strict=True, extra="forbid", allow_inf_nan=False)


class Fabric(Part):
    """One fabric. Its key in `[fabrics]` is how roles name it."""

    colour: Annotated[str, StringConstraints(pattern=COLOUR)] = Field(
        description="The colour it is drawn in, as #rrggbb."
    )
    name: Line | None = Field(default=None, description="What it is called on pages; without it, its key.")


_LAID: Final = Placement()


class Laying(Part):
    """How far off a maker may lay a piece on a foundation and still be covered."""

    along: Annotated[Length, Field(le=2)] = Field(default=_LAID.along, description="Either way along the seam line.")
    over: Annotated[Length, Field(le=1)] = Field(default=_LAID.over, description="The raw edge too far over the line.")
    tilt: float = Field(default=_LAID.tilt, ge=0, le=15, description="Either way, in degrees.")
    fold: Annotated[Length, Field(le=0.25)] = Field(default=_LAID.fold, description="Lost in the fold after the flip.")

    @property
    def placement(self) -> Placement:
        """The same as the value that `cutting` and `referee` work with."""
        return Placement(self.along, self.over, self.tilt, self.fold)


def _without_default(schema: dict[str, Any]) -> None:
    """Leave a default out of the schema: the recipe itself decides it."""
    schema.pop("default", None)


class Make(Part):
    """How the block is made."""

    copies: int = Field(default=1, ge=1, le=1000, description="How many of this block are sewn.")
    paper: Paper = Field(default="letter", description="The paper templates are printed on.")
    foundation: PaperKind = Field(
        default="tear-away",
        description="What is sewn on: paper torn away, freezer paper folded and reused, or a paper or cloth left in.",
    )
    measure: Measure = Field(
        default=Measure.EIGHTHS,
        strict=False,
        description="How sizes are written on pages; without it as the finished size is: in millimetres for cm and mm, "
        "else in eighths of an inch.",
        json_schema_extra=_without_default,
    )
    allowance: Annotated[Length, Field(ge=1 / 8, le=1)] = Field(default=ALLOWANCE, description="The seam allowance.")
    cloth_width: Annotated[Length, Field(ge=8, le=120)] = Field(
        default=USABLE,
        description="The usable width of the cloth; 40 in of a nominal 44, or 105 cm of 110, unless you know better.",
    )
    stitch: Annotated[Length, Field(ge=1 / MM_PER_INCH, le=3 / MM_PER_INCH)] = Field(
        default=1.8 / MM_PER_INCH, description="The stitch length on foundations; 1.5 to 2 mm perforates the paper."
    )
    method: Method | None = Field(
        default=None,
        description="How it is sewn; without it on foundations, and where none serves cut and pieced, or by hand over "
        "papers when seams must be set in.",
    )
    prefer: Literal["partial", "pivot"] = Field(
        default="partial", description="What breaks a ring of seams: a seam started and finished later, or a pivot."
    )
    prepieced: bool = Field(
        default=False,
        description="Whether finished units are laid on papers as if they were one patch, so that pieces which would "
        "be joined loose are sewn on paper too; the number of papers stays.",
    )
    narrowest: Annotated[Length, Field(ge=1 / 64, le=2)] = Field(
        default=REFUSE_UNDER,
        description="A patch that is finished narrower than this is refused: a needle's sway swallows it.",
    )
    laying: Laying = Field(default=Laying(), description="How far off pieces may be laid and still cover.")


class Carry(Part):
    """A seam that is carried on across a patch, which it parts in two of the same role."""

    patch: Annotated[str, StringConstraints(pattern=PATCH_ID)] = Field(
        description="The patch it crosses, by its number; patch 3 becomes 3a and 3b, which a later [[carry]] may name."
    )
    start: tuple[Place, Place] = Field(
        description="Where the seam ends now: how far from the block's left side, and how far up from its lower side."
    )
    end: tuple[Place, Place] = Field(description="Where it is to end, on the far side of the patch.")


class Front(Part):
    """Front matter and footers."""

    designer: Line | None = Field(default=None, description="Who designed it.")
    version: Line = Field(default="1.0", description="The version of this pattern.")
    date: Annotated[str, StringConstraints(pattern=DATE), AfterValidator(_day)] | None = Field(
        default=None, description="The day of this version, as YYYY-MM-DD."
    )
    licence: Line | None = Field(default=None, description="Under which terms it is given.")
    may_print: Line | None = Field(default=None, description="Who may print how many.")
    credit: Line | None = Field(default=None, description="Whom to credit, and for what.")
    corrections: Line | None = Field(default=None, description="Where corrections are found.")
    story: Annotated[str, LINE, StringConstraints(max_length=2000)] | None = Field(
        default=None, description="A paragraph for the first page."
    )


class Expect(Part):
    """What the designer claims; the pattern is held to each key that is given."""

    patches: int | None = Field(default=None, ge=1, description="How many patches.")
    foundations: int | None = Field(default=None, ge=0, description="How many foundations, at least two patches each.")
    technique: Technique | None = Field(default=None, description="The hardest technique it takes.")
    cloth: dict[str, Length] = Field(default={}, description="For each fabric named, the most cloth it may take.")


def role_names(role: str) -> tuple[str, ...]:
    """How a recipe may name a role, the most particular first.

    >>> role_names("dark log 3")
    ('dark log 3', 'dark log')
    """
    bare = re.sub(r" [0-9]+$", "", role)
    return (role,) if bare == role else (role, bare)


class Recipe(Part):
    """A whole recipe. `parameters` is the family's own model, already validated."""

    title: Line = Field(description="What the block is called.")
    family: str = Field(description="The slug of its family: see `seamproof families`.")
    finished: Annotated[Length, Field(ge=1, le=60)] = Field(description="The finished size of the block.")
    parameters: Any = Field(default={}, description="The family's parameters: see `seamproof family NAME`.")
    fabrics: dict[Key, Fabric] = Field(min_length=1, description="The fabrics, each under a key of its own.")
    roles: dict[Key, Key] = Field(
        description="For each role of the block the key of its fabric. A role that ends in a number may be named "
        'without it: "dark log" gives every dark log its fabric, but for those that are named themselves.'
    )
    carry: tuple[Carry, ...] = Field(
        default=(),
        max_length=200,
        description="Seams carried on across a patch after drafting, one by one: `seamproof repair` finds them.",
    )
    make: Make = Field(default=Make(), description="How the block is made.")
    pattern: Front = Field(default=Front(), description="Front matter and footers.")
    expect: Expect = Field(default=Expect(), description="What the designer claims; `check` holds the block to it.")

    def fabric_of(self, role: str) -> str | None:
        """The key of a role's fabric: named itself, or without the number it ends in; None where neither is."""
        return next((self.roles[name] for name in role_names(role) if name in self.roles), None)

    @property
    def slug(self) -> str:
        """The title as a safe file name: small ASCII letters, digits, hyphens; "block" where nothing is left."""
        return "-".join(re.findall(r"[a-z0-9]+", self.title.lower()))[:60] or "block"

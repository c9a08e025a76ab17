"""Log cabins of straight logs on a square: traditional, courthouse steps, half and off-centre."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from pydantic import Field

from seamproof.plugin import Draft, Family, Parameters

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.geometry import Point

Side: TypeAlias = Literal["right", "top", "left", "bottom"]
_ROUND: Final[tuple[Side, ...]] = ("right", "top", "left", "bottom")
_COMMON: Final = ("common practice, no source",)


class _Cabin(Parameters):
    rounds: int = Field(
        default=4, ge=1, le=10, description="Rounds of logs; more than 10 make logs too narrow for a block."
    )
    centre: float = Field(
        default=1.0, ge=0.5, le=8, description="Side of the centre square over a log's width; under a half it is lost."
    )


class LogCabinParameters(_Cabin):
    """What may be chosen of a log cabin."""

    turn: Literal["anticlockwise", "clockwise"] = Field(
        default="anticlockwise", description="Which way the logs go round, as seen from the face."
    )


class CourthouseParameters(_Cabin):
    """What may be chosen of courthouse steps."""


class HalfCabinParameters(_Cabin):
    """What may be chosen of a half log cabin."""

    light: float = Field(
        default=1.0,
        ge=0.5,
        le=2,
        description="Width of the light logs over that of the dark ones; 1 is a square block.",
    )


class OffCentreParameters(_Cabin):
    """What may be chosen of an off-centre log cabin; a unit of width is a light log's."""

    wide: float = Field(
        default=2.0,
        ge=1.25,
        le=4,
        description="Width of the dark logs over that of the light ones; beyond 4 the light ones are too narrow.",
    )


class Growing:
    """A rectangle that grows log by log."""

    def __init__(self, centre: float) -> None:
        self.x0 = self.y0 = 0.0
        self.x1 = self.y1 = centre
        self.patches = [("centre", self._corners())]

    def _corners(self) -> list[Point]:
        return [(self.x0, self.y0), (self.x1, self.y0), (self.x1, self.y1), (self.x0, self.y1)]

    def log(self, side: Side, width: float, role: str) -> None:
        """Sew a log of this width along the whole of one side."""
        x0, y0, x1, y1 = self.x0, self.y0, self.x1, self.y1
        if side == "right":
            self.x1 += width
            x0, x1 = x1, self.x1
        elif side == "top":
            self.y1 += width
            y0, y1 = y1, self.y1
        elif side == "left":
            self.x0 -= width
            x0, x1 = self.x0, x0
        else:
            self.y0 -= width
            y0, y1 = self.y0, y0
        self.patches.append((role, [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]))

    def block(self, title: str, size: float) -> Block:
        """The cabin as a block of this size [in], as it has grown so far."""
        draft = Draft(self._corners())
        for role, corners in self.patches:
            draft.add(role, corners)
        return draft.block(title, size)


def _cabin(centre: float, rounds: int, sides: tuple[Side, ...], widths: tuple[float, ...]) -> Growing:
    """The first half of the sides gets light logs, the second dark ones."""
    cabin = Growing(centre)
    for number in range(1, rounds + 1):
        for i, (side, width) in enumerate(zip(sides, widths, strict=True)):
            cabin.log(side, width, f"{'light' if 2 * i < len(sides) else 'dark'} log {number}")
    return cabin


def draft_log_cabin(parameters: LogCabinParameters, size: float) -> Block:
    """Draft centre out: two light logs, then two dark ones, in every round."""
    sides = _ROUND if parameters.turn == "anticlockwise" else ("left", "top", "right", "bottom")
    return _cabin(parameters.centre, parameters.rounds, sides, (1.0,) * 4).block("Log cabin", size)


def draft_courthouse(parameters: CourthouseParameters, size: float) -> Block:
    """Draft centre out: a light pair on opposite sides, then a dark pair on the other two."""
    sides: tuple[Side, ...] = ("top", "bottom", "left", "right")
    return _cabin(parameters.centre, parameters.rounds, sides, (1.0,) * 4).block("Courthouse steps", size)


def draft_half_cabin(parameters: HalfCabinParameters, size: float) -> Block:
    """Draft from the corner out: a light log, then a dark one, in every round."""
    widths = (parameters.light, 1.0)
    return _cabin(parameters.centre, parameters.rounds, ("right", "top"), widths).block("Half log cabin", size)


def draft_off_centre(parameters: OffCentreParameters, size: float) -> Block:
    """Draft centre out: two narrow light logs, then two wide dark ones, so that the centre moves to a corner."""
    widths = (1.0, 1.0, parameters.wide, parameters.wide)
    return _cabin(parameters.centre, parameters.rounds, _ROUND, widths).block("Off-centre log cabin", size)


_ROLES: Final = ("centre", "light log #", "dark log #")

LOG_CABIN: Final = Family(
    slug="log-cabin",
    title="Log cabin",
    parameters=LogCabinParameters,
    draft=draft_log_cabin,
    sources=_COMMON,
    designs={
        "log cabin": {},
        "log cabin, clockwise": {"turn": "clockwise"},
        "hearth": {"rounds": 3, "centre": 2.0},
        "cabin in the clearing": {"rounds": 2, "centre": 4.0},
        "long winter": {"rounds": 8},
    },
    roles=_ROLES,
    smallest=0.024,
    sharpest=89.9,
    about="Logs round a centre square, light on two sides and dark on the other two.",
)

COURTHOUSE_STEPS: Final = Family(
    slug="courthouse-steps",
    title="Courthouse steps",
    parameters=CourthouseParameters,
    draft=draft_courthouse,
    sources=_COMMON,
    designs={
        "courthouse steps": {},
        "lantern steps": {"rounds": 3, "centre": 2.0},
        "steep steps": {"rounds": 8},
    },
    roles=_ROLES,
    smallest=0.024,
    sharpest=89.9,
    about="Logs in opposite pairs, light above and below, dark on either side.",
)

HALF_LOG_CABIN: Final = Family(
    slug="half-log-cabin",
    title="Half log cabin",
    parameters=HalfCabinParameters,
    draft=draft_half_cabin,
    sources=_COMMON,
    designs={
        "half log cabin": {"rounds": 5},
        "corner steps": {"rounds": 4, "centre": 3.0},
        "chevron": {"rounds": 8, "centre": 1.0},
    },
    roles=_ROLES,
    smallest=0.024,
    sharpest=89.9,
    about="Logs on two sides of a square in the corner.",
)

OFF_CENTRE: Final = Family(
    slug="off-centre-log-cabin",
    title="Off-centre log cabin",
    parameters=OffCentreParameters,
    draft=draft_off_centre,
    sources=_COMMON,
    designs={
        "off-centre log cabin": {},
        "thick and thin": {"rounds": 5, "wide": 3.0},
        "leaning cabin": {"rounds": 3, "centre": 2.0, "wide": 1.5},
    },
    roles=_ROLES,
    smallest=0.0098,
    sharpest=89.9,
    about="Wide logs on two sides and narrow ones on the others, so that the seams seem to curve.",
)

"""Hatches: line patterns that tell fabrics apart where colour does not.

Each is drawn as plain lines clipped to its patch, not as an SVG pattern: printers and PDF viewers agree on lines.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.geometry import Point


@dataclass(frozen=True, slots=True)
class _Rule:
    """Parallel lines: their direction [°, anticlockwise as seen], spacing and shift in steps, dash and gap in steps."""

    angle: float
    step: float = 1.0
    shift: float = 0.5
    dash: float = 0.0
    gap: float = 0.0


HATCHES: Final[tuple[tuple[str, tuple[_Rule, ...]], ...]] = (
    ("plain", ()),
    ("slanted to the right", (_Rule(45),)),
    ("level lines", (_Rule(0),)),
    ("slanted to the left", (_Rule(-45),)),
    ("upright lines", (_Rule(90),)),
    ("dots", (_Rule(0, dash=0.02, gap=0.98),)),
    ("slanted net", (_Rule(45, 1.4), _Rule(-45, 1.4))),
    ("level net", (_Rule(0, 1.3), _Rule(90, 1.3))),
    ("broken level lines", (_Rule(0, dash=1.2, gap=0.7),)),
    ("pairs slanted to the right", (_Rule(45, 2.2, 0.35), _Rule(45, 2.2, 0.75))),
    ("broken upright lines", (_Rule(90, dash=1.2, gap=0.7),)),
    ("pairs slanted to the left", (_Rule(-45, 2.2, 0.35), _Rule(-45, 2.2, 0.75))),
)
"""Name and rules of each hatch; a fabric's hatch is an index into this."""

STEP: Final = 0.075
"""[in] The usual distance between lines, as drawn."""


def hatch_name(index: int) -> str:
    """What a hatch is called in words."""
    return HATCHES[index % len(HATCHES)][0] + (" (close)" if index >= len(HATCHES) else "")


def hatch(index: int, ring: Sequence[Point], step: float = STEP) -> list[tuple[Point, Point]]:
    """The lines of a hatch inside a ring of points [in, y down], as segments.

    Lines keep their place on the page, so that neighbours of one fabric run on. Indices past the last begin again
    with lines closer together.
    """
    if index >= len(HATCHES):
        step *= 0.6
    rules = HATCHES[index % len(HATCHES)][1]
    return [segment for rule in rules for segment in _ruled(rule, ring, step)]


def _ruled(rule: _Rule, ring: Sequence[Point], step: float) -> Iterator[tuple[Point, Point]]:
    angle = math.radians(-rule.angle)
    cos, sin = math.cos(angle), math.sin(angle)
    turned = [(x * cos + y * sin, -x * sin + y * cos) for x, y in ring]
    pitch = rule.step * step
    low, high = min(y for _, y in turned), max(y for _, y in turned)
    for i in range(math.ceil(low / pitch - rule.shift), math.floor(high / pitch - rule.shift) + 1):
        y = (i + rule.shift) * pitch
        for a, b in _spans(turned, y):
            for p, q in _dashes(rule, a, b, step, i):
                yield (p * cos - y * sin, p * sin + y * cos), (q * cos - y * sin, q * sin + y * cos)


def _spans(ring: Sequence[Point], y: float) -> Iterator[tuple[float, float]]:
    """Where the level line at y lies inside the ring. Source: scan-line filling by the even-odd rule."""
    crossings = sorted(
        a[0] + (y - a[1]) * (b[0] - a[0]) / (b[1] - a[1])
        for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)
        if (a[1] > y) != (b[1] > y)
    )
    yield from zip(crossings[::2], crossings[1::2], strict=True)


def _dashes(rule: _Rule, a: float, b: float, step: float, row: int) -> Iterator[tuple[float, float]]:
    if not rule.dash:
        yield a, b
        return
    dash, period = rule.dash * step, (rule.dash + rule.gap) * step
    offset = period / 2 if row % 2 else 0.0
    for i in range(math.floor((a - offset) / period), math.ceil((b - offset) / period) + 1):
        p, q = max(a, i * period + offset), min(b, i * period + offset + dash)
        if q > p:
            yield p, q

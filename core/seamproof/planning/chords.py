"""How many patches at least must be crossed so that a convex unit can be parted by straight seams alone.

A construction of a unit with seams carried on is a tree of chords: a seam right across the unit, then one right across
each part, until single patches are left. Every seam carried on lies on the line of a seam that was drawn before, so
every chord lies on one of those lines. A chord costs one addition for each patch (or piece of one) that it crosses; the
rest of it is drawn already. So the least sum of crossings over all trees of chords, whether or not each of those chords
could be reached from the seam on whose line it lies, is a bound: no repair has fewer additions.

A chord that crosses no patch is taken at once: any other chord across it is then two, and no patch is crossed twice by
that. The parts are convex, they do not touch one another's cost, and so the sum is worked out part by part, each
remembered by its shape. A line that strays from patches by no more than corners off by SAME_POINT could make it does
not cross them, so that the bound is never too high.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from seamproof.geometry.points import cross, distance, dot, midpoint, sub
from seamproof.planning.carrying import is_within, parted
from seamproof.tolerance import CUT_ROUND_OFF, SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterable

    from seamproof.geometry import Point
    from seamproof.planning.frame import Frame

Ring: TypeAlias = "tuple[Point, ...]"
Rings: TypeAlias = "tuple[Ring, ...]"
Key: TypeAlias = frozenset[tuple[tuple[int, int], ...]]

WORK: Final = 5_000_000
"""How many corners are held to lines before what is known must do."""

_PER_PART: Final = 2_000


@dataclass(slots=True)
class _Known:
    """What is known of a unit: it needs at least `low`; exactly that, by a chord on `line`, where `is_exact`."""

    rings: Rings
    low: int = 0
    is_exact: bool = False
    line: int = -1
    chords: tuple[tuple[int, int], ...] | None = None
    sides: Any = None


@dataclass
class Chords:
    """The lines of a block's seams, and what is known of the units they part.

    Attributes:
        lines: Each by two points on it, as far apart as the seam is long [in].
        work: What is left to spend.
    """

    lines: tuple[tuple[Point, Point], ...]
    work: int = WORK
    _known: dict[Key, _Known] = field(default_factory=dict)

    @classmethod
    def of(cls, frame: Frame, work: int = WORK) -> Chords:
        """The lines of the seams of a block, each once."""
        nodes = frame.map.nodes
        runs = [(nodes[run.nodes[0]], nodes[run.nodes[-1]]) for run in frame.runs if run.is_straight]
        runs.sort(key=lambda line: (-distance(*line), line))
        found: dict[tuple[int, ...], tuple[Point, Point]] = {}
        for p, q in runs:
            found.setdefault(_on_grid(p, q), (p, q))
        return cls(tuple(found.values()), work)

    def least(self, rings: Rings, most: int) -> int:
        """A bound on the crossings a convex unit needs; where it is at most `most` and work is left, the least."""
        if len(rings) <= 1:
            return 0
        known = self._of(rings)
        if known.is_exact or known.low > most or self.work <= 0:
            return known.low
        if known.chords is None:
            known.chords = self._chords(known)
        if known.chords and known.chords[0][0] == 0:
            self._freely(known, most)
        else:
            self._deeper(known, most)
        return known.low

    def line(self, rings: Rings) -> int | None:
        """The line of a chord by which a unit is parted best, where that is known."""
        known = self._of(rings)
        return known.line if known.is_exact and known.line >= 0 else None

    def _of(self, rings: Rings) -> _Known:
        return self._known.setdefault(_key(rings), _Known(rings))

    def _freely(self, known: _Known, most: int) -> None:
        """Parted by a chord that crosses nothing."""
        known.line = known.chords[0][1] if known.chords else -1
        _, one, other = self.split(known, known.line)
        if not one or not other:
            return
        low = self.least(one, most)
        if low <= most:
            low += self.least(other, most - low)
        known.low = max(known.low, low)
        known.is_exact = all(len(part) == 1 or self._of(part).is_exact for part in (one, other))

    def _deeper(self, known: _Known, most: int) -> None:
        """Parted by one chord after another, as dear as is allowed, and that raised until one serves."""
        known.low = max(known.low, 1)
        for limit in range(known.low, most + 1):
            for cost, line in known.chords or ():
                if cost > limit:
                    break
                if self._serves(known, line, limit):
                    if self.work > 0:
                        known.is_exact, known.line = True, line
                    return
            if self.work <= 0:
                return
            known.low = limit + 1

    def _serves(self, known: _Known, line: int, limit: int) -> bool:
        cost, one, other = self.split(known, line)
        if not one or not other:
            return True
        left = limit - cost - self._low(other)
        if left < self._low(one):
            return False
        first = self.least(one, left)
        return first <= left and cost + first + self.least(other, limit - cost - first) <= limit

    def _low(self, rings: Rings) -> int:
        return 0 if len(rings) <= 1 else self._of(rings).low

    def through(self, place: Point) -> list[int]:
        """The lines that pass through a point."""
        found = []
        for line, (p, q) in enumerate(self.lines):
            size = distance(p, q)
            t = dot(sub(q, p), sub(place, p)) / size / size
            if abs(cross(sub(q, p), sub(place, p))) / size <= 2 * SAME_POINT * (1 + 2 * max(0.0, -t, t - 1)):
                found.append(line)
        return found

    def crossed(self, rings: Rings) -> list[int]:
        """For each line how many patches of a unit it crosses."""
        count: list[int] = self._sides(rings).all(axis=0).sum(axis=1).tolist()
        return count

    def _sides(self, rings: Rings) -> Any:
        """For each line and ring whether the ring reaches over it to the left, and to the right; (2, lines, rings)."""
        import numpy as np

        points = np.array([point for ring in rings for point in ring])
        starts = np.cumsum([0, *(len(ring) for ring in rings[:-1])])
        ends = np.array(self.lines)
        along = ends[:, 1] - ends[:, 0]
        size = np.hypot(along[:, 0], along[:, 1])[:, None]
        away = points[None, :, :] - ends[:, None, 0, :]
        height = (along[:, None, 0] * away[:, :, 1] - along[:, None, 1] * away[:, :, 0]) / size
        t = (along[:, None, 0] * away[:, :, 0] + along[:, None, 1] * away[:, :, 1]) / size**2
        slack = 2 * SAME_POINT * (1 + 2 * np.maximum(0, np.maximum(-t, t - 1)))
        left = np.logical_or.reduceat(height > slack, starts, axis=1)
        right = np.logical_or.reduceat(height < -slack, starts, axis=1)
        return np.stack((left, right))

    def _chords(self, known: _Known) -> tuple[tuple[int, int], ...]:
        """The lines that part a unit, as (patches crossed, line), fewest first."""
        self.work -= len(self.lines) * sum(map(len, known.rings))
        if not self.lines or self.work <= 0:
            return ()
        known.sides = self._sides(known.rings)
        count = known.sides.all(axis=0).sum(axis=1)
        parts = known.sides.any(axis=2).all(axis=0)
        return tuple(sorted((int(count[line]), line) for line in range(len(self.lines)) if parts[line]))

    def split(self, known: _Known, line: int) -> tuple[int, Rings, Rings]:
        """How often a line crosses patches of a unit, and what lies on its left and on its right."""
        sides: tuple[list[Ring], list[Ring]] = ([], [])
        count = 0
        for ring, left, right in zip(known.rings, *known.sides[:, line].tolist(), strict=True):
            if not (left and right):
                sides[right].append(ring)
                continue
            pieces = self.pieces(ring, line)
            count += len(pieces) - 1
            for piece in pieces:
                sides[_weight(piece, *self.lines[line]) < 0].append(piece)
        self.work -= _PER_PART * max(1, count)
        return count, tuple(sides[0]), tuple(sides[1])

    def pieces(self, ring: Ring, line: int) -> list[Ring]:
        """A patch parted by a whole line."""
        pieces = [ring]
        for start, end in inside(ring, *self.lines[line]):
            holder = next((piece for piece in pieces if is_within(piece, midpoint(start, end))), None)
            if holder is None:
                continue
            pieces.remove(holder)
            pieces += [tuple(piece) for piece in parted(holder, start, end)]
        return pieces


def inside(ring: Ring, p: Point, q: Point) -> list[tuple[Point, Point]]:
    """The stretches of the line through p and q that lie inside a ring, in order along it."""
    size = distance(p, q)
    heights = []
    for point in ring:
        t = dot(sub(q, p), sub(point, p)) / size / size
        height = cross(sub(q, p), sub(point, p)) / size
        heights.append(0.0 if abs(height) <= 2 * SAME_POINT * (1 + 2 * max(0.0, -t, t - 1)) else height)
    if not min(heights) < 0 < max(heights):
        return []
    marks = []
    for i, (a, b) in enumerate(zip(ring, (*ring[1:], ring[0]), strict=True)):
        h, k = heights[i], heights[(i + 1) % len(ring)]
        if h == 0:
            marks.append(a)
        elif h * k < 0:
            marks.append((a[0] + (b[0] - a[0]) * h / (h - k), a[1] + (b[1] - a[1]) * h / (h - k)))
    marks.sort(key=lambda point: dot(sub(q, p), sub(point, p)))
    return [(a, b) for a, b in pairwise(marks) if is_within(ring, midpoint(a, b))]


def _weight(ring: Ring, p: Point, q: Point) -> float:
    """Above 0 where more of a ring lies left of a line than right of it."""
    heights = [cross(sub(q, p), sub(point, p)) for point in ring]
    return max(heights) + min(heights)


def _key(rings: Rings) -> Key:
    """The same for the same shapes, whatever was cut first."""
    return frozenset(
        tuple(sorted({(round(x / (8 * SAME_POINT)), round(y / (8 * SAME_POINT))) for x, y in ring})) for ring in rings
    )


def _on_grid(p: Point, q: Point) -> tuple[int, ...]:
    """A line by its direction and its distance from the origin; the same only where two stray nowhere in a block."""
    size = distance(p, q)
    x, y = (q[0] - p[0]) / size, (q[1] - p[1]) / size
    if x < -CUT_ROUND_OFF or (x < CUT_ROUND_OFF and y < 0):
        x, y = -x, -y
    return (round(x / CUT_ROUND_OFF), round(y / CUT_ROUND_OFF), round((p[0] * y - p[1] * x) / CUT_ROUND_OFF))


def rings_of(frame: Frame, patches: Iterable[int]) -> Rings:
    """The outlines of patches."""
    return tuple(frame.patches[patch].outline.points for patch in patches)

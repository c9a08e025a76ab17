"""Constructions made by hand: the contacts are taken from shapely, never from the planner or the referee."""

from __future__ import annotations

from itertools import count, pairwise
from typing import TYPE_CHECKING, Any

import pytest
import shapely

from seamproof.block import Block
from seamproof.errors import SewingError
from seamproof.geometry import Edge
from seamproof.geometry.points import height_over
from seamproof.referee import Reason
from seamproof.sequence import Construction, Foundation, Join, Step

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from seamproof.geometry import Point
    from seamproof.sequence import Technique


def path(*points: Point) -> tuple[Edge, ...]:
    return tuple(Edge(p, q) for p, q in pairwise(points))


_IN_A_STEP = {
    Reason.NO_CONTACT, Reason.SEWN_TWICE, Reason.NOT_ONE_SEAM, Reason.BENT_SEAM, Reason.CANNOT_FOLD,
    Reason.UNKNOWN_UNIT, Reason.WRONG_SIDES, Reason.WRONG_KIND, Reason.UNDECLARED_PIVOT, Reason.IDLE_PIVOT,
    Reason.NOT_AN_END_PART, Reason.NOT_IN_ONE_LINE, Reason.UNFINISHED_SEAM,
}  # fmt: skip
_OF_PATCHES = {
    Reason.UNKNOWN_PATCH, Reason.MISSING_PATCH, Reason.OVERLAP, Reason.OPEN_CONTACT, Reason.SEWN_TWICE,
    Reason.BENT_SEAM, Reason.NOT_ONE_SEAM, Reason.CANNOT_FOLD, Reason.WRONG_SIDES, Reason.UNDECLARED_PIVOT,
    Reason.NOT_IN_ONE_LINE, Reason.UNFINISHED_SEAM, Reason.WRONG_TWIN, Reason.NOT_FREE, Reason.WRONG_PRECEDENCE,
    Reason.NO_PIECE, Reason.WRONG_PIECE, Reason.LAID_ON_OWN_AREA, Reason.WRONG_FLIP,
    Reason.NOT_COVERED, Reason.UNMIRRORED,
}  # fmt: skip


@pytest.fixture(scope="module", autouse=True)
def _well_told() -> Iterator[None]:
    """Whatever is refused in these tests is told in words, with its step and its patches where it has any."""
    plain = SewingError.__init__

    def told(
        self: SewingError, message: str, *, reason: str, step: int | None = None, patches: Sequence[str] = ()
    ) -> None:
        plain(self, message, reason=reason, step=step, patches=patches)
        assert reason in set(Reason)
        assert (step is not None) == message.startswith("step "), message
        assert step is None or message.startswith(f"step {step + 1}: "), message
        assert step is not None or reason not in _IN_A_STEP, message
        assert step is not None or reason != Reason.OUT_OF_ORDER or "before itself" in message, message
        assert patches or reason not in _OF_PATCHES, message
        assert all(isinstance(patch, str) for patch in patches), message
        assert "None" not in message or reason in {Reason.UNKNOWN_UNIT, Reason.WRONG_METHOD}, message

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(SewingError, "__init__", told)
        yield


class Sewing:
    """A construction put down seam by seam."""

    def __init__(self, block: Block) -> None:
        self.block = block
        self.foundations: list[Foundation] = []
        self.joins: list[Join] = []
        self.steps: list[Step] = []
        self._papered: set[str] = set()
        self._numbers = count(1)

    @staticmethod
    def path(*points: Point) -> tuple[Edge, ...]:
        return path(*points)

    def _shape(self, patches: Iterable[str]) -> Any:
        return shapely.union_all([shapely.Polygon(self.block.patch(p).outline.polygon) for p in patches])

    def contact(self, left: Iterable[str], right: Iterable[str]) -> tuple[Edge, ...]:
        """Where two sets of patches touch, as seen by shapely; its first stretch when there are several."""
        a, b = self._shape(left), self._shape(right)
        shared = a.intersection(b)
        lines = [part for part in shapely.get_parts(shared) if part.length > 0]
        if len(lines) > 1:
            lines = list(shapely.get_parts(shapely.line_merge(shapely.MultiLineString(lines))))
        if not lines:
            return ()
        points = [(x, y) for x, y in lines[0].coords]
        (x0, y0), (x1, y1) = points[:2]
        beside = shapely.Point((x0 + x1) / 2 - (y1 - y0) / 100, (y0 + y1) / 2 + (x1 - x0) / 100)
        return path(*(points if a.distance(beside) < 1e-9 else points[::-1]))

    def paper(
        self,
        label: str,
        order: Sequence[str],
        groups: Sequence[Sequence[str]] | None = None,
        precedes: Iterable[tuple[str, str]] | None = None,
        twin_of: str | None = None,
    ) -> Sewing:
        """Sew patches on a paper; without `precedes`, what must come directly before what as shapely sees it."""
        cut = tuple(map(tuple, groups)) if groups else tuple((patch,) for patch in order)
        seams = [self.contact([patch], order[:place]) if place else () for place, patch in enumerate(order)]
        pairs = self._precedes(order, seams) if precedes is None else precedes
        self.foundations.append(Foundation(label, tuple(order), cut, frozenset(pairs), twin_of))
        self._papered.update(order)
        for place, (patch, seam) in enumerate(zip(order, seams, strict=True)):
            self.steps.append(Step("add" if place else "first", seam, foundation=label, patch=patch))
        return self

    def _precedes(self, order: Sequence[str], seams: Sequence[tuple[Edge, ...]]) -> set[tuple[str, str]]:
        """A patch comes after those its seam runs along, and before those that reach over its seam's whole line."""
        before: list[set[int]] = [set() for _ in order]
        for k, seam in enumerate(seams):
            shapes = [self._shape([patch]) for patch in order]
            before[k] |= {n for n in range(k) if seam and shapes[n].intersection(shapes[k]).length > 1e-6}
            for m in range(k + 1, len(order)) if seam else ():
                if max(height_over(p, seam[0].start, seam[-1].end) for p in shapes[m].exterior.coords) > 1e-3:
                    before[m].add(k)
        for k in range(len(order)):
            before[k] |= {n for m in before[k] for n in before[m]}
        return {
            (order[n], order[k])
            for k in range(len(order))
            for n in before[k]
            if not any(n in before[m] for m in before[k])
        }

    def join(
        self,
        first: str,
        second: str,
        seam: Sequence[Edge],
        kind: Technique = "straight",
        *,
        pivots: Sequence[Point] = (),
        passes: Sequence[Sequence[Edge]] = (),
    ) -> str:
        """Join two units; for a partial seam give its passes, and leave the later ones to `finish`."""
        join = Join(
            f"J{next(self._numbers)}", first, second, tuple(seam), kind, tuple(pivots), tuple(map(tuple, passes))
        )
        self.joins.append(join)
        self.steps.append(Step("start" if passes else "join", join.passes[0], join=join.label))
        return join.label

    def finish(self, label: str, number: int = 1) -> None:
        join = next(join for join in self.joins if join.label == label)
        self.steps.append(Step("finish", join.passes[number], join=label))

    @property
    def construction(self) -> Construction:
        loose = tuple(patch for patch in self.block.ids if patch not in self._papered)
        return Construction("foundation", tuple(self.foundations), loose, tuple(self.joins), tuple(self.steps))


@pytest.fixture
def sewing() -> Callable[..., Sewing]:
    """Begin a construction by hand over polygons."""

    def begin(polygons: Iterable[Iterable[Point]], roles: Sequence[str] | None = None) -> Sewing:
        return Sewing(Block.from_polygons(polygons, roles))

    return begin

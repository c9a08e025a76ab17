"""How far a block strays when cutting and sewing do, by simulation.

The model moves patches without turning them. Cut and joined (pieced), each patch is cut with an error on each side and
each seam is sewn with an error of its own: where unit B is joined to unit A along a seam with unit normal n (from A to
B), B comes to lie n·(a + b − 2e) off what lies beside it, with a, b the cutting errors of the two raw edges and e by
how much the seam is too deep. These add up along the tree of joins: an error e in each of n parallel seams moves the
width by 2·e·n. Sewn on paper, every line is printed: a seam strays by its own stitching alone, and nothing adds up.
Sources: derived.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from seamproof.geometry.planar import PlanarMap
from seamproof.geometry.points import left, sub, times, unit
from seamproof.given import few_enough
from seamproof.planning.meetings import crossings
from seamproof.sequence.construction import laid_name
from seamproof.sequence.owners import owners
from seamproof.tolerance import SAME_POINT

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.random import Generator
    from numpy.typing import NDArray

    from seamproof.block import Block
    from seamproof.geometry import Edge, Point
    from seamproof.planning.meetings import Crossing
    from seamproof.sequence import Construction

    Array = NDArray[Any]


@dataclass(frozen=True)
class Hand:
    """A maker's errors [in]: standard deviations of normal distributions, and two constants.

    The defaults put two standard deviations of a cut, and of a seam along a foot, at 1/32 in, which a careful beginner
    holds (common practice, no source), and those of stitching along a printed line at 1/50 in, a fine line's width.

    Attributes:
        cutting: Of each cut edge.
        seam: Of the depth of each pieced seam.
        line: Of each seam stitched along a printed line.
        fold: What the turn of the cloth takes at each pieced seam, always.
        scant: By how much a pieced seam is set under its allowance, always.
    """

    cutting: float = 1 / 64
    seam: float = 1 / 64
    line: float = 1 / 100
    fold: float = 1 / 64
    scant: float = 0.0


@dataclass(frozen=True)
class Stray:
    """How far a match point strays [in]: the distance between the two seam ends that should meet there."""

    place: Point
    join: str
    median: float
    worst: float


@dataclass(frozen=True)
class Forecast:
    """What a number of trials came to.

    Attributes:
        trials: How many blocks were sewn in the simulation.
        width: Mean error of the finished width [in] and its standard deviation.
        height: Mean error of the finished height [in] and its standard deviation.
        points: Every match point on a join, or on the line by which a unit is laid: the median stray, and that which 19
            blocks in 20 stay under.
        setting: By how much [in] a pieced seam should be scant of its allowance so that width and height come out
            true on average.
    """

    trials: int
    width: tuple[float, float]
    height: tuple[float, float]
    points: tuple[Stray, ...]
    setting: float


def forecast(
    block: Block, construction: Construction, hand: Hand | None = None, *, trials: int = 10_000, seed: int = 1
) -> Forecast:
    """Sew a block many times with a maker's errors.

    Args:
        block: The block.
        construction: How it is sewn; its foundations are sewn on paper, all else is cut and joined.
        hand: The errors; None: those of a careful beginner.
        trials: How many times.
        seed: Of the random numbers: the same seed, the same figures.

    Raises:
        ValueError: no trials.
        BlockError: there are more than MOST_PATCHES patches.
    """
    import numpy as np

    few_enough(block.title, len(block.patches), "a forecast")
    if trials < 1:
        raise ValueError(f"trials: {trials} must be 1 or more")
    hand = hand or Hand()
    sewing = _Sewing(block, construction, hand, np.random.default_rng(seed), trials)
    moved = sewing.sewn()
    sizes = [sewing.extent(moved, axis) for axis in (0, 1)]
    return Forecast(
        trials,
        (float(sizes[0].mean()), float(sizes[0].std())),
        (float(sizes[1].mean()), float(sizes[1].std())),
        tuple(sewing.strays(moved)),
        hand.scant + sewing.excess([float(size.mean()) for size in sizes]),
    )


class _Sewing:
    """One construction sewn `trials` times over."""

    def __init__(self, block: Block, construction: Construction, hand: Hand, random: Generator, trials: int) -> None:
        self.block, self.construction, self.hand = block, construction, hand
        self.random, self.trials = random, trials
        self.map = PlanarMap.of([patch.outline for patch in block.patches])
        self.owner = owners(self.map, block.ids, construction)
        self.index = {patch: number for number, patch in enumerate(block.ids)}

    def sewn(self) -> Array:
        """How far each patch comes to lie off, as (patches, trials, 2) [in]."""
        hand, draw = self.hand, self.random.normal
        depths = [draw(hand.fold - hand.scant, hand.seam, self.trials) for _ in self.construction.joins]
        cuts = [draw(0.0, hand.cutting, self.trials) + draw(0.0, hand.cutting, self.trials) for _ in depths]
        return self.moved([cut - 2 * depth for cut, depth in zip(cuts, depths, strict=True)])

    def moved(self, gaps: Sequence[Array]) -> Array:
        """Where the patches lie when the two raw edges of each join end up this much farther apart [in].

        Along the seam the two units are laid so that their patches agree on average, as a maker pins them. The unit
        of fewer patches is the one that is moved, which changes only where the whole lies.
        """
        import numpy as np

        moved = np.zeros((len(self.block.patches), len(gaps[0]) if gaps else self.trials, 2))
        for join, gap in zip(self.construction.joins, gaps, strict=True):
            first, second = ([self.index[patch] for patch in self.construction.patches_of(unit)]
                             for unit in (join.first, join.second))  # fmt: skip
            sides = self._beside(join.label, set(first))
            shift = gap[:, None] * np.array(_normal(join.seam))
            for share, one, other in sides:
                shift += share * (moved[one] - moved[other])
            if len(second) <= len(first):
                moved[second] += shift
            else:
                moved[first] -= shift
        return moved

    def _beside(self, label: str, first: set[int]) -> list[tuple[float, int, int]]:
        """The stretches of a join: (share of its length, patch of its first unit, patch of its second)."""
        edges = [self.map.edges[index] for index, owner in self.owner.items() if owner == label]
        edges = [edge for edge in edges if (edge.left in first) != (edge.right in first)]
        whole = sum(edge.edge.length for edge in edges)
        return [
            (edge.edge.length / whole, *((edge.left, edge.right) if edge.left in first else (edge.right, edge.left)))
            for edge in edges
        ]

    def extent(self, moved: Array, axis: int) -> Array:
        """By how much the finished width (axis 0) or height (1) is off, in each trial [in]."""
        low, high = self.block.bounds[axis], self.block.bounds[axis + 2]
        sides = [
            [number for number, patch in enumerate(self.block.patches)
             if abs(patch.outline.bounds[axis + end] - edge) <= SAME_POINT]
            for end, edge in ((0, low), (2, high))
        ]  # fmt: skip
        result: Array = moved[sides[1], :, axis].mean(axis=0) - moved[sides[0], :, axis].mean(axis=0)
        return result

    def excess(self, means: list[float]) -> float:
        """By how much [in] every pieced seam is too deep on average, from what an error of 1 in each would do."""
        import numpy as np

        unit_depth = self.moved([np.array([-2.0])] * len(self.construction.joins))
        effects = [float(self.extent(unit_depth, axis)[0]) for axis in (0, 1)]
        weight = sum(effect * effect for effect in effects)
        return sum(mean * effect for mean, effect in zip(means, effects, strict=True)) / weight if weight else 0.0

    def strays(self, moved: Array) -> Iterator[Stray]:
        """How far apart, along the join, the two seams of every crossing end."""
        import numpy as np

        labels = (*(join.label for join in self.construction.joins), *map(laid_name, self.construction.laid))
        for crossing in crossings(self.map, self.owner, labels):
            along = self.map.leaving(self._through(crossing), crossing.node).direction(0)
            ends = [self._end(edge, moved) @ np.array(along) for edge in (crossing.left, crossing.right)]
            apart = np.abs(ends[0] - ends[1])
            yield Stray(self.map.nodes[crossing.node], crossing.join,
                        float(np.median(apart)), float(np.quantile(apart, 0.95)))  # fmt: skip

    def _through(self, crossing: Crossing) -> int:
        return next(e for e in self.map.star(crossing.node) if self.owner[e] == crossing.join)

    def _end(self, index: int, moved: Array) -> Array:
        """Where a seam comes to lie: midway between its patches, and on paper as its own stitching strays."""
        edge = self.map.edges[index]
        place: Array = (moved[edge.left] + moved[edge.right]) / 2
        if self.owner[index].startswith("J"):
            return place
        outward = _normal((edge.edge,))
        return place + self.random.normal(0.0, self.hand.line, self.trials)[:, None] * outward


def _normal(seam: tuple[Edge, ...]) -> Point:
    """The unit normal of a seam from the unit on its left to the one on its right, by its chord."""
    return unit(times(left(sub(seam[-1].end, seam[0].start)), -1))

"""Every tolerance, each with its unit and its reason. No other module holds a small number of its own."""

from __future__ import annotations

from typing import Final

SAME_POINT: Final = 1e-4
"""[in] Points nearer than this are one point; a node this near a line lies on it.

A fifth of what a drawing rounded to a thousandth of an inch can be off, and a three-hundredth of the finest mark on
a quilter's rule (1/32 in), so no maker can mean two points so near one another.
"""

FARTHEST: Final = 1e7
"""[in] How far from (0, 0) a point may lie, and how large an arc may bulge: a hundred and fifty miles.

Two neighbouring floats lie a fifty-thousandth of SAME_POINT apart there, so that sums of them still tell points apart.
"""

LAID_ON: Final = 8 * SAME_POINT
"""[in] How far apart the same place of two shapes may be when one is laid on the other, or a seam on its join.

The edge by which it is laid may be off by SAME_POINT at each end of either shape; what that comes to grows toward
the far side, and the place itself is off by as much again. Still far less than any maker sees.
"""

ROUND_OFF: Final = 1e-9
"""[in] What sums of a few floats of block size can be off by; taken off before a size is rounded up."""

CHORD: Final = 5e-4
"""[in] The farthest a flattened arc strays from the true one: half a thousandth, the width of no pen."""

UNIT_VECTOR: Final = 1e-9
"""[1] Two unit vectors whose cross product is smaller are parallel. Only for single edges given exactly."""

CUT_ROUND_OFF: Final = 1e-6
"""[in] Taken off an exact cut size before it is rounded up, so that 6.5 does not become 6 5/8."""

PRINT_TRUE: Final = 0.1 / 25.4
"""[in] A template is true to size when each measure of it on the page is within a tenth of a millimetre."""


def area_slack(perimeter: float) -> float:
    """The area [in²] by which patches of this whole perimeter [in] may differ, when corners stray by SAME_POINT."""
    return SAME_POINT * perimeter

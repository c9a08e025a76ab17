"""The fixed words for why a construction cannot be sewn as written."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from seamproof.errors import SewingError

if TYPE_CHECKING:
    from collections.abc import Iterable


class Reason(StrEnum):
    """Why the referee refuses. Every SewingError it raises carries one of these words as its `reason`."""

    UNKNOWN_PATCH = "unknown-patch"
    """A patch is named that the block does not have."""
    MISSING_PATCH = "missing-patch"
    """A patch of the block is sewn nowhere."""
    PATCH_TWICE = "patch-twice"
    """A patch, or a unit that holds it, is used a second time."""
    UNKNOWN_UNIT = "unknown-unit"
    """A join or step names a unit, foundation or join that is nowhere made."""
    STEPS_DISAGREE = "steps-disagree"
    """The steps do not say what the foundations and joins say: one lacks, is there twice, or tells another seam."""
    OVERLAP = "overlap"
    """Patches lie on one another."""
    OUT_OF_ORDER = "out-of-order"
    """Sewn before something that must be sewn first; another order would serve."""
    NO_CONTACT = "no-contact"
    """A seam runs where the two do not touch."""
    OPEN_CONTACT = "open-contact"
    """The two touch where the seam does not run, or a contact is never sewn."""
    SEWN_TWICE = "sewn-twice"
    """A seam runs where it is sewn already."""
    NOT_ONE_SEAM = "not-one-seam"
    """What is to be sewn together touches in several stretches, or all the way round."""
    BENT_SEAM = "bent-seam"
    """A seam on a foundation, or a join said to be straight or curved, bends."""
    CANNOT_FOLD = "cannot-fold"
    """The paper cannot be folded back on the line: cloth lies on the wrong side of it."""
    WRONG_SIDES = "wrong-sides"
    """The join's first unit does not lie on the left of its seam."""
    WRONG_KIND = "wrong-kind"
    """A join is said to be of another kind than its passes, pivots and arcs make it."""
    UNDECLARED_PIVOT = "undeclared-pivot"
    """A seam bends, or must stop dead before the unit's own cloth, where no pivot is counted."""
    IDLE_PIVOT = "idle-pivot"
    """A pivot is counted where the needle need not stop."""
    NOT_AN_END_PART = "not-an-end-part"
    """A partial seam is not started at one of its ends, or a later pass does not go on where the last one stopped."""
    NOT_IN_ONE_LINE = "not-in-one-line"
    """The passes of a partial seam do not go on in one line."""
    UNFINISHED_SEAM = "unfinished-seam"
    """A partial seam is started and never finished."""
    WRONG_TWIN = "wrong-twin"
    """A foundation is said to be the twin of one that it is not congruent to, or that has other roles."""
    NOT_FREE = "not-free"
    """Patches said to be free of one another are not, or the groups are not the order."""
    WRONG_PRECEDENCE = "wrong-precedence"
    """What is said to come before what is not what must: the order disregards it, or a pair is missing or idle."""
    WRONG_METHOD = "wrong-method"
    """The method is none that is known, or one that uses no paper where there are foundations."""
    WRONG_COUNT = "wrong-count"
    """The technique, the pivots or the partial seams are said to be others than the steps come to."""
    FALSE_BOUND = "false-bound"
    """The construction has fewer than it says no construction can have."""
    FALSE_OPTIMUM = "false-optimum"
    """The foundations are said to be the fewest, and are more than is said to be proven to be needed."""
    NO_PIECE = "no-piece"
    """Pieces are given, but not for this patch."""
    WRONG_PIECE = "wrong-piece"
    """A piece is for another foundation or seam line, is not convex, has a corner not matched, or is given twice."""
    LAID_ON_OWN_AREA = "laid-on-own-area"
    """A piece is laid on its own area, not over the earlier patches: it would flip away from where it belongs."""
    WRONG_FLIP = "wrong-flip"
    """A piece, laid as said and flipped, does not come to lie where it is said to."""
    NOT_COVERED = "not-covered"
    """A piece does not cover its patch and allowance in every placement it is said to bear."""
    UNMIRRORED = "unmirrored"
    """A template, sewn as printed, shows the mirror image of its patches."""
    WRONG_FACE = "wrong-face"
    """A template, sewn as printed, shows other patches than the block's."""


def refusal(reason: Reason, message: str, *, step: int | None = None, patches: Iterable[str] = ()) -> SewingError:
    """The error for a construction that cannot be sewn, with the step (counted from 1) in its message."""
    where = f"step {step + 1}: " if step is not None else ""
    return SewingError(where + message, reason=reason, step=step, patches=tuple(patches))

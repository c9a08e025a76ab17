"""The last look before a pack is written: sewn as printed, does every template show the block's face?"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from seamproof.pattern import Pattern
    from seamproof.sheets.options import HandoutOptions


def check_faces(pattern: Pattern, options: HandoutOptions) -> int:
    """Hold every foundation template, as it lies on its page, to the face of its foundations; give how many there are.

    Where the printed lines lie is measured in the finished document by the print proof; this asks whether those places
    are the mirror image that sewing from the printed side needs.

    Raises:
        SewingError: unmirrored or wrong-face.
    """
    from seamproof.geometry import Transform
    from seamproof.referee import check_template
    from seamproof.sheets.pages import lay_out

    upright = Transform(d=-1.0)
    count = 0
    for placed in (placed for page in lay_out(pattern, options) for placed in page.placed if placed.template.lines):
        template, move = placed.template, placed.to_page.then(upright)
        lines = {line.number: (move.point(line.printed[0]), move.point(line.printed[1])) for line in template.lines}
        places = {number: move.point(place) for _, number, place, _ in template.patches}
        places |= {unit.number: move.point(unit.place) for unit in template.laid}
        construction, finished = pattern.construction, template.finished.transformed(move)
        units = {unit: construction.patches_of(unit) for unit in construction.laid}
        for label in template.stands_for:
            check_template(pattern.block, construction.foundation(label), finished, lines, places, units=units)
            count += 1
    return count

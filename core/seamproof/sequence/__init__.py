"""What a construction is: foundations, joins, steps. Types only; `planning` finds one, `referee` replays one."""

from seamproof.sequence.construction import (
    TECHNIQUES,
    Bounds,
    Construction,
    Foundation,
    Join,
    Step,
    Technique,
)

__all__ = ["TECHNIQUES", "Bounds", "Construction", "Foundation", "Join", "Step", "Technique"]

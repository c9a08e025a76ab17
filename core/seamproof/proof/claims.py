"""One claim: what is said, its figure, and how it was proven."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Claim:
    """One thing a pattern says of itself, proven or refuted.

    Attributes:
        claim: A short fixed name such as "tiles" or "covers".
        value: The figure found.
        bound: What it is held to, or None.
        unit: "in", "in²", "patches", … or "".
        proof: How it was shown, in one sentence.
        ok: Whether it holds.
    """

    claim: str
    value: float | int | str
    bound: float | int | str | None
    unit: str
    proof: str
    ok: bool

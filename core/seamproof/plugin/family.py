"""A family: one way to draft blocks, with its parameters."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Generic, TypeVar

from pydantic import BaseModel, ConfigDict

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from seamproof.block import Block


class Parameters(BaseModel):
    """The base of every family's parameters: frozen, strict, no key unknown.

    Each field has a default, a description (one plain sentence that says why its range is what it is) and its range,
    as `Field(default=…, ge=…, le=…, description=…)`. Validation, help, strategies and forms are all read from here.
    """

    model_config = ConfigDict(frozen=True, strict=True, extra="forbid", allow_inf_nan=False)


P = TypeVar("P", bound=Parameters)


@dataclass(frozen=True)
class Family(Generic[P]):
    """How blocks of one kind are drafted.

    Attributes:
        slug: Its name in recipes: small letters, digits and hyphens.
        title: Its name on pages.
        parameters: The pydantic model of its parameters.
        draft: Makes the block: (parameters, finished size [in]) → Block. The outline is set, anticlockwise, with its
            lower left corner at (0, 0). Raises ValueError naming the parameter when parameters contradict one
            another. Same input, same block.
        sources: Where the block is described, or "common practice, no source".
        designs: Named settings of the parameters: name → {parameter: value}; one at least.
        roles: Every role a block of it may have; "#" stands for a number ("light log #").
        smallest: No patch the parameters allow is narrower than this share of the block's size (declared, and tried).
        sharpest: No corner of a patch is sharper than this [°] (declared, and tried).
        about: One sentence for the list of families.
    """

    slug: str
    title: str
    parameters: type[P]
    draft: Callable[[P, float], Block]
    sources: tuple[str, ...]
    designs: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    smallest: float = 0.0
    sharpest: float = 0.0
    about: str = ""
    roles: tuple[str, ...] = ()

    def design(self, name: str | None = None) -> P:
        """The parameters of a named design; without a name, the defaults. Raises KeyError where there is none."""
        return self.parameters() if name is None else self.parameters(**self.designs[name])

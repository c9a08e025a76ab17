"""The whole conformance kit for families as one function."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from seamproof.geometry import Transform
from seamproof.plugin.registry import fault_of
from seamproof.testing import laws
from seamproof.testing.strategies import extremes, moves, parameters, sizes

if TYPE_CHECKING:
    from seamproof.plugin import Family, Parameters

_SIZE = 6.0


def check_family(family: Family[Any]) -> None:
    """Try every law on a family's designs, on the ends of its parameters, and on what hypothesis draws between.

    How much is drawn is set by the hypothesis profile that is loaded; no example fails for being slow.

    Raises:
        AssertionError: a law is broken; the message says which.
        SeamproofError: a block does not tile, cannot be planned, or is refused by the referee.
    """
    fault = fault_of(family)
    assert fault is None, fault
    assert family.roles, f"{family.slug}: declare its roles"
    assert family.sources, f"{family.slug}: name its sources"
    for name, field in family.parameters.model_fields.items():
        assert field.description, f"{family.slug}: describe parameter {name}, and why its range is what it is"
    sewn: set[Parameters] = set()
    designs = [family.design(name) for name in family.designs]
    _declares_no_role_in_vain(family, designs)
    for choice in designs:
        _try(family, choice, _SIZE, Transform.mirror(), sewn)
    for choice in extremes(family.parameters):
        _try(family, choice, _SIZE, None, sewn)

    @settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
    @given(choice=parameters(family.parameters), size=sizes(), move=st.one_of(st.none(), moves()))
    @example(choice=family.design(), size=_SIZE, move=Transform.turn(30))
    def lawful(choice: Parameters, size: float, move: Transform | None) -> None:
        _try(family, choice, size, move, sewn)

    lawful()


def _declares_no_role_in_vain(family: Family[Any], designs: list[Any]) -> None:
    """Every declared role is found in a design, or at an end of the parameters."""
    seen: set[str] = set()
    for choice in [*designs, *extremes(family.parameters)]:
        try:
            seen |= set(family.draft(choice, _SIZE).roles)
        except ValueError as error:
            laws.names_the_parameter_it_refuses(family, error)
    vain = [role for role in family.roles if not any(laws.role_pattern(role).fullmatch(one) for one in seen)]
    assert not vain, f"{family.slug}: no design has the declared roles {vain}"


def _try(family: Family[Any], choice: Parameters, size: float, move: Transform | None, sewn: set[Parameters]) -> None:
    """Every law on one block; the laws of sewing once for each choice of parameters, since sizes only scale it."""
    try:
        block = family.draft(choice, size)
    except ValueError as error:
        laws.names_the_parameter_it_refuses(family, error)
        return
    laws.tiles_its_block(block, size)
    laws.is_the_same_every_time(family, choice, size)
    laws.scales_with_its_size(family, choice, size)
    laws.holds_the_roles_it_declares(family, block)
    laws.holds_no_patch_narrower_than_declared(family, block)
    laws.holds_no_corner_sharper_than_declared(family, block)
    if choice in sewn:
        return
    sewn.add(choice)
    construction = laws.is_sewable(block)
    if move is not None:
        laws.keeps_its_construction_when_moved(block, construction, move)

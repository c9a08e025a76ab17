"""For authors of plugins: strategies, laws and `check_family`. Needs the extra `testing` (hypothesis).

A plugin's own test is one call:

    from seamproof.testing import check_family

    def test_my_family_keeps_the_laws():
        check_family(MY_FAMILY)
"""

from seamproof.testing.checking import check_family
from seamproof.testing.laws import (
    assert_same_geometry,
    holds_no_corner_sharper_than_declared,
    holds_no_patch_narrower_than_declared,
    holds_the_roles_it_declares,
    is_sewable,
    is_the_same_every_time,
    keeps_its_construction_when_moved,
    names_the_parameter_it_refuses,
    scales_with_its_size,
    tiles_its_block,
)
from seamproof.testing.strategies import blocks, extremes, fabrics, moves, parameters, sizes, slicing_tilings

__all__ = [
    "assert_same_geometry",
    "blocks",
    "check_family",
    "extremes",
    "fabrics",
    "holds_no_corner_sharper_than_declared",
    "holds_no_patch_narrower_than_declared",
    "holds_the_roles_it_declares",
    "is_sewable",
    "is_the_same_every_time",
    "keeps_its_construction_when_moved",
    "moves",
    "names_the_parameter_it_refuses",
    "parameters",
    "scales_with_its_size",
    "sizes",
    "slicing_tilings",
    "tiles_its_block",
]

"""Lantern blocks of the Fennick Quay sewing circle."""

from __future__ import annotations

from typing import Any

import seamproof as sp
from fennick_lanterns.arch import ARCH
from fennick_lanterns.lantern import LANTERN


@sp.hookimpl
def seamproof_families() -> list[sp.Family[Any]]:
    """The families of this plugin."""
    return [LANTERN, ARCH]

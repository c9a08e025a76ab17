"""What the shell completes for an argument."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import click


def family_names(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[str]:  # noqa: ARG001 - click's
    """Families that begin as typed."""
    from seamproof.plugin.registry import families

    return [slug for slug in families() if slug.startswith(incomplete)]


def design_names(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[str]:  # noqa: ARG001 - click's
    """Designs of the family that was typed before."""
    from seamproof.plugin.registry import families

    slug = ctx.params.get("family") or next(iter(ctx.args), "")
    family = families().get(slug)
    return [name for name in (family.designs if family else ()) if name.startswith(incomplete)]

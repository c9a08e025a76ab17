"""`check`: prove what recipes claim."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from seamproof.cli.paths import PATH
from seamproof.cli.showing import show_json, show_table, tell_narrow

if TYPE_CHECKING:
    from seamproof.pattern.examining import Examination
    from seamproof.proof import Claim


@click.command()
@click.argument("paths", metavar="PATH…", nargs=-1, required=True, type=PATH)
@click.option("--json", "as_json", is_flag=True, help="Write JSON.")
@click.pass_context
def check(ctx: click.Context, /, paths: tuple[str, ...], *, as_json: bool) -> None:
    """Prove what recipes claim: each PATH is a recipe, or a folder of *.recipe.toml files.

    Exit status: 0 when every claim holds, 1 when one fails, 2 when a recipe cannot be read.
    """
    from seamproof.errors import SeamproofError
    from seamproof.pattern.examining import examine
    from seamproof.recipe import load_recipe
    from seamproof.recipe.finding import find_recipes

    found: list[tuple[str, Examination]] = []
    is_unread = False
    for path in find_recipes(paths):
        try:
            examination = examine(load_recipe(path))
        except SeamproofError as error:
            click.echo(str(error), err=True)
            is_unread = True
            continue
        found.append((path, examination))
        if not as_json:
            _show(path, examination)
        if examination.pattern:
            tell_narrow(path, examination.pattern.block)
    if as_json:
        show_json({"recipes": [_data(path, examination) for path, examination in found]})
    elif len(found) > 1:
        _sum_up([examination for _, examination in found])
    ctx.exit(2 if is_unread else 0 if all(examination.ok for _, examination in found) else 1)


def _data(path: str, examination: Examination) -> dict[str, Any]:
    from seamproof.pattern.data import claim_data

    pattern = examination.pattern
    return {
        "path": path,
        "title": examination.recipe.title,
        "family": examination.recipe.family,
        "patches": len(pattern.block.patches) if pattern else None,
        "foundations": len(pattern.construction.foundations) if pattern else None,
        "technique": pattern.construction.technique if pattern else None,
        "ok": examination.ok,
        "claims": [claim_data(claim) for claim in examination.claims],
    }


def _show(path: str, examination: Examination) -> None:
    from seamproof.pattern.level import level_text

    recipe, pattern = examination.recipe, examination.pattern
    count = f", {len(pattern.block.patches)} patches" if pattern else ""
    click.echo(f"{recipe.title} ({recipe.family}{count}): {path}\n")
    rows = [(_mark(claim), claim.claim, _figure(claim), claim.proof) for claim in examination.claims]
    show_table(("", "claim", "figure", "how it was proven"), rows, whole=(0, 1))
    if pattern:
        click.echo(f"\nLevel: {level_text(pattern.level)}")
        if pattern.construction.pivots or pattern.construction.partial_seams:
            click.echo(f"Added seams could make it easier to sew: seamproof repair {path}")
    click.echo()


def _mark(claim: Claim) -> str:
    return "holds" if claim.ok else "FAILS"


_SIGNS = {
    "wide-enough": "≥", "covers": "≥", "foundations": "≥", "pivots": "≥", "partial-seams": "≥", "nests": "of",
    "laid-units": "of", "fits-the-cloth": "≤",
}  # fmt: skip


def _figure(claim: Claim) -> str:
    value = _number(claim.value, claim.unit)
    if claim.bound is None:
        return value
    sign = _SIGNS.get(claim.claim, "≤" if claim.claim.startswith("expect.cloth") else "=")
    sign = sign if claim.ok or sign != "=" else "not"
    return f"{value} {sign} {_number(claim.bound, claim.unit)} {claim.unit}".strip()


def _number(value: float | str, unit: str) -> str:
    return f"{value:.3f}" if isinstance(value, float) and unit.startswith("in") else str(value)


def _sum_up(examinations: list[Examination]) -> None:
    claims = [claim for examination in examinations for claim in examination.claims]
    bad = [claim for claim in claims if not claim.ok]
    verdict = f"{len(bad)} of {len(claims)} claims fail" if bad else f"all {len(claims)} claims hold"
    click.echo(f"{len(examinations)} recipes: {verdict}")

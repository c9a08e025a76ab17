"""`repair`: the fewest seams to add so that a recipe's block can be sewn as asked."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import click

from seamproof.cli.paths import PATH
from seamproof.cli.showing import write_new

if TYPE_CHECKING:
    from seamproof.block import Block
    from seamproof.planning.repair import Repair
    from seamproof.recipe import Recipe


@click.command()
@click.argument("recipe", metavar="RECIPE", type=PATH)
@click.option("--foundations", type=click.IntRange(0, 1000), metavar="N", help="It may take at most N foundations.")
@click.option(
    "--pivots",
    type=click.IntRange(0, 1000),
    metavar="N",
    help="It may take at most N pivots, and partial seams; without this, neither of them.",
)
@click.option(
    "-o",
    "--output",
    metavar="FILE",
    type=PATH,
    help="Write the recipe with the seams added; a file that is not there yet.",
)
@click.option(
    "--drawing", metavar="FILE", type=PATH, help="Draw the block before and after (SVG); a file that is not there yet."
)
@click.pass_context
def repair(
    ctx: click.Context,
    /,
    recipe: str,
    *,
    foundations: int | None,
    pivots: int | None,
    output: str | None,
    drawing: str | None,
) -> None:
    """Find the fewest seams to add so that the block of RECIPE can be sewn without partial and set-in seams.

    A seam is added by carrying on one that is there across a patch, which becomes two of the same fabric.
    Exit status: 0 when the block can then be sewn as asked, 1 when no such seams were found, 2 for bad input.
    """
    from seamproof.pattern.working_out import draft
    from seamproof.planning.repair import repair as find
    from seamproof.recipe import load_recipe

    loaded = load_recipe(recipe)
    before = draft(loaded)
    asked = {"foundations": foundations, "pivots": pivots}
    make = loaded.make
    mended = find(before, foundations=foundations, pivots=pivots, allowance=make.allowance, prefer=make.prefer)
    for line in _said(before, mended, asked):
        click.echo(line)
    if not mended.solved:
        ctx.exit(1)
    if mended.additions:
        if drawing is not None:
            write_new(drawing, _drawn(loaded, before, mended))
            click.echo(f"{drawing} shows it before and after.")
        if output is not None:
            write_new(output, _written(recipe, loaded, before, mended))
            click.echo(f"{output} is written. Next: seamproof check {output}")


def _said(before: Block, mended: Repair, asked: dict[str, int | None]) -> list[str]:
    goal = _goal(asked)
    count = len(mended.additions)
    if mended.never:
        why = "at a point where seams cross or three patches meet in corners, two papers are joined"
        return [f"{before.title}: it cannot be sewn {goal}, however many seams are carried on. This is proven: {why}."]
    if not mended.solved:
        why = f"; it is proven that {mended.bound - 1} or fewer do not serve" if mended.bound > 1 else ""
        return [f"{before.title}: no seams were found with which it can be sewn {goal}{why}."]
    if not count:
        return [f"{before.title}: it can be sewn {goal} as it is; no seam need be added."]
    proof = (
        "It is proven that no fewer do."
        if mended.is_least
        else f"It is the best found; it is proven that at least {mended.bound} must be added."
    )
    lines = [f"{before.title}: with {count} seam{'s' * (count > 1)} added it can be sewn {goal}. {proof}"]
    from seamproof.recipe.carrying import place_text

    left, bottom, _, _ = before.bounds
    for number, added in enumerate(mended.additions, 1):
        start, end = (f"({place_text(x - left)}, {place_text(y - bottom)})" for x, y in (added.start, added.end))
        pieces = " and ".join(added.pieces)
        lines.append(
            f"  {number}. Carry the seam that ends at {start} on across patch {added.patch} to {end}: "
            f"it becomes patches {pieces}."
        )
    return [*lines, "Places are measured from the lower left corner: across, then up."]


def _goal(asked: dict[str, int | None]) -> str:
    hard = "without partial and set-in seams" if asked["pivots"] is None else ""
    limits = [
        f"at most {count} {name[: -1 if count == 1 else None]}" for name, count in asked.items() if count is not None
    ]
    return " ".join([*filter(None, [hard]), *([f"with {' and '.join(limits)}"] if limits else [])])


def _drawn(recipe: Recipe, before: Block, mended: Repair) -> str:
    from seamproof.sheets.repair_svg import repair_sketch

    colours: dict[str, str] = {}
    for role in before.roles:
        key: Any = recipe.fabric_of(role)
        colours[role] = recipe.fabrics[key].colour
    return repair_sketch(before, mended, colours).svg


def _written(path: str, loaded: Recipe, before: Block, mended: Repair) -> str:
    """The recipe's own text with the additions at its end, and what it claims of counts put right."""
    from pathlib import Path

    from seamproof.recipe.carrying import carry_tables
    from seamproof.recipe.loading import read_recipe

    text = Path(path).read_bytes().decode("utf-8-sig").rstrip()
    text = _claims_put_right(text, loaded, mended.block)
    tables = carry_tables(before, mended.additions)
    whole = f"{text}\n\n# Seams carried on across a patch, one after the other, so that it can be sewn.\n{tables}"
    read_recipe(whole.encode(), path)
    return whole


def _claims_put_right(text: str, loaded: Recipe, block: Block) -> str:
    """The text with the counts and the technique under [expect] as they are with the seams added."""
    from seamproof.pattern.method import choose_construction
    from seamproof.recipe.positions import Positions

    con = choose_construction(block, loaded.make)
    now: dict[str, Any] = {
        "patches": len(block.patches), "foundations": len(con.foundations), "technique": con.technique
    }  # fmt: skip
    lines = text.split("\n")
    positions = Positions.of(text)
    for key, value in now.items():
        claimed = getattr(loaded.expect, key)
        row, column = positions.value(("expect", key))
        written = json.dumps(claimed)
        if claimed is not None and claimed != value and lines[row - 1][column - 1 :].startswith(written):
            end = column - 1 + len(written)
            lines[row - 1] = f"{lines[row - 1][: column - 1]}{json.dumps(value)}{lines[row - 1][end:]}"
    return "\n".join(lines)

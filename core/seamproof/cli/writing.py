"""`new-recipe` and `schema`: what helps to write recipes."""

from __future__ import annotations

import click

from seamproof.cli.completing import design_names, family_names
from seamproof.cli.paths import PATH
from seamproof.cli.showing import show_json, write_new


@click.command("new-recipe")
@click.argument("family", shell_complete=family_names)
@click.option("--design", shell_complete=design_names, help="Begin with this design's parameters.")
@click.option("-o", "--output", metavar="FILE", type=PATH, help="Write to this file, which must not be there yet.")
def new_recipe(family: str, design: str | None, output: str | None) -> None:
    """Write a first recipe of FAMILY, with every key explained."""
    from seamproof.recipe.writing import new_recipe as text_of

    text = text_of(family, design)
    if output is None:
        click.echo(text, nl=False)
    else:
        write_new(output, text)
        click.echo(f"{output} is written. Next: seamproof check {output}")


@click.command()
def schema() -> None:
    """Print the JSON Schema of recipes, for editors that complete and check TOML."""
    from seamproof.recipe.schema import recipe_schema

    show_json(recipe_schema())

"""`families` and `family`: what can be drafted."""

from __future__ import annotations

import json
import textwrap
from typing import TYPE_CHECKING, Any

import click

from seamproof.cli.completing import family_names
from seamproof.cli.showing import show_json, show_table, tell_troubles

if TYPE_CHECKING:
    from seamproof.plugin import Family


@click.command()
@click.option("--json", "as_json", is_flag=True, help="Write JSON, with the schema of every family's parameters.")
def families(*, as_json: bool) -> None:
    """List the families of blocks that are installed."""
    from seamproof.plugin.registry import families as known
    from seamproof.recipe.schema import parameters_schema

    registry = known()
    if as_json:
        show_json(
            {
                "families": [
                    {
                        "slug": family.slug,
                        "title": family.title,
                        "plugin": registry.plugin_of(family.slug).name,
                        "parameters": parameters_schema(family),
                        "designs": list(family.designs),
                    }
                    for family in registry.values()
                ]
            }
        )
    else:
        rows = [(f.slug, f.about, str(len(f.designs)), str(registry.plugin_of(f.slug))) for f in registry.values()]
        show_table(("family", "what it is", "designs", "plugin"), rows, whole=(0,))
    tell_troubles()


@click.command()
@click.argument("name", shell_complete=family_names)
def family(name: str) -> None:
    """Explain the family NAME: its parameters, designs and roles."""
    from seamproof.plugin.registry import family as find

    known = find(name)
    click.echo(f"{known.title}: {known.about}\n")
    _parameters(known)
    _designs(known)
    click.echo(f"Roles: {', '.join(known.roles)}")
    if any("#" in role for role in known.roles):
        click.echo(_wrapped("# stands for a number; a role named without its number stands for all of that name."))
    for source in known.sources:
        click.echo(_wrapped(f"Source: {source}"))
    click.echo(f"\nA first recipe: seamproof new-recipe {known.slug} -o my-block.recipe.toml")


def _wrapped(text: str) -> str:
    return textwrap.fill(text, 100)


def _parameters(family: Family[Any]) -> None:
    from seamproof.recipe.allowed import allowed

    rows = [
        (name, allowed(field), _value(field.get_default(call_default_factory=True)), field.description or "")
        for name, field in family.parameters.model_fields.items()
    ]
    if rows:
        show_table(("parameter", "write", "unless told", "what it is"), rows, whole=(0,))
        click.echo()


def _designs(family: Family[Any]) -> None:
    click.echo("Designs:")
    for name, values in family.designs.items():
        settings = ", ".join(f"{key} = {_value(value)}" for key, value in values.items())
        click.echo(f"  {name}: {settings or 'as it stands'}")
    click.echo()


def _value(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)

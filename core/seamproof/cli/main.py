"""The command's group: subcommands are loaded only when they are run, so that help is quick."""

from __future__ import annotations

import sys
from importlib import import_module
from typing import Any, Final

import click

from seamproof.cli.ending import orderly_end
from seamproof.errors import SeamproofError

COMMANDS: Final = {
    "check": ("checking", "Prove what recipes claim, and show how."),
    "families": ("families", "List the families of blocks that are installed."),
    "family": ("families", "Explain one family: its parameters, designs and roles."),
    "gallery": ("gallery", "Make a site of blocks, to look at, compare and choose."),
    "measure": ("measuring", "Say whether a handout's templates are true to size."),
    "new-family": ("new_family", "Write a plugin project with a family of your own."),
    "new-recipe": ("writing", "Write a first recipe, with every key explained."),
    "pack": ("packing", "Make a recipe's handout, templates and lists."),
    "repair": ("repairing", "Find the fewest seams to add so that a block can be sewn as asked."),
    "schema": ("writing", "Print the JSON Schema of recipes, for editors."),
}
"""Each subcommand's module in this package, and its line of help."""


class Refused(click.ClickException):
    """Bad input: its message as it is, and exit status 2."""

    exit_code = 2

    def show(self, file: Any = None) -> None:
        """Write the message to standard error."""
        click.echo(self.message, file=file, err=file is None)


class Lazy(click.Group):
    """A group that knows the names and help lines of its commands without loading them."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        """The names, sorted."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002 - click's signature
        """Load a command, or None where there is none of this name."""
        if cmd_name not in COMMANDS:
            return None
        module = import_module(f"seamproof.cli.{COMMANDS[cmd_name][0]}")
        command: click.Command = getattr(module, cmd_name.replace("-", "_"))
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command that is meant; an unknown one is answered with the nearest name."""
        import difflib

        near = difflib.get_close_matches(args[0], COMMANDS, n=1)
        if near and args[0] not in COMMANDS and not args[0].startswith("-"):
            ctx.fail(f"No such command {args[0]!r}. Did you mean {near[0]!r}?")
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002 - click's
        """The list of commands in the help, without loading any."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, about) for name, (_, about) in COMMANDS.items()])

    def main(self, *args: Any, **options: Any) -> Any:
        """Run the command to an orderly end."""
        with orderly_end():
            return super().main(*args, **options)

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; what Seamproof refuses on purpose is a message, never a traceback."""
        for stream in (sys.stdout, sys.stderr):
            if hasattr(stream, "reconfigure"):
                stream.reconfigure(errors="replace")
        try:
            return super().invoke(ctx)
        except SeamproofError as error:
            raise Refused(str(error)) from error


_EPILOG: Final = """\b
The shell completes commands, options and families. For bash, once:
  _SEAMPROOF_COMPLETE=bash_source seamproof > ~/.seamproof-complete.bash
  echo '. ~/.seamproof-complete.bash' >> ~/.bashrc
For zsh or fish: zsh_source or fish_source in its place."""


@click.group(cls=Lazy, epilog=_EPILOG, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="seamproof", prog_name="seamproof")
def main() -> None:
    """From the recipe of a quilt block to a handout that is proven sewable and true to size."""

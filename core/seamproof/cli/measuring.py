"""`measure`: is a handout true to size?"""

from __future__ import annotations

import click

from seamproof.cli.paths import PATH


@click.command()
@click.argument("file", metavar="FILE.pdf", type=PATH)
@click.pass_context
def measure(ctx: click.Context, /, file: str) -> None:
    """Read a handout back and say whether each template, rule and test square is true to a tenth of a millimetre.

    Each is measured twice: by its coordinates in the file, and by its ink at 600 dots to the inch. Exit status: 0 when
    all are true, 1 when one is not, 2 when FILE.pdf is no handout.
    """
    from seamproof.proof.measure import measure_pdf

    report = measure_pdf(file)
    for measured in report.measured:
        click.echo(str(measured))
    if report.ok:
        click.echo(str(report))
    else:
        click.echo(f"{len(report.faults)} of {len(report.measured)} are not true to size: make the handout again")
    ctx.exit(0 if report.ok else 1)

"""`pack`: a recipe's handout, templates and lists, in one folder, whole or not at all."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from seamproof.cli.paths import PATH

if TYPE_CHECKING:
    from seamproof.cli.staging import Stage
    from seamproof.pattern import Pattern
    from seamproof.sheets.options import HandoutOptions

_LOOKS: Final = ("cloth", "line", "values")


@click.command()
@click.argument("recipe", metavar="RECIPE", type=PATH)
@click.option("-o", "--output", metavar="DIR", required=True, type=PATH, help="The folder to write.")
@click.option("--paper", type=click.Choice(["letter", "a4"]), help="Paper other than the recipe says.")
@click.option(
    "--printed",
    metavar="AxB",
    help="What the two 6 in rules measured on your print, across and down, such as 5.97x5.98: "
    "template pages are corrected for your printer.",
)
@click.option("--left-handed", is_flag=True, help="Mirror the cutting pictures; templates are not mirrored.")
@click.option("--large-print", is_flag=True, help="Large text; templates keep their size.")
@click.option("--text-only", is_flag=True, help="Steps in words alone, without pictures.")
@click.option("--font", metavar="FILE", type=PATH, help="A font for characters that the shipped one lacks.")
@click.option("--dxf", is_flag=True, help="Also pattern.dxf, for cutting machines; needs the extra seamproof[dxf].")
def pack(recipe: str, output: str, *, dxf: bool, **asked: Any) -> None:
    """Make the handout of RECIPE with its templates, pictures and lists in the folder DIR.

    Every claim is proven and every page is read back and measured first; otherwise nothing is written. DIR may be new,
    empty, or an earlier pack of the same recipe.
    """
    from seamproof.cli.showing import tell_narrow
    from seamproof.cli.staging import check_target, staged
    from seamproof.pattern import work_out
    from seamproof.recipe import load_recipe
    from seamproof.sheets.dxf import require_dxf
    from seamproof.sheets.dxf_sheet import pattern_dxf

    options = _options(**asked)
    if dxf:
        require_dxf()
    loaded = load_recipe(recipe)
    identity = {"file": Path(recipe).name, "title": loaded.title}
    target = check_target(Path(output), identity)
    pattern = work_out(loaded)
    bad = [claim for claim in pattern.claims if not claim.ok]
    if bad:
        for claim in bad:
            click.echo(f"{claim.claim} fails: {claim.value}, held to {claim.bound} {claim.unit}", err=True)
        click.echo(f"nothing is written; see: seamproof check {recipe}", err=True)
        click.get_current_context().exit(1)
    tell_narrow(recipe, pattern.block)
    with staged(target) as stage:
        if dxf:
            stage.add("pattern.dxf", pattern_dxf(pattern))
        said = _fill(stage, pattern, options, identity)
    click.echo(f"{output} holds the handout of {loaded.title}: {said}")


def _options(
    *,
    paper: Any,
    printed: str | None,
    left_handed: bool,
    large_print: bool,
    text_only: bool,
    font: str | None,
) -> HandoutOptions:
    from seamproof.sheets.options import HandoutOptions, parse_printed

    return HandoutOptions(
        paper=paper,
        left_handed=left_handed,
        large_print=large_print,
        text_only=text_only,
        printed=parse_printed(printed) if printed is not None else None,
        font=Path(font) if font is not None else None,
    )


def _fill(stage: Stage, pattern: Pattern, options: HandoutOptions, identity: dict[str, str]) -> str:
    """Write every file of a pack, measure the print, and say in words what was measured."""
    from seamproof.cli.facing import check_faces
    from seamproof.errors import PrintError
    from seamproof.pattern.cut_list import cut_list_csv
    from seamproof.pattern.data import pattern_data
    from seamproof.proof.measure import measure_pdf, placements
    from seamproof.sheets.block_svg import block_svg
    from seamproof.sheets.handout import handout_pdf
    from seamproof.sheets.template_svg import template_svg

    for look in _LOOKS:
        stage.add(f"block-{look}.svg", block_svg(pattern, look).encode())
    for template in pattern.templates:
        stage.add(f"template-{template.label}.svg", template_svg(pattern, template).encode())
    check_faces(pattern, options)
    handout = handout_pdf(pattern, options)
    stage.add("handout.pdf", handout)
    stage.add("cut-list.csv", cut_list_csv(pattern).encode())
    report = measure_pdf(handout)
    if not report.ok:
        raise PrintError(f"the handout is not true to size, so nothing is written:\n{report}")
    data = pattern_data(pattern)
    places = placements(handout)
    for template in data["templates"]:
        template["pages"] = [place for place in places if place["template"] == template["label"]]
    pack = {"recipe": identity, "options": _asked(options), "files": dict(sorted(stage.digests.items()))}
    text = json.dumps({"pack": pack, **data}, indent=1, ensure_ascii=False)
    stage.add("pattern.json", f"{text}\n".encode())
    return str(report)


def _asked(options: HandoutOptions) -> dict[str, Any]:
    """The options as plain data, a font by its name alone."""
    return asdict(options) | {"font": options.font.name if options.font else None}

"""The DXF file is read back by its own library, and measured against the block and its templates."""

from __future__ import annotations

import io
import math
import os
import subprocess
import sys
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING, Any

import ezdxf
import pytest
from ezdxf import recover
from ezdxf.lldxf.encoding import has_dxf_unicode
from ezdxf.lldxf.validator import is_valid_layer_name
from ezdxf.math import bulge_to_arc
from ezdxf.path import make_path
from ezdxf.tools.text import plain_text
from hypothesis import example, given
from hypothesis import strategies as st

from seamproof import OutputError, load_recipe, work_out
from seamproof.sheets.dxf import INCHES, MILLIMETRES, Layer, is_dxf_there, write_dxf
from seamproof.sheets.dxf_names import ENCODING, LONGEST_NAME, LONGEST_TEXT, dxf_text, layer_name
from seamproof.sheets.dxf_sheet import GAP, dxf_layers, dxf_sheet, fabric_layer, pattern_dxf
from seamproof.sheets.ink import LINE
from seamproof.sheets.sketch import Pad
from seamproof.tolerance import SAME_POINT
from seamproof.units import MM_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Callable

    from ezdxf.document import Drawing
    from ezdxf.entities import LWPolyline

    from seamproof.geometry import Outline
    from seamproof.pattern import Pattern

GALLERY = Path(__file__).parents[2] / "gallery"
PATHS = ("rings/storm-lantern", "rings/tide-glass", "curves/oyster-fan", "curves/moon-over-the-bar",
         "hexagons/buoy-field", "grids/swifts-at-the-gable", "stars/ferrymans-star")  # fmt: skip
FINE = 1 / 100_000
"""[in] How near an arc is followed where ezdxf flattens it."""


@pytest.fixture(scope="module")
def worked() -> Callable[[str], Pattern]:
    made: dict[str, Pattern] = {}

    def _worked(path: str) -> Pattern:
        if path not in made:
            made[path] = work_out(load_recipe(GALLERY / f"{path}.recipe.toml"))
        return made[path]

    return _worked


def read(content: bytes) -> Drawing:
    document, auditor = recover.read(io.BytesIO(content))
    assert not auditor.errors
    assert not auditor.fixes
    assert not document.audit().errors
    return document


def scale_of(document: Drawing) -> float:
    """How many inches a unit of the file is."""
    return {INCHES: 1.0, MILLIMETRES: 1 / MM_PER_INCH}[document.header["$INSUNITS"]]


def rings(document: Drawing, layer: str) -> list[LWPolyline]:
    """The closed polylines of a layer."""
    found: list[LWPolyline] = list(document.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]'))
    return [ring for ring in found if ring.closed]


def area(ring: LWPolyline) -> float:
    """The area of a polyline: of its chords, and between each chord and its arc.

    derived: a sector of the angle θ less its triangle, r²(θ − sin θ)/2; a bulge to the right takes it away.
    """
    points = ring.get_points("xyb")
    total = 0.0
    for (x, y, bulge), (u, v, _) in zip(points, points[1:] + points[:1], strict=True):
        total += (x * v - u * y) / 2
        if bulge:
            _, start, end, radius = bulge_to_arc((x, y), (u, v), bulge)
            angle = (end - start) % (2 * math.pi)
            total += math.copysign(radius**2 * (angle - math.sin(angle)) / 2, bulge)
    return abs(total)


def length(ring: LWPolyline) -> float:
    """Round a polyline, by the lines and arcs that ezdxf takes it apart into."""
    total = 0.0
    for part in ring.virtual_entities():
        if part.dxftype() == "LINE":
            total += part.dxf.start.distance(part.dxf.end)
        else:
            total += part.dxf.radius * math.radians((part.dxf.end_angle - part.dxf.start_angle) % 360)
    return total


def arcs(ring: LWPolyline) -> list[tuple[float, float]]:
    """The radius and the angle [°] of each arc."""
    parts = [part.dxf for part in ring.virtual_entities() if part.dxftype() == "ARC"]
    return sorted((arc.radius, (arc.end_angle - arc.start_angle) % 360) for arc in parts)


def texts(document: Drawing) -> dict[str, tuple[float, float]]:
    """Every text, with the point it stands at."""
    found: list[Any] = list(document.modelspace().query("TEXT"))
    return {text.plain_text(): tuple(text.get_placement()[1])[:2] for text in found}


def box(ring: LWPolyline) -> tuple[float, float, float, float]:
    points = list(make_path(ring).flattening(FINE))
    return (min(p.x for p in points), min(p.y for p in points), max(p.x for p in points), max(p.y for p in points))


def cut_rings(document: Drawing) -> list[LWPolyline]:
    return [ring for layer in document.layers if layer.dxf.name.startswith("CUT") for ring in
            rings(document, layer.dxf.name)]  # fmt: skip


def assert_same_outlines(found: list[LWPolyline], outlines: list[Outline], scale: float) -> None:
    assert len(found) == len(outlines)
    pairs = zip(
        sorted((area(ring) * scale**2, length(ring) * scale) for ring in found),
        sorted((outline.area, outline.perimeter) for outline in outlines),
        strict=True,
    )
    for one, other in pairs:
        assert one == pytest.approx(other, abs=SAME_POINT)
    wanted = sorted((edge.radius, math.degrees(abs(edge.sweep))) for outline in outlines for edge in outline.edges
                    if edge.is_arc)  # fmt: skip
    drawn = sorted((radius * scale, angle) for ring in found for radius, angle in arcs(ring))
    assert len(drawn) == len(wanted)
    for arc, other in zip(drawn, wanted, strict=True):
        assert arc == pytest.approx(other, abs=SAME_POINT)


@pytest.mark.parametrize("path", PATHS)
def test_each_fabric_has_a_layer_with_its_patches_true_to_size(worked: Callable[[str], Pattern], path: str) -> None:
    pattern = worked(path)
    document = read(pattern_dxf(pattern))
    for line in pattern.legend:
        mine = [patch.outline for patch in pattern.block.patches if pattern.fabric(patch.id) is line]
        assert_same_outlines(rings(document, fabric_layer(line)), mine, scale_of(document))


@pytest.mark.parametrize("path", PATHS)
def test_each_template_has_its_cut_line_and_its_sewing_line_true_to_size(
    worked: Callable[[str], Pattern], path: str
) -> None:
    pattern = worked(path)
    document = read(pattern_dxf(pattern))
    assert_same_outlines(cut_rings(document), [t.cut for t in pattern.templates], scale_of(document))
    assert_same_outlines(rings(document, "SEW"), [t.finished for t in pattern.templates], scale_of(document))
    lines = document.modelspace().query('LINE[layer=="SEW"]')
    assert len(lines) == sum(len(template.lines) for template in pattern.templates)


@pytest.mark.parametrize("path", PATHS)
def test_nothing_lies_over_anything_else(worked: Callable[[str], Pattern], path: str) -> None:
    document = read(pattern_dxf(worked(path)))
    boxes = [box(ring) for layer in ("BLOCK", "TEST") for ring in rings(document, layer)]
    boxes += [box(ring) for ring in cut_rings(document)]
    gap = (GAP - SAME_POINT) / scale_of(document)
    for (a, b, c, d), (e, f, g, h) in combinations(boxes, 2):
        assert c + gap <= e or g + gap <= a or d + gap <= f or h + gap <= b


@pytest.mark.parametrize(("path", "unit", "side"), [(PATHS[0], INCHES, 1.0), (PATHS[1], MILLIMETRES, MM_PER_INCH)])
def test_the_unit_is_stated_and_the_square_measures_an_inch(
    worked: Callable[[str], Pattern], path: str, unit: int, side: float
) -> None:
    document = read(pattern_dxf(worked(path)))
    assert (document.header["$INSUNITS"], document.header["$MEASUREMENT"]) == (unit, int(unit == MILLIMETRES))
    (square,) = rings(document, "TEST")
    left, bottom, right, top = box(square)
    assert (right - left, top - bottom) == pytest.approx((side, side))
    assert f"Cut the square first and measure it: {side:g}" in " ".join(texts(document))


def test_a_foundation_is_mirrored_and_block_and_loose_patches_are_not(lamp: Pattern) -> None:
    found = texts(read(pattern_dxf(lamp)))
    assert found["A2 b"][0] < found["A3 b"][0]  # in the block
    assert found["A2"][0] > found["A3"][0]  # on the paper
    assert found["A2"][1] < found["A5"][1]
    assert any(text.startswith("Mirrored") for text in found)
    assert any(text.startswith("Not mirrored") for text in found)
    assert all(text.dxf.text_generation_flag == 0 for text in read(pattern_dxf(lamp)).modelspace().query("TEXT"))


def test_a_mirrored_arc_still_bulges_out_of_its_template(worked: Callable[[str], Pattern]) -> None:
    pattern = worked("curves/oyster-fan")
    (paper,) = rings(read(pattern_dxf(pattern)), "CUT-PAPER")
    (template,) = (template for template in pattern.templates if template.lines)
    points = [(-x, y) for x, y in template.cut.polygon]
    left, bottom = min(x for x, _ in points), min(y for _, y in points)
    x0, y0, *_ = box(paper)
    wanted = [(x - left + x0, y - bottom + y0) for x, y in points]
    drawn = list(make_path(paper).flattening(FINE))
    for x, y in wanted:
        assert min(math.hypot(p.x - x, p.y - y) for p in drawn) < 1 / 20


def test_every_patch_is_labelled_inside_it(lamp: Pattern) -> None:
    document = read(pattern_dxf(lamp))
    found = texts(document)
    for patch in lamp.block.patches:
        fabric = lamp.fabric(patch.id)
        at = found[f"{lamp.names[patch.id]} {fabric.letter}"]
        assert any(a < at[0] < c and b < at[1] < d for a, b, c, d in map(box, rings(document, fabric_layer(fabric))))


@pytest.mark.parametrize("path", PATHS)
def test_every_template_says_how_many_of_it_are_needed(worked: Callable[[str], Pattern], path: str) -> None:
    pattern = worked(path)
    said = list(texts(read(pattern_dxf(pattern))))
    for template in pattern.templates:
        count = len(template.stands_for) * pattern.recipe.make.copies
        mine = next(text for text in said if text.split(":")[0].split(" (")[0] == template.label and ":" in text)
        assert f": {count} " in " ".join(said[said.index(mine) :][:3])


def test_the_file_is_the_same_wherever_and_whenever_it_is_made(lamp: Pattern, tmp_path: Path) -> None:
    code = (
        "import sys; from seamproof import load_recipe, work_out; from seamproof.sheets.dxf_sheet import pattern_dxf;"
        "sys.stdout.buffer.write(pattern_dxf(work_out(load_recipe(sys.argv[1]))))"
    )
    path = GALLERY / "rings" / "tide-glass.recipe.toml"
    made = []
    for seed, zone in (("1", "Asia/Tokyo"), ("2", "UTC")):
        env = os.environ | {"PYTHONHASHSEED": seed, "TZ": zone, "LC_ALL": "C", "XDG_CONFIG_HOME": str(tmp_path)}
        run = subprocess.run([sys.executable, "-c", code, str(path)], env=env, capture_output=True, check=True)
        made.append(run.stdout)
    assert made[0] == made[1]
    assert pattern_dxf(lamp) == pattern_dxf(lamp)


@pytest.mark.parametrize("before", [True, False])
def test_the_librarys_own_options_are_left_as_they_were(
    lamp: Pattern, monkeypatch: pytest.MonkeyPatch, *, before: bool
) -> None:
    monkeypatch.setattr(ezdxf.options, "write_fixed_meta_data_for_testing", before)
    pattern_dxf(lamp)
    assert ezdxf.options.write_fixed_meta_data_for_testing is before
    with pytest.raises(KeyError):
        write_dxf(dxf_sheet(lamp), {}, metric=False)
    assert ezdxf.options.write_fixed_meta_data_for_testing is before


def named(lamp: Pattern, name: str) -> Pattern:
    """The lamp with this title, and this name for every fabric."""
    legend = tuple(replace(line, name=name) for line in lamp.legend)
    return replace(lamp, recipe=lamp.recipe.model_copy(update={"title": name}), legend=legend)


ODD = ('</title><script>alert("x")</script>', "מגדלור: ישן", "\u202eevil\u202c", "日本の星 ☆", "x" * 300, "星" * 300,
       "%%u100%%c", "a^Jb^", "\\U+0041\\P{x}", "🧵", '<>/\\":;?*|,=`', "  0\nLAYER\n", "Crème d’été")  # fmt: skip


@pytest.mark.parametrize("name", ODD)
def test_odd_names_are_safe_in_layers_and_texts(lamp: Pattern, name: str) -> None:
    odd = named(lamp, name)
    document = read(pattern_dxf(odd))
    names = [layer.dxf.name for layer in document.layers]
    assert len({name.casefold() for name in names}) == len(names)
    for line in odd.legend:
        assert fabric_layer(line) in names
        assert len(rings(document, fabric_layer(line))) > 0
    assert all(name.isascii() and is_valid_layer_name(name) and len(name) <= LONGEST_NAME for name in names)


@pytest.mark.parametrize("name", ["מגדלור ישן", "Crème d'été", "日本の星 ☆", "50% & <b>"])
def test_a_name_in_any_script_is_read_back(lamp: Pattern, name: str) -> None:
    found = texts(read(pattern_dxf(named(lamp, name))))
    assert name in found
    assert any(text.endswith(f": a {name}") for text in found)


@given(st.text(max_size=400))
@example("%%%")
@example("^")
@example("\\U+0041")
def test_no_text_is_a_code(text: str) -> None:
    written = dxf_text(text)
    assert len(written) <= LONGEST_TEXT
    assert written.encode(ENCODING).decode(ENCODING).isprintable()
    assert "%%" not in written
    assert has_dxf_unicode(written) == any(not _is_western(char) and ord(char) <= 0xFFFF for char in _said(written))
    assert "^" not in plain_text(written).replace("^", "", written.count("^ "))


def _is_western(char: str) -> bool:
    try:
        char.encode(ENCODING)
    except UnicodeEncodeError:
        return False
    return True


def _said(written: str) -> str:
    return ezdxf.decode_dxf_unicode(written)


@given(st.lists(st.text(max_size=60), min_size=1, max_size=3))
def test_a_layers_name_is_plain(parts: list[str]) -> None:
    name = layer_name("a", *parts)
    assert name.isascii()
    assert is_valid_layer_name(name)
    assert 1 <= len(name) <= LONGEST_NAME
    assert set(name) <= set("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-")


def test_fabrics_have_colours_of_their_own(lamp: Pattern) -> None:
    same = replace(lamp, legend=tuple(replace(line, colour="#c83232") for line in lamp.legend))
    document = read(pattern_dxf(same))
    pens = [document.layers.get(fabric_layer(line)).color for line in same.legend]
    assert len(set(pens)) == len(pens)
    assert not set(pens) & set(range(10))


def test_more_fabrics_than_colours_are_drawn_all_the_same() -> None:
    pad = Pad((0, 0, 300, 1))
    layers = {f"a{n}": Layer(f"a{n}", "#808080") for n in range(260)}
    for n, name in enumerate(layers):
        pad.outline([(n, 0), (n + 0.5, 0), (n, 0.5)], LINE, kind=name)
    document = read(write_dxf(pad.sketch("many"), layers, metric=False))
    assert all(len(rings(document, name)) == 1 for name in layers)


def test_every_layer_that_is_drawn_on_is_named_beforehand(lamp: Pattern) -> None:
    assert {shape.kind for shape in dxf_sheet(lamp).shapes} == set(dxf_layers(lamp))


def test_without_the_extra_it_is_told_how_to_get_it(lamp: Pattern, monkeypatch: pytest.MonkeyPatch) -> None:
    assert is_dxf_there()
    monkeypatch.setitem(sys.modules, "ezdxf", None)
    assert not is_dxf_there()
    with pytest.raises(OutputError, match=r"pip install 'seamproof\[dxf\]'"):
        pattern_dxf(lamp)

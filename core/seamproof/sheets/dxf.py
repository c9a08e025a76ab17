"""A sketch written as DXF, at true size, arcs as arcs. No other module uses ezdxf, which comes with the extra `dxf`.

The file is of the release of 2000, the oldest that has closed polylines with arcs and says its unit, so that old
programs of cutting machines read it too. The same sketch gives the same bytes.
"""

from __future__ import annotations

import io
from contextlib import contextmanager
from dataclasses import dataclass
from importlib.util import find_spec
from typing import TYPE_CHECKING, Any, Final

from seamproof.errors import OutputError
from seamproof.geometry import Transform
from seamproof.sheets.dxf_names import ENCODING, dxf_text
from seamproof.sheets.lettering import text_height
from seamproof.units import MM_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from seamproof.sheets.drawing import Anchor, Label
    from seamproof.sheets.sketch import Shape, Sketch

INCHES: Final = 1
MILLIMETRES: Final = 4
"""What a unit is called in a file's head. Source: the DXF Reference, header variable $INSUNITS."""

_DASHED: Final = "DASHED"
_TEXT: Final = "TEXT"
_DIGITS: Final = 6
"""A millionth of an inch or millimetre: far below what any machine cuts."""
_PENS: Final = range(10, 250)
"""The numbered colours of the format that are hues; 1 to 9 are kept for the layers that are no fabric's."""


@dataclass(frozen=True)
class Layer:
    """A layer of a file.

    Attributes:
        name: Its name, safe already.
        pen: Its colour: a number of the format's own palette, or #rrggbb for the nearest that no other layer has.
    """

    name: str
    pen: int | str


def is_dxf_there() -> bool:
    """Whether what writes DXF is installed."""
    return find_spec("ezdxf") is not None


def require_dxf() -> None:
    """Say how DXF is got.

    Raises:
        OutputError: it is not installed.
    """
    if not is_dxf_there():
        raise OutputError("a DXF file needs the extra of that name: pip install 'seamproof[dxf]', then try again")


def write_dxf(sketch: Sketch, layers: Mapping[str, Layer], *, metric: bool) -> bytes:
    """A sketch as a DXF file, its lower left corner at (0, 0).

    Args:
        sketch: What is drawn; fills are left out.
        layers: For each kind of shape on it the layer it goes to. Texts go to the layer TEXT.
        metric: Whether it is in millimetres, else in inches.

    Raises:
        OutputError: what writes DXF is not installed.
    """
    require_dxf()
    import ezdxf

    scale = MM_PER_INCH if metric else 1.0
    place = Transform(scale, 0, 0, -scale, 0, sketch.height * scale)
    with _same_bytes():
        document = ezdxf.new("R2000", units=MILLIMETRES if metric else INCHES)
        document.header["$MEASUREMENT"] = int(metric)
        document.header["$LUNITS"] = 2
        document.linetypes.add(_DASHED, [scale * step for step in (0.18, 0.12, -0.06)], description="Dashed")
        _add_layers(document, layers)
        space = document.modelspace()
        for shape in sketch.shapes:
            _add_shape(space, shape.moved(place), layers[shape.kind].name)
        for label in sketch.labels:
            _add_text(space, label, place, scale)
        far = (sketch.width * scale, sketch.height * scale, 0)
        space.reset_extents((0, 0, 0), far)
        document.set_modelspace_vport(1.05 * max(far), center=(far[0] / 2, far[1] / 2))
        out = io.StringIO()
        document.write(out)
    return out.getvalue().encode(ENCODING)


@contextmanager
def _same_bytes() -> Iterator[None]:
    """Have neither the time nor a random number in a file."""
    from ezdxf import options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _add_layers(document: Any, layers: Mapping[str, Layer]) -> None:
    taken: set[int] = set()
    for layer in dict.fromkeys([*layers.values(), Layer(_TEXT, 7)]):
        pen = layer.pen if isinstance(layer.pen, int) else _nearest(layer.pen, taken)
        taken.add(pen)
        document.layers.add(layer.name, color=pen)


def _nearest(colour: str, taken: set[int]) -> int:
    """The number of the colour nearest to #rrggbb that is not taken yet; where all are, the nearest."""
    from ezdxf.colors import aci2rgb

    red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))

    def apart(pen: int) -> tuple[int, int]:
        r, g, b = aci2rgb(pen)
        return (r - red) ** 2 + (g - green) ** 2 + (b - blue) ** 2, pen

    return min([pen for pen in _PENS if pen not in taken] or _PENS, key=apart)


def _add_shape(space: Any, shape: Shape, layer: str) -> None:
    look = {"layer": layer, "linetype": _DASHED} if shape.ink.dash else {"layer": layer}
    for run in shape.runs:
        if len(run) == 1 and not run[0].is_arc:
            space.add_line(_rounded(run[0].start), _rounded(run[0].end), dxfattribs=look)
            continue
        points = [(*_rounded(edge.start), edge.bulge) for edge in run]
        points += [] if shape.closed else [(*_rounded(run[-1].end), 0.0)]
        space.add_lwpolyline(points, format="xyb", close=shape.closed, dxfattribs=look)


def _rounded(point: tuple[float, float]) -> tuple[float, float]:
    return (round(point[0], _DIGITS) + 0.0, round(point[1], _DIGITS) + 0.0)


def _add_text(space: Any, label: Label, place: Transform, scale: float) -> None:
    from ezdxf.enums import TextEntityAlignment

    sides: dict[Anchor, TextEntityAlignment] = {
        "start": TextEntityAlignment.MIDDLE_LEFT,
        "middle": TextEntityAlignment.MIDDLE_CENTER,
        "end": TextEntityAlignment.MIDDLE_RIGHT,
    }
    height = round(text_height(label.size) * scale, _DIGITS)
    text = space.add_text(dxf_text(label.text), height=height, rotation=-label.angle, dxfattribs={"layer": _TEXT})
    text.set_placement(_rounded(place.point((label.x, label.y))), align=sides[label.anchor])

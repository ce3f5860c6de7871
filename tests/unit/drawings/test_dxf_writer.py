"""DXF is read back with ezdxf, as another program would."""

from __future__ import annotations

import io

import ezdxf
import pytest
from drawing_cases import corner, layouts
from ezdxf import bbox
from ezdxf.document import Drawing

from drawerwright.drawings.corner_section import draw_corner
from drawerwright.drawings.dxf import write_dxf
from drawerwright.drawings.scene import Layer, Text, framed
from drawerwright.drawings.sheet import draw_sheet


def read(text: str) -> Drawing:
    return ezdxf.read(io.StringIO(text))


def test_the_unit_is_millimetres() -> None:
    """DXF reference, HEADER section: $INSUNITS 4 is millimetres, $MEASUREMENT 1 is metric."""
    document = read(write_dxf(draw_corner(corner())))
    assert document.header["$INSUNITS"] == 4
    assert document.header["$MEASUREMENT"] == 1


@pytest.mark.parametrize("scale", [1.0, 4.0, 0.5])
def test_the_thing_has_its_true_size_whatever_the_scale(scale: float) -> None:
    document = read(write_dxf(draw_corner(corner(flat=16.2), scale=scale, annotated=False)))
    lines = document.modelspace().query(f'LWPOLYLINE[layer=="{Layer.WOOD}"]')
    heights = [box.size.y for line in lines if (box := bbox.extents([line])).has_data]
    assert any(height == pytest.approx(16.2, abs=1e-6) for height in heights)


def test_a_sheet_is_as_large_as_the_sheet() -> None:
    document = read(write_dxf(draw_sheet(layouts(1)[0])))
    boxes = [bbox.extents([line]).size for line in document.modelspace().query("LWPOLYLINE")]
    assert any((size.x, size.y) == pytest.approx((2440.0, 1220.0), abs=1e-6) for size in boxes)


def test_layers_carry_our_words_and_the_file_is_sound() -> None:
    document = read(write_dxf(draw_sheet(layouts(1)[0])))
    assert {str(layer) for layer in Layer} <= {layer.dxf.name for layer in document.layers}
    assert not document.audit().errors


def test_names_with_signs_of_the_format_stay_text() -> None:
    scene = framed("names", [Text((0, 0), "50%%d side\nback")])
    [text] = read(write_dxf(scene)).modelspace().query("TEXT")
    assert text.plain_text() == "50%%d sideback"

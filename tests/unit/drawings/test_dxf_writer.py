"""DXF is read back with ezdxf, as another program would."""

from __future__ import annotations

import io
import math

import ezdxf
import pytest
from drawing_cases import corner, drawer, layouts
from ezdxf import bbox
from ezdxf.document import Drawing
from ezdxf.render.hatching import hatch_entity

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawers.assembly import assemble
from drawerwright.drawers.parts import PartKind
from drawerwright.drawings.corner_section import draw_corner
from drawerwright.drawings.dxf import write_dxf
from drawerwright.drawings.hatching import grain, grain_strokes
from drawerwright.drawings.part_outlines import draw_parts
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


def measured(document: Drawing) -> list[tuple[str, float]]:
    """Every dimension as another program has it: what is written, and what it measures."""
    return [
        (dimension.dxf.text, dimension.get_measurement())
        for dimension in document.modelspace().query("DIMENSION")
    ]


def test_dimensions_measure_what_our_figures_say() -> None:
    """Read back with ezdxf: the text is the measure itself (`<>`), so that a stretched drawing tells its new size."""
    layout = layouts(1)[0]
    found = measured(read(write_dxf(draw_sheet(layout))))
    sizes = sorted(round(size, 1) for _text, size in found)
    assert {2440.0, 1220.0} <= set(sizes)
    assert {text for text, _ in found} == {"<> mm"}
    drawn = measured(read(write_dxf(draw_corner(corner(flat=16.2, lip=6.0)))))
    named = {text.split(" <")[0]: size for text, size in drawn if " <" in text}
    assert named["lip"] == pytest.approx(6.0, abs=0.05)
    assert any(size == pytest.approx(16.2, abs=1e-6) for _text, size in drawn)


def test_a_figure_in_inches_stays_our_figure() -> None:
    found = measured(read(write_dxf(draw_sheet(layouts(1)[0], style=LengthStyle("in")))))
    assert ("96.065 in", pytest.approx(2440.0)) in found


def test_fibres_are_a_hatch_of_the_very_lines_that_are_drawn_on_paper() -> None:
    """Lines of the hatch as ezdxf works them out from its pattern, against ours one by one."""
    outline = ((3.0, 2.0), (43.0, 2.0), (43.0, 20.0), (3.0, 20.0))
    for angle in (0.0, 90.0, 30.0):
        face = grain(outline, angle)
        document = read(write_dxf(framed("face", [face], scale=0.5)))
        (hatch,) = document.modelspace().query("HATCH")
        ours = sorted(
            round(math.dist(start, end) * 2, 3)
            for start, end in grain_strokes(face).segments
            if math.dist(start, end) > 0.01
        )
        lines = hatch_entity(hatch, jiggle_origin=False)
        lengths = (start.distance(end) for start, end in lines)
        theirs = sorted(round(length, 3) for length in lengths if length > 0.02)
        assert theirs == pytest.approx(ours, abs=0.01), angle


def test_hatchings_and_saw_cuts_are_hatches() -> None:
    document = read(write_dxf(draw_sheet(layouts(1)[0])))
    hatches = document.modelspace().query("HATCH")
    assert {hatch.dxf.layer for hatch in hatches} >= {"grain", "saw cuts"}
    assert all(hatch.dxf.solid_fill for hatch in hatches if hatch.dxf.layer == "saw cuts")
    lines = [line for line in document.modelspace().query("LINE") if line.dxf.layer == "dimensions"]
    assert not lines, "the lines of dimensions are theirs"


def test_layers_have_colours_weights_and_line_types() -> None:
    document = read(write_dxf(draw_sheet(layouts(1)[0])))
    assert document.dxfversion == "AC1027"  # DXF reference: AutoCAD 2013
    layers = {layer.dxf.name: layer for layer in document.layers}
    assert len({layers[str(layer)].dxf.color for layer in Layer}) >= 8
    assert layers["grooves"].dxf.linetype.upper() == "DASHED"
    assert layers["wood"].dxf.lineweight == 50


def test_parts_are_blocks_with_their_grooves_and_holes() -> None:
    lipped = assemble(drawer(lip=6.0))
    document = read(write_dxf(draw_parts(lipped.placed)))
    assert not document.audit().errors
    blocks = {
        insert.dxf.name: document.blocks[insert.dxf.name] for insert in document.modelspace().query("INSERT")
    }
    front, left = lipped[PartKind.FRONT].part, lipped[PartKind.LEFT].part
    assert front.groove is not None
    assert left.groove is not None
    for part, low in ((front, front.width - front.groove.top), (left, left.groove.height)):
        block = blocks[f"{part.label}".replace("/", "-")]
        (outline,) = block.query('LWPOLYLINE[layer=="wood"]')
        assert tuple(bbox.extents([outline]).size)[:2] == pytest.approx((part.length, part.width), abs=1e-6)
        grooves = [line.get_points("xy")[0][1] for line in block.query('LWPOLYLINE[layer=="grooves"]')]
        assert min(grooves) == pytest.approx(low, abs=1e-6)
        assert max(grooves) - min(grooves) == pytest.approx(part.groove.width, abs=1e-6)
    sizes = {round(size, 2) for _text, size in measured(document)}
    assert {round(front.length, 2), round(left.length, 2), round(front.groove.height, 2)} <= sizes

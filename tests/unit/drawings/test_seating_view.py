from __future__ import annotations

from dataclasses import replace

import pytest
from drawing_cases import corner
from shapely import LineString, Polygon

from drawerwright.drawings.scene import Ink, Layer, Path
from drawerwright.drawings.seating import contact_lines, draw_both_states, draw_seating
from drawerwright.joints.corner import Cuts, flat_section, upright_section
from drawerwright.joints.fit import seat
from legible import clipped_texts, overlapping_texts

RIGHT = Cuts.of(corner())
STEP = 3.6
CASES = {
    "right": RIGHT,
    "low": replace(RIGHT, bit_height=RIGHT.bit_height - 0.4),
    "high": replace(RIGHT, bit_height=RIGHT.bit_height + 0.5),
    "stepped": replace(RIGHT, fence_flat=RIGHT.fence_flat - 0.6, bit_height=RIGHT.bit_height - 0.1),
}


@pytest.mark.parametrize("name", CASES)
def test_every_state_can_be_read(name: str) -> None:
    scene = draw_both_states(seat(CASES[name], STEP))
    assert not overlapping_texts(scene)
    assert not clipped_texts(scene)


def test_every_gap_has_its_width_beside_it() -> None:
    """joint-law: a bit 0.4 mm low gives gaps 0, 0, 0.4 pressed and 0.4, 0.4, 0 pulled (roof, shoulder, hook)."""
    fit = seat(CASES["low"], STEP)
    pressed = {text.text for text in draw_seating(fit).texts}
    pulled = {text.text for text in draw_seating(fit, state="pulled").texts}
    assert "hook 0.40 mm" in pressed
    assert {"roof 0.40 mm", "shoulder 0.40 mm"} <= pulled
    assert not any("roof" in text for text in pressed)
    assert "pressed: closes, play 0.40 mm" in pressed


def test_a_corner_that_cannot_close_says_how_far_it_stands_proud() -> None:
    words = [text.text for text in draw_seating(seat(CASES["high"], STEP)).texts]
    assert any(word.startswith("stands proud") for word in words)
    assert "clamps cannot close it" in words


@pytest.mark.parametrize("name", CASES)
def test_contact_marks_lie_on_both_pieces(name: str) -> None:
    """Checked with shapely: every marked line runs along the edge of either piece."""
    fit = seat(CASES[name], STEP)
    for seated in (fit.pressed, fit.pulled):
        cuts = seated.cuts
        flat = Polygon(flat_section(cuts)).exterior.buffer(0.003)
        upright = Polygon(upright_section(cuts, seated.lip, seated.engagement)).exterior.buffer(0.003)
        lines = contact_lines(seated)
        assert lines
        for line in lines:
            assert flat.covers(LineString(line))
            assert upright.covers(LineString(line))


def test_contact_is_told_by_ticks_as_well_as_by_colour() -> None:
    scene = draw_seating(seat(CASES["low"], STEP))
    marks = [
        item for item in scene.items if not isinstance(item, Path) and getattr(item, "ink", None) is Ink.MARK
    ]
    assert marks
    assert all(getattr(item, "layer", None) is Layer.CONTACT for item in marks)

"""A corner on a screen: all its drawings at one scale, legible in whatever room there is."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawings.corner_section import draw_corner
from drawerwright.drawings.seating import draw_seating
from drawerwright.drawings.test_pieces import draw_test_pieces
from drawerwright.job.pictures.corner_pictures import (
    PIECES_SCALE,
    SCALES,
    SEEN,
    corner_as_seen,
    corner_pictures,
)
from drawerwright.job.tried_corner import FIRST_MEASURES, try_measures
from legible import clipped_texts, overlapping_texts

LIPS = (0.0, 7.0, 9.0)
FRAME = re.compile(r'viewBox="[^"]+"')


def width_of(svg: str) -> float:
    found = re.search(r'width="([\d.]+)"', svg)
    assert found is not None
    return float(found[1])


@pytest.mark.parametrize("lip", LIPS)
@pytest.mark.parametrize("scale", [scale for scale in SCALES if scale >= 1.4])
@pytest.mark.parametrize("unit", ["mm", "in/64"])
def test_nothing_lies_on_anything_where_room_is_dear(lip: float, scale: float, unit: str) -> None:
    corner, style = try_measures(replace(FIRST_MEASURES, lip=lip)), LengthStyle(unit)  # type: ignore[arg-type]
    scenes = [draw_corner(corner.right, scale=scale, beside_figures=True, style=style)]
    for height in (11.8, 12.25):
        fit = corner.at({"bit_height": height}).fit
        scenes += [
            draw_seating(fit, state=state, scale=scale, beside_figures=True, style=style)
            for state in ("pressed", "pulled")
        ]
    for scene in scenes:
        assert not overlapping_texts(scene)
        assert not clipped_texts(scene)


@pytest.mark.parametrize("lip", LIPS)
@pytest.mark.parametrize("room", [310, 420, 600])
def test_drawings_keep_to_their_room(room: float, lip: float) -> None:
    corner = try_measures(replace(FIRST_MEASURES, lip=lip))
    pictures = corner_pictures(corner.at({"bit_height": 11.8}), LengthStyle(), room)
    assert max(width_of(svg) for svg in (pictures.pressed, pictures.pulled, pictures.wanted)) <= room


def test_a_corner_that_does_not_close_lies_one_way_only() -> None:
    assert not corner_pictures(try_measures(FIRST_MEASURES).at({"bit_height": 12.2}), LengthStyle()).pulled


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("lip", LIPS)
def test_the_test_pieces_can_be_read(lip: float, unit: str) -> None:
    right = try_measures(replace(FIRST_MEASURES, lip=lip)).right
    for scene in draw_test_pieces(right, scale=PIECES_SCALE, style=LengthStyle(unit)).values():  # type: ignore[arg-type]
        assert not overlapping_texts(scene)
        assert not clipped_texts(scene)


def test_what_may_be_seen_is_drawn_at_one_scale() -> None:
    """Three pictures to choose from: one view box, so that one width is one scale."""
    seen = corner_as_seen(try_measures(FIRST_MEASURES).right, LengthStyle())
    assert set(seen) == set(SEEN)
    boxes = {re.search(r'viewBox="[^ ]+ [^ ]+ ([^ ]+ [^"]+)"', svg)[1] for svg in seen.values()}  # type: ignore[index]
    assert len(boxes) == 1


@pytest.mark.parametrize("lip", LIPS)
def test_a_drawing_stays_where_it_is_while_the_bit_height_is_tried(lip: float) -> None:
    corner = try_measures(replace(FIRST_MEASURES, lip=lip))
    frames = set()
    for off in (-0.9, -0.3, 0.0, 0.05, 0.4, 0.9):
        tried = corner.at({"bit_height": corner.right.bit_height + off})
        frames.add(FRAME.search(corner_pictures(tried, LengthStyle()).pressed)[0])  # type: ignore[index]
    assert len(frames) == 1

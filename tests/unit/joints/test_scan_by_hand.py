"""Stretches of a face that were left out or moved by hand."""

from __future__ import annotations

import numpy as np

from drawerwright.joints.scan.by_hand import HandEdit, by_hand, edits_in
from drawerwright.joints.scan.cut_measures import read_section
from drawerwright.joints.scan.edge_points import EdgePoints, SectionFace
from scan_pictures import INCH, Look, Truth, picture


def test_edits_are_read_as_they_are_written() -> None:
    edits = edits_in("A2- D3+0.5 D3~1.25 nonsense Q1- A9-")
    assert edits == (HandEdit("A", 2), HandEdit("D", 3, -1.25))
    assert edits_in(" ".join(map(str, edits))) == edits


def test_a_stretch_is_left_out_or_moved_and_no_other() -> None:
    """Source: a face of twelve points along x, air below it."""
    points = np.column_stack([np.arange(12) + 0.5, np.full(12, 7.0)])
    face = SectionFace("A", np.array([0.0, 7.0]), np.array([12.0, 7.0]), np.array([0.0, 1.0]))
    seen = EdgePoints(face, points, 12, np.empty((0, 2)))
    left = by_hand(seen, [HandEdit("A", 2), HandEdit("D", 1)])
    assert left.points[:, 0].tolist() == [0.5, 1.5, 4.5, 5.5, 6.5, 7.5, 8.5, 9.5, 10.5, 11.5]
    assert left.lost[:, 0].tolist() == [2.5, 3.5]
    moved = by_hand(seen, [HandEdit("A", 6, 0.5)])
    assert moved.points[:, 1].tolist() == [7.0] * 10 + [7.5] * 2


def test_a_face_moved_by_hand_moves_what_is_measured() -> None:
    """Source: a dot is 25.4 / 300 mm: two of them outwards on all of the inner face make the bit height that much
    more."""
    truth = Truth(5.42, 3.21, 52.0, 10.9, 8.75, 14.3)
    made = picture(truth, Look(dpi=300, seed=6, length=26, chips=0, fuzz=0, dust=0))
    known = {"is_flat": True, "per_mm": 300 / INCH}
    plain = read_section(made.pixels, **known)
    moved = read_section(made.pixels, edits=edits_in(" ".join(f"H{n}+2" for n in range(1, 7))), **known)
    off = moved.measures["bit_height"].value - plain.measures["bit_height"].value
    assert abs(off - 2 * INCH / 300) < 0.02

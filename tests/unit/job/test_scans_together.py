"""Several pictures of one cut: what they say together, and what is said where they do not agree."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from drawerwright.basics.lengths import LengthStyle
from drawerwright.job.scan.scanning import _together, scan_text
from drawerwright.joints.scan.cut_measures import Measured, SectionReading, combined
from drawerwright.joints.scan.instrument import ScaleSource
from drawerwright.joints.scan.picture_scale import PictureScale

SCALE = PictureScale(11.8, 0.001, ScaleSource.CALIBRATION)
USUAL = {"mid_depth": 5.4, "step": 3.2, "slope": 52.0, "bit_height": 10.9, "fence": 8.7, "thickness": 14.3}


def reading(own: float = 0.01, common: float = 0.006, **other: float) -> SectionReading:
    measures = {name: Measured(value, own, common) for name, value in (USUAL | other).items()}
    nothing: Any = None
    return SectionReading(True, measures, (), 0.01, SCALE, (), (), nothing)


def test_pictures_count_by_their_own_weight_and_share_the_scale_s_doubt() -> None:
    """Source: the weighted mean of two, by hand: weights 0.8 and 0.2."""
    found, agree = combined([reading(own=0.01, step=3.20), reading(own=0.02, step=3.23)], "step")
    assert found is not None
    assert agree
    assert found.value == pytest.approx(3.206)
    assert found.own == pytest.approx(math.hypot(0.8 * 0.01, 0.2 * 0.02))
    assert found.common == pytest.approx(0.006)


@pytest.mark.parametrize(
    ("other", "words", "is_null"),
    [
        ({"step": 3.3}, "contradict each other in the step (3.20 in a.png, 3.30 in b.png)", False),
        ({"fence": 9.1}, "different fence settings (8.70 in a.png, 9.10 in b.png)", True),
        ({"thickness": 14.6}, "not equally thick (14.30 in a.png, 14.60 in b.png)", True),
    ],
)
def test_pictures_that_do_not_agree_are_told_apart(
    other: dict[str, float], words: str, is_null: bool
) -> None:
    """Source: none needed; the figures differ by six standard uncertainties and more."""
    cut = _together("drawer-lock", [("a.png", reading()), ("b.png", reading(**other))])
    assert any(words in doubt for doubt in cut.doubts)
    assert (cut.measures[next(iter(other))] is None) == is_null
    assert all(cut.measures[name] is not None for name in USUAL if name not in other)


def test_what_is_said_of_scale_and_thickness() -> None:
    """Source: none needed. One file may hold both pieces; a thickness that agrees leaves nothing to check."""
    agrees = replace(reading(), scale=PictureScale(11.8, 0.001, ScaleSource.FILE, 14.3))
    both = [("both.png", agrees), ("both.png", replace(agrees, is_flat=False))]
    said = scan_text(_together("drawer-lock", both), LengthStyle("mm")).replace("\u00a0", " ")
    assert "both.png (flat piece): 299.7 dots per inch" in said
    assert "both.png (upright piece): 299.7 dots per inch" in said
    assert said.count("The thickness by caliper, 14.30 mm, agrees with the scale.") == 1
    assert "In doubt" not in said
    inches = scan_text(_together("drawer-lock", both), LengthStyle("in"))
    assert "by caliper, 0.563" in inches
    assert "mm" not in inches
    unchecked = [("flat.png", replace(agrees, scale=replace(agrees.scale, agrees=None)))]
    said = scan_text(_together("drawer-lock", unchecked), LengthStyle("mm"))
    assert "In doubt: The scale" in said
    assert "agrees" not in said

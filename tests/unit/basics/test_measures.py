"""A plain number may stand wherever a measure with its uncertainty may; inside there are only estimates."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest

from drawerwright.basics import usual
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.uncertain import Estimate, Origin
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.table import RouterTable
from drawerwright.joints.trial_cut import TrialCut
from drawerwright.joints.wanted import Wanted
from drawerwright.wood.thickness import Thickness


def trial_cut(**given: Any) -> TrialCut:
    cut: dict[str, Any] = {
        "height_shown": 11.25,
        "fence_flat_shown": 9.0,
        "fence_upright_shown": 9.0,
        "flat_thickness": 14.6,
        "upright_thickness": 14.6,
    }
    return TrialCut(**cut | given)


MEASURES: list[tuple[Callable[..., Any], str, float]] = [
    (lambda **given: Cutter(**{"mid_depth": 5.65, "step": 3.45} | given), "mid_depth", usual.CUTTER_MEASURE),
    (lambda **given: Cutter(**{"mid_depth": 5.65, "step": 3.45} | given), "step", usual.CUTTER_MEASURE),
    (lambda **given: Cutter(**{"mid_depth": 5.65, "step": 3.45} | given), "slope", usual.SLOPE),
    (RouterTable, "height_gauge", usual.GAUGE),
    (RouterTable, "fence_gauge", usual.GAUGE),
    (
        lambda **given: Wanted(**{"flat_thickness": 14.6, "upright_thickness": 14.6} | given),
        "flat_thickness",
        usual.CALIPER_READING,
    ),
    (
        lambda **given: Wanted(**{"flat_thickness": 14.6, "upright_thickness": 14.6} | given),
        "upright_thickness",
        usual.CALIPER_READING,
    ),
    (lambda **given: Thickness(15.0, **given), "stated_mean", usual.CALIPER_READING),
    (trial_cut, "flat_thickness", usual.CALIPER_READING),
    (trial_cut, "upright_thickness", usual.CALIPER_READING),
    (lambda **given: trial_cut(by_block=True, **given), "height_shown", usual.CALIPER_READING),
]
"""Every place of a value type that may be given with its uncertainty, and the doubt that docs/job-file.md names for
a figure of which nothing is said."""


@pytest.mark.parametrize(("make", "field", "doubt"), MEASURES)
def test_a_plain_number_has_the_usual_doubt(make: Callable[..., Any], field: str, doubt: float) -> None:
    assert getattr(make(**{field: 14.5}), field) == Estimate(14.5, doubt, Origin.ASSUMED)
    assert getattr(make(**{field: 14}), field) == Estimate(14, doubt, Origin.ASSUMED)


@pytest.mark.parametrize(("make", "field", "doubt"), MEASURES)
def test_what_is_stated_stays_as_it_is(make: Callable[..., Any], field: str, doubt: float) -> None:
    exact, known = Estimate(14.5, 0.0), Estimate(14.5, doubt / 3)
    assert getattr(make(**{field: exact}), field) is exact
    assert getattr(make(**{field: known}), field) is known


@pytest.mark.parametrize(("make", "field", "_doubt"), MEASURES)
@pytest.mark.parametrize("wrong", ["14.5", True, float("nan"), object()])
def test_what_is_no_measure_is_refused_at_once(
    make: Callable[..., Any], field: str, _doubt: float, wrong: object
) -> None:
    with pytest.raises(InvalidValueError):
        make(**{field: wrong})


def test_what_a_gauge_showed_is_as_it_was_read() -> None:
    assert trial_cut(height_shown=11.25).height_shown == Estimate(11.25, 0.0)


def test_a_cutter_of_plain_numbers_reckons_and_prints() -> None:
    cutter = Cutter(mid_depth=5.65, step=3.45)
    assert cutter.kind == "drawer-lock"
    assert "5.65" in repr(cutter)
    assert cutter.bit_height(14.6) == pytest.approx(11.3)  # twice the mid depth (docs/law.md)
    assert dataclasses.replace(cutter, step=3.5).step == Estimate(3.5, usual.CUTTER_MEASURE, Origin.ASSUMED)
    with pytest.raises(dataclasses.FrozenInstanceError):
        cutter.step = Estimate(3.5)  # type: ignore[misc]


def test_the_measures_of_a_cutter_are_named() -> None:
    with pytest.raises(TypeError, match="mid_depth"):
        Cutter(step=3.45)  # type: ignore[call-arg]
    with pytest.raises(InvalidValueError, match="mid_depth must be a number"):
        Cutter(mid_depth="5.65", step=3.45)  # type: ignore[arg-type]


def test_numbers_of_other_libraries_are_plain_numbers() -> None:
    numpy = pytest.importorskip("numpy")
    cutter = Cutter(mid_depth=numpy.float32(5.5), step=numpy.int64(3))
    assert (cutter.mid_depth.value, cutter.step.value) == (5.5, 3.0)
    assert type(cutter.mid_depth.value) is float

"""A corner at settings that somebody tries: what comes of it, and what of it the job keeps."""

from __future__ import annotations

import math

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle
from drawerwright.job.file.building import read_job
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.kept_settings import keep_tried, recommended_settings
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.tried_corner import (
    SETTINGS,
    CornerMeasures,
    corner_named,
    measures_in_job,
    own_settings_of,
    try_in_job,
    try_measures,
)
from drawerwright.joints.readings import ReadingKind

MEASURES = CornerMeasures(mid_depth=5.5, step=3.5, slope=50.0, flat=15.0, upright=14.0, lip=4.0)


@pytest.mark.parametrize("off", [-0.3, -0.1, 0.0, 0.1, 0.3])
def test_a_bit_off_its_height_leaves_play_or_a_corner_that_stands_proud(off: float) -> None:
    """Two like cuts meet in the middle of the slope where the height h is twice the mid depth m.

    Lower, they are 2 m − h apart; higher, one slope rides up the other by (h − 2 m) run / rise, and run / rise is the
    tangent of the slope's angle.
    """
    tried = try_measures(MEASURES).at({"bit_height": 2 * 5.5 + off})
    assert tried.fit.play == pytest.approx(max(-off, 0.0), abs=1e-6)
    assert tried.fit.stands_proud == pytest.approx(max(off, 0.0) * math.tan(math.radians(50.0)), abs=1e-6)


def test_what_is_not_tried_is_the_recommended_setting() -> None:
    meant = try_measures(MEASURES)
    tried = meant.at({"fence_flat": meant.right.fence_flat + 1.0})
    assert tried.setting.bit_height == meant.right.bit_height
    assert tried.setting.lip == pytest.approx(meant.right.lip + 1.0)
    assert all(
        target is not None and target.reading.kind == reading.kind for reading, target in tried.readings
    )


def test_a_reading_that_only_what_is_tried_has_stands_beside_nothing() -> None:
    """A bit nearly 16 mm high goes through a flat piece of 15 mm and leaves no roof; 11.3 mm high it leaves one."""
    meant = try_measures(CornerMeasures(mid_depth=8.0, step=4.0, flat=15.0, upright=15.0))
    tried = meant.at({"bit_height": 11.3})
    assert not any(reading.kind is ReadingKind.ROOF for reading, _ in meant.at({}).readings)
    beside = {reading.kind: target for reading, target in tried.readings}
    assert beside[ReadingKind.ROOF] is None
    assert all(target.reading.kind is kind for kind, target in beside.items() if target)


def test_the_tight_height_beside_a_gauge_is_what_the_gauge_shows() -> None:
    """The example's gauge shows 0.05 mm more than the bit is high: tight at 11.30 mm, where it shows 11.35."""
    job = read_job(example_text())
    known = draft_job(job).corners[0]
    corner = corner_named(job, known.key.token)
    assert corner is not None
    tried = try_in_job(job, corner).at({})
    assert "tight 11.30 mm" in str(tried.play_words(LengthStyle()))
    assert "tight 11.35 mm" in str(tried.play_words(LengthStyle(), on_gauge=True))


def test_a_corner_of_a_job_is_tried_as_the_job_knows_it() -> None:
    job = read_job(example_text())
    for corner in draft_job(job).corners:
        known = corner_named(job, corner.key.token)
        assert known is not None
        split = None if corner.setting.has_one_fence else corner.setting.fence_upright
        right = try_in_job(job, known, split).right
        assert right.bit_height == recommended_settings(job)[corner.key].bit_height
        assert measures_in_job(known).flat == corner.keyed.flat.thickness.value
    assert corner_named(job, "nothing") is None


def test_what_was_tried_is_kept_and_told_from_what_is_recommended() -> None:
    text = example_text()
    corner = draft_job(read_job(text)).corners[0]
    height = round(corner.setting.bit_height - 0.2, 2)
    job = read_job(keep_tried(text, corner.key, {"bit_height": height}))
    kept = draft_job(job).corner(corner.key).setting
    assert kept.bit_height == pytest.approx(height)
    assert own_settings_of(kept, job)["bit_height"] == pytest.approx(height)
    assert set(own_settings_of(kept, job)) <= set(SETTINGS)


def test_nothing_new_is_not_kept() -> None:
    text = example_text()
    corner = draft_job(read_job(text)).corners[0]
    as_it_is = {name: getattr(corner.setting, name) for name in SETTINGS}
    with pytest.raises(InvalidValueError, match="already"):
        keep_tried(text, corner.key, as_it_is)

"""Settings that a job keeps for its corners."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.job.file.building import read_job
from drawerwright.job.kept_settings import (
    Tried,
    keep_settings,
    keeps_settings,
    recommended_settings,
    release_settings,
)
from drawerwright.job.planning.draft import Corner, draft_job
from drawerwright.joints.setting import CornerSetting

EXAMPLE = (Path(__file__).parents[3] / "examples" / "music-school.yaml").read_text("utf-8")


def of(text: str, number: int = 0) -> Corner:
    return draft_job(read_job(text)).corners[number]


def tried(setting: CornerSetting, height: float = 0.0, flat: float = 0.0, upright: float = 0.0) -> Tried:
    return Tried(setting.bit_height + height, setting.fence_flat + flat, setting.fence_upright + upright)


@pytest.mark.parametrize(
    ("number", "change"),
    [
        (0, (-0.05, 0, 0)),
        (0, (0, 0.4, -0.4)),
        (0, (-0.07, -0.3, 0.3)),
        (0, (0, 0.03, 0)),
        (1, (-0.05, 0, 0)),
        (1, (0, 0.4, -0.4)),
    ],
)
def test_what_is_kept_is_what_the_job_sets(change: tuple[float, float, float], number: int) -> None:
    before = of(EXAMPLE, number)
    wanted = tried(before.setting, *change)
    text = keep_settings(EXAMPLE, before.key, wanted)
    assert wanted.is_as(of(text, number).setting)
    assert keeps_settings(read_job(text))
    assert "# measured from the top of the cutter" in text
    assert recommended_settings(read_job(text)) == recommended_settings(read_job(EXAMPLE))


def test_only_what_was_changed_is_kept() -> None:
    before = of(EXAMPLE)
    lower = keep_settings(EXAMPLE, before.key, tried(before.setting, height=-0.05))
    assert "bit_heights" in lower
    assert "plan: fewest" in lower
    moved = keep_settings(EXAMPLE, before.key, tried(before.setting, flat=0.4, upright=-0.4))
    assert "bit_heights" not in moved
    assert "plan: fewest" not in moved
    assert keep_settings(EXAMPLE, before.key, tried(before.setting)) == EXAMPLE


def test_released_settings_are_those_of_the_law_again() -> None:
    before = of(EXAMPLE)
    kept = keep_settings(EXAMPLE, before.key, tried(before.setting, -0.05, 0.4, -0.4))
    free = read_job(release_settings(kept))
    assert not keeps_settings(free)
    assert draft_job(free).settings == recommended_settings(read_job(EXAMPLE))


def test_fences_that_miss_the_lip_are_refused_with_the_words_of_the_reader() -> None:
    before = of(EXAMPLE)
    with pytest.raises(InvalidValueError, match="no two positions add up"):
        keep_settings(EXAMPLE, before.key, tried(before.setting, flat=1.0))


def test_fences_that_others_would_take_the_place_of_are_refused_with_what_the_job_would_set() -> None:
    before = of(EXAMPLE, 1)
    with pytest.raises(InvalidValueError, match=r"the fence at 9\.35 mm for the flat piece"):
        keep_settings(EXAMPLE, before.key, tried(before.setting, flat=-0.3, upright=0.3))


def test_other_corners_keep_their_heights_where_the_cutter_goes_through_the_stock() -> None:
    mitre = EXAMPLE.replace("kind: drawer-lock", "kind: lock-mitre").replace("slope: 55", "slope: 45")
    text = mitre.replace("mid_depth: 5.65 ± 0.05", "mid_depth: 11").replace("step: 3.45 ± 0.03", "step: 18")
    text = text.replace("cutting_height: 14.5", "cutting_height: 24").replace(
        "diameter: 44.4", "diameter: 70"
    )
    draft = draft_job(read_job(text))
    first, *others = draft.corners
    wanted = tried(first.setting, height=-0.1)
    after = draft_job(read_job(keep_settings(text, first.key, wanted))).settings
    assert after[first.key].bit_height == pytest.approx(wanted.bit_height, abs=0.001)
    for other in others:
        is_shared = abs(other.setting.bit_height - first.setting.bit_height) < 0.005
        expected = wanted.bit_height if is_shared else other.setting.bit_height
        assert after[other.key] == replace(other.setting, bit_height=pytest.approx(expected, abs=0.001))

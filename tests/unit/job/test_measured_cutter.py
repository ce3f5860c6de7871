"""A job whose cutter was measured: its profile stands in the job file, or in a file beside it."""

import math
from pathlib import Path

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.job.file.building import read_job
from drawerwright.job.planning.draft import draft_job
from drawerwright.joints.corner import Cuts
from drawerwright.joints.fit import seat_setting

EXAMPLES = Path(__file__).parents[3] / "examples"
TEXT = (EXAMPLES / "music-school.yaml").read_text("utf-8")
IDEAL = "points: [[0, 0], [4, 0], [7, 3], [14, 3]]"
ONE_SIDED = (
    "points:\n    - [0, 0]\n    - [3, 0]\n    - [5, 1]\n    - [7, 3]\n    - [12, 3.5]\n    - [20, 3.5]"
)


def job_text(*entries):
    """The example with other entries in the place of mid depth, step and slope."""
    start, end = TEXT.index("  mid_depth:"), TEXT.index("  diameter:")
    return TEXT[:start] + "".join(f"  {entry}\n" for entry in entries) + TEXT[end:]


def faults(*entries, file="shop/job.yaml"):
    with pytest.raises(FaultyInputError) as caught:
        read_job(job_text(*entries), file)
    return [(fault.field, fault.message) for fault in caught.value.faults]


def test_points_give_middle_step_and_slope():
    cutter = read_job(job_text(IDEAL)).cutters[0].cutter
    assert cutter.mid_depth.value == pytest.approx(5.5, abs=1e-6)
    assert cutter.step.value == pytest.approx(3, abs=1e-6)
    assert cutter.slope_angle == pytest.approx(45)  # 3 mm of run over 3 mm of rise
    assert cutter.profile().points == ((0, 0), (4, 0), (7, 3), (14, 3))


def test_a_file_beside_the_job_is_read_with_its_uncertainty():
    text = job_text("profile: measured-cutter.csv", "profile_uncertainty: 0.02")
    cutter = read_job(text, str(EXAMPLES / "job.yaml")).cutters[0].cutter
    # The two measures that the example job gives for the same cutter.
    assert cutter.mid_depth.value == pytest.approx(5.65, abs=0.02)
    assert cutter.step.value == pytest.approx(3.45, abs=0.015)
    assert 0.002 < cutter.mid_depth.uncertainty < 0.02
    assert len(cutter.profile().points) == 4  # a slope between two level pieces, its scatter gone


def test_every_corner_of_a_measured_cutter_closes_and_has_its_edge():
    half = [(u, 1.7 * math.sin(math.pi / 2 * u / 2)) for u in (0.5, 1.0, 1.5, 2.0)]
    curve = [(5.6 - u, 1.7 - c) for u, c in reversed(half)] + [(5.6, 1.7)]
    curve += [(5.6 + u, 1.7 + c) for u, c in half]
    points = [[0, 0], *[[round(z, 5), round(c, 5)] for z, c in curve], [14, 3.4]]
    draft = draft_job(read_job(job_text(f"points: {points}", "profile_uncertainty: 0")))
    assert draft.corners
    for corner in draft.corners:
        fit = seat_setting(corner.setting)
        assert fit.closes
        assert fit.play == pytest.approx(corner.setting.play, abs=0.001)
        # The curve turns where it was measured: 1.5 mm above the middle, so 1.5 mm below it on the wood.
        height = corner.setting.bit_height
        assert any(abs(y - (height - 4.1)) < 1e-4 for _, y in Cuts.of(corner.setting).flat_face())


def test_a_measured_lock_mitre_closes_flush_through_the_stock():
    """A mitre over 18 mm with a lock about depth 11; the thickest stock of the boxes is nominally 15 mm."""
    points = "points: [[0, 18], [2, 18], [8, 12], [10, 12.5], [12, 5.5], [14, 6], [20, 0], [26, 0]]"
    text = job_text(points).replace("kind: drawer-lock", "kind: lock-mitre")
    draft = draft_job(read_job(text.replace("cutting_height: 14.5", "cutting_height: 26")))
    assert draft.corners
    for corner in draft.corners:
        setting = corner.setting
        assert setting.bit_height == pytest.approx(11 + setting.corner.flat_thickness / 2, abs=1e-4)
        fit = seat_setting(setting)
        assert fit.closes
        assert fit.pressed.tip_step == pytest.approx(0, abs=1e-3)
        assert fit.lip == pytest.approx(setting.lip, abs=1e-3)


@pytest.mark.parametrize("doubt", ["profile_uncertainty: 0.02", "profile_uncertainty: 0"])
def test_corners_of_scattered_readings_close_at_the_settings_that_follow_from_them(doubt):
    """Scatter taken for scatter, or taken for the edge itself: then its first places touch at the seat."""
    text = job_text("profile: measured-cutter.csv", doubt)
    job = read_job(text, str(EXAMPLES / "job.yaml"))
    early = job.cutters[0].cutter.edge.residual / 2
    for corner in draft_job(job).corners:
        fit = seat_setting(corner.setting)
        assert fit.closes
        assert fit.play < corner.setting.play + 0.01  # what touches early takes play away
        assert fit.lip == pytest.approx(corner.setting.lip - early, abs=0.002)


def test_what_test_cuts_said_moves_the_measured_edge():
    cutter = read_job(job_text(IDEAL, "mid_depth: 5.7 ± 0.02", "step: 3.06")).cutters[0].cutter
    assert cutter.mid_depth.uncertainty == 0.02
    moved = [point for point in cutter.profile().points if point[1] > 0 or point[0] > 1]
    for found, wanted in zip(moved, ((4.2, 0), (7.2, 3.06), (14.2, 3.06)), strict=True):
        assert found == pytest.approx(wanted, abs=1e-6)


def test_a_profile_that_cannot_mate_is_a_fault_at_its_point():
    ((field, message),) = faults(ONE_SIDED)
    assert field == "cutter.points[3]"
    assert "does not mate with itself" in message
    assert "at depth 5.00 mm" in message
    with pytest.raises(FaultyInputError) as caught:
        read_job(job_text(ONE_SIDED))
    line = caught.value.faults[0].line
    assert job_text(ONE_SIDED).splitlines()[line - 1].strip() == "- [5, 1]"


@pytest.mark.parametrize(
    ("entries", "field", "words"),
    [
        (("profile: nothing.csv",), "cutter.profile", "No such file"),
        ((IDEAL, "profile: nothing.csv"), "cutter.profile", "keep one or the other"),
        ((IDEAL, "mid_depth: 7"), "cutter.mid_depth", "measured profile's 5.50 mm"),
        (("points: [[0, 0], [4, 0]]",), "cutter.points", "at least 3 points"),
        (("points: [[0, 0], [4, 0], [3, 3], [9, 3]]",), "cutter.points", "point 3 lies at depth 3 mm"),
        (("points: [[0, 0], [4, wide], [8, 3], [9, 3]]",), "cutter.points[2][2]", "cannot read 'wide'"),
        (("points: [[0, 0], [0.1, 0], [0.2, 0.1]]",), "cutter.points", "0.2 mm high"),
        (("points: [[0, 0], [4, 0], [7, 0.01], [9, 0]]",), "cutter.points", "straight edge"),
    ],
)
def test_faults_name_their_entry(entries, field, words):
    found = faults(*entries)
    assert [name for name, _ in found] == [field]
    assert words in found[0][1]


def test_without_a_profile_both_measures_are_needed():
    assert faults("slope: 45") == [
        ("cutter.mid_depth", "is missing, and no profile was measured"),
        ("cutter.step", "is missing, and no profile was measured"),
    ]


def test_a_job_without_a_folder_reads_no_file():
    ((field, message),) = faults("profile: measured-cutter.csv", file=None)
    assert field == "cutter.profile"
    assert "no folder to look for it in" in message


def test_faults_inside_the_file_are_named_with_their_line(tmp_path):
    (tmp_path / "edge.csv").write_text("0,0\n4,zero\n8,3\n", encoding="utf-8")
    ((field, message),) = faults("profile: edge.csv", file=str(tmp_path / "job.yaml"))
    assert field == "cutter.profile"
    assert message.startswith("edge.csv: line 2: cannot read 'zero'")

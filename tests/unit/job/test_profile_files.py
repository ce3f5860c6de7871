"""Profiles from tables and drawings."""

import ezdxf
import pytest
from ezdxf import units

from drawerwright.basics.errors import FaultyInputError
from drawerwright.job.file.profiles import parse_profile, read_profile
from drawerwright.joints.profile import Profile


def test_a_table_with_decimal_comma_radius_and_remarks():
    points = parse_profile("# our cutter\ndepth;radius\n0;19,0\n4;19,0\n6 mm;16,4\n")
    assert points == [(0.0, 0.0), (4.0, 0.0), (6.0, pytest.approx(2.6))]


def test_diameters_count_half():
    assert parse_profile("depth,diameter\n0,38\n5,32")[1] == (5.0, 3.0)


def test_every_unreadable_line_is_named():
    with pytest.raises(FaultyInputError) as caught:
        parse_profile("0,0\nfour,1\n5\n6,wide\n", file="edge.csv")
    assert [(fault.line, fault.file) for fault in caught.value.faults] == [
        (2, "edge.csv"),
        (3, "edge.csv"),
        (4, "edge.csv"),
    ]


def test_an_unknown_second_column_is_refused():
    with pytest.raises(FaultyInputError, match="call it inset, radius or diameter"):
        parse_profile("depth,angle\n0,1\n")


@pytest.mark.parametrize("inches", [False, True])
def test_a_drawing_keeps_its_unit_and_its_arcs(tmp_path, inches):
    """Drawn with ezdxf: a quarter round of radius 2 mm between two straight pieces."""
    size = 1 / 25.4 if inches else 1.0
    document = ezdxf.new("R2010")
    document.units = units.IN if inches else units.MM
    quarter = 0.41421356  # tan(90 degrees / 4)
    line = [(10, 12, 0), (10, 8, quarter), (12, 6, 0), (12, 0, 0)]
    document.modelspace().add_lwpolyline([(x * size, y * size, b) for x, y, b in line], format="xyb")
    path = tmp_path / "edge.dxf"
    document.saveas(path)
    profile = read_profile(path).profile
    assert profile.points[0] == pytest.approx((0, 0), abs=1e-9)
    assert profile.points[-1] == pytest.approx((12, 2), abs=1e-9)
    # Counter-clockwise from (10, 8) to (12, 6): about the centre (12, 8), so it bulges down and left.
    for depth, inset in profile.points[1:-1]:
        assert (inset - 2) ** 2 + (depth - 4) ** 2 == pytest.approx(4, abs=1e-6)
    assert len(profile.points) > 20


def test_two_polylines_are_refused(tmp_path):
    document = ezdxf.new("R2010")
    for _ in range(2):
        document.modelspace().add_lwpolyline([(0, 1), (1, 0)])
    path = tmp_path / "edge.dxf"
    document.saveas(path)
    with pytest.raises(FaultyInputError, match="holds 2 polylines"):
        read_profile(path)


def test_a_missing_file_and_a_backward_profile_are_faults(tmp_path):
    with pytest.raises(FaultyInputError, match="No such file"):
        read_profile(tmp_path / "none.csv")
    path = tmp_path / "edge.csv"
    path.write_text("0,0\n5,1\n3,2\n7,2\n")
    with pytest.raises(FaultyInputError, match="from the top of the cutter down"):
        read_profile(path)


def test_points_are_those_of_the_file(tmp_path):
    path = tmp_path / "edge.csv"
    path.write_text("0,0\n4,0\n8,4\n16,4\n")
    assert read_profile(path).profile == Profile(((0.0, 0.0), (4.0, 0.0), (8.0, 4.0), (16.0, 4.0)))


@pytest.mark.parametrize(
    ("unit", "size", "words"),
    [
        (units.M, 1.0, "the profile is 12000 mm high.*unit is m;"),
        (units.MM, 0.01, "the profile is 0.12 mm high.*unit is mm;"),
        (units.IN, 1.0, "the profile is 304.8 mm high.*unit is in;"),
    ],
)
def test_a_drawing_of_no_plausible_size_is_refused_with_its_unit(tmp_path, unit, size, words):
    document = ezdxf.new("R2010")
    document.units = unit
    line = [(10, 12), (10, 8), (12, 6), (12, 0)]
    document.modelspace().add_lwpolyline([(x * size, y * size) for x, y in line])
    path = tmp_path / "edge.dxf"
    document.saveas(path)
    with pytest.raises(FaultyInputError, match=words):
        read_profile(path)


def test_a_drawing_without_a_unit_is_in_millimetres(tmp_path):
    document = ezdxf.new("R2010")
    document.units = 0
    document.modelspace().add_lwpolyline([(10, 12), (10, 8), (12, 6), (12, 0)])
    path = tmp_path / "edge.dxf"
    document.saveas(path)
    assert read_profile(path).points[-1] == pytest.approx((12, 2))


def test_a_table_in_another_unit_than_meant_is_refused(tmp_path):
    path = tmp_path / "edge.csv"
    path.write_text("0,0\n0.2,0\n0.3,0.13\n0.5,0.13\n", encoding="utf-8")
    with pytest.raises(FaultyInputError, match=r"0.5 mm high.*write the unit after each"):
        read_profile(path)

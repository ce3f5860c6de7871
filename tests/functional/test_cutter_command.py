"""`drawerwright cutter` on profiles whose middle is known from how they were drawn."""

import json

import ezdxf
import pytest
from ezdxf import units

from drawerwright.cli import main


def cutter(capsys, path, *arguments):
    assert main(["cutter", str(path), *map(str, arguments), "--json"]) == 0
    return json.loads(capsys.readouterr().out)


@pytest.fixture
def edge(tmp_path):
    def write(text):
        path = tmp_path / "edge.csv"
        path.write_text(text)
        return path

    return write


def test_middle_step_height_and_fence_of_a_mating_cutter(capsys, edge):
    found = cutter(
        capsys, edge("depth,inset\n0,0\n4.4,0\n7.6,3.2\n20,3.2\n"), "--upright", 15, "--lip", "1 mm"
    )
    assert found["mates"] is True
    assert found["mid_depth"]["value"] == pytest.approx(6, abs=1e-4)
    assert found["step"]["value"] == pytest.approx(3.2, abs=1e-4)
    assert found["residual"]["value"] == pytest.approx(0, abs=1e-4)
    assert found["bit_height"] == pytest.approx(12, abs=1e-4)  # h = 2 m
    assert found["fence_sum"] == pytest.approx(1 + 15 + 3.2, abs=1e-4)  # o + t + d
    assert found["has_hook"] is True


def test_through_the_stock_the_height_is_mid_depth_and_half_the_stock(capsys, edge):
    """A plain mitre with a lock of 2 mm: symmetric about depth 10, and without that lock about any."""
    text = "0,20\n8,12\n9,13\n11,7\n12,8\n20,0\n"
    found = cutter(capsys, edge(text), "--through", 16)
    assert found["mates"] is True
    assert found["mid_depth"]["value"] == pytest.approx(10, abs=1e-3)
    assert found["step"]["value"] == pytest.approx(20, abs=1e-3)
    assert found["bit_height"] == pytest.approx(18, abs=1e-3)


def test_one_that_cannot_mate_is_said_so_with_the_place(capsys, edge):
    """Half the slope steep, half flat: no height makes both halves one another's turned image."""
    path = edge("0,0\n3,0\n5,1\n7,3\n12,3.5\n20,3.5\n")
    found = cutter(capsys, path)
    assert found["mates"] is False
    assert found["residual"]["value"] > 0.3
    assert 0 <= found["gapes_at"] <= 20
    assert main(["cutter", str(path)]) == 0
    text = capsys.readouterr().out
    assert "does not mate" in text
    assert "Bit height" not in text  # no height to dial in


def test_the_example_gives_the_measures_of_the_example_job(capsys):
    found = cutter(capsys, "examples/measured-cutter.csv", "--uncertainty", 0.02)
    assert found["mates"] is True
    for name, truth in (("mid_depth", 5.65), ("step", 3.45)):
        assert abs(found[name]["value"] - truth) < 3 * found[name]["uncertainty"]
        assert found[name]["uncertainty"] < 0.02


def test_every_fault_of_a_file_is_named_with_line_and_column(capsys, edge):
    assert main(["cutter", str(edge("depth,inset\n0,0\nfour,1\n5\n6,wide\n"))]) == 2
    message = capsys.readouterr().err
    for place in ("edge.csv:3: depth", "edge.csv:4: inset", "edge.csv:5: inset"):
        assert place in message


def test_a_table_read_from_the_table_up_gives_the_same(capsys, edge):
    lines = ["0,0", "4.4,0", "7.6,3.2", "20,3.2"]
    down, up = cutter(capsys, edge("\n".join(lines))), cutter(capsys, edge("\n".join(reversed(lines))))
    assert up == down


def test_arcs_of_a_drawing_count(capsys, tmp_path):
    """An ogee of two quarter rounds of 2 mm (drawn with ezdxf) is symmetric about where they meet."""
    document = ezdxf.new("R2010")
    document.units = units.MM
    quarter = 0.41421356  # tan(90 degrees / 4)
    line = [(10, 12, 0), (10, 8, quarter), (12, 6, -quarter), (14, 4, 0), (14, -8, 0)]
    document.modelspace().add_lwpolyline(line, format="xyb")
    path = tmp_path / "edge.dxf"
    document.saveas(path)
    found = cutter(capsys, path)
    assert found["mid_depth"]["value"] == pytest.approx(6, abs=0.002)
    assert found["step"]["value"] == pytest.approx(4, abs=0.002)
    assert found["residual"]["value"] < 0.005


@pytest.mark.parametrize(
    ("command", "option"),
    [
        (["cutter"], "--uncertainty"),
        (
            [
                "fit",
                "--flat",
                "15",
                "--upright",
                "15",
                "--bit-height",
                "11.9",
                "--fence-flat",
                "9.1",
                "--fence-upright",
                "9.1",
                "--profile",
            ],
            "--profile-uncertainty",
        ),
    ],
)
def test_insets_without_a_stated_doubt_have_the_usual_one_and_zero_says_exact(capsys, edge, command, option):
    """The usual 0.02 mm of the table of usual doubts."""
    path = str(edge("depth,inset\n0,0\n4.4,0\n7.6,3.2\n20,3.2\n"))
    for given, expected in (
        ([], {"uncertainty": 0.02, "origin": "assumed"}),
        ([option, "0"], {"uncertainty": 0.0, "origin": "stated"}),
    ):
        assert main([*command, path, *given, "--json"]) == 0
        assert json.loads(capsys.readouterr().out)["inset"] == expected
        assert main([*command, path, *given]) == 0
        words = capsys.readouterr().out
        assert (f"Use {option} to say how well you know them" in words) == (expected["origin"] == "assumed")


def test_bare_numbers_of_the_file_are_in_the_unit_of_the_command(capsys, edge):
    """The same edge in inches and in millimetres (25.4 mm an inch)."""
    points = [(0, 0), (0.16, 0), (0.28, 0.12), (0.6, 0.12)]
    inches = edge("".join(f"{depth},{inset}\n" for depth, inset in points))
    found = cutter(capsys, inches, "--units", "in", "--uncertainty", 0)
    assert found["mid_depth"]["value"] == pytest.approx(0.22 * 25.4, abs=1e-3)
    assert found["step"]["value"] == pytest.approx(0.12 * 25.4, abs=1e-3)
    mm = edge("".join(f"{depth * 25.4:.6f} mm,{inset * 25.4:.6f} mm\n" for depth, inset in points))
    assert cutter(capsys, mm, "--units", "in", "--uncertainty", 0)["step"] == pytest.approx(
        found["step"], abs=1e-4
    )


def test_a_picture_is_sent_to_the_command_that_reads_it(capsys):
    assert main(["cutter", "slice.png"]) == 2
    assert "a picture of test pieces is read by 'drawerwright scan'" in capsys.readouterr().err

"""`drawerwright scan` on picture files."""

from __future__ import annotations

import builtins
import json
import struct
import zlib
from pathlib import Path

import cv2
import numpy as np
import pytest

from drawerwright.cli import main
from drawerwright.job.scan.picture_files import picture_head
from scan_pictures import Look, Truth, picture

TRUTH = Truth(mid_depth=5.42, step=3.21, slope=52.0, bit_height=10.9, fence=8.75, thickness=14.3)


def png_with_dpi(pixels: np.ndarray, dpi: float | None) -> bytes:
    """A PNG with a pHYs chunk (ISO/IEC 15948, 11.3.5.3; from memory)."""
    content = cv2.imencode(".png", pixels)[1].tobytes()
    if dpi is None:
        return content
    body = b"pHYs" + struct.pack(">IIB", round(dpi / 0.0254), round(dpi / 0.0254), 1)
    return content[:33] + struct.pack(">I", 9) + body + struct.pack(">I", zlib.crc32(body)) + content[33:]


def jpeg_with_dpi(pixels: np.ndarray, dpi: int) -> bytes:
    content = bytearray(cv2.imencode(".jpg", pixels, [cv2.IMWRITE_JPEG_QUALITY, 92])[1].tobytes())
    assert content[6:11] == b"JFIF\0"
    content[13:18] = struct.pack(">BHH", 1, dpi, dpi)
    return bytes(content)


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("scans")
    flat = picture(TRUTH, Look(dpi=300, angle=17, seed=1, length=27)).pixels
    upright = picture(
        Truth(**{**vars(TRUTH), "is_flat": False}), Look(dpi=300, angle=203, seed=2, mirrored=True, length=27)
    ).pixels
    found = {
        "flat.png": png_with_dpi(flat, 300),
        "upright.jpg": jpeg_with_dpi(upright, 300),
        "plain.png": png_with_dpi(flat, None),
        "broken.png": png_with_dpi(flat, 300)[:5000],
        "words.png": b"this is no picture",
    }
    for name, content in found.items():
        (folder / name).write_bytes(content)
    return {name: folder / name for name in found}


def test_both_pieces_of_a_cut(files: dict[str, Path], capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ["scan", "--flat", str(files["flat.png"]), "--upright", str(files["upright.jpg"]), "--json"]
    assert main([*arguments, "--thickness", "14.3"]) == 0
    read = json.loads(capsys.readouterr().out)
    for name, most in {
        "mid_depth": 0.03,
        "step": 0.03,
        "bit_height": 0.04,
        "fence": 0.04,
        "slope": 0.7,
    }.items():
        assert abs(read[name]["value"] - getattr(TRUTH, name)) < most
        assert 0 < read[name]["uncertainty"] < most
    assert abs(read["mid_to_tip"]["value"] - (TRUTH.bit_height - TRUTH.mid_depth)) < 0.04
    assert read["scale"]["from"] == "file"
    for depth, inset in read["points"]["value"]:
        assert abs(inset - TRUTH.profile.inset(depth)) < 0.1
    assert [seen["piece"] for seen in read["pictures"]] == ["flat", "upright"]
    assert read["scale"]["agrees_with_thickness"]
    assert not any("assumed" in doubt for doubt in read["doubts"])


def test_text_says_where_the_scale_is_from(
    files: dict[str, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["scan", "--units", "in", "--flat", str(files["plain.png"]), "--dpi", "300"]) == 0
    said = capsys.readouterr().out
    assert "as given" in said
    assert "In doubt: The scale" in said
    # Truth in inches, and no millimetre anywhere.
    assert f"thickness      {TRUTH.thickness / 25.4:.3f}"[:-1] in said
    assert " mm" not in said


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--flat", "plain.png"], "give its dpi"),
        (["--flat", "broken.png"], "damaged"),
        (["--flat", "words.png"], "PNG, JPEG, TIFF or WebP"),
        (["--upright", "flat.png"], "looks like a flat piece"),
        (["--flat", "flat.png", "--dpi", "9"], "not 9"),
        (["--flat", "nowhere.png"], "nowhere.png"),
        ([], "--flat"),
    ],
)
def test_what_cannot_be_read_ends_with_2(
    arguments: list[str], words: str, files: dict[str, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["scan", *(str(files.get(word, word)) for word in arguments)]) == 2
    assert words in capsys.readouterr().err


def test_without_the_library_one_sentence_says_how_to_get_it(
    files: dict[str, Path], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    real = builtins.__import__

    def without(name: str, *rest: object, **more: object) -> object:
        if name == "cv2":
            raise ImportError(name)
        return real(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", without)
    assert main(["scan", "--flat", str(files["flat.png"])]) == 2
    said = capsys.readouterr().err
    assert "pip install 'drawerwright[scan]'" in said
    assert said.count("\n") == 1


def test_a_picture_of_black_and_white_alone_is_in_doubt(
    files: dict[str, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    """Source: what was drawn, every pixel made black or white."""
    grey = cv2.imread(str(files["flat.png"]), cv2.IMREAD_GRAYSCALE)
    two = files["flat.png"].with_name("two.png")
    two.write_bytes(png_with_dpi(np.where(grey > 90, 255, 0).astype(np.uint8), 300))
    assert main(["scan", "--flat", str(two)]) == 0
    assert "too few colours or greys" in capsys.readouterr().out


def test_a_picture_that_claims_to_be_huge_is_not_unpacked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    content = bytearray(png_with_dpi(np.zeros((8, 8), np.uint8), 300))
    content[16:24] = struct.pack(">II", 60_000, 60_000)
    (tmp_path / "bomb.png").write_bytes(content)
    assert main(["scan", "--flat", str(tmp_path / "bomb.png")]) == 2
    assert "60000 by 60000" in capsys.readouterr().err


@pytest.mark.parametrize("ending", [".png", ".jpg", ".tiff", ".webp"])
def test_heads_of_all_kinds_tell_the_size_that_was_written(ending: str) -> None:
    """OpenCV wrote them."""
    content = cv2.imencode(ending, np.zeros((37, 91, 3), np.uint8))[1].tobytes()
    head = picture_head("picture", content)
    assert (head.width, head.height) == (91, 37)


def test_a_lock_mitre_tells_its_middle_above_the_table(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    truth = Truth(11.2, 17.5, 45.0, 19.98, 17.5, 17.5, kind="lock-mitre")
    made = picture(truth, Look(dpi=300, angle=31, seed=3, length=40, roughness=0.005))
    (tmp_path / "mitre.png").write_bytes(png_with_dpi(made.pixels, 300))
    arguments = ["scan", "--kind", "lock-mitre", "--flat", str(tmp_path / "mitre.png"), "--json"]
    assert main(arguments) == 0
    read = json.loads(capsys.readouterr().out)
    assert read["mid_depth"] is None
    assert read["bit_height"] is None
    assert abs(read["mid_to_tip"]["value"] - (truth.bit_height - truth.mid_depth)) < 0.05
    assert abs(read["slope"]["value"] - 45) < 0.7
    assert abs(read["thickness"]["value"] - truth.thickness) < 0.05
    assert main([*arguments, "--bit-height", "19.98 ± 0.02"]) == 0
    read = json.loads(capsys.readouterr().out)
    assert abs(read["mid_depth"]["value"] - truth.mid_depth) < 0.06
    assert read["bit_height"]["value"] == 19.98


def test_a_trial_file_takes_its_readings_from_pictures(
    files: dict[str, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    """The pictures were drawn of a cut that a gauge with an error of 0.2 mm would show as 10.7."""
    trial = files["flat.png"].with_name("trial.yaml")
    trial.write_text(
        "format: 1\ntrial: from a scan\ncutter: {kind: drawer-lock, mid_depth: 5.4 ± 0.1, step: 3.2 ± 0.1, slope: 52}\n"
        "wanted: {flat: 14.3, upright: 14.3}\n"
        "cuts: [{height_shown: 10.7, fence_shown: 8.75, scan: {flat: flat.png, upright: upright.jpg}}]\n",
        encoding="utf-8",
    )
    assert main(["correct", str(trial), "--json"]) == 0
    learnt = json.loads(capsys.readouterr().out)
    assert abs(learnt["learnt"]["mid_depth"]["now"]["value"] - TRUTH.mid_depth) < 0.03
    assert abs(learnt["learnt"]["step"]["now"]["value"] - TRUTH.step) < 0.03
    assert learnt["learnt"]["mid_depth"]["now"]["uncertainty"] < 0.03

    assert abs(learnt["learnt"]["height_gauge_offset"]["now"]["value"] + 0.2) < 0.05  # it reads low
    assert not learnt["contradictions"]

    trial.write_text(trial.read_text("utf-8").replace("flat.png", "broken.png"), encoding="utf-8")
    assert main(["correct", str(trial)]) == 2
    assert "broken" in capsys.readouterr().err


def test_the_front_door_reads_pictures_too(files: dict[str, Path]) -> None:
    import drawerwright as dw

    section = dw.scan(flat=files["flat.png"], thickness=14.3)
    assert abs(section.mid_depth.value - TRUTH.mid_depth) < 0.03
    assert section.scale == "file"
    assert dw.Cutter(
        "drawer-lock", mid_depth=section.mid_depth, step=section.step, slope=section.slope
    ).profile()
    with pytest.raises(dw.DrawerwrightError, match="broken"):
        dw.scan(flat=[files["broken.png"]])

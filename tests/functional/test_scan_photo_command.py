"""`drawerwright scan` with photos on the sheet of marks, and with a scanner that was calibrated."""

from __future__ import annotations

import json
import struct
from pathlib import Path

import cv2
import numpy as np
import pypdfium2
import pytest

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.uncertain import Estimate
from drawerwright.cli import main
from drawerwright.drawings.slice_sheet import HEAD
from drawerwright.job.file.trial_model import ScanEntry
from drawerwright.job.scan import scanner_calibration
from drawerwright.job.scan.picture_files import TakenWith, picture_head, read_picture
from drawerwright.job.scan.scanner_calibration import keep_scanner, scale_of, scale_text
from drawerwright.job.scan.scanner_scale import ScannerScale
from drawerwright.job.scan.sheet_paper import slice_sheet_pdf
from drawerwright.job.test_cuts.scan_entries import taken_of
from drawerwright.joints.scan import pixels
from drawerwright.joints.scan.mark_corners import exact_corners
from drawerwright.joints.scan.sheet_marks import MARKS
from photo_pictures import Shot, photo
from scan_pictures import INCH, Look, Truth, coverage

TRUTH = Truth(mid_depth=5.42, step=3.21, slope=52.0, bit_height=10.9, fence=8.75, thickness=14.3)


@pytest.mark.parametrize(("unit", "high"), [("mm", 297.0), ("in", 279.4)])
def test_the_printed_sheet_has_its_marks_where_they_are_looked_for(unit: str, high: float) -> None:
    """Source: the PDF, drawn by PDFium at 12 pixels to a mm, and paper as ISO 216 and ANSI/ASME Y14.1 have it."""
    page = pypdfium2.PdfDocument(slice_sheet_pdf(LengthStyle(unit)))[0]  # type: ignore[arg-type]
    grey = np.asarray(page.render(scale=12 * INCH / 72, grayscale=True).to_numpy()).squeeze()
    assert grey.shape[0] == pytest.approx(12 * high, abs=2)
    codes = np.array([np.array(mark.squares, np.uint8) for mark in MARKS])
    found = pixels.find_marks(grey, codes, 0)
    assert set(found) == set(range(len(MARKS)))
    middle = np.array([grey.shape[1] / 2, HEAD * 12])
    for number, corners in found.items():
        exact = exact_corners(grey.astype(np.float32), corners)
        wanted = np.array(MARKS[number].corners) * [12, -12] + middle - 0.5
        assert np.abs(exact - wanted).max() < 1.2  # a tenth of a mm


def exif_jpeg(pixels: np.ndarray, focal_35: int) -> bytes:
    """A JPEG as a camera writes it: with an exposure time and the focal length, in a page of tags of its own."""
    own = struct.pack("<HHHIIHHIII", 2, 33434, 5, 1, 56, 41989, 3, 1, focal_35, 0)
    page = struct.pack("<HHHIII", 1, 34665, 4, 1, 26, 0)
    tags = b"II*\0" + struct.pack("<I", 8) + page + own
    tags += b"\0" * (56 - len(tags)) + struct.pack("<II", 1, 125)
    body = b"Exif\0\0" + tags
    plain = cv2.imencode(".jpg", pixels, [cv2.IMWRITE_JPEG_QUALITY, 93])[1].tobytes()
    return plain[:2] + b"\xff\xe1" + struct.pack(">H", len(body) + 2) + body + plain[2:]


def test_a_camera_tells_that_it_is_one_and_its_lens() -> None:
    """Source: Exif 2.3, tags 33434 and 41989 (from memory)."""
    head = picture_head("photo", exif_jpeg(np.zeros((40, 50), np.uint8), 26))
    assert (head.is_photo, head.focal_35, head.width) == (True, 26, 50)
    few = exif_jpeg(np.zeros((40, 50), np.uint8), 26).replace(
        struct.pack("<H", 33434), struct.pack("<H", 270)
    )
    assert picture_head("cut smaller by a program", few).is_photo


def test_a_photo_on_the_sheet_is_read_and_one_without_is_told_of_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Source: what was drawn."""
    made = photo(TRUTH, Look(angle=20, length=30, seed=5, blur=0.8), Shot(focal_35=52, stand=(3, 2, 400)))
    (tmp_path / "photo.jpg").write_bytes(exif_jpeg(made.pixels, 52))
    told = ["--thickness", "14.3 ± 0.02", "--slice-height", "6", "--json"]
    assert main(["scan", "--flat", str(tmp_path / "photo.jpg"), *told]) == 0
    read = json.loads(capsys.readouterr().out)
    assert read["scale"]["from"] == "sheet"
    for name in ("mid_depth", "step", "bit_height", "fence"):
        assert abs(read[name]["value"] - getattr(TRUTH, name)) < 0.08, name
    slip = ["--thickness", "12.3", "--slice-height", "6"]
    assert main(["scan", "--flat", str(tmp_path / "photo.jpg"), *slip]) == 2
    assert "its height does not explain that" in capsys.readouterr().err
    cut_off = made.pixels[:200, :300]
    (tmp_path / "plain.jpg").write_bytes(exif_jpeg(cut_off, 52))
    assert main(["scan", "--flat", str(tmp_path / "plain.jpg")]) == 2
    assert "--sheet" in capsys.readouterr().err


def block_scan(dpi: float, off: tuple[float, float]) -> bytes:
    """A scan of a block of 60 by 40 mm, 1° askew, by a scanner with so many more dots to an inch across and along."""
    per_mm = dpi / INCH * (1 + np.array(off))
    turn = np.radians(1.0)
    matrix = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    corners = np.array([[-30, -20], [30, -20], [30, 20], [-30, 20]]) @ matrix.T + [40, 30]
    share = coverage(corners * per_mm - 0.5, round(60 * per_mm[1]), round(80 * per_mm[0]))
    image = cv2.GaussianBlur(30 + 170 * share, (0, 0), 0.7)
    noisy = image + np.random.default_rng(2).normal(0, 2, image.shape)
    return bytes(cv2.imencode(".png", np.clip(noisy, 0, 255).astype(np.uint8))[1])


def test_a_scanner_is_calibrated_by_a_block_and_its_scale_kept_by_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Source: what was drawn: 0.4 % more dots across, 0.6 % fewer along."""
    (tmp_path / "block.png").write_bytes(block_scan(300.0, (0.004, -0.006)))
    data = ["--data", str(tmp_path / "data")]
    block = ["scan", "--calibrate", str(tmp_path / "block.png"), "--dpi", "300", *data]
    assert main([*block, "--across", "60 ± 0.01", "--along", "40 ± 0.01"]) == 2  # it has no name
    assert "--scanner" in capsys.readouterr().err
    named = [*block, "--scanner", "office"]
    assert main([*named, "--across", "60 ± 0.01", "--along", "40 ± 0.01", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    for way, wanted in (("across", 0.004), ("along", -0.006)):
        assert abs(found[way]["value"] - wanted) < 3 * found[way]["uncertainty"] < 0.0025
    assert main([*named, "--across", "40"]) == 2  # the other side
    assert "is it the other side" in capsys.readouterr().err
    flat = Truth(5.42, 3.21, 52.0, 10.9, 8.75, 14.3)
    from scan_pictures import picture

    made = picture(flat, Look(dpi=300, seed=5, length=30, angle=0, roughness=0.003, scale=(1.004, 0.994)))
    (tmp_path / "flat.png").write_bytes(bytes(cv2.imencode(".png", made.pixels)[1]))
    scan = ["scan", "--flat", str(tmp_path / "flat.png"), "--dpi", "300", "--json", *data]
    assert main([*scan, "--scanner", "office"]) == 0
    read = json.loads(capsys.readouterr().out)
    assert read["scale"]["from"] == "calibration"
    assert not any("assumed" in doubt for doubt in read["doubts"])
    for name in ("bit_height", "fence", "mid_depth"):
        assert abs(read[name]["value"] - getattr(flat, name)) < 0.03, name
    assert main([*scan, "--scanner", "attic"]) == 2
    assert "there are office" in capsys.readouterr().err


def test_a_scale_survives_the_shelf() -> None:
    from drawerwright.job.file.reading import entries_of

    scale = ScannerScale(Estimate(0.0012, 0.0003), None)
    assert scale_of(entries_of(scale_text(scale))) == scale
    assert scale.dots((300.0, 300.0)) == pytest.approx((300.36, 300.36))
    calibrated = read_picture("a", block_scan(300.0, (0, 0)), TakenWith(dpi=300.0, scanner=scale))
    assert calibrated.dpi == pytest.approx(300.36)
    assert not calibrated.instrument.is_assumed


def test_a_trial_file_names_a_scanner_on_the_shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    scale = ScannerScale(Estimate(0.0012, 0.0003), None)
    monkeypatch.setattr(scanner_calibration, "data_folder", lambda: tmp_path / "data")
    entry = ScanEntry(flat=("flat.png",), scanner="office")
    with pytest.raises(InvalidValueError, match="calibrate one"):
        taken_of(entry)
    assert not (tmp_path / "data").exists()
    keep_scanner(None, "office", scale)
    assert taken_of(entry).scanner == scale


def test_a_phone_s_own_kind_of_picture_is_told_what_to_do() -> None:
    """Source: ISO/IEC 14496-12, a file begins with a box `ftyp` that names its kind; from memory."""
    with pytest.raises(InvalidValueError, match="save JPEG"):
        picture_head("slice.heic", b"\0\0\0\x18ftypheic" + bytes(40))

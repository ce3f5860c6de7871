"""Labels as they come out of the printer: in their places, with a code that another program reads."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import cv2
import numpy as np
import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.basics.phrases import plain
from drawerwright.drawers.parts import PartKind
from drawerwright.drawings.label_grids import GRIDS, LabelGrid
from drawerwright.drawings.label_sheets import label_scenes
from drawerwright.drawings.paper import PAPERS
from drawerwright.drawings.scene import Fill
from drawerwright.drawings.scene import Path as Shape
from drawerwright.job.file.building import read_job
from drawerwright.job.papers.part_labels import label_files, labels_pdf, part_labels
from drawerwright.job.planning.job_plan import JobPlan, open_job, plan_job
from drawerwright.run.marks import PartName
from drawerwright.run.steps_of_part import part_mark
from legible import clipped_texts, overlapping_texts
from printed_text import MM
from read_paper import pages_of

EXAMPLES = Path(__file__).parents[3] / "examples"
ADDRESS = "http://192.0.2.17:8744/jobs/3/run"
ALL_GRIDS = [grid for grids in GRIDS.values() for grid in grids]


@lru_cache
def plan() -> JobPlan:
    return plan_job(open_job(EXAMPLES / "music-school.yaml"), time_limit=0.5)


def named(grid: LabelGrid) -> str:
    return f"{grid.paper} {grid.count}"


@pytest.mark.parametrize("grid", ALL_GRIDS, ids=named)
def test_all_labels_lie_on_the_paper_and_apart(grid: LabelGrid) -> None:
    paper = PAPERS[grid.paper]
    assert len(set(grid.places)) == grid.count
    for x, y in grid.places:
        assert x >= -0.01
        assert y >= -0.01
        assert x + grid.width <= paper.width + 0.01
        assert y + grid.height <= paper.height + 0.01
    for one, other in zip(grid.places, grid.places[1:], strict=False):
        assert abs(one[0] - other[0]) >= grid.width - 1e-6 or abs(one[1] - other[1]) >= grid.height - 1e-6


@pytest.mark.parametrize("grid", ALL_GRIDS, ids=named)
@pytest.mark.parametrize("address", ["", ADDRESS])
def test_words_stay_in_their_label_and_clear_of_each_other(grid: LabelGrid, address: str) -> None:
    labels = part_labels(plan(), address)[:40]
    for scene in label_scenes(labels, grid, plan().job.style):
        assert overlapping_texts(scene) == []
        assert clipped_texts(scene) == []
        for text in scene.texts:
            xs, ys = [x for x, _ in text.corners()], [y for _, y in text.corners()]
            assert any(
                x <= min(xs) and max(xs) <= x + grid.width and y <= min(ys) and max(ys) <= y + grid.height
                for x, y in grid.places
            ), text.text


def test_a_reader_of_codes_finds_the_address() -> None:
    """OpenCV's own detector, on the label as it is printed, 24 pixels to a millimetre (about 600 to an inch)."""
    grid = GRIDS["a4"][0]
    (scene,) = label_scenes(part_labels(plan(), ADDRESS)[:1], grid, plan().job.style)
    x, y = grid.places[0]
    scale = 24
    picture = np.full((round(grid.height * scale), round(grid.width * scale)), 255, np.uint8)
    for item in scene.items:
        if isinstance(item, Shape) and item.fill is Fill.INK:
            points = np.array([((px - x) * scale, (y + grid.height - py) * scale) for px, py in item.points])
            if len(points) == 4:  # the modules; triangles are marks
                (left, top), (right, low) = np.round(points.min(axis=0)), np.round(points.max(axis=0))
                picture[int(top) : int(low), int(left) : int(right)] = 0
    found, _points, _code = cv2.QRCodeDetector().detectAndDecode(picture)
    part = plan().parts[0]
    assert found == f"{ADDRESS}?mark={part_mark(PartName.of(part))}"


def test_every_label_has_a_code_of_its_own_on_its_day() -> None:
    addresses = [label.address for label in part_labels(plan(), f"{ADDRESS}?day=2")]
    assert all(address.startswith(f"{ADDRESS}?day=2&mark=") for address in addresses)
    assert len(set(addresses)) == len(plan().parts)
    assert {label.address for label in part_labels(plan())} == {""}


def test_a_left_side_has_its_front_end_at_the_left_seen_from_inside() -> None:
    """Worked out with a cup in the hand: inside face towards the eye, upper edge up."""
    labels = dict(zip((part.kind for part in plan().parts), part_labels(plan()), strict=False))
    assert plain(labels[PartKind.LEFT].left or "") == "front end"
    assert labels[PartKind.LEFT].right is None
    assert plain(labels[PartKind.RIGHT].right or "") == "front end"
    assert plain(labels[PartKind.FRONT].left or "") == "right end"


def test_the_printed_labels_are_where_the_sheet_has_them() -> None:
    """Every letter of the PDF within a label, by pdfplumber; the page as large as the paper (ISO 216)."""
    grid = GRIDS["a4"][0]
    pages = pages_of(labels_pdf(plan(), grid))
    assert len(pages) == -(-len(plan().parts) // grid.count)
    for page in pages:
        assert (page.width * MM, page.height * MM) == pytest.approx((210.0, 297.0), abs=0.05)
        for char in page.chars:
            x, y = (char["x0"] + char["x1"]) / 2 * MM, 297.0 - (char["top"] + char["bottom"]) / 2 * MM
            assert any(
                left <= x <= left + grid.width and low <= y <= low + grid.height for left, low in grid.places
            )
    first = pages[0].extract_text()
    assert "A1 front" in first
    assert "upper edge" in first


JOB = (EXAMPLES / "music-school.yaml").read_text("utf-8")


@pytest.mark.parametrize(
    ("labels", "name"),
    [
        ("{sheet: 24}", "labels-24.pdf"),
        ("{columns: 2, rows: 7, width: 99.1, height: 38.1, left: 4.65, top: 15.1}", "labels-14.pdf"),
    ],
)
def test_the_job_names_its_sheet_of_labels(labels: str, name: str) -> None:
    job = read_job(f"{JOB}\nlabels: {labels}\n")
    assert [each for each, _grid in label_files(job)] == [name]


@pytest.mark.parametrize(
    ("labels", "place", "words"),
    [
        ("{sheet: 30}", "labels.sheet", "choose from 21, 24, 65"),  # those of Letter
        ("{columns: 2, rows: 7, width: 99.1}", "labels", "needs height"),
        ("{columns: 3, rows: 7, width: 99.1, height: 38.1}", "labels.width", "reach 297.3 mm"),
        ("{sheet: 24, left: 5}", "labels.left", "take one of them out"),
    ],
)
def test_a_sheet_of_labels_that_cannot_be_is_a_fault(labels: str, place: str, words: str) -> None:
    with pytest.raises(FaultyInputError) as caught:
        read_job(f"{JOB}\nlabels: {labels}\n")
    (fault,) = caught.value.faults
    assert fault.field == place
    assert words in plain(fault.message).replace("\u00a0", " ")


def test_labels_that_are_gone_from_the_first_sheet_stay_free() -> None:
    grid = GRIDS["a4"][0]
    scenes = label_scenes(part_labels(plan()), grid, plan().job.style, used=2)
    x, y = grid.places[2]
    first = next(text for text in scenes[0].texts if text.text == "A1 front")
    assert x <= first.at[0] <= x + grid.width
    assert y <= first.at[1] <= y + grid.height
    names = [text.text for scene in scenes for text in scene.texts]
    assert all(names.count(plain(part.label)) == 1 for part in plan().parts)

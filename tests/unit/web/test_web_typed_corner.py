"""The Corner page shows a job's corner with the numbers of the job, whatever its fields round away."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from drawerwright.job.file.building import read_job
from drawerwright.job.kept_settings import recommended_settings
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.tried_corner import measures_of
from drawerwright.web.fields.lengths_form import LengthsForm
from drawerwright.web.pages.parts.typed_corner import MEASURES, ONE, typed_corner, typed_measures, typed_split
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.server.shop import Shop
from random_jobs import random_job

if TYPE_CHECKING:
    from starlette.testclient import TestClient


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_recommended_setting_is_the_job_s_own(shop: Shop, unit: str) -> None:
    reader = Preferences(unit=unit)  # type: ignore[arg-type]
    ones = 0
    for seed in range(25):
        job = read_job(random_job(seed))
        number = shop.jobs.add(job.name, random_job(seed), "").id
        recommended = recommended_settings(job)
        for corner in draft_job(job).corners:
            typed = typed_measures(measures_of(corner.setting), reader)
            typed |= {
                "split": typed_split(corner, reader),
                "job": str(number),
                "of": corner.key.token,
            }
            form = LengthsForm(typed, reader)
            form.read([*MEASURES, *(["split"] if typed["split"] != ONE else [])], over_zero=True)
            form.read(("lip",), least=0.0)
            form.read_angle("slope")
            right = typed_corner(shop, form, reader).right
            assert right.bit_height == recommended[corner.key].bit_height
            if typed["split"] == ONE:
                ones += 1
                assert right.fence_flat == right.fence_upright == corner.setting.fence_flat
    assert ones > 10


ASKED = {
    "kind": "drawer-lock",
    "mid_depth": "6",
    "step": "4",
    "flat": "15",
    "upright": "15",
    "slope": "45",
    "lip": "0",
    "bit_height": "11.8",
}


def test_a_moving_slider_is_sent_the_drawing_alone(client: TestClient) -> None:
    asked = ASKED
    whole = client.get("/corner/section", params=asked).text
    drawing = client.get("/corner/section", params={**asked, "only": "drawing"}).text
    assert "data-state" in whole
    assert "<table" in whole
    assert "data-state" not in drawing
    assert "<table" not in drawing
    assert drawing.strip() in whole
    # What cannot be drawn is said as ever.
    assert (
        "data-state" in client.get("/corner/section", params={**asked, "flat": "?", "only": "drawing"}).text
    )


def test_what_is_drawn_ahead_is_what_is_drawn_when_the_slider_is_there(client: TestClient) -> None:
    """A fence of 16 mm cuts the end off a piece 15 mm thick: whoever comes there is told so."""
    fences = [f"{fence / 100:.2f}" for fence in range(1000, 1038)]
    asked = {**ASKED, "moves": "fence_upright", "at": [*fences, "16", "wide"]}
    answer = client.get("/corner/ahead", params=asked)
    drawn = answer.json()
    assert list(drawn) == fences
    assert len(set(drawn.values())) == len(fences)
    assert int(answer.headers["content-length"]) < 100_000  # what a phone in the shop may load at once
    for fence in fences[::9]:
        there = client.get(
            "/corner/section", params={**ASKED, "fence_upright": fence, "only": "drawing"}
        ).text
        for piece in ("verdict", "seated"):
            assert piece_of(drawn[fence], piece) == piece_of(there, piece)


def test_a_setting_alone_is_drawn_ahead(client: TestClient) -> None:
    answer = client.get("/corner/ahead", params={**ASKED, "moves": "mid_depth", "at": ["6.1"]})
    assert answer.status_code == 404
    faulty = client.get("/corner/ahead", params={**ASKED, "flat": "?", "moves": "bit_height", "at": ["12"]})
    assert faulty.json() == {}


def piece_of(page: str, name: str) -> str:
    """A piece of the drawing: to the next one or the end of its element."""
    found = re.search(rf'<(\w+) class="[^"]*" data-piece="{name}".*?</\1>', page, re.DOTALL)
    assert found
    return found[0]

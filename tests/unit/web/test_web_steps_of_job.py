"""Pages show the sizes of a job in the steps that the job asks for, to readers of its unit."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from drawerwright.basics.lengths import LengthStyle
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.file.job_entries import shown_style
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.server.shop import Shop


@pytest.mark.parametrize(
    ("reader", "shown"),
    [
        (Preferences(unit="mm", unit_of_job=True), "417.5 mm"),
        (
            Preferences(unit="in"),
            "16.43 in",
        ),  # in steps of 0.005 in: those of half a millimetre are not theirs
    ],
)
def test_sizes_go_in_the_steps_of_the_job(reader: Preferences, shown: str) -> None:
    style = shown_style(example_text() + "shown: {step: 0.5}\n")
    assert reader.on_page_of_job("mm", style).lengths.show(417.3) == shown


def test_a_faulty_style_is_the_usual_one() -> None:
    assert shown_style("format: 1\nunits: in\nshown: {step: wide}\n") == LengthStyle("in")


def test_a_page_takes_them(client: TestClient, shop: Shop) -> None:
    """The opening of the choir scores is 462 wide: 460 where sizes go in steps of 5."""
    shop.jobs.add("steps", example_text() + "shown: {step: 5}\n", "")
    shown = re.compile(r"opening (\d+\.\d) mm")
    usual, stepped = (set(shown.findall(client.get(f"/jobs/{job}/drawers").text)) for job in (1, 2))
    assert "462.0" in usual
    assert "460.0" in stepped
    assert all(float(size) % 5 == 0 for size in stepped)

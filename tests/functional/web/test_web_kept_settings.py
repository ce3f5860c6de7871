"""Settings tried on the Corner page become the job's, and go again."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, ViewportSize, expect

from .conftest import SIZES, Served, job_text

PLANNED_MS = 30_000


def test_settings_tried_are_kept_and_released(drawers: Page, served: Served) -> None:
    before = job_text(drawers, served)
    drawers.goto(drawers.url.replace("/drawers", "/corner"))
    height = drawers.locator("#bit_height")
    in_job = drawers.locator("#kept-settings tr").first
    expect(in_job).to_contain_text("11.20 mm", timeout=PLANNED_MS)
    keep = drawers.get_by_role("button", name="Use these settings in the job")

    keep.click()
    expect(drawers.locator("#kept-words")).to_contain_text("The job already cuts this corner this way")
    height.fill("11.1")
    drawers.locator("#fence_flat").fill("17")
    keep.click()
    expect(drawers.locator("#kept-words")).to_contain_text("no two positions add up")
    expect(height).to_have_value("11.1")
    drawers.locator("#fence_flat").fill("")
    keep.click()
    expect(in_job.locator("td")).to_have_text(["11.10 mm", "11.20 mm"], timeout=PLANNED_MS)
    expect(height).to_have_value("11.10")
    expect(drawers.locator("#verdict")).to_contain_text("Closes, with 0.20 mm play")
    assert "bit_heights" in job_text(drawers, served)

    height.fill("11.4")
    drawers.get_by_role("button", name="Back to the job's settings").click()
    expect(height).to_have_value("11.10")
    expect(drawers.locator("#bit_height-slider")).to_have_value("11.1")

    height.fill("11.45")
    drawers.get_by_role("button", name="Remove the job's own settings").click()
    expect(in_job.locator("td")).to_have_text(["11.20 mm", "11.20 mm"], timeout=PLANNED_MS)
    expect(height).to_have_value("")
    assert job_text(drawers, served) == before
    drawers.get_by_role("button", name="Undo").click()
    expect(height).to_have_value("11.10", timeout=PLANNED_MS)

    drawers.get_by_role("link", name="Stock and machine").click()
    beside = drawers.locator(".finding-rows li", has=drawers.locator("a[href='#bit_heights']"))
    expect(beside).to_contain_text("closes with 0.20 mm of play")
    drawers.get_by_role("button", name="Undo").click()
    expect(drawers.locator("#bit_heights")).to_have_value("")
    drawers.get_by_role("button", name="Redo").click()
    expect(beside).to_be_visible()


@pytest.mark.parametrize("size", SIZES)
def test_the_settings_are_seen_together_with_what_they_do(drawers: Page, size: str) -> None:
    """At a desk without scrolling; on a phone they stay at the top while each drawing is looked at.

    The drawings of how it will seat: pressed home and pulled. What it should be follows them.
    """
    drawers.set_viewport_size(ViewportSize(**SIZES[size]))
    drawers.goto(drawers.url.replace("/drawers", "/corner"))
    drawings = drawers.locator("#section figure svg")
    expect(drawings).to_have_count(3)
    for drawing in (drawings.nth(0), drawings.nth(1)):
        if size == "phone":
            drawing.evaluate("e => scrollTo(0, e.getBoundingClientRect().bottom + scrollY - innerHeight)")
        expect(drawing).to_be_in_viewport(ratio=0.99 if size == "desk" else 0.7)
        for slider in drawers.locator(".setting input[type=range]").all():
            expect(slider).to_be_in_viewport(ratio=0.99)
            assert slider.evaluate(
                "e => { const b = e.getBoundingClientRect();"
                " return document.elementFromPoint(b.x + b.width / 2, b.y + b.height / 2) === e }"
            ), "something lies over the slider"

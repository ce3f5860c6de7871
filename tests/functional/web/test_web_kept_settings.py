"""Settings tried on the Corner page become the job's, and go again."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from .conftest import Served, job_text


def test_settings_tried_are_kept_and_released(drawers: Page, served: Served) -> None:
    before = job_text(drawers, served)
    drawers.get_by_role("link", name="Corner", exact=True).last.click()
    height = drawers.locator("#bit_height")
    in_job = drawers.locator("#corner-form tbody tr").first
    expect(in_job).to_contain_text("11.30 mm")
    keep = drawers.get_by_role("button", name="Work with the settings tried")

    keep.click()
    expect(drawers.locator("#kept-words")).to_contain_text("The job sets this corner so already")
    height.fill("11.2")
    drawers.locator("#fence_flat").fill("17")
    keep.click()
    expect(drawers.locator("#kept-words")).to_contain_text("no two positions add up")
    expect(height).to_have_value("11.2")
    drawers.locator("#fence_flat").fill("")
    keep.click()
    expect(in_job.locator("td")).to_have_text(["11.20 mm", "11.30 mm"])
    expect(height).to_have_value("11.20")
    expect(drawers.locator("#verdict")).to_contain_text("Closes, with 0.10 mm play")
    assert "bit_heights" in job_text(drawers, served)

    height.fill("11.4")
    drawers.get_by_role("button", name="Back to the job's settings").click()
    expect(height).to_have_value("11.20")
    expect(drawers.locator("#bit_height-slider")).to_have_value("11.2")

    height.fill("11.45")
    drawers.get_by_role("button", name="Let the law decide again").click()
    expect(in_job.locator("td")).to_have_text(["11.30 mm", "11.30 mm"])
    expect(height).to_have_value("")
    assert job_text(drawers, served) == before
    drawers.get_by_role("button", name="Undo").click()
    expect(height).to_have_value("11.20")

    drawers.get_by_role("link", name="Stock and machine").click()
    beside = drawers.locator("#notices-bit_heights")
    expect(beside).to_contain_text("closes with a play of 0.10 mm")
    drawers.get_by_role("button", name="Undo").click()
    expect(drawers.locator("#bit_heights")).to_have_value("")
    drawers.get_by_role("button", name="Redo").click()
    expect(beside).to_be_visible()

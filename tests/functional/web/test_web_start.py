"""The start page: what this is, jobs with their pictures, and a job file dropped anywhere."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from .conftest import Served, job_text

TEXT = "# dropped\njob: Dropped chest\n"
DROP = """([name, text]) => {
    const held = new DataTransfer();
    held.items.add(new File([text], name));
    const place = document.querySelector("h1");
    for (const kind of ["dragenter", "dragover"]) {
        const event = new DragEvent(kind, { dataTransfer: held, bubbles: true, cancelable: true });
        if (place.dispatchEvent(event)) throw new Error(`${kind} would open the file itself`);
    }
    const shown = getComputedStyle(document.body, "::after").content;
    place.dispatchEvent(new DragEvent("drop", { dataTransfer: held, bubbles: true, cancelable: true }));
    return shown;
}"""


WORDS_ARE_LET_THROUGH = """() => {
    const held = new DataTransfer();
    held.setData("text/plain", "A3");
    return document.body.dispatchEvent(
        new DragEvent("dragover", { dataTransfer: held, bubbles: true, cancelable: true }));
}"""
"""Words dragged into a field are no file."""


def test_a_job_file_dropped_anywhere_becomes_a_job_and_nothing_else_does(desk: Page, served: Served) -> None:
    desk.goto(served.url)
    expect(desk.locator(".first-picture svg")).to_be_visible()
    assert desk.evaluate(WORDS_ARE_LET_THROUGH)
    assert desk.evaluate(DROP, ["photo.png", "no"]) == '"Drop the job file here"'
    fault = desk.get_by_role("alert")
    expect(fault).to_contain_text("A job file ends in .yaml or .yml; this one is called photo.png.")
    assert desk.evaluate(DROP, ["chest.yaml", TEXT]) == '"Drop the job file here"'
    desk.wait_for_url("**/jobs/*/**")
    assert job_text(desk, served) == TEXT


@pytest.mark.alone
def test_a_card_shows_the_piece_its_drawers_its_stock_and_what_is_next(desk: Page, served: Served) -> None:
    served.add_example()
    desk.goto(served.url)
    card = desk.locator(".job-card")
    expect(card).to_contain_text("15 drawers · birch15, birch6")
    expect(card.locator(".thumbs svg")).to_have_count(1)
    expect(card).to_contain_text("Next: make a test cut on two scraps.")

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


def test_a_job_file_dropped_anywhere_becomes_a_job(desk: Page, served: Served) -> None:
    desk.goto(served.url)
    expect(desk.locator(".first-picture svg")).to_be_visible()
    assert desk.evaluate(DROP, ["chest.yaml", TEXT]) == '"Drop the job file here"'
    desk.wait_for_url("**/jobs/*/**")
    assert job_text(desk, served) == TEXT


def test_what_is_dropped_and_is_no_job_file_is_refused_beside_the_field(desk: Page, served: Served) -> None:
    desk.goto(served.url)
    desk.evaluate(DROP, ["photo.png", "no"])
    fault = desk.get_by_role("alert")
    expect(fault).to_contain_text("A job file ends in .yaml or .yml; this one is called photo.png.")


def test_other_things_are_dragged_as_ever(desk: Page, served: Served) -> None:
    """Words dragged into a field are no file."""
    desk.goto(served.url)
    is_let_through = desk.evaluate(
        """() => { const held = new DataTransfer(); held.setData("text/plain", "A3");
        return document.body.dispatchEvent(
            new DragEvent("dragover", { dataTransfer: held, bubbles: true, cancelable: true })); }"""
    )
    assert is_let_through


@pytest.mark.alone
def test_a_card_shows_the_piece_its_drawers_its_stock_and_what_is_next(desk: Page, served: Served) -> None:
    served.add_example()
    desk.goto(served.url)
    card = desk.locator(".job-card")
    expect(card).to_contain_text("15 drawers · birch15, birch6")
    expect(card.locator(".thumbs svg")).to_have_count(1)
    expect(card).to_contain_text("Next: make a test cut on two scraps.")

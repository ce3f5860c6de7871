"""Drawers of a job with many banks: one at a time on a phone, and all of them on paper."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from drawerwright.job.file.first_jobs import example_text

from .conftest import Served, type_into

BANKS = 18


HEAD, REST = example_text().split("banks:\n")
BANK = REST.split("  - name: Orchestra parts")[0]
JOB = f"{HEAD}banks:\n" + "".join(BANK.replace("Choir scores", f"Choir {n + 1}") for n in range(BANKS))


def drawers_of(page: Page, served: Served) -> str:
    """The address of the drawers of a new job; none of its other pages is planned or drawn."""
    file = {"name": "long.yaml", "mimeType": "application/yaml", "buffer": JOB.encode()}
    answer = page.request.post(
        f"{served.url}/jobs/import", multipart={"file": file}, headers={"Origin": served.url}, max_redirects=0
    )
    path = "/".join(answer.headers["location"].split("/")[:3])
    return f"{served.url}{path}/drawers"


def test_a_phone_shows_one_bank_and_the_others_as_a_line_each(phone: Page, served: Served) -> None:
    address = drawers_of(phone, served)
    phone.goto(address)
    brief = phone.locator(".in-brief:visible")
    expect(brief).to_have_count(BANKS - 1)
    expect(brief.first).to_contain_text("Choir 2 462 × 742 × 436 · bank B, 7 drawers")
    heights = phone.locator(".front-height input:visible")
    expect(heights).to_have_count(7)
    brief.filter(has_text="Choir 7").locator("a").click()
    expect(phone.locator("#banks-6-name")).to_be_visible()
    expect(phone.locator("#banks-0-name")).to_be_hidden()
    expect(heights.first).to_have_id("height-G1")
    assert phone.evaluate("document.documentElement.scrollHeight") < 6500
    # An address opens what its entry is folded in.
    phone.goto(f"{address}#banks-3-banding")
    expect(phone.locator("#banks-3-banding")).to_be_in_viewport()
    phone.goto(f"{address}#banks-7-opening-width")
    expect(phone.locator("#banks-7-opening-width")).to_be_in_viewport()


def test_a_panel_comes_when_it_is_opened_and_stays_while_the_page_is_drawn_anew(
    desk: Page, served: Served
) -> None:
    desk.goto(drawers_of(desk, served))
    reveal = desk.locator("#banks-16-fronts-reveal")
    expect(reveal).to_have_count(0)
    desk.get_by_role("link", name="More about Choir 17").click()
    type_into(desk, "#banks-16-fronts-reveal", "3")
    expect(desk.locator("#history")).to_contain_text("revision 2")
    expect(reveal).to_be_visible()
    expect(reveal).to_have_value("3")
    expect(desk.locator("#banks-0-fronts-reveal")).to_have_count(0)  # closed since, and not sent again


def test_what_was_never_in_view_is_printed_all_the_same(desk: Page, served: Served) -> None:
    desk.goto(f"{served.url}{served.add_example()}/drawers")
    drawn = desk.locator(".elevations .to-come svg")
    expect(drawn).to_have_count(0)
    assert desk.pdf().startswith(b"%PDF")
    expect(drawn).to_have_count(2)

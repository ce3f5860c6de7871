"""The page of the sheets: one at a time, and where a part goes."""

from __future__ import annotations

from playwright.sync_api import Browser, Page, expect

from .conftest import Served, new_context


def parts_shown(page: Page) -> list[str]:
    """Names of the parts on the sheet that is to be seen."""
    links = page.locator(".sheet-drawing .region:visible")
    return [link.get_attribute("data-region") or "" for link in links.all()]


def test_one_sheet_at_a_time_and_each_part_once(browser: Browser, shared: Served, example_job: str) -> None:
    context = new_context(browser, "desk")
    page = context.new_page()
    page.goto(f"{shared.url}{example_job}/sheets")
    seen: list[str] = []
    count = page.locator(".sheet-choice a").count()
    for number in range(count):
        page.locator(".sheet-choice a").nth(number).click()
        expect(page.locator(".sheet-choice [aria-current]")).to_have_count(1)
        expect(page.locator(".sheet-choice a").nth(number)).to_have_attribute("aria-current", "page")
        seen += parts_shown(page)
    context.close()
    assert count >= 4
    assert len(seen) == len(set(seen)) > 60


def test_a_tapped_part_says_what_it_is_and_whose(browser: Browser, shared: Served, example_job: str) -> None:
    """On a phone it stands right below the sheet; reload and back keep it."""
    context = new_context(browser, "phone", has_touch=True)
    page = context.new_page()
    page.goto(f"{shared.url}{example_job}/sheets?sheet=2")
    names = parts_shown(page)
    page.locator(f'.sheet-drawing .region[data-region="{names[3]}"]:visible').tap()
    expect(page.locator("#piece h2")).to_have_text(names[3])
    page.reload()
    expect(page.locator("#piece h2")).to_have_text(names[3])
    drawing, piece = page.locator(".sheet-large").bounding_box(), page.locator("#piece").bounding_box()
    assert drawing is not None
    assert piece is not None
    assert 0 <= piece["y"] - (drawing["y"] + drawing["height"]) < 40
    expect(page.locator("#piece .region[aria-current]")).to_have_count(1)
    page.go_back()
    expect(page.locator("#piece")).to_have_count(0)
    context.close()


def test_an_address_that_names_no_sheet_shows_the_first(
    browser: Browser, shared: Served, example_job: str
) -> None:
    context = new_context(browser, "desk")
    page = context.new_page()
    for asked in ("sheet=0", "sheet=99", "sheet=x", "sheet=1&piece=9999", "sheet=²"):
        page.goto(f"{shared.url}{example_job}/sheets?{asked}")
        expect(page.locator(".sheet-choice a").first).to_have_attribute("aria-current", "page")
        expect(page.locator("#piece")).to_have_count(0)
    context.close()


def test_a_sheet_has_the_number_that_cut_list_and_packet_give_it(
    shared: Served, browser: Browser, example_job: str
) -> None:
    """They count the sheets of each stock from 1."""
    context = new_context(browser, "desk")
    page = context.new_page()
    page.goto(f"{shared.url}{example_job}/sheets")
    count = page.locator(".sheet-choice a").count()
    page.goto(f"{shared.url}{example_job}/sheets?sheet={count}")
    names = page.locator(".sheet-choice a span:not(.soft)").all_inner_texts()
    last = sum("birch6" in name for name in names)
    expect(page.locator(".sheet-head p")).to_contain_text(f"birch6, sheet {last} of {last}")
    expect(page.locator(".cut-list summary")).to_have_text("Cut list: birch6")
    numbers = page.locator(".cut-list tbody td:nth-child(4)").all_inner_texts()
    assert f"{last}" in {
        sheet for cell in numbers for part in cell.split("; ") for sheet in part.split(":")[0].split(", ")
    }
    context.close()

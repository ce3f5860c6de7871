"""The page of the sheets: one at a time, and where a part goes."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from .conftest import Served


def parts_shown(page: Page) -> list[str]:
    """Names of the parts on the sheet that is to be seen."""
    links = page.locator(".sheet-drawing .region:visible")
    return [link.get_attribute("data-region") or "" for link in links.all()]


def test_one_sheet_at_a_time_and_each_part_once(desk: Page, shared: Served, example_job: str) -> None:
    desk.goto(f"{shared.url}{example_job}/sheets")
    seen: list[str] = []
    count = desk.locator(".sheet-choice a").count()
    for number in range(count):
        desk.locator(".sheet-choice a").nth(number).click()
        expect(desk.locator(".sheet-choice [aria-current]")).to_have_count(1)
        expect(desk.locator(".sheet-choice a").nth(number)).to_have_attribute("aria-current", "page")
        seen += parts_shown(desk)
    assert count >= 4
    assert len(seen) == len(set(seen)) > 60


def test_a_tapped_part_says_what_it_is_and_whose(phone: Page, shared: Served, example_job: str) -> None:
    """On a phone it stands right below the sheet; reload and back keep it."""
    phone.goto(f"{shared.url}{example_job}/sheets?sheet=2")
    names = parts_shown(phone)
    phone.locator(f'.sheet-drawing .region[data-region="{names[3]}"]:visible').tap()
    expect(phone.locator("#piece h2")).to_have_text(names[3])
    phone.reload()
    expect(phone.locator("#piece h2")).to_have_text(names[3])
    drawing, piece = phone.locator(".sheet-large").bounding_box(), phone.locator("#piece").bounding_box()
    assert drawing is not None
    assert piece is not None
    assert 0 <= piece["y"] - (drawing["y"] + drawing["height"]) < 40
    expect(phone.locator("#piece .region[aria-current]")).to_have_count(1)
    phone.go_back()
    expect(phone.locator("#piece")).to_have_count(0)

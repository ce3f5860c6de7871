"""The head of a page: what it tells and offers, and that it leaves a phone to the work."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from .conftest import Served

HEAD_OF_A_PHONE = 88
"""CSS pixels of 844, for title block and pages together; a fifth of the height would be 168."""
TARGETS = """() => [...document.querySelectorAll("header :is(a, button), .tabs a")]
    .filter((target) => target.checkVisibility())
    .map((target) => { const box = target.getBoundingClientRect(); const inTabs = target.closest(".tabs");
        return [target.outerHTML.slice(0, 60), box.width, box.height,
                inTabs ? 0 : box.left, inTabs ? 0 : box.right]; })"""
LEAST_TARGET = 44
"""CSS pixels (WCAG 2.2, 2.5.5)."""


def test_the_head_leaves_a_phone_to_the_work(phone: Page, shared: Served, example_job: str) -> None:
    wrong = []
    for reader in ("en|mm|point|system", "de|mm|comma|system"):
        phone.context.add_cookies([{"name": "drawerwright_reader", "value": reader, "url": shared.url}])
        phone.goto(f"{shared.url}{example_job}/stock")
        expect(phone.locator("html")).to_have_attribute("lang", reader[:2])
        for width in (360, 390):
            phone.set_viewport_size({"width": width, "height": 844})
            head = phone.locator("main").evaluate("main => main.offsetTop")
            if head > HEAD_OF_A_PHONE:
                wrong.append((reader, width, "head", head))
            boxes = phone.evaluate(TARGETS)
            assert len(boxes) > 12
            wrong += [
                (reader, width, *box)
                for box in boxes
                if min(box[1], box[2]) < LEAST_TARGET or box[3] < 0 or box[4] > width
            ]
            current = phone.locator(".tabs [aria-current]").bounding_box()
            assert current is not None
            if current["x"] < 0 or current["x"] + current["width"] > width:
                wrong.append((reader, width, "the page where one is stands in sight", current))
    assert wrong == []


def test_what_leads_out_of_a_job_is_behind_one_button_on_a_phone(
    phone: Page, shared: Served, example_job: str
) -> None:
    phone.goto(f"{shared.url}{example_job}/run")
    out = phone.get_by_role("link", name="Units and language")
    expect(out).to_be_hidden()
    phone.get_by_role("button", name="More", exact=True).tap()
    out.tap()
    expect(phone).to_have_url(f"{shared.url}/reader")


def test_the_title_block_tells_job_unit_and_revision(desk: Page, served: Served) -> None:
    path = served.add_example()
    desk.goto(f"{served.url}{path}/drawers")
    head = desk.get_by_role("banner")
    expect(head).to_contain_text("Score chest of the music school")
    expect(head.get_by_role("link", name="Unit")).to_contain_text("mm")
    desk.get_by_label("Opening width").first.fill("470")
    desk.get_by_label("Opening width").first.press("Tab")
    expect(head).to_contain_text("revision 2")
    desk.context.add_cookies(
        [{"name": "drawerwright_reader", "value": "en|in|point|system", "url": served.url}]
    )
    desk.reload()
    expect(head.get_by_role("link", name="Unit")).to_contain_text("inches")

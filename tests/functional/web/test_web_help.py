"""The help opens over the page, and words explain themselves by mouse, keyboard and finger."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from .conftest import Served

MEANING = "from the cutter's top down to the depth about which its profile is symmetric"


def test_help_and_words_open_beside_the_page_and_close_with_escape(
    desk: Page, shared: Served, example_job: str
) -> None:
    asked: list[str] = []
    desk.on("request", lambda request: asked.append(request.url))
    desk.goto(f"{shared.url}{example_job}/cutter")
    assert not [url for url in asked if "/help/" in url], "nobody has asked for it yet"
    desk.get_by_role("button", name="Help", exact=True).click()
    panel = desk.get_by_role("complementary", name="Help")
    expect(panel).to_contain_text("Two measures decide every corner")
    expect(panel.get_by_role("img", name="Where mid depth and step are measured")).to_be_visible()
    desk.keyboard.press("Escape")
    expect(panel).to_be_hidden()
    # And a word explains itself to mouse and keyboard.
    word = desk.locator("label dfn", has_text="Mid depth")
    meaning = desk.locator("#meaning")
    word.hover()
    expect(meaning).to_have_text(MEANING)
    expect(meaning).to_be_visible()
    desk.mouse.move(5, 400)
    expect(meaning).to_be_hidden()
    word.focus()
    expect(meaning).to_be_visible()
    expect(word).to_have_attribute("aria-describedby", "meaning")
    desk.keyboard.press("Escape")
    expect(meaning).to_be_hidden()


def test_a_tap_on_a_word_is_not_for_the_field(phone: Page, shared: Served, example_job: str) -> None:
    phone.goto(f"{shared.url}{example_job}/cutter")
    phone.locator("label dfn", has_text="Mid depth").tap()
    meaning = phone.locator("#meaning")
    expect(meaning).to_be_visible()
    expect(phone.locator("#cutter-mid_depth")).not_to_be_focused()
    box = meaning.bounding_box()
    assert box is not None
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= 390
    phone.locator("h1").tap()
    expect(meaning).to_be_hidden()

"""The run at the machine: what was read folds away, ticks count at once, the test cut goes there and back."""

from __future__ import annotations

import re

from playwright.sync_api import Browser, Page, Route, expect

from .conftest import SIZES, Served, change_entry, new_context
from .test_web_lost_and_found import steps_done

PLANNED_MS = 30_000
MOST_HEAD = 0.2
"""Of the height of a phone: what stands above the work."""


def open_run(page: Page, served: Served, path: str, query: str = "") -> None:
    page.goto(f"{served.url}{path}/run{query}")
    page.locator(".step").first.wait_for(timeout=PLANNED_MS)


def read_cautions(page: Page) -> None:
    page.get_by_role("button", name="I have read this").click()


def step_called(page: Page, served: Served, path: str, words: str) -> int:
    """The number of the first step whose title has these words."""
    open_run(page, served, path)
    titles = page.locator(".step-title").all_inner_texts()
    return next(number for number, title in enumerate(titles, 1) if words in title)


def test_cautions_fold_once_they_were_read_and_come_back_for_another_machine(
    phone: Page, served: Served
) -> None:
    path = served.add_example()
    open_run(phone, served, path)
    panel = phone.locator("#cautions")
    expect(panel.locator("li").first).to_be_visible()
    panel.get_by_role("button", name="I have read this").click()
    expect(panel.locator("li").first).to_be_hidden()
    expect(panel.locator("summary")).to_contain_text("cautions, read before")
    open_run(phone, served, path, "?view=one&step=2")
    box = panel.bounding_box()
    assert box is not None
    assert box["height"] < 60  # one line
    panel.locator("summary").click()
    expect(panel.locator("li").first).to_be_visible()
    table: list[str | int] = ["machine", "router_table"]
    # What is learnt of it: the same machine.
    change_entry(phone, served.url + path, [*table, "height_gauge_offset"], "0.1")
    open_run(phone, served, path)
    expect(panel.locator("li").first).to_be_hidden()
    change_entry(phone, served.url + path, [*table, "tallest_upright"], "580")
    open_run(phone, served, path)
    expect(panel.locator("li").first).to_be_visible()


def test_the_head_leaves_the_phone_to_the_work(phone: Page, shared: Served, example_job: str) -> None:
    too_low = []
    for reader in ("en|mm|point|system", "de|mm|comma|system"):
        phone.context.add_cookies([{"name": "drawerwright_reader", "value": reader, "url": shared.url}])
        for query in ("", "?view=one&step=3"):
            open_run(phone, shared, example_job, query)
            expect(phone.locator("html")).to_have_attribute("lang", reader[:2])
            box = phone.locator("#cautions").bounding_box()
            assert box is not None
            if box["y"] > MOST_HEAD * SIZES["phone"]["height"]:
                too_low.append((reader, query, box["y"]))
    assert too_low == []


def test_a_tick_moves_bar_and_count_at_once(phone: Page, served: Served) -> None:
    path = served.add_example()
    open_run(phone, served, path, "?view=one&step=1")
    read_cautions(phone)
    phone.get_by_role("button", name="Done, next").click()
    expect(phone.locator("#step-2")).to_be_visible()
    expect(phone.get_by_text(steps_done(1))).to_be_visible()  # "Done, next" ticked the first
    held: list[Route] = []
    phone.route("**/run/tick", lambda route: held.append(route))
    phone.locator("#tick-1").check()
    expect(phone.get_by_text(steps_done(2))).to_be_visible()
    assert phone.locator(".run-head progress").evaluate("(bar) => bar.value") == 2
    phone.locator("#tick-1.htmx-request").wait_for(state="attached")
    assert len(held) == 1  # and nobody has answered yet
    held[0].continue_()
    phone.unroute("**/run/tick")
    phone.get_by_role("link", name="Previous").click()
    expect(phone.locator("#step-1")).to_be_visible()
    expect(phone.locator("#tick-0")).to_be_checked()
    expect(phone.get_by_text(steps_done(2))).to_be_visible()
    expect(phone.get_by_role("link", name="Next")).to_be_visible()
    expect(phone.get_by_text("Done, next")).to_have_count(0)


def test_no_step_is_ticked_below_cautions_that_nobody_read(phone: Page, served: Served) -> None:
    path = served.add_example()
    open_run(phone, served, path, "?view=one")
    expect(phone.get_by_text("Read the cautions first.")).to_be_in_viewport()
    expect(phone.get_by_text("Done, next")).to_have_count(0)
    read_cautions(phone)
    expect(phone.locator("#step-1 .step-title")).to_be_in_viewport()
    expect(phone.get_by_role("button", name="Done, next")).to_be_in_viewport()


def test_a_press_before_the_page_is_ready_ticks_the_step_too(browser: Browser, served: Served) -> None:
    """As good as without any script."""
    path = served.add_example()
    context = new_context(browser, "phone")
    page = context.new_page()
    open_run(page, served, path, "?view=one")
    read_cautions(page)
    expect(page.get_by_text("Done, next")).to_be_visible()
    bare = browser.new_context(java_script_enabled=False, storage_state=context.storage_state())
    page = bare.new_page()
    open_run(page, served, path, "?view=one")
    for number in (1, 2, 3):
        page.locator(".run-foot .main").click()
        expect(page.locator(f"#step-{number + 1}")).to_be_visible()
        expect(page.get_by_text(steps_done(number))).to_be_visible()
    bare.close()
    context.close()


def test_a_quick_hand_asks_for_the_next_step_once(phone: Page, served: Served) -> None:
    """Each further press would begin the way to the next page anew."""
    path = served.add_example()
    open_run(phone, served, path, "?view=one")
    read_cautions(phone)
    expect(phone.get_by_text("Done, next")).to_be_visible()
    held: list[Route] = []
    phone.route(re.compile(r"/run/done|&step=2$"), lambda route: held.append(route))
    phone.evaluate(
        "() => { for (const ms of [0, 100, 200])"
        " setTimeout(() => document.querySelector('.run-foot .main').click(), ms); }"
    )
    phone.wait_for_timeout(300)
    assert len(held) == 1
    held[0].continue_()
    expect(phone.locator("#step-2")).to_be_visible()
    expect(phone.get_by_text(steps_done(1))).to_be_visible()


def test_the_test_cut_goes_there_and_comes_back_with_the_new_setting(phone: Page, served: Served) -> None:
    path = served.add_example()
    number = step_called(phone, served, path, "Test cut: set-up 1")
    open_run(phone, served, path, f"?view=one&step={number}")
    planned = phone.locator(".readings dd").first.inner_text()
    phone.get_by_role("link", name="Enter the readings").first.click()
    expect(phone.get_by_role("link", name=f"Back to step {number} of the run")).to_be_visible()
    phone.locator("#play").fill("0.2")
    phone.get_by_role("button", name="What should I change?").click()
    phone.wait_for_url(f"**/run?view=one&step={number}")
    expect(phone.get_by_text("Set by the test cut")).to_be_visible()
    now = phone.locator(".readings dd").first
    expect(now).not_to_have_text(planned)
    figure = now.inner_text()
    expect(phone.get_by_text(f"Planned before: height {planned}")).to_be_visible()
    phone.get_by_role("link", name="See what the test cut asks").click()
    expect(phone.locator("dl.readings dd").first).to_have_text(figure)  # one figure on both pages
    phone.get_by_role("link", name="Back to step").click()
    expect(phone.locator(f"#step-{number}")).to_be_visible()
    phone.get_by_role("link", name="All steps").click()
    setting = phone.locator(".step", has_text="Set the cutter: set-up 1")
    expect(setting.locator(".readings dd").first).to_have_text(figure)  # and in the list of all steps
    expect(setting.get_by_role("link", name="See what the test cut asks")).to_be_visible()


def test_a_caliper_types_like_a_keyboard(phone: Page, served: Served) -> None:
    """Value, perhaps its unit, Enter: the next field. 0.1358 in are 3.449 mm (25.4 mm to the inch)."""
    path = served.add_example()
    phone.goto(f"{served.url}{path}/trial")
    posted: list[str] = []
    phone.on("request", lambda request: posted.append(request.url) if request.method == "POST" else None)
    phone.locator("#roof").focus()
    for typed in ("3.45mm\n", "9.02\n", "0.1358in\n"):
        phone.keyboard.type(typed)
    expect(phone.locator("#deepest_cut")).to_have_value("9.02")
    expect(phone.locator("#shallow_cut")).to_have_value("0.1358in")
    expect(phone.locator("#neck")).to_be_focused()
    phone.keyboard.press("Shift+Enter")
    expect(phone.locator("#shallow_cut")).to_be_focused()
    phone.locator("#overlap").focus()
    phone.keyboard.type("\n")
    expect(phone.get_by_role("button", name="What should I change?")).to_be_focused()
    assert posted == []


def test_what_is_done_stands_beside_its_drawing_at_the_desk(
    desk: Page, shared: Served, example_job: str
) -> None:
    number = step_called(desk, shared, example_job, "Crosscut")
    open_run(desk, shared, example_job, f"?view=one&step={number}")
    lines, drawing = (desk.locator(name).bounding_box() for name in (".lines", ".step-drawings"))
    assert lines is not None
    assert drawing is not None
    assert lines["x"] + lines["width"] <= drawing["x"]
    assert drawing["y"] < lines["y"]

"""A picture of every page, at the desk and on the phone, light and dark: `make screenshots`.

Pictures go to docs/pictures/app; a set-up card of the packet, for the README, to docs/pictures. Needs Chromium.
"""

from __future__ import annotations

import io
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Browser, Page, ViewportSize, sync_playwright
from pypdf import PdfReader

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from served_app import CHROMIUM_FLAGS, SIZES, Served, chromium_path

OUT = Path(__file__).parent / "pictures" / "app"
PATIENCE_MS = 90_000
"""How long a page may take; whoever takes pictures may have a busy machine."""
PAGES = {
    "jobs": "/",
    "new-job": "/jobs/new",
    "corner-bench": "/corner",
    "units": "/reader",
    "devices": "/devices",
    "pair": "/pair",
    "help": "/help/sheets",
    "job": "/jobs/1/glance",
    "cutter": "/jobs/1/cutter",
    "stock": "/jobs/1/stock",
    "drawers": "/jobs/1/drawers",
    "corner": "/jobs/1/corner",
    "test-cut": "/jobs/1/trial?corner=1",
    "sheets": "/jobs/1/sheets",
    "run": "/jobs/1/run",
    "run-one-step": "/jobs/1/run?view=one",
    "papers": "/jobs/1/papers",
    "job-file": "/jobs/1/text",
}


def take(page: Page, address: str, name: str, suffix: str) -> None:
    """One picture, when the page has settled."""
    page.goto(address + PAGES[name])
    if name == "run-one-step":
        show_first_setup(page, address)
    if "corner" in name:
        page.locator("#verdict").wait_for()
    page.locator("#planned progress:not([max])").wait_for(state="detached", timeout=60_000)
    if name == "papers":
        first = page.locator(".preview img").first
        first.wait_for(timeout=60_000)
        first.evaluate("image => image.decode()")  # waits until it is there to be drawn
    if name == "drawers":
        page.locator("[data-names] button").first.wait_for(timeout=60_000)  # in 3-D too
    page.wait_for_timeout(400)
    page.screenshot(path=OUT / f"{name}-{suffix}.png", animations="disabled")
    if name == "drawers" and suffix.startswith("desk"):
        page.locator("[data-apart]").fill("35")
        page.wait_for_timeout(600)
        page.locator(".viewer").screenshot(path=OUT / f"viewer-{suffix}.png", animations="disabled")


def show_first_setup(page: Page, address: str) -> None:
    """The first step that sets a cutter, as somebody sees it who has read the cautions."""
    unread = page.get_by_role("button", name="I have read this")
    if unread.count():
        unread.click()
    page.goto(f"{address}/jobs/1/run")
    step = page.locator("li.step", has_text="Set the cutter").first.get_attribute("id") or ""
    page.goto(f"{address}{PAGES['run-one-step']}&step={step.removeprefix('step-')}")


def take_card(browser: Browser, address: str) -> None:
    """The first set-up card, as the packet has it: an A4 page at 96 dots an inch."""
    page = browser.new_page(viewport=ViewportSize(width=794, height=1123), locale="en-GB")
    packet = PdfReader(io.BytesIO(page.request.get(f"{address}/jobs/1/papers/packet.pdf").body()))
    texts = [each.extract_text() for each in packet.pages]
    card = next(number for number, text in enumerate(texts, start=1) if text.startswith("Set-up 1"))
    leaf = page.request.get(f"{address}/jobs/1/papers/packet-page-{card}.svg").text()
    page.set_content(f"<style>body{{margin:0}} svg{{display:block;width:100%;height:auto}}</style>{leaf}")
    page.screenshot(path=OUT.parent / "setup-card.png")
    page.close()


def main() -> None:
    """Take all pictures."""
    chromium = chromium_path()
    if chromium is None:
        sys.exit("This needs Chromium.")
    OUT.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as data, sync_playwright() as playwright:
        server = Served(Path(data))
        try:
            server.add_example()
            browser = playwright.chromium.launch(executable_path=chromium, args=CHROMIUM_FLAGS)
            for size, viewport in SIZES.items():
                for scheme in ("light", "dark"):
                    context = browser.new_context(
                        viewport=ViewportSize(**viewport),
                        color_scheme="dark" if scheme == "dark" else "light",
                        locale="en-GB",
                    )
                    context.set_default_timeout(PATIENCE_MS)
                    page = context.new_page()
                    for name in PAGES:
                        take(page, server.url, name, f"{size}-{scheme}")
                    context.close()
            take_card(browser, server.url)
            browser.close()
        finally:
            server.stop()
    print(f"{len(list(OUT.glob('*.png')))} pictures in {OUT}")


if __name__ == "__main__":
    main()

"""A picture of every page, at the desk and on the phone, light and dark: `make screenshots`.

Pictures go to docs/pictures/app. Needs Chromium.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

OUT = Path(__file__).parent / "pictures" / "app"
FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--enable-unsafe-swiftshader",
]
SIZES = {"desk": (1366, 860), "phone": (390, 844)}
PAGES = {
    "jobs": "/",
    "new-job": "/jobs/new",
    "corner-bench": "/corner",
    "units": "/reader",
    "devices": "/devices",
    "pair": "/pair",
    "cutter": "/jobs/1/cutter",
    "stock": "/jobs/1/stock",
    "drawers": "/jobs/1/drawers",
    "corner": "/jobs/1/corner",
    "test-cut": "/jobs/1/trial?corner=1",
    "sheets": "/jobs/1/sheets",
    "run": "/jobs/1/run",
    "run-one-step": "/jobs/1/run?view=one&step=6",
    "papers": "/jobs/1/papers",
    "job-file": "/jobs/1/text",
}


def take(page: Page, address: str, name: str, suffix: str) -> None:
    """One picture, when the page has settled."""
    page.goto(address + PAGES[name])
    if "corner" in name:
        page.locator("#verdict").wait_for()
    page.locator("#planned progress:not([max])").wait_for(state="detached", timeout=60_000)
    if name == "papers":
        first = page.locator(".preview img").first
        first.wait_for(timeout=60_000)
        first.evaluate("image => image.decode()")  # waits until it is there to be drawn
    page.wait_for_timeout(400)
    page.screenshot(path=OUT / f"{name}-{suffix}.png", animations="disabled")
    if name == "drawers" and suffix.startswith("desk"):
        page.get_by_role("button", name="Show", exact=True).click()
        page.locator("[data-names] button").first.wait_for(timeout=30_000)
        page.locator("[data-apart]").fill("35")
        page.wait_for_timeout(600)
        page.locator(".viewer").screenshot(path=OUT / f"viewer-{suffix}.png", animations="disabled")


def main() -> None:
    """Take all pictures."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        sys.exit("This needs Chromium.")
    OUT.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as data, sync_playwright() as playwright:
        command = [sys.executable, "-m", "drawerwright", "serve", "--port", "0", "--data", data]
        server = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        try:
            assert server.stdout is not None
            address = "http://" + server.stdout.readline().split("http://")[1].split("/")[0]
            browser = playwright.chromium.launch(executable_path=chromium, args=FLAGS)
            page = browser.new_page(locale="en-GB")
            page.goto(address)
            page.get_by_role("button", name="From the example").click()
            page.wait_for_url("**/drawers")
            page.close()
            for size, (width, height) in SIZES.items():
                for scheme in ("light", "dark"):
                    context = browser.new_context(
                        viewport={"width": width, "height": height},
                        color_scheme="dark" if scheme == "dark" else "light",
                        locale="en-GB",
                    )
                    page = context.new_page()
                    for name in PAGES:
                        take(page, address, name, f"{size}-{scheme}")
                    context.close()
            browser.close()
        finally:
            server.terminate()
            server.wait(10)
            if server.stdout is not None:
                server.stdout.close()
    print(f"{len(list(OUT.glob('*.png')))} pictures in {OUT}")


if __name__ == "__main__":
    main()

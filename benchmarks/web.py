"""How quick the app in the browser is: start to first page, weight of the first page, slider to drawing.

    python benchmarks/web.py [--starts 10] [--moves 200]

needs Chromium and the development requirements. Times depend on the machine and on what else it does.

* First page: from starting the process `drawerwright serve` to the last byte of the list of jobs, with an empty data
  folder (as on the first start) and again with the example job in it.
* Weight: bytes over the wire until the list with one job is drawn, the pictures in it included.
* Slider to drawing: in the page, from the slider's input event to the moment after the next frame has been
  painted with the new drawing; its tables follow when the slider rests. One move at a time. First a drag, as a hand
  makes it, on a page that nobody has touched before: from neighbour to neighbour, no sooner than 16 ms after the last,
  and what is not drawn ahead yet counts as well. Then jumps over a third of the rule, when its whole way is drawn
  ahead; the goal of 20 ms for 95 of 100 holds for both. Then the same jumps where nothing is drawn ahead, as on the
  first move of a hand that is quicker than the server. Last a burst, where only the last has to arrive.
* Processor time of a move, of the server and of the browser with all its processes: what a busy machine does not
  change. Read from /proc, so on Linux only.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import statistics
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from served_app import CHROMIUM_FLAGS, Served, chromium_path

MEASURE = """async ([heights, pause]) => {
    const slider = document.getElementById("bit_height-slider");
    const place = document.getElementById("section");
    const times = [];
    for (const height of heights) {
        const drawn = new Promise((done) => {
            const watch = new MutationObserver(() => {
                watch.disconnect();
                requestAnimationFrame(() => { const channel = new MessageChannel();
                    channel.port1.onmessage = () => done(performance.now()); channel.port2.postMessage(0); });
            });
            watch.observe(place, { subtree: true, childList: true, attributes: true, characterData: true });
        });
        const start = performance.now();
        slider.value = height;
        slider.dispatchEvent(new Event("input", { bubbles: true }));
        times.push(await drawn - start);
        const left = start + pause - performance.now();
        if (left > 0) await new Promise((next) => setTimeout(next, left));
    }
    return times;
}"""
NOTHING_AHEAD = """const send = window.fetch;
window.fetch = (to, how) => String(to).startsWith("/corner/ahead") ? Promise.reject(new Error("none")) : send(to, how);
"""
BURST = """async () => {
    const slider = document.getElementById("bit_height-slider");
    const start = performance.now();
    for (let move = 0; move < 60; move += 1) {
        slider.value = 11 + move / 60;
        slider.dispatchEvent(new Event("input", { bubbles: true }));
        await new Promise((next) => setTimeout(next, 4));
    }
    slider.value = 11.75;
    slider.dispatchEvent(new Event("input", { bubbles: true }));
    const last = performance.now();
    while (!document.getElementById("verdict").textContent.includes("0.25")) {
        await new Promise((next) => setTimeout(next, 1));
    }
    return [last - start, performance.now() - last];
}"""


def first_page(data: Path) -> tuple[Served, float]:
    """The app on `data`, and the seconds from its start to the last byte of the first page."""
    began = time.perf_counter()
    server = Served(data)
    with urllib.request.urlopen(server.url + "/", timeout=10) as page:
        page.read()
    return server, time.perf_counter() - began


def processor_time(parents: list[int]) -> float:
    """Seconds that processes and all that they started have computed so far; 0 where nobody tells."""
    ticks: dict[int, int] = {}
    children: dict[int, list[int]] = {}
    for status in Path("/proc").glob("[0-9]*/stat"):
        with contextlib.suppress(OSError):  # ended meanwhile
            fields = status.read_text().rpartition(")")[2].split()
            ticks[int(status.parent.name)] = int(fields[11]) + int(fields[12])
            children.setdefault(int(fields[1]), []).append(int(status.parent.name))
    total, left = 0, list(parents)
    while left:
        process = left.pop()
        total += ticks.get(process, 0)
        left += children.get(process, [])
    return total / os.sysconf("SC_CLK_TCK") if ticks else 0.0


def rule_of(page: Page) -> tuple[float, float, float]:
    """From where to where the slider of the bit height goes, and where it is (mm), once its drawing is there."""
    page.locator("#bit_height-slider:enabled").wait_for()
    ends = page.locator("#bit_height-slider").evaluate("rule => [rule.min, rule.max, rule.value].map(Number)")
    return ends[0], ends[1], ends[2]


def neighbours(page: Page, moves: int) -> list[float]:
    """From where the slider is to its upper end and back, over and over, in its own steps."""
    least, most, now = rule_of(page)
    heights, step = [], 0.01
    for _ in range(moves):
        if not least <= now + step <= most:
            step = -step
        now += step
        heights.append(round(now, 2))
    return heights


def jumps(page: Page, moves: int) -> list[float]:
    """Over more than a third of the slider's rule each."""
    least, most, _ = rule_of(page)
    return [round(least + (most - least) * ((move * 37) % 100) / 100, 2) for move in range(1, moves + 1)]


def moved(name: str, page: Page, server: Served, heights: list[float], pause: float = 0.0) -> None:
    """Move the slider of the bit height through `heights`, at least `pause` (ms) apart, and print how long it took."""
    ours = [server.process.pid]
    before = processor_time(ours), processor_time([os.getpid()])
    moves = sorted(page.evaluate(MEASURE, [heights, pause]))
    of_server = processor_time(ours) - before[0]
    of_browser = processor_time([os.getpid()]) - before[1] - of_server
    print(
        f"{name}: median {statistics.median(moves):.1f} ms, p95 {moves[int(len(moves) * 0.95) - 1]:.1f} ms, "
        f"worst {moves[-1]:.1f} ms of {len(moves)}; processor time of a move: "
        f"server {of_server / len(moves) * 1000:.1f} ms, browser {of_browser / len(moves) * 1000:.1f} ms"
    )


def shown(name: str, seconds: list[float]) -> None:
    """Print median and worst of some times."""
    print(f"{name}: median {statistics.median(seconds):.3f} s, worst {max(seconds):.3f} s of {len(seconds)}")


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description="Measure the app in the browser.")
    parser.add_argument("--starts", type=int, default=10)
    parser.add_argument("--moves", type=int, default=200)
    args = parser.parse_args()
    chromium = chromium_path()
    if chromium is None:
        sys.exit("This needs Chromium.")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        times = []
        for number in range(args.starts):
            server, seconds = first_page(Path(folder) / f"empty-{number}")
            server.stop()
            times.append(seconds)
        shown("process start to first page, no jobs yet", times)
        browser = playwright.chromium.launch(executable_path=chromium, args=CHROMIUM_FLAGS)
        context = browser.new_context(viewport={"width": 1366, "height": 860}, locale="en-GB")
        page = context.new_page()
        data = Path(folder) / "example"
        server = Served(data)
        path = server.add_example()

        fresh = browser.new_context(viewport={"width": 1366, "height": 860}, locale="en-GB")
        first = fresh.new_page()
        session = fresh.new_cdp_session(first)
        session.send("Network.enable")
        received: list[float] = []
        session.on("Network.loadingFinished", lambda event: received.append(event["encodedDataLength"]))
        first.goto(server.url)
        first.locator(".thumbs svg").first.wait_for()
        print(f"first page, one job: {sum(received) / 1000:.0f} kB in {len(received)} answers")

        for address in ("/corner", f"{path}/corner"):
            page.goto(server.url + address)
            print(f"slider to drawing, {address}:")
            moved("  drag from neighbour to neighbour", page, server, neighbours(page, args.moves), 16.0)
            page.wait_for_timeout(1000)
            moved("  jumps", page, server, jumps(page, args.moves))
        page.close()
        page = context.new_page()
        page.add_init_script(NOTHING_AHEAD)
        page.goto(f"{server.url}/corner")
        page.evaluate(MEASURE, [jumps(page, 20), 0])
        moved("slider to drawing, jumps with nothing drawn ahead", page, server, jumps(page, args.moves))
        lasted, settled = page.evaluate(BURST)
        print(f"burst of 61 moves in {lasted:.0f} ms: the last one drawn {settled:.0f} ms after it")
        browser.close()
        server.stop()
        times = []
        for _ in range(args.starts):
            server, seconds = first_page(data)
            server.stop()
            times.append(seconds)
        shown("process start to first page, one job", times)


if __name__ == "__main__":
    main()

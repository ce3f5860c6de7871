"""Pairing as it is done: the code in the terminal, and a phone whose pairing is taken back while it is in use."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from warm_app import WarmApp

from .conftest import Served, new_context

pty = pytest.importorskip("pty", reason="a terminal of its own needs a system that has pseudo-terminals")


def test_a_terminal_is_shown_a_code_to_scan(tmp_path: Path) -> None:
    """In a terminal a QR code of block signs follows the address and the code; nothing of it comes into a file."""
    here, there = pty.openpty()
    arguments = ["serve", "--data", str(tmp_path / "data"), "--port", "0", "--lan-host", "127.0.0.2"]
    server = subprocess.Popen([sys.executable, "-m", "drawerwright", *arguments], stdout=there, stderr=there)
    os.close(there)
    said = b""
    try:
        while said.count("█".encode()) < 100:
            said += os.read(here, 4096)
    finally:
        server.terminate()
        server.wait(10)
        os.close(here)
    text = said.decode(errors="replace")
    assert re.search(r"Pairing code \(works once, within 10 minutes\): [2-9A-Z]{4} [2-9A-Z]{4}", text)
    assert text.index("http://127.0.0.2") < text.index("█")


def test_a_device_is_paired_and_out_at_once_when_it_is_revoked(
    browser: Browser, tmp_path: Path, warm: WarmApp
) -> None:
    """127.0.0.2 is another address in the loopback range: a device there is not at the desk."""
    lan = Served(tmp_path / "lan", "--lan-host", "127.0.0.2", warm=warm)
    contexts = [new_context(browser, "phone"), new_context(browser, "desk")]
    phone, desk = (context.new_page() for context in contexts)
    try:
        there, code = lan.lines(2)
        assert f"http://127.0.0.2:{lan.port}/pair" in there
        phone.goto(f"http://127.0.0.2:{lan.port}/")
        expect(phone.get_by_role("heading", name="Pair this device")).to_be_visible()
        phone.get_by_label("Code").fill("2222 2222")
        phone.get_by_role("button", name="Pair").click()
        expect(phone.get_by_role("alert")).to_contain_text("not valid")
        phone.goto(f"http://127.0.0.2:{lan.port}/pair?code={code.rsplit(':', 1)[1].strip()}")
        phone.get_by_label("Name of this device").fill("<b>bench</b> & phone")
        phone.get_by_role("button", name="Pair").click()
        expect(phone.get_by_role("link", name="New job", exact=True)).to_be_visible()
        path = lan.add_example()
        phone.goto(f"http://127.0.0.2:{lan.port}{path}/drawers")
        expect(phone.locator("#banks-0-opening-width")).to_have_value("462")
        desk.goto(f"{lan.url}/devices")
        desk.get_by_role("button", name="Revoke <b>bench</b> & phone").click()
        expect(desk.get_by_text("None yet.")).to_be_visible()
        # Without a touch: its news end, and what it asks then is not answered any more.
        expect(phone.get_by_role("heading", name="Pair this device")).to_be_visible()
        phone.go_back()
        expect(phone.get_by_role("heading", name="Pair this device")).to_be_visible()
        phone.goto(f"http://127.0.0.2:{lan.port}/")
        expect(phone.get_by_role("heading", name="Pair this device")).to_be_visible()
    finally:
        for context in contexts:
            context.close()
        lan.stop()

"""The app as a process of its own, and a Chromium to look at it: for tests, benchmarks and the pictures of the docs."""

from __future__ import annotations

import http.client
import os
import shutil
import signal
import subprocess
import sys
import time
import urllib.request
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from warm_app import ForkedServer, WarmApp

CHROMIUM_FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--enable-unsafe-swiftshader",  # draws WebGL without a graphics card
]
PART = "a-part-of-the-form"
SIZES = {"desk": {"width": 1366, "height": 860}, "phone": {"width": 390, "height": 844}}


def chromium_path() -> str | None:
    """Chromium as the system is set; first the one without windows, where a page costs a third of the time."""
    names = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome")
    return next((path for path in map(shutil.which, names) if path), None)


class Served:
    """The app as a user starts it, or as a fork of one that has been started."""

    process: subprocess.Popen[str] | ForkedServer

    def __init__(self, data: Path, *arguments: str, port: int = 0, warm: WarmApp | None = None) -> None:
        self.data = data
        self.warm = warm
        self.arguments = arguments
        self.start(port)

    def start(self, port: int) -> None:
        """Start and wait until it answers."""
        given = ["serve", "--data", str(self.data), "--port", str(port), *self.arguments]
        if self.warm is not None:
            self.process = self.warm.start(given)
        else:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "drawerwright", *given],
                stdout=subprocess.PIPE,
                stderr=subprocess.STDOUT,
                text=True,
            )
        assert self.process.stdout is not None
        line = self.process.stdout.readline()
        assert "http://" in line, line + self.process.stdout.read()
        self.address = line.split("http://")[1].split("/")[0]
        self.port = int(self.address.rsplit(":", 1)[1])
        self.url = f"http://{self.address}"
        for _ in range(500):
            try:
                urllib.request.urlopen(f"{self.url}/alive", timeout=1).close()
                break
            except OSError:
                time.sleep(0.01)

    def add_example(self) -> str:
        """A new job from the example, as the button of the first page makes it: its path."""
        return self._added("/jobs/example", b"", {"Content-Length": "0"})

    def add_job(self, text: str) -> str:
        """A new job from the text of a job file, as the first page imports one: its path."""
        head = 'Content-Disposition: form-data; name="file"; filename="job.yaml"\r\nContent-Type: text/yaml'
        body = f"--{PART}\r\n{head}\r\n\r\n{text}\r\n--{PART}--\r\n".encode()
        return self._added("/jobs/import", body, {"Content-Type": f"multipart/form-data; boundary={PART}"})

    def text(self, path: str) -> str:
        """What it answers to somebody at the desk."""
        with urllib.request.urlopen(self.url + path, timeout=20) as answer:
            return str(answer.read().decode())

    def _added(self, path: str, body: bytes, headers: dict[str, str]) -> str:
        asked = http.client.HTTPConnection(self.address, timeout=20)
        asked.request("POST", path, body, {"Origin": self.url, **headers})
        answer = asked.getresponse()
        place = answer.getheader("Location")
        asked.close()
        assert place is not None, f"no job was added: {answer.status}"
        return "/".join(place.split("/")[:3])

    def lines(self, count: int) -> list[str]:
        """The next lines that it prints."""
        assert self.process.stdout is not None
        return [self.process.stdout.readline() for _ in range(count)]

    def kill(self) -> None:
        """End it without any chance to tidy up."""
        self.process.send_signal(signal.SIGKILL if os.name != "nt" else signal.SIGTERM)
        self._reap()

    def stop(self) -> None:
        """End it as Ctrl-C does."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
        self._reap()

    def _reap(self) -> None:
        try:
            self.process.wait(10)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()
        if self.process.stdout is not None:
            self.process.stdout.close()

"""The doors of the app: every form that the pages of a job have, and every address, with odd values."""

from __future__ import annotations

import atexit
import contextlib
import functools
import json
import re
import tempfile
import warnings
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from urllib.parse import quote

from hypothesis import strategies as st

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    from starlette.testclient import TestClient

from drawerwright.store.records import UnknownJobError
from drawerwright.web.pages.routes import ROUTES
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of
from fuzz.odd_values import ODD_TEXTS
from fuzz.targets import EXAMPLES, Target

DESK = "http://127.0.0.1:8744"
PAGES = ("glance", "cutter", "stock", "drawers", "corner", "trial", "run", "papers", "text", "which")
WORDS = (
    "",
    "0",
    "1",
    "-1",
    "999999999999",
    "1e400",
    "x",
    "nan",
    "18.2",
    "3/4 in",
    '["stock"]',
    "[]",
    "{}",
    "x" * 5000,
)
LONG_WORK = ("sheets", "papers", "plan", "packet", "replace", "import")
"""What plans or typesets is asked for by its own tests; here it would leave time for little else."""
JOB = re.compile(r"/jobs/\d+")
PLACE = re.compile(r"\{(\w+)(?::\w+)?\}")
Form = tuple[str, dict[str, str]]


class _Forms(HTMLParser):
    """The forms of a page: where each goes, and what it says as it stands."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[Form] = []
        self._open: dict[str, str] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        to = given.get("hx-post") or (
            given.get("action") if given.get("method", "").lower() == "post" else None
        )
        if to:
            values = {
                str(name): str(value) for name, value in json.loads(given.get("hx-vals") or "{}").items()
            }
            self._open = values
            self.found.append((JOB.sub("/jobs/{job}", to), values))
        if given.get("name") and self._open is not None:
            self._open[given["name"]] = given.get("value", "")

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._open = None


@functools.cache
def shop() -> tuple[Shop, TestClient]:
    """One app for all requests, in a folder of its own."""
    folder = tempfile.TemporaryDirectory()
    opened = Shop(Path(folder.name))
    atexit.register(folder.cleanup)
    atexit.register(opened.close)
    client = TestClient(
        app_of(opened),
        base_url=DESK,
        client=("127.0.0.1", 5),
        headers={"Origin": DESK},
        raise_server_exceptions=True,
        follow_redirects=False,
    )
    return opened, client


@functools.cache
def forms() -> tuple[Form, ...]:
    """Every form of every page of the example job."""
    opened, client = shop()
    job = opened.jobs.add("example", EXAMPLES[0], "")
    parser = _Forms()
    for page in PAGES:
        parser.feed(client.get(f"/jobs/{job.id}/{page}").text)
    parser.feed(client.get("/").text)
    return tuple(form for form in parser.found if not any(word in form[0] for word in LONG_WORK))


@st.composite
def requests(draw: st.DrawFn) -> str:
    """A form with some of its values spoiled, or an address with odd words, as JSON."""
    odd = st.one_of(st.sampled_from(WORDS), st.sampled_from(ODD_TEXTS), st.text(max_size=20))
    if draw(st.booleans()):
        to, values = draw(st.sampled_from(forms()))
        values = dict(values)
        for _spoiled in range(draw(st.integers(1, 3))):
            name = draw(st.sampled_from((*values, "base", "x")))
            if draw(st.booleans()):
                values[name] = draw(odd)
            else:
                values.pop(name, None)
        return json.dumps(["POST", to, values])
    route = draw(
        st.sampled_from([route for route in ROUTES if not any(word in route.path for word in LONG_WORK)])
    )
    to = PLACE.sub(lambda found: "{job}" if found[1] == "job" else quote(draw(odd), safe=""), route.path)
    asked = {draw(st.sampled_from(NAMES)): draw(odd) for _name in range(draw(st.integers(0, 3)))}
    method = draw(st.sampled_from(sorted(route.methods or {"GET"})))
    return json.dumps([method, to, asked])


NAMES = (
    "part",
    "view",
    "step",
    "base",
    "path",
    "value",
    "kind",
    "seen",
    "corner",
    "bank",
    "at",
    "unit",
    "name",
    "height",
)


def check_request(text: str) -> None:
    """Whatever is asked is answered, and no answer is that of a fault of the program."""
    method, to, values = json.loads(text)
    opened, client = shop()
    job = opened.jobs.add("example", EXAMPLES[0], "")
    sent: dict[str, Any] = {"params": values} if method in ("GET", "HEAD") else {"data": values}
    address = to.replace("{job}", str(job.id))
    try:
        answer = client.request(method, address, **sent)
    finally:
        with contextlib.suppress(UnknownJobError):  # the request may have done it
            opened.jobs.delete(job.id)
    assert answer.status_code < 500, (answer.status_code, answer.text[:300])
    assert "hit an internal error" not in answer.text


REQUESTS = Target("requests", requests(), check_request)

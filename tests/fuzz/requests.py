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
from random import Random
from typing import Any
from urllib.parse import quote

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    from starlette.testclient import TestClient

from drawerwright.store.records import UnknownJobError
from drawerwright.web.pages.routes import ROUTES
from drawerwright.web.server.shop import Shop
from drawerwright.web.serving import app_of
from fuzz.mutations import any_of, any_signs
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
LONG_WORK = ("sheets", "papers", "plan", "packet", "replace", "import", "events")
"""What plans or typesets is asked for by its own tests; here it would leave time for little else. News never end."""
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
    client.__enter__()  # one event loop for all requests: to begin two for each took half of their time
    atexit.register(client.__exit__)
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


def requests(random: Random) -> str:
    """A form with some of its values spoiled, or an address with odd words, as JSON."""
    if random.random() < 0.5:
        to, values = random.choice(forms())
        values = dict(values)
        for _spoiled in range(random.randint(1, 3)):
            name = random.choice((*values, "base", "x"))
            if random.random() < 0.5:
                values[name] = odd_word(random)
            else:
                values.pop(name, None)
        return json.dumps(["POST", to, values])
    route = random.choice(SHORT_ROUTES)
    to = PLACE.sub(
        lambda found: "{job}" if found[1] == "job" else quote(odd_word(random), safe="", errors="replace"),
        route.path,
    )
    asked = {random.choice(NAMES): odd_word(random) for _name in range(random.randint(0, 3))}
    method = random.choice(sorted(route.methods or {"GET"}))
    return json.dumps([method, to, asked])


def odd_word(random: Random) -> str:
    """What nobody types in a field; half signs cannot be sent."""
    word = any_of(lambda one: one.choice(WORDS), lambda one: one.choice(ODD_TEXTS), any_signs(20))(random)
    return word.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


SHORT_ROUTES = [route for route in ROUTES if not any(word in route.path for word in LONG_WORK)]
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
    _opened, client = shop()
    sent: dict[str, Any] = {"params": values} if method in ("GET", "HEAD") else {"data": values}
    answer = client.request(method, to.replace("{job}", str(fresh_job())), **sent)
    assert answer.status_code < 500, (answer.status_code, answer.text[:300])
    assert "hit an internal error" not in answer.text


def fresh_job() -> int:
    """The number of a job that says what the example says; the last one, where nothing has changed it since."""
    opened, _client = shop()
    if _last:
        with contextlib.suppress(UnknownJobError):
            if opened.jobs.load(_last[0]).revision.number == 1:
                return _last[0]
            opened.jobs.delete(_last[0])
    _last[:] = [opened.jobs.add("example", EXAMPLES[0], "").id]
    return _last[0]


_last: list[int] = []
REQUESTS = Target("requests", "requests", requests, check_request)

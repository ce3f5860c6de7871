"""What still waited when a page went away, in one piece: its changes are made one after another, in their order."""

from __future__ import annotations

from typing import Any
from urllib.parse import parse_qsl, urlencode

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route
from starlette.types import Message, Scope

from drawerwright.basics.json_text import read_json
from drawerwright.web.pages.parts.job_frame import STEP_HEADER
from drawerwright.web.server.changes_once import NAME_HEADER

LATE = "/late"
MOST_CHANGES = 200
KEPT_FROM_REQUEST = (
    "type",
    "asgi",
    "http_version",
    "scheme",
    "root_path",
    "client",
    "server",
)
OWN_HEADERS = (b"content-length", b"content-type", b"accept-encoding", NAME_HEADER.encode())


async def late(request: Request) -> Response:
    """Make each change as if its page had sent it by itself.

    A page tells with a change which revision its reader knows. Those that its changes before led to it cannot know
    when it sends all of them at once; they are walked here, as the page walks them when it sends one at a time.
    """
    form = await request.form(max_fields=MOST_CHANGES)
    steps: list[tuple[str, str]] = []
    for text in form.getlist("change"):
        change = _read(text)
        if change is None:
            continue
        name, to, fields = change
        for before, after in steps:
            fields = [(key, after if key == "base" and value == before else value) for key, value in fields]
        step = await _make(request, name, to, urlencode(fields).encode())
        if step is not None:
            steps.append(step)
    return Response(status_code=204)


def _read(text: Any) -> tuple[str, str, list[tuple[str, str]]] | None:
    """The name of a change, where it goes and what it says; None for what no page sends."""
    try:
        change = read_json(str(text))
        name, to, fields = str(change["name"]), str(change["to"]), str(change["form"])
    except (ValueError, KeyError, TypeError):
        return None
    is_own = to.startswith("/") and not to.startswith(LATE) and name.isascii() and to.isascii()
    return (name, to, parse_qsl(fields, keep_blank_values=True)) if is_own else None


async def _make(request: Request, name: str, to: str, body: bytes) -> tuple[str, str] | None:
    """Send one change through the whole app, its gate included; the step that its answer tells of."""
    path, _mark, query = to.partition("?")
    headers = [pair for pair in request.scope["headers"] if pair[0] not in OWN_HEADERS]
    headers += [
        (b"content-type", b"application/x-www-form-urlencoded"),
        (b"content-length", str(len(body)).encode()),
        (NAME_HEADER.encode(), name.encode()),
    ]
    scope: Scope = {key: request.scope[key] for key in KEPT_FROM_REQUEST if key in request.scope}
    scope.update(
        method="POST", path=path, raw_path=path.encode(), query_string=query.encode(), headers=headers
    )
    steps: list[tuple[str, str]] = []

    async def receive() -> Message:
        return {"type": "http.request", "body": body, "more_body": False}

    async def send(message: Message) -> None:
        if message["type"] == "http.response.start":
            for key, value in message["headers"]:
                if key == STEP_HEADER.encode():
                    before, after = value.decode().split()
                    steps.append((before, after))

    await request.app(scope, receive, send)
    return steps[0] if steps else None


ROUTES = (Route(LATE, late, methods=["POST"]),)

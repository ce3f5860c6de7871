"""Who may ask, and what a page may do.

The gate stands before every page:

* The Host header must be `localhost` or the very address that the connection came to, so that a page of
  another site cannot reach the app through a name of its own (DNS rebinding).
* A change must come from a page of the app: Origin (or, where a browser leaves it out, Sec-Fetch-Site) is
  checked on every method but GET and HEAD.
* Who is not at this machine's own loopback address needs the cookie of a paired device.
* A body beyond the limit, or one that does not come in time, is refused while it is read.
* Every answer carries a content security policy without inline script or style.
"""

from __future__ import annotations

import asyncio
import ipaddress
import re
from collections.abc import Callable
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import RedirectResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from drawerwright.basics.phrases import Phrase, phrase

LARGEST_BODY_BYTES = 2_000_000
"""A job file is a few kilobytes, a cutter profile at most some hundred."""
LARGEST_PICTURE_BYTES = 25_000_000
"""A slice of wood scanned at 1200 dpi; where a picture may come."""
TAKES_PICTURES = re.compile(r"/jobs/\d+/(profile|trial/scan)")
BODY_SECONDS = 30.0
"""From a request's head to the end of its body: 2 MB over a slow phone."""
MOST_READ_AWAY_BYTES = 50_000_000
"""How much of a body that is too large is read before it is refused: a browser that is cut off while it sends shows
nothing of the answer."""
DEVICE_COOKIE = "drawerwright_device"
SAFE_METHODS = frozenset({"GET", "HEAD"})
TOO_LARGE = 413
LONGEST_NAMED = 80
"""Characters of a name from a header that an answer repeats."""
OPEN_TO_ALL = ("/pair", "/static/")
"""Paths that a device may see before it is paired: the form for the code, and its style."""
CONTENT_POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "font-src 'self'",
        "connect-src 'self'",
        "frame-src 'self'",
        "object-src 'self'",
        "manifest-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'self'",
    )
)
ANSWER_HEADERS = {
    "content-security-policy": CONTENT_POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "x-frame-options": "SAMEORIGIN",
}


class TooSlowError(Exception):
    """A request body did not come within `BODY_SECONDS`."""


class TooLargeError(Exception):
    """A request body went past the limit."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why somebody is not let in, and what they can do: `link` leads there."""

    status: int
    text: Phrase
    remedy: Phrase
    link: str
    link_words: Phrase


class Gate:
    """ASGI middleware that applies the rules of this module."""

    def __init__(
        self, app: ASGIApp, is_paired: Callable[[str], bool], refused: Callable[[Scope, Refusal], ASGIApp]
    ) -> None:
        """`is_paired` says whether a device token is known; `refused` makes the answer in the reader's language."""
        self._app = app
        self._is_paired = is_paired
        self._refused = refused

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        scope.setdefault("state", {})["is_desk"] = is_desk(scope)
        refusal = await self._refusal(scope, headers)
        has_begun = False

        async def send_guarded(message: Message) -> None:
            nonlocal has_begun
            if message["type"] == "http.response.start":
                has_begun = True
                answer = MutableHeaders(scope=message)
                for name, value in ANSWER_HEADERS.items():
                    answer.setdefault(name, value)
                answer.setdefault("cache-control", "no-store")
            await send(message)

        received = 0
        is_over = False
        deadline = asyncio.get_running_loop().time() + BODY_SECONDS

        async def receive_limited() -> Message:
            nonlocal received, is_over
            if is_over:  # what still comes is that somebody has gone
                return await receive()
            try:
                async with asyncio.timeout_at(deadline):
                    message = await receive()
            except TimeoutError:
                raise TooSlowError from None
            is_over = not message.get("more_body", False)
            if message["type"] == "http.request":
                received += len(message.get("body", b""))
                if received > largest_body(scope):
                    raise TooLargeError
            return message

        if isinstance(refusal, Refusal):
            if refusal.status == TOO_LARGE:
                await _read_away(receive)
            await self._refused(scope, refusal)(scope, receive, send_guarded)
            return
        try:
            await (refusal or self._app)(scope, receive_limited, send_guarded)
        except TooSlowError:
            if not has_begun:
                await self._refused(scope, _too_slow())(scope, receive, send_guarded)
        except TooLargeError:
            if not has_begun:
                if not is_over:
                    await _read_away(receive)
                await self._refused(scope, _too_large(scope))(scope, receive, send_guarded)

    async def _refusal(self, scope: Scope, headers: Headers) -> ASGIApp | Refusal | None:
        host = headers.get("host", "")
        if not is_own_host(host, scope.get("server")):
            return Refusal(
                421,
                phrase("“{host}” is not an address of this app.", host=host[:LONGEST_NAMED]),
                phrase("Use the address shown when it started."),
                own_address(scope),
                phrase("Go to {address}", address=own_address(scope)),
            )
        if scope["method"] not in SAFE_METHODS and not _is_same_origin(headers, scope):
            return Refusal(
                403,
                phrase("This change did not come from a page of this app, so nothing was changed."),
                phrase("Open the app's own page and make the change there."),
                "/",
                phrase("Back to the jobs"),
            )
        length = headers.get("content-length", "0")
        if not (length.isascii() and length.isdecimal()) or int(length) > largest_body(scope):
            return _too_large(scope)
        path: str = scope["path"]
        if is_desk(scope) or path.startswith(OPEN_TO_ALL):
            return None
        # The data file is read beside the loop: while it is held up, others are answered.
        if await asyncio.to_thread(self._is_paired, device_token(headers)):
            return None
        if scope["method"] in SAFE_METHODS and "hx-request" not in headers:
            return RedirectResponse("/pair", 303)
        return Refusal(
            401,
            phrase("This device is not paired, so nothing was changed."),
            phrase("Pair it with a code from the desk, then go back and try again."),
            "/pair",
            phrase("Pair this device"),
        )


def largest_body(scope: Scope) -> int:
    """How many bytes may be sent to a page."""
    return LARGEST_PICTURE_BYTES if TAKES_PICTURES.fullmatch(scope["path"]) else LARGEST_BODY_BYTES


def _too_large(scope: Scope) -> Refusal:
    back = Headers(scope=scope).get("referer", "")
    own = own_address(scope)
    return Refusal(
        TOO_LARGE,
        phrase("This upload is larger than {most:,} bytes, the limit.", most=largest_body(scope)),
        phrase("A job file or a cutter profile is much smaller: check that this is the right file."),
        back if back.startswith(own) else "/",
        phrase("Back"),
    )


def _too_slow() -> Refusal:
    return Refusal(
        408,
        phrase(
            "What was sent did not arrive within {most:.0f} seconds, so nothing was changed.",
            most=BODY_SECONDS,
        ),
        phrase("Check the connection, then try again."),
        "/",
        phrase("Back to the jobs"),
    )


async def _read_away(receive: Receive) -> None:
    seen = 0
    until = asyncio.get_running_loop().time() + BODY_SECONDS
    while seen < MOST_READ_AWAY_BYTES:
        try:
            async with asyncio.timeout_at(until):
                message = await receive()
        except TimeoutError:
            return
        seen += len(message.get("body", b""))
        if message["type"] != "http.request" or not message.get("more_body", False):
            return


def own_address(scope: Scope) -> str:
    """The address that a connection came to, as a browser takes it.

    >>> own_address({"scheme": "http", "server": ("::1", 8744)})
    'http://[::1]:8744/'
    """
    host, port = scope.get("server") or ("localhost", 80)
    return f"{scope['scheme']}://{f'[{host}]' if ':' in host else host}:{port}/"


def is_own_host(host: str, server: tuple[str, int] | None) -> bool:
    """Whether a Host header names this app: localhost or the address of the connection, with its port.

    >>> is_own_host("localhost:8744", ("127.0.0.1", 8744))
    True
    >>> is_own_host("shop.example:8744", ("127.0.0.1", 8744))
    False
    """
    if server is None:
        return False
    address, port = server[0], server[1]
    name, colon, given_port = host.rpartition(":")
    if not colon or host.endswith("]"):
        name, given_port = host, "80"
    if given_port != str(port):
        return False
    if name.lower() == "localhost":
        return is_loopback(address)
    return name.strip("[]").lower() == address.lower()


def is_loopback(address: str) -> bool:
    """Whether an address leads to this machine alone."""
    try:
        return ipaddress.ip_address(address).is_loopback
    except ValueError:
        return False


def is_desk(scope: Scope) -> bool:
    """Whether the asker sits at this machine: both ends of the connection are its own first address."""
    client, server = scope.get("client"), scope.get("server")
    if not client or not server:
        return False
    return server[0] in ("127.0.0.1", "::1") and client[0] in ("127.0.0.1", "::1")


def _is_same_origin(headers: Headers, scope: Scope) -> bool:
    origins = headers.getlist("origin")
    if origins:  # more than one, and the wrong one could be overlooked
        return origins == [f"{scope['scheme']}://{headers.get('host', '')}"]
    return headers.getlist("sec-fetch-site") == ["same-origin"]


def device_token(headers: Headers) -> str:
    """The token in the cookie of a paired device, or an empty text."""
    try:
        jar = SimpleCookie(headers.get("cookie", ""))
    except CookieError:
        return ""
    return jar[DEVICE_COOKIE].value if DEVICE_COOKIE in jar else ""

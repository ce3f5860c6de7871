"""The first look at a long job: a page that says so stands until the job has been read."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

LONG = 40_000
"""Signs of a job file from which on a page would stay white for more than a second; 700 drawers have about as many."""
REMEMBERED = 64


class UnreadRoute(Route):
    """A route whose answer hangs on nothing that the text of a job says, which therefore is not read for it."""


class WaitingRoute(Route):
    """The route of a page that may be a while to come; `until_read` is what stands there meanwhile."""

    def __init__(
        self,
        path: str,
        endpoint: Callable[..., Any],
        until_read: Callable[[Request], Response],
        **options: Any,
    ) -> None:
        super().__init__(path, endpoint, **options)
        self.until_read = until_read


class FirstLooks:
    """The long texts that somebody has begun to look at."""

    def __init__(self) -> None:
        self._begun: OrderedDict[int, None] = OrderedDict()

    def is_first(self, request: Request, text: str) -> bool:
        """Whether a browser opens a page of a long text that nobody has looked at; the next one who asks waits.

        Only who opens a page as a whole can come again by himself, and says so in the header that browsers send.
        """
        if len(text) < LONG or request.headers.get("sec-fetch-mode") != "navigate":
            return False
        mark = hash(text)
        is_first = mark not in self._begun
        self._begun[mark] = None
        self._begun.move_to_end(mark)
        while len(self._begun) > REMEMBERED:
            self._begun.popitem(last=False)
        return is_first

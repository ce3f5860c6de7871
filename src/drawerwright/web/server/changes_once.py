"""A change that a page sends twice is made once.

A page names each of its changes. It sends one again when no answer came, and sends what still waits in one piece when
it goes away, though some of it may be under way already. Who asks a second time gets the first answer.
"""

from __future__ import annotations

import asyncio
import re
from collections import OrderedDict

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Message, Receive, Scope, Send

NAME = re.compile(r"[a-z0-9]{8,40}-\d{1,9}")
NAME_HEADER = "drawerwright-change"
MOST_REMEMBERED = 500
"""Answers; a page asks again within seconds of its first try, or not at all."""


class ChangesOnce:
    """ASGI middleware that remembers the answers to named changes."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app
        self._answers: OrderedDict[tuple[str, str], asyncio.Future[list[Message] | None]] = OrderedDict()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        name = Headers(scope=scope).get(NAME_HEADER, "") if scope["type"] == "http" else ""
        if not NAME.fullmatch(name) or scope["method"] != "POST":
            await self._app(scope, receive, send)
            return
        key = (scope["path"], name)
        while (first := self._answers.get(key)) is not None:
            answer = await asyncio.shield(first)
            if answer is not None:
                for message in answer:
                    await send(message)
                return
            # It failed; whoever waited makes it now.
        await self._make(key, scope, receive, send)

    async def _make(self, key: tuple[str, str], scope: Scope, receive: Receive, send: Send) -> None:
        made = self._answers[key] = asyncio.get_running_loop().create_future()
        while len(self._answers) > MOST_REMEMBERED:
            self._answers.popitem(last=False)
        answer: list[Message] = []

        async def send_and_remember(message: Message) -> None:
            answer.append(dict(message))
            await send(message)

        try:
            await self._app(scope, receive, send_and_remember)
        except BaseException:
            self._answers.pop(key, None)
            made.set_result(None)
            raise
        made.set_result(answer)

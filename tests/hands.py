"""What somebody does on the pages of a job, done without a browser: fields and buttons of the page as it stands.

What a field or button posts is read from the page, as its script would send it (`hx-post` and `hx-vals`, of htmx).
"""

from __future__ import annotations

import html
import json
import re
from typing import TYPE_CHECKING

from opened_panels import with_panels_open

if TYPE_CHECKING:
    from starlette.testclient import TestClient


class Hands:
    """Of somebody on one page of a job."""

    def __init__(self, client: TestClient, page: str) -> None:
        self._client = client
        self._page = page
        self._seen: str | None = None

    @property
    def seen(self) -> str:
        """The page as these hands left it, with every panel open, and no space that keeps a figure and its unit."""
        if self._seen is None:
            self._seen = with_panels_open(self._client, self._page).replace("\xa0", " ")
        return self._seen

    def tag(self, identity: str) -> str:
        """A field as the page holds it, with its choices; empty where there is none."""
        found = re.search(
            rf'<(select|textarea)[^>]*? id="{identity}".*?</\1>|<input[^>]* id="{identity}"[^>]*>',
            self.seen,
            re.DOTALL,
        )
        return found[0] if found else ""

    def value(self, identity: str) -> str | None:
        """What stands in a field; None where there is none, or none is chosen."""
        tag = self.tag(identity)
        if tag.startswith("<textarea"):
            return html.unescape(tag.split(">", 1)[1].removesuffix("</textarea>"))
        found = re.search(
            r'value="([^"]*)" selected' if tag.startswith("<select") else r' value="([^"]*)"', tag
        )
        return html.unescape(found[1]) if found else None

    def beside(self, identity: str) -> str:
        """The fault that stands beside a field."""
        found = re.search(rf'<(\w+) id="fault-{identity}"[^>]*>(.*?)</\1>', self.seen, re.DOTALL)
        assert found is not None, identity
        return html.unescape(re.sub("<[^>]*>", "", found[2]))

    def type(self, identity: str, text: str) -> None:
        """Type into a field, or choose in it, and leave it; an empty text takes out a tick."""
        self._post(
            self.tag(identity), {"value": text} if text or 'type="checkbox"' not in self.tag(identity) else {}
        )

    def press(self, words: str, within: str = "") -> str:
        """Press the first button of these words, after `within` where that is said: the answer."""
        after = self.seen.partition(within)[2] if within else self.seen
        for button in re.findall(r"<button[^>]*hx-post.*?</button>", after, re.DOTALL):
            if f'aria-label="{words}"' in button or button.split(">", 1)[1].startswith(f"{words}<"):
                return self._post(button, {})
        raise AssertionError(f"no button says {words}")

    def _post(self, tag: str, typed: dict[str, str]) -> str:
        assert tag
        to, told = (re.search(rf'{name}="([^"]*)"', tag) for name in ("hx-post", "hx-vals"))
        assert to is not None
        self._seen = None
        vals = json.loads(html.unescape(html.unescape(told[1]))) if told else {}
        answer = self._client.post(html.unescape(to[1]), data={**vals, **typed})
        assert answer.is_success, answer.text
        return answer.text

"""The server's word that a draft has been taken.

What is typed into a form that is sent as a whole is kept by the browser until then. That the form is not on the next
page says nothing: the server may have been away. So the form is sent with a mark, and a cookie with this mark comes
with the answer of whoever took it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from starlette.responses import Response

FIELD = "draft"
COOKIE = "drawerwright_taken_"
DAY_SECONDS = 86_400
"""How long the word waits for a page that hears it; a phone may have put the page away."""
MARK = re.compile(r"[a-z0-9]{8,40}")


def draft_mark(form: Mapping[str, Any]) -> str:
    """The mark of the draft that a form was sent from; empty where it has none."""
    mark = str(form.get(FIELD, ""))
    return mark if MARK.fullmatch(mark) else ""


def taken(answer: Response, form: Mapping[str, Any]) -> Response:
    """The answer, which says that the draft was taken unless it refuses it."""
    mark = draft_mark(form)
    if mark and answer.status_code < 400:
        answer.set_cookie(COOKIE + mark, "1", max_age=DAY_SECONDS, samesite="strict")
    return answer

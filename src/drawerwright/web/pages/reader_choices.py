"""The reader's choices: unit, decimal sign, language, light or dark."""

from __future__ import annotations

from urllib.parse import urlsplit

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from drawerwright.web.reader.preferences import COOKIE, COOKIE_SECONDS
from drawerwright.web.server.shop import shop_of


def show(request: Request) -> Response:
    """The form."""
    back = _own_path(request.headers.get("referer", ""))
    return shop_of(request).renderer.page(request, "reader.html", {"back": back})


async def save(request: Request) -> Response:
    """Keep the choices and go back to where they were made."""
    form = await request.form()
    wanted = request.state.reader.changed(dict(form.items()))
    answer = RedirectResponse(_own_path(str(form.get("back", ""))), 303)
    answer.set_cookie(COOKIE, wanted.to_cookie(), COOKIE_SECONDS, samesite="strict", httponly=True)
    return answer


def _own_path(address: str) -> str:
    """The path of an address of this app; never another host."""
    path = urlsplit(address).path
    return path if path.startswith("/") and not path.startswith("//") and path != "/reader" else "/"


ROUTES = (Route("/reader", show), Route("/reader", save, methods=["POST"]))

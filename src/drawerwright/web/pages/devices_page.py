"""Pairing a phone, and the list of paired devices."""

from __future__ import annotations

import asyncio
import io

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.pairing import CODE_SECONDS, Answer, spaced
from drawerwright.web.server.security import DEVICE_COOKIE
from drawerwright.web.server.shop import shop_of

PAIRED_SECONDS = 365 * 24 * 3600
LONGEST_NAME = 40


def form(request: Request) -> Response:
    """Where a device types its code."""
    code = request.query_params.get("code", "")[:20]
    return shop_of(request).renderer.page(request, "pair.html", {"code": code, "fault": ""})


async def pair(request: Request) -> Response:
    """Try a code."""
    typed = await request.form()
    code = str(typed.get("code", ""))[:40]
    name = str(typed.get("name", "")).strip()[:LONGEST_NAME]
    return await asyncio.to_thread(_pair, request, code, name)


def _pair(request: Request, code: str, named: str) -> Response:
    shop = shop_of(request)
    address = request.client.host if request.client else ""
    answer = shop.codes.try_code(code, address)
    if answer is Answer.ACCEPTED:
        name = named or _("Phone")
        welcome = RedirectResponse("/", 303)
        welcome.set_cookie(
            DEVICE_COOKIE, shop.devices.pair(name), PAIRED_SECONDS, samesite="strict", httponly=True
        )
        return welcome
    if answer is Answer.TOO_MANY:
        fault, status = _("Too many attempts. Wait a minute, then try again."), 429
    else:
        fault = _("This code is not valid: it may have expired or been used. Get a new one at the desk.")
        status = 422
    return shop.renderer.page(request, "pair.html", {"code": code, "fault": fault}, status=status)


def listing(request: Request) -> Response:
    """Paired devices, and at the desk a new code."""
    shop = shop_of(request)
    return shop.renderer.page(
        request,
        "devices.html",
        {
            "devices": shop.devices.list(),
            "lan_address": shop.lan_address,
            "code": None,
            "picture": "",
            "may_manage": shop.may_manage(request),
        },
    )


def new_code(request: Request) -> Response:
    """A fresh code with its QR picture; only at the desk."""
    shop = shop_of(request)
    if not request.state.is_desk or shop.lan_address is None:
        raise HTTPException(403, _("To get a code, start the app at the desk with --lan."))
    code = shop.codes.issue()
    return shop.renderer.page(
        request,
        "devices.html",
        {
            "devices": shop.devices.list(),
            "lan_address": shop.lan_address,
            "code": spaced(code),
            "may_manage": True,
            "minutes": round(CODE_SECONDS / 60),
            "picture": _qr_picture(f"{shop.lan_address}/pair?code={code}"),
        },
    )


def revoke(request: Request) -> Response:
    """Forget a device; its open pages hear of nothing any more."""
    shop = shop_of(request)
    if not shop.may_manage(request):
        raise HTTPException(403, _("Only the desk, or a device that it allows, can revoke devices."))
    shop.devices.revoke(int(request.path_params["device_id"]))
    shop.hub.announce_all()
    return RedirectResponse("/devices", 303)


async def let_manage(request: Request) -> Response:
    """Let a device delete jobs and revoke devices, or no longer; only at the desk."""
    if not request.state.is_desk:
        raise HTTPException(403, _("Only the desk says what a device may do."))
    form = await request.form()
    may = form.get("may") == "yes"
    device_id = int(request.path_params["device_id"])
    await asyncio.to_thread(shop_of(request).devices.let_manage, device_id, may=may)
    return RedirectResponse("/devices", 303)


def _qr_picture(address: str) -> str:
    import segno

    picture = io.BytesIO()
    segno.make(address).save(picture, kind="svg", scale=5, xmldecl=False, svgns=True, omitsize=True)
    return picture.getvalue().decode()


ROUTES = (
    Route("/pair", form),
    Route("/pair", pair, methods=["POST"]),
    Route("/devices", listing),
    Route("/devices/code", new_code, methods=["POST"]),
    Route("/devices/{device_id:int}/revoke", revoke, methods=["POST"]),
    Route("/devices/{device_id:int}/manage", let_manage, methods=["POST"]),
)

"""What is done to a test cut that is kept: taken out, counted elsewhere, told what was seen; each can be undone."""

from __future__ import annotations

from typing import Any
from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from drawerwright.basics.errors import InvalidValueError
from drawerwright.store.records import ChangedMeanwhileError, ShelfEntry, ShelfKind
from drawerwright.web.fields import job_text
from drawerwright.web.pages.parts.job_frame import CHANGES_TOO_FAST, job_id_of
from drawerwright.web.pages.parts.kept_cut_rows import seen_words
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import Shop, shop_of


def delete(request: Request) -> Response:
    """Take a test cut out; the page offers to undo it."""
    shop = shop_of(request)
    entry_id = int(request.path_params["entry_id"])
    own(shop, job_id_of(request), shop.shelf.load(entry_id))
    shop.shelf.delete(entry_id)
    return back(request, f"&deleted={entry_id}")


def restore(request: Request) -> Response:
    """Undo taking a test cut out."""
    shop_of(request).shelf.restore(int(request.path_params["entry_id"]))
    return back(request, "")


def release(request: Request) -> Response:
    """Undo letting a test cut count for a corner that it was not made for."""
    from drawerwright.job.test_cuts.kept_cuts import CLAIMED

    change_cut(request, CLAIMED, None)
    return back(request, "")


def look(request: Request) -> Response:
    """Keep with a test cut what was seen of its corner; the page offers to undo it."""
    seen = request.path_params["seen"]
    if seen not in seen_words():
        raise HTTPException(404, _("This page does not exist."))
    change_cut(request, "seen", seen)
    return back(request, f"&looked={int(request.path_params['entry_id'])}")


def unlook(request: Request) -> Response:
    """Undo keeping what was seen."""
    change_cut(request, "seen", None)
    return back(request, "")


def own(shop: Shop, job_id: int, entry: ShelfEntry) -> None:
    """Refuse a test cut of another job."""
    if entry.kind is not ShelfKind.TRIAL_CUT or job_text.data_of(entry.text).get("job") != job_id:
        raise HTTPException(404, _("This job has no such test cut."))


def back(request: Request, more: str) -> Response:
    """To the page of the corner that was shown."""
    token = quote(request.query_params.get("corner", ""))
    return RedirectResponse(f"/jobs/{job_id_of(request)}/trial?corner={token}{more}", 303)


def change_cut(request: Request, name: str, value: Any) -> None:
    """Write an entry of the kept test cut that the address names; None takes it out."""
    from drawerwright.job.file.editing import set_value

    shop = shop_of(request)
    entry = shop.shelf.load(int(request.path_params["entry_id"]))
    own(shop, job_id_of(request), entry)
    try:
        shop.shelf.save(entry.id, set_value(entry.text, (name,), value), name=entry.name, base=entry.version)
    except ChangedMeanwhileError:
        raise InvalidValueError(CHANGES_TOO_FAST) from None

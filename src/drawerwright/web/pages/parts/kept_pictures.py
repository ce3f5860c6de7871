"""Pictures of a test cut's pieces: shown from the data file, kept with the cut that is sent, removed."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from drawerwright.store.records import KeptPicture
from drawerwright.web.pages.parts.job_frame import job_id_of
from drawerwright.web.server.shop import Shop, shop_of

KEPT = "pictures_kept"
"""The field that names the pictures whose readings a form holds."""


def numbers_in(typed: Mapping[str, str]) -> tuple[int, ...]:
    """The numbers of the pictures that a form names."""
    return tuple(int(word) for word in typed.get(KEPT, "").split() if word.isdecimal())


def pictures_of(shop: Shop, job_id: int) -> dict[int, list[KeptPicture]]:
    """The pictures of each test cut of a job, by the cut's number."""
    found: dict[int, list[KeptPicture]] = {}
    for picture in shop.pictures.of_job(job_id):
        found.setdefault(picture.entry_id, []).append(picture)
    return found


def show(request: Request) -> Response:
    """The picture itself."""
    content = shop_of(request).pictures.content(job_id_of(request), int(request.path_params["number"]))
    return Response(
        content, media_type="image/jpeg", headers={"cache-control": "private, max-age=604800, immutable"}
    )


def remove(request: Request) -> Response:
    """Remove a picture for good; the readings of its cut stay."""
    shop_of(request).pictures.remove(job_id_of(request), int(request.path_params["number"]))
    corner = request.query_params.get("corner", "")
    return RedirectResponse(f"/jobs/{job_id_of(request)}/trial?corner={corner}", 303)

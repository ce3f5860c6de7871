"""The app: routes, the gate, and what becomes of errors."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import suppress
from http import HTTPStatus
from typing import Any

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import Request
from starlette.responses import FileResponse, Response
from starlette.routing import BaseRoute, Mount, Route
from starlette.types import ASGIApp, Scope

from drawerwright.basics.errors import DrawerwrightError
from drawerwright.basics.phrases import phrase
from drawerwright.store.records import StoreError, UnknownRecordError
from drawerwright.web.fields import posted_numbers
from drawerwright.web.reader.rendering import STATIC_FOLDER, asset_mark, read_as_in_job, set_reader
from drawerwright.web.server.changes_once import ChangesOnce
from drawerwright.web.server.first_look import UnreadRoute, WaitingRoute
from drawerwright.web.server.security import ANSWER_HEADERS, Gate, Refusal
from drawerwright.web.server.shop import Shop, shop_of
from drawerwright.web.server.statics import Statics

ICON_ADDRESS = "/favicon.ico"
"""Where browsers look for an icon that nothing names."""


def create_app(shop: Shop, routes: Iterable[BaseRoute]) -> Starlette:
    """The ASGI app for one open data file, with the routes of its pages (`with_reader`)."""
    statics = Mount("/static", Statics(STATIC_FOLDER, asset_mark()), name="static")
    app = Starlette(
        routes=[*routes, Route(ICON_ADDRESS, _icon), statics],
        middleware=[
            Middleware(Gate, is_paired=shop.is_paired, refused=_refusal_page),
            Middleware(GZipMiddleware, minimum_size=1000, compresslevel=6),
            Middleware(ChangesOnce),
        ],
        exception_handlers={
            UnknownRecordError: _not_found,
            StoreError: _unsaved,
            DrawerwrightError: _refused,
            HTTPException: _http_error,
            Exception: _failed,
        },
    )
    app.state.shop = shop
    return app


async def _icon(_request: Request) -> Response:
    """The app's mark, for what opens in a tab of its own and cannot name it: a PDF, a drawing."""
    icon = STATIC_FOLDER / "mark.svg"
    return FileResponse(icon, media_type="image/svg+xml", headers={"cache-control": "no-cache"})


def with_reader(route: BaseRoute) -> BaseRoute:
    """The route with the reader's preferences set before its endpoint runs, in the endpoint's own thread."""
    if not isinstance(route, Route):
        return route
    endpoint = route.endpoint
    methods = route.methods
    if _is_async(endpoint):

        async def ready(request: Request) -> Response:
            set_reader(request)
            _refuse_large_numbers(request)
            if (
                "job_id" in request.path_params
            ):  # else nothing is read, and a change of threads takes as long as a drawing
                await run_in_threadpool(_read_in_unit_of_job, request)
            answer: Response = await endpoint(request)
            return answer

        return Route(route.path, ready, methods=list(methods or ()), name=route.name)

    def ready_in_thread(request: Request) -> Response:
        set_reader(request)
        _refuse_large_numbers(request)
        if isinstance(route, WaitingRoute) and _is_first_look(request):
            return route.until_read(request)
        if not isinstance(route, UnreadRoute):
            _read_in_unit_of_job(request)
        answer: Response = endpoint(request)
        return answer

    return Route(route.path, ready_in_thread, methods=list(methods or ()), name=route.name)


def _read_in_unit_of_job(request: Request) -> None:
    """A page of a job is in the job's own unit until its reader chooses one, and in the steps of its sizes. A job that
    is gone is the endpoint's to say."""
    if "job_id" not in request.path_params:
        return
    from drawerwright.job.file.job_entries import job_unit, shown_style

    with suppress(UnknownRecordError):
        text = shop_of(request).jobs.load(int(request.path_params["job_id"])).text
        read_as_in_job(request, job_unit(text), shown_style(text))


def _is_first_look(request: Request) -> bool:
    shop = shop_of(request)
    with suppress(UnknownRecordError):
        return shop.first_looks.is_first(request, shop.jobs.load(int(request.path_params["job_id"])).text)
    return False


def _refuse_large_numbers(request: Request) -> None:
    if any(
        isinstance(value, int) and value > posted_numbers.LARGEST for value in request.path_params.values()
    ):
        raise HTTPException(404)


def _is_async(endpoint: Callable[..., Any]) -> bool:
    import inspect

    return inspect.iscoroutinefunction(endpoint)


async def _not_found(request: Request, error: Exception) -> Response:
    return _error_page(request, str(error), 404)


async def _unsaved(request: Request, error: Exception) -> Response:
    """Of what passes, pages try again; what does not is said."""
    is_busy = isinstance(error, StoreError) and error.is_busy
    return _error_page(request, str(error), 503 if is_busy else 507)


async def _refused(request: Request, error: Exception) -> Response:
    return _error_page(request, str(error), 422)


async def _http_error(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    usual = _STATUS_WORDS.get(error.status_code)
    is_own = error.detail != HTTPStatus(error.status_code).phrase
    return _error_page(request, error.detail if is_own or usual is None else usual, error.status_code)


async def _failed(request: Request, error: Exception) -> Response:
    """Nobody allowed for this error. The gate does not see this answer any more."""
    from drawerwright.job.own_faults import own_fault

    answer = _error_page(request, own_fault(error, f"{request.method} {request.url.path}"), 500)
    answer.headers.update(ANSWER_HEADERS)
    return answer


_STATUS_WORDS = {
    404: phrase("This page does not exist."),
    405: phrase("This page does not accept that."),
}
"""What is said where the library that answers has only the status to say."""


def _refusal_page(scope: Scope, refusal: Refusal) -> ASGIApp:
    request = Request(scope)
    set_reader(request)
    template = "refused_fragment.html" if "hx-request" in request.headers else "refused.html"
    context = {
        "status": refusal.status,
        "text": refusal.text,
        "remedy": refusal.remedy,
        "link": refusal.link,
        "link_words": refusal.link_words,
    }
    return shop_of(request).renderer.page(request, template, context, status=refusal.status)


def _error_page(request: Request, text: str, status: int) -> Response:
    if not hasattr(request.state, "reader"):  # an answer to nothing that this app serves
        set_reader(request)
    template = "error_fragment.html" if "hx-request" in request.headers else "error.html"
    return shop_of(request).renderer.page(request, template, {"text": text, "status": status}, status=status)

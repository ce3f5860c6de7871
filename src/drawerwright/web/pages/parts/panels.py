"""A page of a job never fails because of the job: what cannot be shown says so in its own place.

Undo, the job file and every other page stand around it, so that what was typed last can be mended.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.basics.errors import DrawerwrightError
from drawerwright.store.records import JobRecord, StoreError, UnknownRecordError
from drawerwright.web.pages.parts.day_choice import chosen_day
from drawerwright.web.pages.parts.job_frame import JOB_PLACE, job_id_of, job_page, tabs
from drawerwright.web.server.first_look import WaitingRoute
from drawerwright.web.server.shop import shop_of

OWN_FAULT = 500


def panel(
    request: Request, make: Callable[[], Mapping[str, Any]], instead: Mapping[str, Any]
) -> dict[str, Any]:
    """What a panel shows; where it cannot be made, `instead`, with the words for it under `panel_fault`."""
    try:
        return {"panel_fault": "", **make()}
    except HTTPException as error:
        return {**instead, "panel_fault": error.detail}
    except DrawerwrightError as error:
        return {**instead, "panel_fault": str(error)}
    except Exception as error:
        return {**instead, "panel_fault": _own_fault(request, error)}


def framed(route: Route) -> Route:
    """A route whose page, if it is one of a job, stands in its frame even where it cannot be made."""
    tab = route.path.removeprefix(JOB_PLACE + "/")
    title = dict(pair for group in tabs() for pair in group).get(tab)
    if title is None or "GET" not in (route.methods or ()):
        return route
    make = route.endpoint

    def page(request: Request) -> Response:
        try:
            answer: Response = make(request)
            return answer
        except (UnknownRecordError, StoreError):
            raise
        except HTTPException as error:
            return _frame(request, tab, error.detail, error.status_code)
        except DrawerwrightError as error:
            return _frame(request, tab, str(error), 200)
        except Exception as error:
            return _frame(request, tab, _own_fault(request, error), OWN_FAULT)

    def until_read(request: Request) -> Response:
        """What stands there while a long job is read: nothing in it hangs on what its text says."""
        shop = shop_of(request)
        context = {"job": shop.jobs.load(job_id_of(request)), "tab": tab, "heading": title}
        links = {"job_tabs": tabs(), "signs": {}, "chosen_day": chosen_day(request)}
        return shop.renderer.page(request, "long_job.html", {**context, **links})

    return WaitingRoute(route.path, page, until_read, methods=list(route.methods or ()), name=route.name)


def _frame(request: Request, tab: str, words: str, status: int) -> Response:
    """The frame of a job with `words` in it. Of a page that stands, its parts say them and leave the rest as it is."""
    shop = shop_of(request)
    if request.query_params.get("part"):
        return shop.renderer.page(request, "error_fragment.html", {"text": words}, status=status)
    job: JobRecord = shop.jobs.load(job_id_of(request))
    heading = dict(pair for group in tabs() for pair in group)[tab]
    context = {"heading": heading, "panel_fault": words}
    # A page that waits for a plan asks for itself anew, and takes only an answer that is well.
    is_asked_again = "hx-request" in request.headers
    return job_page(request, "unshown.html", tab, job, context, status=200 if is_asked_again else status)


def _own_fault(request: Request, error: Exception) -> str:
    from drawerwright.job.own_faults import own_fault

    return own_fault(error, f"{request.method} {request.url.path}")

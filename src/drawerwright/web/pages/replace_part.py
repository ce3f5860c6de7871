"""A spoiled part made again: one press on the Papers page, one page to print."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.web.pages.jobs_page import attachment, file_stem
from drawerwright.web.pages.papers_page import plan_to_take_from


def page_of_part(request: Request) -> Response:
    """The page of the part that the address names, as PDF."""
    from drawerwright.job.papers.replacement_paper import replacement_page
    from drawerwright.job.planning.replacement import plan_replacement

    job, plan = plan_to_take_from(request)
    made = plan_replacement(plan, request.query_params.get("part", ""))
    name = attachment(f"{file_stem(job.title)}-{file_stem(made.part.label)}.pdf")
    return Response(
        replacement_page(made), media_type="application/pdf", headers={"content-disposition": name}
    )


ROUTES = (Route("/jobs/{job_id:int}/replace", page_of_part),)

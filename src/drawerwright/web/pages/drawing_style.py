"""The style sheet that dresses drawings for the page, by day and in the dark; it comes from the drawings room."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route


def style(request: Request) -> Response:
    """The rules, kept by the browser under their mark."""
    from drawerwright.job.pictures.on_screen import screen_style

    keep = {"cache-control": "public, max-age=31536000, immutable"}
    return Response(screen_style(), media_type="text/css", headers=keep)


ROUTES = (Route("/drawing.css", style),)

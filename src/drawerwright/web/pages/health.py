"""Is the server there? Pages ask while they are not connected."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route


async def alive(request: Request) -> Response:
    """An empty answer."""
    return Response(status_code=204)


ROUTES = (Route("/alive", alive),)

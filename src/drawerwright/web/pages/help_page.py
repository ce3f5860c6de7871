"""The help: a short text with a drawing for each page, and the glossary. The texts are those of the docs."""

from __future__ import annotations

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from drawerwright.web.reader import help_texts
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _
from drawerwright.web.server.shop import shop_of

SCHEMAS = {
    "new": "guided_cutter.html",
    "cutter": "guided_cutter.html",
    "stock": "guided_sheet.html",
    "drawers": "guided_opening.html",
    "glance": "help_signs.html",
    "sheets": "help_band.html",
    "run": "help_setup.html",
    "papers": "help_papers.html",
    "text": "help_text.html",
    "reader": "help_reader.html",
    "devices": "help_devices.html",
}
"""Drawings that are schemes; those of the corner are drawn as the law has it."""


def help_page(request: Request) -> Response:
    """The help for one page: by itself, or as a part of the page that asks for it."""
    name = request.path_params["page"]
    reader: Preferences = request.state.reader
    if name not in help_texts.pages(reader.language):
        raise HTTPException(404, _("There is no help page for this."))
    context = {
        "text": help_texts.help_text(reader.language, name),
        "schema": SCHEMAS.get(name),
        "drawings": _drawings(name, reader),
    }
    template = "help_part.html" if "hx-request" in request.headers else "help.html"
    return shop_of(request).renderer.page(request, template, context)


def _drawings(name: str, reader: Preferences) -> list[str]:
    if name not in ("start", "corner", "trial"):
        return []
    from drawerwright.job.pictures import corner_pictures

    if name == "start":
        return [corner_pictures.corner_of_a_drawer(reader.lengths)]
    return corner_pictures.corner_to_explain(reader.lengths, with_readings=name == "trial")


def glossary(request: Request) -> Response:
    """Every word with its meaning."""
    words = help_texts.glossary(request.state.reader.language)
    ordered = sorted(words.items(), key=lambda row: row[0].casefold())
    return shop_of(request).renderer.page(request, "words.html", {"words": ordered})


ROUTES = (Route("/help/words", glossary), Route("/help/{page}", help_page))

"""Static files, and the one style sheet that its layers are joined to.

`static/css` holds a file for each cascade layer and one for each page that needs rules of its own; a browser gets
them as one, `/static/app.css`. A rule of a later layer beats any of an earlier one, however exact: a page's own file
always wins.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from pathlib import Path

from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

KEEP_SECONDS = 31_536_000
"""Static files are asked for with a mark that changes with them, so browsers may keep them for a year."""
STYLE = "app.css"
STYLE_FOLDER = "css"
LAYERS = ("reset", "tokens", "type", "layout", "components", "pages")
"""From the weakest to the strongest; `pages` is a folder with a file a page."""


class Statics(StaticFiles):
    """Static files, kept by the browser when they are asked for with their mark."""

    def __init__(self, folder: Path, mark: str) -> None:
        super().__init__(directory=folder)
        self._folder = folder
        self._mark = mark

    async def get_response(self, path: str, scope: Scope) -> Response:
        if path == STYLE:
            response: Response = Response(self._style, media_type="text/css")
        else:
            response = await super().get_response(path, scope)
        is_marked = scope.get("query_string", b"").startswith(b"v=")
        keep = f"public, max-age={KEEP_SECONDS}, immutable" if is_marked else "no-cache"
        response.headers["cache-control"] = keep
        return response

    @cached_property
    def _style(self) -> str:
        return style_sheet(self._folder / STYLE_FOLDER, self._mark)


def style_sheet(folder: Path, mark: str) -> str:
    """The layers of `folder` as one style sheet; the fonts that it names have the mark of the static files."""
    layers = [
        f"@layer {layer} {{\n{file.read_text(encoding='utf-8')}}}\n"
        for layer in LAYERS
        for file in _files_of(folder, layer)
    ]
    return f"@layer {', '.join(LAYERS)};\n" + "".join(layers).replace('.woff2")', f'.woff2?v={mark}")')


def _files_of(folder: Path, layer: str) -> Iterator[Path]:
    if (folder / layer).is_dir():
        yield from sorted((folder / layer).glob("*.css"))
    else:
        yield folder / f"{layer}.css"

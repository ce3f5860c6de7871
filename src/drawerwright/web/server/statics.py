"""Static files, the one style sheet that its layers are joined to, and the one script of the pages' modules.

`static/css` holds a file for each cascade layer and one for each page that needs rules of its own; a browser gets
them as one, `app.css`. A rule of a later layer beats any of an earlier one, however exact: a page's own file always
wins. Scripts are a module for each concern, and come as one, `app.js`.

Pages ask for `/static/v-MARK/app.js`. The mark is a folder, so that scripts and fonts which a file names beside it
carry the mark as well: browsers keep those too, and ask for none of them again with the next page.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from functools import cached_property
from pathlib import Path

from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from drawerwright.web.server.scripts import joined_script

KEEP_SECONDS = 31_536_000
"""Static files are asked for with a mark that changes with them, so browsers may keep them for a year."""
MARKED = "v-"
"""How the folder begins that stands for the mark."""
STYLE = "app.css"
SCRIPT = "app.js"
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
        mark, _slash, rest = path.partition(os.sep)
        if mark.startswith(MARKED):  # a page of an earlier version gets today's file, without keeping it
            path = rest
        if path == STYLE:
            response: Response = Response(self._style, media_type="text/css")
        elif path == SCRIPT:
            response = Response(self._script, media_type="text/javascript")
        else:
            response = await super().get_response(path, scope)
        is_todays = mark == f"{MARKED}{self._mark}"
        keep = f"public, max-age={KEEP_SECONDS}, immutable" if is_todays else "no-cache"
        response.headers["cache-control"] = keep
        return response

    @cached_property
    def _style(self) -> str:
        return style_sheet(self._folder / STYLE_FOLDER)

    @cached_property
    def _script(self) -> str:
        return joined_script(self._folder, Path(SCRIPT).stem)


def style_sheet(folder: Path) -> str:
    """The layers of `folder` as one style sheet."""
    layers = [
        f"@layer {layer} {{\n{file.read_text(encoding='utf-8')}}}\n"
        for layer in LAYERS
        for file in _files_of(folder, layer)
    ]
    return f"@layer {', '.join(LAYERS)};\n" + "".join(layers)


def _files_of(folder: Path, layer: str) -> Iterator[Path]:
    if (folder / layer).is_dir():
        yield from sorted((folder / layer).glob("*.css"))
    else:
        yield folder / f"{layer}.css"

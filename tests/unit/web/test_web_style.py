"""One style sheet from its layers; the two font files together under 70 kB."""

from __future__ import annotations

import re

from starlette.testclient import TestClient

from drawerwright.drawings.svg import PAPER, SLATE
from drawerwright.web.reader.rendering import STATIC_FOLDER, asset_mark
from drawerwright.web.server.statics import LAYERS

MARK = f"?v={asset_mark()}"


def test_the_browser_gets_all_layers_at_once_the_weakest_first(client: TestClient) -> None:
    style = client.get("/static/app.css").text
    assert style.startswith("@layer " + ", ".join(LAYERS) + ";")
    opened = re.findall(r"^@layer (\w+) \{$", style, re.MULTILINE)
    assert sorted(set(opened), key=opened.index) == list(LAYERS)
    for file in (STATIC_FOLDER / "css").rglob("*.css"):
        assert file.read_text("utf-8") in style.replace(MARK, ""), file.name
        layer = file.stem if file.parent.name == "css" else file.parent.name
        assert layer in LAYERS, f"{file.name} belongs to no layer"
    assert style.count("{") == style.count("}")


def test_a_style_sheet_is_kept_under_its_mark(client: TestClient) -> None:
    assert "immutable" in client.get("/static/app.css?v=1").headers["cache-control"]
    assert client.get("/static/app.css").headers["cache-control"] == "no-cache"


def test_both_weights_of_the_typeface_are_light(client: TestClient) -> None:
    style = client.get("/static/app.css").text
    files = re.findall(r'url\("(fonts/[^"]+)"\)', style)
    assert len(files) == 2
    assert all(file.endswith(MARK) for file in files), "browsers may keep them"
    assert (
        f'href="/static/{next(file for file in files if "Regular" in file)}" as="font"'
        in client.get("/").text
    )
    fonts = [client.get(f"/static/{file}") for file in files]
    assert all(font.content[:4] == b"wOF2" for font in fonts)
    assert sum(len(font.content) for font in fonts) < 70_000


def test_drawings_and_pages_are_inked_alike() -> None:
    """One palette by day and one in the dark: what a drawing calls by its role is a token of the pages."""
    tokens = (STATIC_FOLDER / "css" / "tokens.css").read_text("utf-8")
    pages = {
        name: (day, dark)
        for name, day, dark in re.findall(r"--([\w-]+): light-dark\((#\w+), (#\w+)\)", tokens)
    }
    roles = {"ink": "ink", "grain": "grain", "accent": "mark", "paper": "sheet", "wood": "wood"}
    roles |= {"wood_behind": "wood-2", "steel": "steel"}
    drawn = {role: (getattr(PAPER, role), getattr(SLATE, role)) for role in roles}
    assert drawn == {role: pages[token] for role, token in roles.items()}

"""One style sheet from its layers; the two font files together under 70 kB."""

from __future__ import annotations

import re
from urllib.parse import urljoin

from starlette.testclient import TestClient

from drawerwright.drawings.svg import PAPER, SLATE
from drawerwright.web.reader.rendering import STATIC_FOLDER, asset_mark
from drawerwright.web.server.statics import LAYERS

MARKED = f"/static/v-{asset_mark()}"


def test_the_browser_gets_all_layers_at_once_the_weakest_first(client: TestClient) -> None:
    style = client.get("/static/app.css").text
    assert style.startswith("@layer " + ", ".join(LAYERS) + ";")
    opened = re.findall(r"^@layer (\w+) \{$", style, re.MULTILINE)
    assert sorted(set(opened), key=opened.index) == list(LAYERS)
    for file in (STATIC_FOLDER / "css").rglob("*.css"):
        assert file.read_text("utf-8") in style, file.name
        layer = file.stem if file.parent.name == "css" else file.parent.name
        assert layer in LAYERS, f"{file.name} belongs to no layer"
    assert style.count("{") == style.count("}")


def kept(client: TestClient, path: str) -> str:
    answer = client.get(path)
    assert answer.status_code == 200, path
    return answer.headers["cache-control"]


def test_browsers_keep_what_carries_todays_mark(client: TestClient) -> None:
    assert "immutable" in kept(client, f"{MARKED}/app.css")
    assert kept(client, "/static/app.css") == "no-cache"
    assert kept(client, "/static/v-of-yesterday/app.css") == "no-cache"  # a page that was open over an update
    for nothing in ("/static/", MARKED, f"{MARKED}/", f"{MARKED}/css", f"{MARKED}/%2e%2e/%2e%2e/serving.py"):
        assert client.get(nothing).status_code == 404, nothing


def test_a_tab_without_a_page_of_the_app_gets_its_icon(client: TestClient) -> None:
    """A PDF names no icon; browsers then ask for the one at this address."""
    answer = client.get("/favicon.ico")
    assert (answer.status_code, answer.headers["content-type"]) == (200, "image/svg+xml")
    assert answer.content == (STATIC_FOLDER / "mark.svg").read_bytes()


def test_what_a_script_imports_is_kept_as_well(client: TestClient) -> None:
    """Imports are relative, so that the mark in the address of the page's script is in theirs too."""
    page = client.get("/").text
    waiting = re.findall(rf'src="({MARKED}/[^"]+)" type="module"', page)
    seen = set()
    while waiting:
        address = waiting.pop()
        seen.add(address)
        assert "immutable" in kept(client, address)
        imported = re.findall(
            r"""(?:from|import|import\()\s*["']([./]+[^"']+\.js)["']""", client.get(address).text
        )
        waiting += [found for name in imported if (found := urljoin(address, name)) not in seen]
    assert {f"{MARKED}/app.js", f"{MARKED}/viewer.js"} < seen
    assert any("three" in address for address in seen)


def test_both_weights_of_the_typeface_are_light(client: TestClient) -> None:
    style = client.get("/static/app.css").text
    files = re.findall(r'url\("(fonts/[^"]+)"\)', style)
    assert len(files) == 2
    asked = f'href="{MARKED}/{next(file for file in files if "Regular" in file)}" as="font"'
    assert asked in client.get("/").text, "before the style sheet names it, and from the same address"
    fonts = [client.get(f"{MARKED}/{file}") for file in files]
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

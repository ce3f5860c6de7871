"""The page of the drawers with every panel, as somebody sees it who opens them one after the other."""

from __future__ import annotations

import html
import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from starlette.testclient import TestClient

PANEL = re.compile(r'<div class="to-come" id="come-[^>]*hx-get="([^"]*[?]part=panel[^"]*)"[^>]*></div>')


def with_panels_open(client: TestClient, address: str) -> str:
    """A page as it stands once each closed panel of it has been opened; of other pages what they are."""
    return PANEL.sub(lambda found: client.get(html.unescape(found[1])).text, client.get(address).text)

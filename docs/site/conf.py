"""How `make docs` makes a site of the pages in docs, as they are.

Everything that a page loads lies beside it: no font, script or picture comes from another host.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
INDEX = "docs/index"

project = "Drawerwright"
author = "The Drawerwright developers"
extensions = ["myst_parser"]
root_doc = INDEX
include_patterns = ["docs/*.md", "CONTRIBUTING.md", "CHANGELOG.md"]
myst_heading_anchors = 4
suppress_warnings = ["misc.highlighting_failure"]
"""A Python example with its answer, or a terminal's output, is no program."""
html_theme = "furo"
html_title = "Drawerwright"
html_static_path = ["static"]
html_css_files = ["workshop.css"]
html_show_sphinx = False
html_copy_source = False
html_theme_options = {"navigation_with_keys": True, "top_of_page_buttons": []}


def parts_of_site(index: str) -> dict[str, list[tuple[str, str]]]:
    """The pages below each heading of the index, by the links there: what it calls each, and its file."""
    parts = re.split(r"^## (.+)$", index, flags=re.MULTILINE)[1:]
    return {
        heading: re.findall(r"^- \[([^\]]+)\]\(([^)]+)\)", links, re.MULTILINE)
        for heading, links in zip(parts[::2], parts[1::2], strict=True)
    }


def _with_navigation(_app: Any, name: str, source: list[str]) -> None:
    """The navigation is what the index lists."""
    if name == INDEX:
        for heading, pages in parts_of_site(source[0]).items():
            links = "\n".join(f"{title} <{page.removesuffix('.md')}>" for title, page in pages)
            source[0] += f"\n```{{toctree}}\n:hidden:\n:caption: {heading}\n\n{links}\n```\n"


def setup(app: Any) -> None:
    """What Sphinx calls."""
    app.connect("source-read", _with_navigation)

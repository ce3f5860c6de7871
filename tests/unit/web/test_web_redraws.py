"""How parts of a page are drawn anew."""

from __future__ import annotations

import re

import pytest

from drawerwright.web.reader.rendering import TEMPLATE_FOLDER

TEMPLATES = sorted(path.name for path in TEMPLATE_FOLDER.glob("*.html"))


@pytest.mark.parametrize("name", TEMPLATES)
def test_what_stands_in_a_morphed_part_is_not_morphed_itself(name: str) -> None:
    """An element that asks again when it is loaded would stay the same element, and ask no more.

    htmx passes `hx-swap` on to what stands inside unless told not to (its documentation, "Attribute Inheritance").
    """
    text = (TEMPLATE_FOLDER / name).read_text()
    for tag in re.findall(r"<[^>]*hx-swap=\"morph[^>]*>", re.sub(r"\{\{.*?\}\}|\{%.*?%\}", "", text)):
        assert re.search(r'hx-disinherit="[^"]*\bhx-swap\b', tag), tag

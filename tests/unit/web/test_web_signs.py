"""The signs of pages and findings: told apart without colour, and named for who does not see them."""

from __future__ import annotations

import re

from drawerwright.web.reader import words
from drawerwright.web.reader.rendering import Renderer

KINDS = ("known", "open", "doubtful", "stop", "note", "fault")


def drawn(kind: str) -> str:
    macro = Renderer()._environment.get_template("signs.html").make_module().sign
    return str(macro(kind))


def test_each_sign_has_a_shape_and_a_name_of_its_own() -> None:
    words.use_language("de")
    try:
        signs = [drawn(kind) for kind in KINDS]
    finally:
        words.use_language("en")
    shapes = {re.sub(r'class="[^"]*"|aria-label="[^"]*"', "", sign) for sign in signs}
    names = {name for sign in signs for name in re.findall(r'aria-label="([^"]+)"', sign)}
    assert len(shapes) == len(names) == len(KINDS)
    assert names == {"bekannt", "offen", "zweifelhaft", "Stopp", "Hinweis", "Fehler"}


def test_what_is_no_kind_of_sign_draws_nothing() -> None:
    assert drawn("nearly").strip() == ""

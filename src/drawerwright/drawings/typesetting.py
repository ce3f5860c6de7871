"""From a template and data to pages. The only door to typst.

Data goes in beside the template as JSON, never pasted into it: whatever a user named a drawer stays text.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from drawerwright.drawings.lettering import FONT_FOLDER

TEMPLATES = Path(__file__).parent / "templates"


def typeset(template: str, data: Mapping[str, Any]) -> bytes:
    """A PDF from one of our templates.

    Args:
        template: file name in `drawings/templates`.
        data: what the template shows; anything that JSON can hold.
    """
    pdf: bytes = _compiler(template, data).compile(format="pdf", timestamp=0)
    return pdf


def typeset_pages(template: str, data: Mapping[str, Any]) -> tuple[bytes, ...]:
    """The pages of the same PDF, each an SVG: a picture of it for where no PDF can be shown."""
    pages: bytes | list[bytes] = _compiler(template, data).compile(format="svg")
    return (pages,) if isinstance(pages, bytes) else tuple(pages)


def _compiler(template: str, data: Mapping[str, Any]) -> Any:
    import typst

    # The compiler is given a root of its own, so a template can read nothing else on this machine.
    make: Any = typst.Compiler
    return make(
        (TEMPLATES / template).read_bytes(),
        root=str(TEMPLATES),
        font_paths=[str(FONT_FOLDER)],
        ignore_system_fonts=True,
        sys_inputs={"data": json.dumps(data)},
    )

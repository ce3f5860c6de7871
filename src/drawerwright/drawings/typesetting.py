"""From a template and data to pages. The only door to typst.

Data goes in beside the template as JSON, never pasted into it: whatever a user named a drawer stays text.
"""

from __future__ import annotations

import json
import re
import shutil
import tempfile
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, TypeAlias

from drawerwright.drawings.font_letters import in_typeface
from drawerwright.drawings.lettering import FONT_FOLDER

TEMPLATES = Path(__file__).parent / "templates"
STANDARDS = ("a-2a", "ua-1")
"""For archives and for readers who hear a page: tagged, every letter embedded (ISO 19005-2 level A, ISO 14289-1)."""
REMEMBERED = 12
"""Compilations after which typst has forgotten what none of them used; found by trying."""
LARGE = 2_000_000
"""Bytes of a PDF from which on typst is made to forget how it was set: that takes a hundred times as much memory."""

Told: TypeAlias = Callable[[int, int], None]
"""Told how many of how many pieces of long work are done; what it raises ends the work."""


def untold(_done: int, _of: int) -> None:
    """Where nobody waits."""


def typeset(template: str, data: Mapping[str, Any]) -> bytes:
    """A PDF from one of our templates.

    Args:
        template: file name in `drawings/templates`.
        data: what the template shows; anything that JSON can hold.
    """
    pdf: bytes = _compiler(template, data).compile(format="pdf", timestamp=0, pdf_standards=list(STANDARDS))
    if len(pdf) > LARGE:
        _forget()
    return pdf


def typeset_chapters(
    template: str,
    chapters: Sequence[tuple[str, Mapping[str, Any]]],
    binding: Mapping[str, Any],
    told: Told = untold,
) -> bytes:
    """A long PDF, set chapter by chapter so that only one of them takes memory at a time.

    Args:
        template: of the chapters.
        chapters: name in the table of contents and data of each; at least one.
        binding: what `bound.typ` shows on every page.
        told: how far it is, before each chapter and before they are bound.
    """
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for source in TEMPLATES.glob("*.typ"):
            shutil.copy(source, folder)
        bound = []
        for number, (title, data) in enumerate(chapters):
            told(number, len(chapters) + 1)
            # A chapter may begin with a lower heading, which the standards of a whole document do not allow.
            pdf: bytes = _compiler(template, data).compile(format="pdf", timestamp=0)
            _forget()
            (folder / f"{number}.pdf").write_bytes(pdf)
            bound.append({"title": title, "file": f"{number}.pdf", "pages": page_count(pdf)})
        told(len(chapters), len(chapters) + 1)
        compiler = _compiler("bound.typ", {**binding, "chapters": bound}, folder)
        whole: bytes = compiler.compile(format="pdf", timestamp=0)
    _forget()
    return whole


def single_pages(pdf: bytes, title: str, numbers: Iterable[int]) -> Iterator[bytes]:
    """Pages of a PDF, by their numbers from 1, each as a PDF of its own."""
    return _each_alone(pdf, title, numbers, format="pdf", timestamp=0)


def page_pictures(pdf: bytes, numbers: Iterable[int]) -> Iterator[bytes]:
    """Pages of a PDF, by their numbers from 1, each as an SVG. Larger than those of `typeset_pages`, but nothing is
    set again for them."""
    return _each_alone(pdf, "", numbers, format="svg")


def _each_alone(pdf: bytes, title: str, numbers: Iterable[int], **wanted: Any) -> Iterator[bytes]:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        shutil.copy(TEMPLATES / "single.typ", folder)
        (folder / "whole.pdf").write_bytes(pdf)
        for number in numbers:
            compiler = _compiler("single.typ", {"title": title, "page": number}, folder)
            page: bytes = compiler.compile(**wanted)
            yield page
    _forget()


def page_count(pdf: bytes) -> int:
    """How many pages a PDF has."""
    return max(int(count) for count in re.findall(rb"/Type\s*/Pages\s*/Count\s+(\d+)", pdf))


def _forget() -> None:
    """Let typst drop what it remembers: it keeps what one of its last compilations used, so these use nothing."""
    compiler = _compiler("title-block.typ", {})
    for _ in range(REMEMBERED):
        compiler.compile(b"", format="pdf", timestamp=0)


def typeset_pages(template: str, data: Mapping[str, Any]) -> tuple[bytes, ...]:
    """The pages of the same PDF, each an SVG: a picture of it for where no PDF can be shown."""
    pages: bytes | list[bytes] = _compiler(template, data).compile(format="svg")
    return (pages,) if isinstance(pages, bytes) else tuple(pages)


def _compiler(template: str, data: Mapping[str, Any], root: Path = TEMPLATES) -> Any:
    import typst

    # The compiler is given a root of its own, so a template can read nothing else on this machine.
    make: Any = typst.Compiler
    return make(
        (root / template).read_bytes(),
        root=str(root),
        font_paths=[str(FONT_FOLDER)],
        ignore_system_fonts=True,
        sys_inputs={"data": in_typeface(json.dumps(data, ensure_ascii=False, default=list))},
    )

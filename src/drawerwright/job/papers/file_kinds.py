"""Which kinds of files a plan is written as."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import Phrase, phrase


class FileKind(StrEnum):
    """A kind of file; the whole plan as `plan.json` comes with any of them."""

    PDF = "pdf"
    """The packet."""
    PAGES = "pages"
    """Each page of the packet as a PDF of its own."""
    LABELS = "labels"
    """Labels for parts, on the self-adhesive sheets that the paper has."""
    CSV = "csv"
    """Parts list and cut lists."""
    XLSX = "xlsx"
    """One workbook with every table."""
    SVG = "svg"
    DXF = "dxf"
    """Every drawing, and every part with its grooves and holes."""
    GLB = "glb"
    """The drawers as solids, each bank in its opening."""

    @property
    def words(self) -> Phrase:
        """What there is in files of this kind, in the reader's language."""
        return _KIND_WORDS[self]


_KIND_WORDS = {
    FileKind.PDF: phrase("packet (pdf)"),
    FileKind.PAGES: phrase("each page of the packet by itself (pdf)"),
    FileKind.LABELS: phrase("labels for parts on self-adhesive sheets (pdf)"),
    FileKind.CSV: phrase("parts list and cut list (csv)"),
    FileKind.XLSX: phrase("workbook with all tables (xlsx)"),
    FileKind.SVG: phrase("drawings (svg)"),
    FileKind.DXF: phrase("drawings and parts (dxf)"),
    FileKind.GLB: phrase("drawers as solids (glb)"),
}
USUAL_KINDS = frozenset({FileKind.PDF, FileKind.CSV, FileKind.SVG})
"""What is written when nobody says what."""
ALL = "all"
"""Instead of a list: every kind."""


def file_kinds(names: str | Iterable[str]) -> frozenset[FileKind]:
    """The kinds that are named, `all` being every one.

    Args:
        names: one after the other, or one text with commas between them.

    Raises:
        InvalidValueError: a name is none of a kind, or none is given.

    >>> sorted(file_kinds("pdf, dxf"))
    [<FileKind.DXF: 'dxf'>, <FileKind.PDF: 'pdf'>]
    """
    given = names.split(",") if isinstance(names, str) else names
    asked = [name.strip().lower() for name in given]
    known = (ALL, *FileKind)
    for name in asked:
        if name not in known:
            raise InvalidValueError(
                phrase("{name!r} is no kind of file: choose from {known}", name=name, known=", ".join(known))
            )
    if not asked:
        raise InvalidValueError(phrase("name at least one kind of file: {known}", known=", ".join(known)))
    return frozenset(FileKind) if ALL in asked else frozenset(map(FileKind, asked))

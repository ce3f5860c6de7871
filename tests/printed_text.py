"""What the pages of a PDF say and where, read by pdfium, which knows nothing of how they were made."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import product
from pathlib import Path
from typing import Any

import pypdfium2

MM = 25.4 / 72
"""Of a point: PDF user space is 1/72 inch (ISO 32000-2, 8.3.2.3)."""
BLOCK_TOP = 20.0
"""Above a page's lower edge the title block ends (mm)."""
CELL = 20.0
"""Points; a letter is compared with those in the same cells of a grid."""


def page_texts(pdf: bytes | Path) -> list[str]:
    """The text of each page, line by line, with ordinary spaces."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        texts = [page.get_textpage().get_text_range() for page in document]
    finally:
        document.close()
    return [text.replace("\r\n", "\n").replace("\N{NO-BREAK SPACE}", " ") for text in texts]


def block_texts(pdf: bytes) -> list[str]:
    """What the title block of each page says, in one line."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        texts = [
            page.get_textpage().get_text_bounded(0, 0, page.get_width(), BLOCK_TOP / MM) for page in document
        ]
    finally:
        document.close()
    return [" ".join(text.split()) for text in texts]


def overlapping_letters(pdf: bytes) -> list[tuple[int, str, str]]:
    """Pairs of letters whose ink lies on each other's: the page, from 1, and what stands around each of the two."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [
            (number, *pair)
            for number, page in enumerate(document, 1)
            for pair in _overlapping(page.get_textpage())
        ]
    finally:
        document.close()


def _overlapping(page: Any) -> Iterator[tuple[str, str]]:
    cells: dict[tuple[int, int], list[tuple[int, tuple[float, float, float, float]]]] = defaultdict(list)
    for place in range(page.count_chars()):
        x0, y0, x1, y1 = box = page.get_charbox(place)
        keys = list(product(*(range(int(a // CELL), int(b // CELL) + 1) for a, b in ((x0, x1), (y0, y1)))))
        for other, (a0, b0, a1, b1) in {near for key in keys for near in cells[key]}:
            touching = max(0.6, 0.25 * min(x1 - x0, a1 - a0))  # letters of one word may be kerned
            if min(x1, a1) - max(x0, a0) > touching and min(y1, b1) - max(y0, b0) > 0.6:
                yield _around(page, other), _around(page, place)
        for key in keys:
            cells[key].append((place, box))


def _around(page: Any, place: int) -> str:
    text: str = page.get_text_range(max(place - 10, 0), 20)
    return " / ".join(text.split("\r\n"))

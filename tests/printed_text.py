"""What the pages of a PDF say, read by pdfium, which knows nothing of how they were made."""

from __future__ import annotations

from pathlib import Path

import pypdfium2


def page_texts(pdf: bytes | Path) -> list[str]:
    """The text of each page, line by line, with ordinary spaces."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        texts = [page.get_textpage().get_text_range() for page in document]
    finally:
        document.close()
    return [text.replace("\r\n", "\n").replace("\N{NO-BREAK SPACE}", " ") for text in texts]

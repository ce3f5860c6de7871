"""A packet read back by pdfplumber, which knows nothing of how it was made: where letters and lines lie on paper."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator, Sequence
from typing import Any

import pdfplumber
import pypdf

from printed_text import BLOCK_TOP, MM


def pages_of(pdf: bytes, numbers: Sequence[int] | None = None) -> list[Any]:
    """The pages (of these numbers, from 1) with their letters and lines."""
    return list(pdfplumber.open(io.BytesIO(pdf), pages=numbers).pages)


def used_height(page: Any) -> float:
    """How far down the room above the title block letters and lines reach, as a share of it."""
    top, low = 12.0 / MM, page.height - BLOCK_TOP / MM
    marks = [m for kind in ("chars", "lines", "rects", "curves") for m in getattr(page, kind)]
    bottoms = [m["bottom"] for m in marks if m["bottom"] <= low + 1.0]
    return (max(bottoms, default=top) - top) / (low - top)


def ink_depths(pdf: bytes) -> Iterator[float]:
    """For each page how far down its room letters, lines and pictures reach, as `used_height` says it, but read off the
    page's operators (ISO 32000-2, annex A), which takes a hundredth of the time."""
    for page in pypdf.PdfReader(io.BytesIO(pdf)).pages:
        top, low = float(page.mediabox.height) - 12.0 / MM, BLOCK_TOP / MM
        lowest = min((y for y in _inked(page) if y >= low - 1.0), default=top)
        yield (top - lowest) / (top - low)


def _inked(page: pypdf.PageObject) -> Iterator[float]:
    """Heights above a page's lower edge at which something is drawn: ends of lines, baselines, edges of pictures."""
    content = page.get_contents()
    assert content is not None
    scale, rise = 1.0, 0.0
    kept: list[tuple[float, float]] = []
    for third_last, last, operator in _OPERATOR.findall(_STRING.sub(b"", content.get_data())):
        match operator:
            case b"q":
                kept.append((scale, rise))
            case b"Q":
                scale, rise = kept.pop()
            case b"cm":
                scale, rise = scale * float(third_last), rise + scale * float(last)
            case b"Do":
                yield rise
                yield rise + scale
            case b"re":
                yield rise + scale * float(third_last)
                yield rise + scale * (float(third_last) + float(last))
            case _:
                yield rise + scale * float(last)


_STRING = re.compile(rb"\((?:[^\\()]|\\.)*+\)", re.DOTALL)
_OPERATOR = re.compile(rb"(?:(?:([-\d.]++) [-\d.]++ )?+([-\d.]++) )?+(?<![\w/])(cm|re|Tm|m|l|q|Q|Do)(?!\w)")


def bar_lengths(page: Any) -> Iterator[float]:
    """Widths (mm) of whatever is long and low on a page, as a check bar is."""
    for kind in ("rects", "curves", "lines"):
        for mark in getattr(page, kind):
            wide, tall = (mark["x1"] - mark["x0"]) * MM, (mark["bottom"] - mark["top"]) * MM
            if wide > 50.0 and 1.0 < tall < 4.0:
                yield wide

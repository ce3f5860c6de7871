"""A packet read back by pdfplumber, which knows nothing of how it was made: where letters and lines lie on paper."""

from __future__ import annotations

import io
import re
from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import Any

import pdfplumber
import pypdf

MM = 25.4 / 72
"""Of a point: PDF user space is 1/72 inch (ISO 32000-2, 8.3.2.3)."""
BLOCK_TOP = 20.0
"""Above a page's lower edge the title block ends (mm)."""
INK = 0.72
"""Of a letter's box, which reaches from descender to ascender, the part that ink takes."""


def pages_of(pdf: bytes, numbers: Sequence[int] | None = None) -> list[Any]:
    """The pages (of these numbers, from 1) with their letters and lines."""
    return list(pdfplumber.open(io.BytesIO(pdf), pages=numbers).pages)


def block_text(page: Any) -> str:
    """What the title block says."""
    low = page.height - BLOCK_TOP / MM
    text: str = page.crop((0, low, page.width, page.height)).extract_text(x_tolerance=1.5)
    return " ".join(text.split())


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


def overlapping_letters(page: Any) -> list[tuple[str, str]]:
    """Pairs of letters whose ink would lie on each other's, with what stands around them."""
    boxes = [(_ink(char), char) for char in page.chars if char["text"].strip()]
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    found = []
    for number, ((x0, y0, x1, y1), char) in enumerate(boxes):
        near = {
            other
            for column in range(int(x0 // 20), int(x1 // 20) + 1)
            for row in range(int(y0 // 20), int(y1 // 20) + 1)
            for other in cells[column, row]
        }
        for other in near:
            (a0, b0, a1, b1), against = boxes[other]
            touching = max(0.6, 0.25 * min(x1 - x0, a1 - a0))  # letters of one word may be kerned
            if min(x1, a1) - max(x0, a0) > touching and min(y1, b1) - max(y0, b0) > 0.6:
                found.append((_around(page, against), _around(page, char)))
        for column in range(int(x0 // 20), int(x1 // 20) + 1):
            for row in range(int(y0 // 20), int(y1 // 20) + 1):
                cells[column, row].append(number)
    return found


def _ink(char: Any) -> tuple[float, float, float, float]:
    """The part of a letter's box that capitals take, upright or turned by a right angle."""
    x0, y0, x1, y1 = char["x0"], char["top"], char["x1"], char["bottom"]
    inset = (1 - INK) / 2
    if abs(char["matrix"][1]) > abs(char["matrix"][0]):
        return x0 + inset * (x1 - x0), y0, x1 - inset * (x1 - x0), y1
    return x0, y0 + inset * (y1 - y0), x1, y1 - inset * (y1 - y0)


def _around(page: Any, char: Any) -> str:
    room = (char["x0"] - 40, char["top"] - 1, char["x1"] + 40, char["bottom"] + 1)
    inside = (max(room[0], 0), max(room[1], 0), min(room[2], page.width), min(room[3], page.height))
    return str(page.crop(inside).extract_text()).replace("\n", " / ")


def bar_lengths(page: Any) -> Iterator[float]:
    """Widths (mm) of whatever is long and low on a page, as a check bar is."""
    for kind in ("rects", "curves", "lines"):
        for mark in getattr(page, kind):
            wide, tall = (mark["x1"] - mark["x0"]) * MM, (mark["bottom"] - mark["top"]) * MM
            if wide > 50.0 and 1.0 < tall < 4.0:
                yield wide

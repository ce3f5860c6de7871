"""A packet of many sheets and parts in chapters that are typeset one after the other.

Typesetting takes some 16 kB for each cell of a table and more than a megabyte for each sheet, all at once where they
are one document: gigabytes for a job of thousands of drawers.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

MOST_AT_ONCE = 150
"""Pages, about, from which on a packet is set in chapters: as one document they take some 5 MB each."""
SHEETS, ELEVATIONS, ROWS = 30, 80, 800
"""Sheets, elevations and rows of a table in one chapter. Kinds of drawers have one each: their tables are long."""
ROWS_ON_A_PAGE = 40


def is_long(data: Mapping[str, Any]) -> bool:
    """Whether a packet (the template's data) is to be set in chapters."""
    tables = [data["parts"], *data["more"]]
    rows = sum(len(table["rows"]) for table in tables if table is not None)
    return len(data["sheets"]) + len(data["elevations"]) / 4 + rows / ROWS_ON_A_PAGE > MOST_AT_ONCE


def chapters_of(data: Mapping[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Title and data of each chapter: the same packet, in the same order."""
    empty = {
        **data,
        "numbered": False,
        "cover": False,
        "elevations": [],
        "carcase": [],
        "types": [],
        "after": [],
        "sheets": [],
        "cards": [],
        "parts": None,
        "more": [],
        "work": [],
    }
    words = data["words"]
    yield data["job"], {**empty, "cover": True}
    for some in _shares(data["elevations"], ELEVATIONS):
        yield words["fronts_and_carcase"], {**empty, "elevations": some}
    if data["carcase"]:
        yield words["fronts_and_carcase"], {**empty, "carcase": data["carcase"]}
    for each in data["types"]:
        yield each["title"], {**empty, "types": [each]}
    for some in _shares(data["sheets"], SHEETS):
        yield some[0]["title"], {**empty, "sheets": some}
    if data["cards"]:
        yield data["cards"][0]["title"], {**empty, "cards": data["cards"]}
    if data["parts"] is not None:
        for rows in _shares(data["parts"]["rows"], ROWS):
            yield words["parts"], {**empty, "parts": {**data["parts"], "rows": rows}}
    for table in data["more"]:
        for rows in _shares(table["rows"], ROWS) if table is not None else ():
            yield table["title"], {**empty, "more": [{**table, "rows": rows}]}
    if data["work"]:
        yield words["order_of_work"], {**empty, "work": data["work"]}
    for some in _shares(data["after"], SHEETS):
        yield some[0]["title"], {**empty, "after": some}


def _shares(whole: Sequence[Any], most: int) -> Iterator[Sequence[Any]]:
    for first in range(0, len(whole), most):
        yield whole[first : first + most]

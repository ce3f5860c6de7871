"""Names in a row, in as few words as tell every one of them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

from drawerwright.basics.phrases import Phrase, joined

LEAST_RANGE = 3
"""So many names in a row are written as a range: two take no more room than its dash."""
_NUMBERED = re.compile(r"(?P<before>.*?)(?P<number>0|[1-9]\d*)")


def names_in_row(names: Sequence[str]) -> str:
    """Names of drawers, those that count up as a range.

    >>> names_in_row(["A1", "A2", "A3", "Tray 1", "Tray 2", "Tray 3", "chest"])
    'A1–A3, Tray 1–3, chest'
    """
    return ", ".join(_written(run) for run in _runs(names))


def places_in_row(places: Sequence[str]) -> str:
    """Places in a row: names as `names_in_row` writes them, and what is called alike but for a name with the names.

    >>> from drawerwright.basics.phrases import phrase
    >>> places_in_row([joined((name, phrase("front")), " ") for name in ("A1", "A2", "A3")])
    'A1–A3 front'
    """
    rows: dict[tuple[Any, ...], list[str]] = {}
    for place in dict.fromkeys(places):
        rows.setdefault(_called(place), []).append(place)
    written = [_row(called, own) for called, own in rows.items()]
    return written[0] if len(written) == 1 else joined(written, ", ")


def _called(place: str) -> tuple[Any, ...]:
    """What places have in common that differ in one name alone; the place itself where it has no name in it."""
    if not isinstance(place, Phrase):
        return ("name",)
    name = _name_in(place)
    if name is None:
        return ("itself", place)
    others = tuple((key, str(value)) for key, value in place.values.items() if key != name)
    return ("phrase", place.template, name, others)


def _name_in(place: Phrase) -> str | None:
    """Which value of a phrase is somebody's own word, where one alone is."""
    names = [
        key for key, value in place.values.items() if isinstance(value, str) and not isinstance(value, Phrase)
    ]
    return names[0] if len(names) == 1 else None


def _row(called: tuple[Any, ...], places: Sequence[str]) -> str:
    if len(places) == 1:
        return places[0]
    if called[0] == "name":
        return names_in_row(places)
    first, name = places[0], called[2]
    assert isinstance(first, Phrase)
    own = [place.values[name] for place in places if isinstance(place, Phrase)]
    return Phrase(first.template, {**first.values, name: names_in_row(own)})


def _runs(names: Sequence[str]) -> Iterator[list[str]]:
    run: list[str] = []
    for name in names:
        if run and name != _after(run[-1]):
            yield run
            run = []
        run.append(name)
    if run:
        yield run


def counted(name: str) -> tuple[str, int]:
    """By which names are put in order: A2 before A10."""
    match = _NUMBERED.fullmatch(name)
    return (name, 0) if match is None else (match["before"], int(match["number"]))


def _after(name: str) -> str | None:
    """The name that counts on from this one; None where it does not count."""
    match = _NUMBERED.fullmatch(name)
    return None if match is None else f"{match['before']}{int(match['number']) + 1}"


def _written(run: Sequence[str]) -> str:
    if len(run) < LEAST_RANGE:
        return ", ".join(run)
    last = run[-1]
    match = _NUMBERED.fullmatch(last)
    if match is not None and match["before"].endswith(" "):
        last = match["number"]
    return f"{run[0]}–{last}"

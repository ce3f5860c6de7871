"""Names in a row, in as few words as tell every one of them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

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

    >>> places_in_row([joined((name, "front"), " ") for name in ("A1", "A2", "A3")])
    'A1–A3 front'
    """
    different = tuple(dict.fromkeys(places))
    if len(different) == 1:
        return different[0]
    phrases = [place for place in different if isinstance(place, Phrase)]
    if not phrases:
        return names_in_row(different)
    first = phrases[0]
    is_one_template = len(phrases) == len(different) and all(
        (place.template, place.values.keys()) == (first.template, first.values.keys()) for place in phrases
    )
    if is_one_template:
        unlike = [name for name in first.values if len({str(place.values[name]) for place in phrases}) > 1]
        if len(unlike) == 1 and not any(isinstance(place.values[unlike[0]], Phrase) for place in phrases):
            names = names_in_row([str(place.values[unlike[0]]) for place in phrases])
            return Phrase(first.template, {**first.values, unlike[0]: names})
    return joined(different, ", ")


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

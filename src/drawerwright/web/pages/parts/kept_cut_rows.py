"""Test cuts that the shop keeps, as a reader reads them: corner, gauges, readings and what was seen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.job.file.entry_types import parse_given
from drawerwright.store.records import ShelfEntry
from drawerwright.web.fields import job_text
from drawerwright.web.fields.field import shown
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _


@dataclass(frozen=True, slots=True)
class KeptCut:
    """A test cut on the shelf in a reader's words.

    `pieces` are the stock of the flat and of the upright piece, where they are known, and how thick they were.
    """

    entry: ShelfEntry
    corner: str
    gauges: str
    pieces: str
    readings: str
    is_accepted: bool


def said_cut(entry: ShelfEntry, reader: Preferences, called: Mapping[str, str] | None = None) -> KeptCut:
    """A test cut as `reader` reads it; what is no reading that we know stays as it stands.

    `called` has the names of stocks by their ids; a stock that it does not have is called by its id.
    """
    from drawerwright.job.planning.corners import corner_called
    from drawerwright.job.test_cuts.kept_cuts import GAUGES

    data = job_text.data_of(entry.text)
    height, *fences = GAUGES
    shown = (data.get(height, data.get("block")), *(data.get(fence) for fence in fences))
    settings = data.get("settings")
    if isinstance(settings, Mapping):
        shown = tuple(settings.values())
    return KeptCut(
        entry,
        reader.say(corner_called(str(data.get("corner", "–")))),
        "; ".join(_length(value, reader) for value in shown),
        _pieces(data, reader, called or {}),
        "; ".join(_readings(data, reader)) or "–",
        bool(data.get("accepted")),
    )


def seen_words() -> dict[str, str]:
    """What the eye may see on a corner that is put together."""
    return {
        "play": _("it has play: a gap when pulled"),
        "tight": _("it is tight all round"),
        "proud": _("it stands proud: it does not go home"),
    }


def _pieces(data: Mapping[str, Any], reader: Preferences, called: Mapping[str, str]) -> str:
    from drawerwright.job.test_cuts.kept_cuts import key_of

    key = key_of(data)
    stocks = () if key is None else (key.flat, key.upright)
    names = [f"{called.get(stock, stock)} " for stock in stocks] or ["", ""]
    thicknesses = [_length(data.get(piece), reader) for piece in ("flat", "upright")]
    return "; ".join(name + thick for name, thick in zip(names, thicknesses, strict=True))


def _readings(data: Mapping[str, Any], reader: Preferences) -> list[str]:
    from drawerwright.job.test_cuts.kept_cuts import key_of, reading_words

    key = key_of(data)
    whats = reading_words("" if key is None else key.joint)
    readings = data.get("readings")
    if not isinstance(readings, Mapping):
        readings = {}
    said = [
        f"{reader.say(whats.get(name, name))} {_length(value, reader)}"
        for name, value in ((str(kind), value) for kind, value in readings.items())
    ]
    if (seen := data.get("seen")) is not None:
        said.append(seen_words().get(str(seen), str(seen)))
    return said


def _length(value: Any, reader: Preferences) -> str:
    try:
        given = parse_given(value)
    except InvalidValueError:
        return str(value or "–")
    if given.uncertainty is None:
        return reader.lengths.show(given.value, fine=True)
    both = shown({"value": given.value, "uncertainty": given.uncertainty}, "length", reader)
    return both if reader.typed_unit == "in" else f"{both} mm"

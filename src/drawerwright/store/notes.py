"""What a save did, kept so that every reader gets it in their own language.

A phrase is kept as its template beside its values, one JSON object; the words of somebody's own, such as the name
of an entry, have no values and come back as they were.
"""

from __future__ import annotations

import json
from typing import Any

from drawerwright.basics.phrases import Phrase, plain


def kept_note(note: str) -> tuple[str, str | None]:
    """The text of a note and its values as the data file keeps them; somebody's own words have no values.

    >>> kept_note(Phrase("copy of job {number}", {"number": 3}))
    ('copy of job {number}', '{"values": {"number": 3}}')
    >>> kept_note("banks[0].name")
    ('banks[0].name', None)

    Raises:
        TypeError: a value is neither text, number nor phrase.
    """
    if not isinstance(note, Phrase):
        return note, None
    kept = _kept(note)
    return kept.pop("template"), json.dumps(kept, ensure_ascii=False)


def read_note(text: str, values: str | None) -> str:
    """A note as `kept_note` kept it.

    >>> read_note("copy of job {number}", '{"values": {"number": 3}}')
    'copy of job 3'
    """
    return text if values is None else _read({"template": text, **json.loads(values)})


def _kept(value: Any) -> Any:
    if not isinstance(value, Phrase):
        return value
    kept = {
        "template": plain(value.template),
        "values": {name: _kept(part) for name, part in value.values.items()},
    }
    return kept if value.many is None else {**kept, "many": value.many, "count": value.how_many}


def _read(value: Any) -> Any:
    if not isinstance(value, dict):
        return value
    parts = {name: _read(part) for name, part in value["values"].items()}
    return Phrase(value["template"], parts, value.get("many"), value.get("count", 1))

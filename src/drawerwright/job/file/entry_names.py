"""Which entries a file may have at a place: for the answer to one that it may not have."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from difflib import get_close_matches
from functools import cache
from typing import Any

from pydantic import BaseModel

from drawerwright.basics.phrases import phrase

Schema = Mapping[str, Any]
NUMBER = re.compile(r"\d[\d ./]*(mm|cm|in|[\"'])?")
"""What a decimal comma leaves of a length inside braces, its unit included."""


def entry_names(model: type[BaseModel], location: Sequence[str | int]) -> tuple[str, ...]:
    """The names that may stand at `location` of a file, in the order of the model; empty where any name may."""
    return tuple(
        dict.fromkeys(name for place in _places(model, location) for name in place.get("properties", ()))
    )


def whole_limits(model: type[BaseModel], location: Sequence[str | int]) -> tuple[int | None, int | None]:
    """The least and the most that a whole number at `location` of a file may be, None where it has no such limit."""
    kept = [place for place in _places(model, location) if place.get("type") == "integer"]
    least = [place["minimum"] for place in kept if "minimum" in place]
    most = [place["maximum"] for place in kept if "maximum" in place]
    return min(least, default=None), max(most, default=None)


def _places(model: type[BaseModel], location: Sequence[str | int]) -> list[Schema]:
    """What may stand at `location` of a file."""
    schema = _schema(model)
    places = list(_meant(schema, schema))
    for step in location:
        places = [
            meant for place in places for inner in _below(place, step) for meant in _meant(schema, inner)
        ]
    return places


@cache
def _schema(model: type[BaseModel]) -> Schema:
    return model.model_json_schema()


def _meant(root: Schema, place: Schema) -> Iterator[Schema]:
    """What a place of a JSON schema stands for: references followed, alternatives one by one."""
    if "$ref" in place:
        yield from _meant(root, root["$defs"][place["$ref"].rpartition("/")[2]])
        return
    alternatives = [*place.get("anyOf", ()), *place.get("oneOf", ())]
    for alternative in alternatives:
        yield from _meant(root, alternative)
    if not alternatives or "properties" in place:
        yield place


def _below(place: Schema, step: str | int) -> Iterator[Schema]:
    """The schemas of what may stand at `step` inside a place."""
    inner = place.get("items") if isinstance(step, int) else place.get("properties", {}).get(step)
    inner = inner if inner is not None or isinstance(step, int) else place.get("additionalProperties")
    if isinstance(inner, Mapping):
        yield inner


def unknown_entry(name: str, allowed: Sequence[str]) -> str:
    """The message for an entry in the wrong place.

    Args:
        name: the entry.
        allowed: the names that may stand there.
    """
    if NUMBER.fullmatch(name):
        return phrase(
            "does not belong here: inside braces a comma ends the value, so use a decimal "
            "point or put the value in quotes"
        )
    if name in allowed:  # in another form of the entry
        return phrase("does not go with the other entries beside it: leave it out")
    if near := get_close_matches(name, allowed, n=1):
        return phrase("does not belong here: did you mean {near}?", near=near[0])
    return phrase("does not belong here; allowed are {names}", names=", ".join(allowed))

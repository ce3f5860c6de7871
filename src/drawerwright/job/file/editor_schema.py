"""The JSON Schema of a file for editors, made from the model that reads it.

Each entry says what its row in the docs says: meaning, unit, limits, what is taken where it is left out. What two
entries allow each other, and what a name must be the name of, only reading tells.
"""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Iterator
from typing import Any, Final

from pydantic import BaseModel

from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.described import DescribedEntry, described, figure_words
from drawerwright.job.file.likes import OWN, TAKEN_WHOLE
from drawerwright.job.file.model import JobFile
from drawerwright.job.file.trial_model import TrialFile

FILES: Final[dict[str, type[BaseModel]]] = {"job": JobFile, "trial": TrialFile}
"""The files that have a schema, by their kind."""
DIALECT = "https://json-schema.org/draft/2020-12/schema"
UNFINISHED = "Unfinished"
"""Begins the names of sections that may leave out what another bank says."""
WRITTEN = "Written"
"""Begins the names of what several entries share: how a figure is written."""


def editor_schema(kind: str) -> dict[str, Any]:
    """The schema of a kind of file, one of `FILES`."""
    model = FILES[kind]
    schema = model.model_json_schema()
    sections = schema.pop("$defs", {})
    _tell(schema, model)
    for below in {section for entry in described(model) for section in entry.sections}:
        _tell(sections[below.__name__], below)
    whole: dict[str, Any] = {"$schema": DIALECT, "title": f"Drawerwright {kind} file", **_tidy(schema)}
    patterns: dict[str, str] = {}
    if model is JobFile:
        _allow_likes(whole, sections)
    whole["$defs"] = {name: _tidy(section) for name, section in sorted(sections.items())}
    whole = {key: _with_shared(each, patterns) for key, each in whole.items()}
    for pattern, name in patterns.items():
        whole["$defs"][name] = {"pattern": pattern, "patternErrorMessage": _example(pattern)}
    return whole


def schema_text(kind: str) -> str:
    """The schema as a file, the same for the same version of the program."""
    return json.dumps(editor_schema(kind), indent=1, ensure_ascii=False) + "\n"


def _tell(section: dict[str, Any], model: type[BaseModel]) -> None:
    """Say of each entry of a section what the docs say, and what editors may fill in."""
    for entry in described(model):
        if len(entry.path) > 1:
            continue
        told = {"description": " ".join(_words(entry)), **section["properties"][entry.name]}
        section["properties"][entry.name] = told
        usual = entry.usual.value if isinstance(entry.usual, Estimate) else entry.usual
        told.pop("default", None)
        if isinstance(usual, bool | int | float | str):
            told["default"] = usual
        elif isinstance(usual, tuple):
            told["default"] = list(usual)


def _allow_likes(whole: dict[str, Any], sections: dict[str, Any]) -> None:
    """A bank that is like another one, and each section of it, may leave out what that one says."""

    def unfinished(name: str) -> str:
        made = copy.deepcopy(sections[name])
        for entry, told in made["properties"].items():
            below = None if entry in TAKEN_WHOLE else _section_of(told)
            if below is not None and "properties" in sections[inner := below["$ref"].rpartition("/")[2]]:
                below["$ref"] = unfinished(inner)
        made["required"] = [entry for entry in made.get("required", ()) if entry in OWN]
        sections[f"{UNFINISHED}{name}"] = made
        return f"#/$defs/{UNFINISHED}{name}"

    bank = whole["properties"]["banks"]["items"]["$ref"]
    whole["properties"]["banks"]["items"] = {
        "if": {"required": ["like"], "properties": {"like": {"type": "string"}}},
        "then": {"$ref": unfinished(bank.rpartition("/")[2])},
        "else": {"$ref": bank},
    }


def _section_of(told: dict[str, Any]) -> dict[str, Any] | None:
    """Where an entry names the section that it holds, None where it holds none."""
    places = [told, *told.get("anyOf", ()), *told.get("oneOf", ())]
    return next((place for place in places if "$ref" in place), None)


def _words(entry: DescribedEntry) -> Iterator[str]:
    yield entry.meaning
    unit = f" ({entry.unit})" if entry.unit else ""
    yield f"{entry.kind[:1].upper()}{entry.kind[1:]}{unit}{f', {entry.limits}' if entry.limits else ''}."
    if entry.is_required:
        yield "Required."
    elif entry.usual is not None:
        yield f"Left out: {figure_words(entry.usual)}."


def _tidy(node: Any, *, is_names: bool = False) -> Any:
    """Without what only repeats an entry's name or names this program's insides."""
    if isinstance(node, list):
        return [_tidy(each) for each in node]
    if not isinstance(node, dict):
        return node
    kept = node if is_names else {key: each for key, each in node.items() if key not in ("title", "x-usual")}
    return {key: _tidy(each, is_names=key in ("properties", "$defs")) for key, each in kept.items()}


def _with_shared(node: Any, patterns: dict[str, str]) -> Any:
    """With each pattern once: where it stood is its name, kept in `patterns`."""
    if isinstance(node, list):
        return [_with_shared(each, patterns) for each in node]
    if not isinstance(node, dict):
        return node
    found = {key: _with_shared(each, patterns) for key, each in node.items()}
    if isinstance(pattern := found.get("pattern"), str):
        del found["pattern"]
        name = patterns.setdefault(pattern, f"{WRITTEN}{len(patterns) + 1}")
        found["allOf"] = [{"$ref": f"#/$defs/{name}"}]
    return found


def _example(pattern: str) -> str:
    """What an editor says where a figure is not written as it must be."""
    examples = ("14.65", "3/4 in", '1 1/8"', "2'", "5.65 ± 0.05", "-1.5", "12 kg", "100 lb", "45°")
    return f"write it like {'; '.join(each for each in examples if re.fullmatch(pattern, each))}"

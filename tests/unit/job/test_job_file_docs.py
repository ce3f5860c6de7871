"""The description of the job file names every entry, and the example uses none that is not described."""

from __future__ import annotations

import typing
from pathlib import Path

import pytest
from pydantic import BaseModel

from drawerwright.job.file import model

DOCS = (Path(__file__).parents[3] / "docs" / "job-file.md").read_text("utf-8")


def models_below(entry: type[BaseModel], seen: set[type[BaseModel]]) -> set[type[BaseModel]]:
    if entry in seen:
        return seen
    seen.add(entry)
    for field in entry.model_fields.values():
        for kind in unpacked(field.annotation):
            if isinstance(kind, type) and issubclass(kind, BaseModel):
                models_below(kind, seen)
    return seen


def unpacked(annotation: object) -> list[object]:
    inner = [kind for arg in typing.get_args(annotation) for kind in unpacked(arg)]
    return [annotation, *inner]


ENTRIES = sorted(
    {(entry.__name__, name) for entry in models_below(model.JobFile, set()) for name in entry.model_fields}
)


@pytest.mark.parametrize(("entry", "name"), ENTRIES)
def test_every_entry_is_described(entry: str, name: str) -> None:
    assert f"`{name}`" in DOCS or f"`{name}:" in DOCS or f"{name}:" in DOCS or f".{name}`" in DOCS, (
        f"{entry}.{name}"
    )


def test_the_schema_for_editors_names_every_section() -> None:
    schema = model.JobFile.model_json_schema()
    assert set(schema["properties"]) == set(model.JobFile.model_fields)
    assert set(schema["required"]) == {"format", "job", "stock"}
    assert schema["oneOf"] == [{"required": ["cutter"]}, {"required": ["cutters"]}]

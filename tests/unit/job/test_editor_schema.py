"""The schema for editors takes what reading takes and refuses what it refuses, entry by entry.

jsonschema (an independent reader of JSON Schema) says what the schema means; pydantic is what reading asks.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from pydantic import BaseModel, ValidationError
from ruamel.yaml import YAML

from drawerwright.basics.errors import FaultyInputError
from drawerwright.cli import main
from drawerwright.job.file.building import read_job
from drawerwright.job.file.described import described
from drawerwright.job.file.editor_schema import FILES, editor_schema

EXAMPLES = Path(__file__).parents[3] / "examples"
TYPED = (
    None, -1, 0, 1e6, 3.5, "wide", "-3 mm", "0 mm", "3/4 in", "1 ± 0.1", '4"', [], [1], {"a": 1}, {"value": 3}, "",
    "12 kg",
)  # fmt: skip
ONLY_READING_TELLS = ("StockEntry.species",)
"""A species has many names, in any case."""


@cache
def validator(kind: str) -> Draft202012Validator:
    schema = editor_schema(kind)
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def reads(model: type[BaseModel], name: str, value: Any) -> bool:
    try:
        model.model_validate({name: value})
    except ValidationError as error:
        return not any(item["loc"][:1] == (name,) for item in error.errors(include_url=False))
    return True


@pytest.mark.parametrize("kind", FILES)
def test_each_entry_takes_what_reading_takes_and_refuses_what_it_refuses(kind: str) -> None:
    whole = validator(kind)
    sections = {section for entry in described(FILES[kind]) for section in entry.sections}
    differ = [
        (model.__name__, name, value)
        for model in (FILES[kind], *sections)
        for name, entry in entries_of(model, whole)
        for value in TYPED
        # pydantic takes 0 and 1 for yes and no; an editor says that they are neither.
        if entry.is_valid(value) != reads(model, name, value) and not (value == 0 and is_flag(entry))
    ]
    assert not differ


def entries_of(
    model: type[BaseModel], whole: Draft202012Validator
) -> Iterator[tuple[str, Draft202012Validator]]:
    """The entries of a section, each with what the schema says of it."""
    told = whole.schema["$defs"].get(model.__name__, whole.schema)
    for name in model.model_fields:
        if f"{model.__name__}.{name}" not in ONLY_READING_TELLS:
            yield name, whole.evolve(schema=told["properties"][name])


def is_flag(entry: Draft202012Validator) -> bool:
    return entry.is_valid(True) and not entry.is_valid(2)


def job(name: str) -> dict[str, Any]:
    found: dict[str, Any] = YAML(typ="safe").load((EXAMPLES / f"{name}.yaml").read_text("utf-8"))
    return found


@pytest.mark.parametrize("name", ["music-school", "repair-bench", "trays-and-chest"])
def test_the_examples_are_taken(name: str) -> None:
    assert not list(validator("job").iter_errors(job(name)))


def test_the_example_of_test_cuts_is_taken() -> None:
    assert not list(validator("trial").iter_errors(job("test-cut")))


def read(entries: Mapping[str, Any]) -> bool:
    try:
        read_job(json.dumps(entries))  # JSON is YAML
    except FaultyInputError:
        return False
    return True


FRONTS = {"style": "inset", "heights": {"equal": 2}}
BANK = {
    "name": "Low",
    "opening": {"width": 400, "height": 300, "depth": 400},
    "fronts": FRONTS,
    "box": {"all": "ply"},
}
SMALL = {
    "format": 1,
    "job": "Small",
    "cutter": {"mid_depth": 5.65, "step": 3.45},
    "stock": {"ply": {"nominal": 15, "sheets": [{"length": 2500, "width": 1250}]}},
    "banks": [BANK],
}
HIGH = {"name": "High", "like": "Low"}


@pytest.mark.parametrize(
    ("entries", "is_job"),
    [
        (SMALL, True),
        ({**SMALL, "format": 2}, False),
        ({**SMALL, "format": "1"}, False),
        ({**SMALL, "banks": []}, False),
        ({**SMALL, "shelves": []}, False),
        ({**SMALL, "banks": [{**BANK, "opening": {"of": "Wall", "width": 3}}]}, False),
        ({**SMALL, "banks": [{**BANK, "fronts": {"style": "inset"}}]}, False),
        ({**SMALL, "banks": [{**BANK, "fronts": {"style": "inset", "heights": {}}}]}, False),
        (
            {**SMALL, "banks": [{**BANK, "fronts": FRONTS | {"heights": {"equal": 2, "given": ["rest"]}}}]},
            False,
        ),
        ({**SMALL, "banks": [{**BANK, "fronts": FRONTS | {"heights": {"equal": 2, "given": None}}}]}, True),
        ({**SMALL, "banks": [BANK, HIGH]}, True),
        ({**SMALL, "banks": [BANK, HIGH | {"fronts": {"reveal": 2}}]}, True),
        ({**SMALL, "banks": [BANK, HIGH | {"fronts": {"heights": {}}}]}, False),
        ({**SMALL, "banks": [BANK, HIGH | {"fronts": {"gap": 2}}]}, False),
        ({**SMALL, "banks": [BANK, {"name": "High"}]}, False),
    ],
)
def test_a_whole_job_is_a_job_for_both(entries: dict[str, Any], is_job: bool) -> None:
    assert read(entries) is is_job
    assert validator("job").is_valid(entries) is is_job


def test_an_entry_says_meaning_unit_limit_and_default() -> None:
    saw = editor_schema("job")["$defs"]["SawEntry"]["properties"]["kerf"]
    assert saw["description"] == (
        "Width of the saw cut, lost between any two neighbours. Length (mm), 0 or more. Left out: 3."
    )
    assert saw["default"] == 3.0
    slope = editor_schema("job")["$defs"]["CutterEntry"]["properties"]["slope"]
    assert "Left out: 45 ± 5." in slope["description"]


@pytest.mark.parametrize("kind", FILES)
def test_the_command_prints_it(kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema", "--of", kind]) == 0
    printed = capsys.readouterr().out
    assert json.loads(printed) == editor_schema(kind)
    assert len(printed) < 200_000, "an editor reads it at every key"

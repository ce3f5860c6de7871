"""The docs, the schema for editors and the pages say of every entry what the model says."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest
from jsonschema import Draft202012Validator
from pydantic import BaseModel
from ruamel.yaml import YAML

from drawerwright.basics import usual
from drawerwright.job.file.described import EACH, described, usual_of
from drawerwright.job.file.editor_schema import editor_schema
from drawerwright.job.file.model import JobFile
from drawerwright.job.file.trial_model import TrialFile

DOCS = Path(__file__).parents[3] / "docs"
FILES: dict[str, type[BaseModel]] = {"job-file.md": JobFile, "test-cuts.md": TrialFile}
ENTRIES = [(page, entry) for page, model in FILES.items() for entry in described(model)]


@pytest.fixture(scope="module")
def writer() -> ModuleType:
    spec = importlib.util.spec_from_file_location("write_tables", DOCS / "write_tables.py")
    assert spec is not None
    assert spec.loader is not None
    made = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(made)
    return made


@pytest.mark.parametrize("page", [*FILES, "wood.md"])
def test_the_tables_are_those_of_the_model(writer: ModuleType, page: str) -> None:
    text = (DOCS / page).read_text("utf-8")
    assert writer.with_tables(text) == text, "make tables writes them anew"


@pytest.mark.parametrize("page", FILES)
def test_a_table_that_says_something_else_is_seen(writer: ModuleType, page: str) -> None:
    text = (DOCS / page).read_text("utf-8")
    wrong = text.replace("| more than 0 |", "| more than 1 |")
    assert wrong != text
    assert writer.with_tables(wrong) == text


@pytest.mark.parametrize(
    ("page", "name"),
    sorted({(page, tuple(s for s in entry.path if s != EACH)[-1]) for page, entry in ENTRIES}),
)
def test_every_entry_stands_in_a_table(page: str, name: str) -> None:
    rows = "".join((DOCS / other).read_text("utf-8") for other in {page, "job-file.md"})
    assert f"| `{name}` |" in rows or f".{name}` |" in rows


def test_every_entry_has_a_meaning() -> None:
    assert not [".".join(entry.path) for _, entry in ENTRIES if not entry.meaning.endswith(".")]


def test_every_figure_has_a_unit_or_none_by_nature() -> None:
    without = {
        entry.path[-1]
        for _, entry in ENTRIES
        if ("number" in entry.kind or "length" in entry.kind) and "whole" not in entry.kind and not entry.unit
    }
    # Of no unit: a price in any currency, a ratio, correlations; `grain` runs along the `length`.
    assert without == {"price", "ratio", "height_correlation", "fence_correlation", "grain", "span_over"}


def test_what_is_taken_for_a_missing_entry() -> None:
    assert usual_of(JobFile, "machine", "saw", "kerf") == 3.0
    assert usual_of(JobFile, "banks", "bottom", "groove_depth") == 6.0
    assert usual_of(JobFile, "machine", "router_table", "repeatability") == usual.REPEATABILITY
    assert usual_of(JobFile, "stock", "nominal") is None


def test_the_schema_for_editors_names_every_section() -> None:
    schema = JobFile.model_json_schema()
    assert set(schema["properties"]) == set(JobFile.model_fields)
    assert set(schema["required"]) == {"format", "job", "stock"}
    assert schema["not"] == {"required": ["cutter", "cutters"]}


@pytest.mark.parametrize(
    ("file", "model"), [("music-school.yaml", JobFile), ("test-cut.yaml", TrialFile)], ids=["job", "trial"]
)
def test_the_schema_takes_the_examples_and_no_entry_beyond_its_limit(
    file: str, model: type[BaseModel]
) -> None:
    schema = model.model_json_schema()
    Draft202012Validator.check_schema(schema)
    entries = YAML(typ="safe").load((DOCS.parent / "examples" / file).read_text("utf-8"))
    assert not list(Draft202012Validator(schema).iter_errors(entries))
    wrong = {**entries, "machine": {"saw": {"kerf": -1}}}
    (error,) = Draft202012Validator(schema["$defs"]["MachineEntry"] | {"$defs": schema["$defs"]}).iter_errors(
        wrong["machine"]
    )
    assert list(error.absolute_path) == ["saw", "kerf"]


def test_the_schema_tells_meaning_unit_limit_and_default() -> None:
    told = editor_schema("job")["$defs"]["SawEntry"]["properties"]["kerf"]
    assert told["description"].startswith(
        "Width of the saw cut, lost between any two neighbours. Length (mm)"
    )
    saw = JobFile.model_json_schema()["$defs"]["SawEntry"]["properties"]
    assert (saw["kerf"]["x-unit"], saw["kerf"]["minimum"], saw["kerf"]["default"]) == ("mm", 0, 3.0)
    stock = JobFile.model_json_schema()["$defs"]["StockEntry"]["properties"]
    assert stock["nominal"]["exclusiveMinimum"] == 0
    assert stock["scatter"]["x-usual"] == str(usual.SCATTER)

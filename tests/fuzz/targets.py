"""The doors of the core: lengths, job files, trial files, cutters' profiles, cutting instances, edits of a job file."""

from __future__ import annotations

import contextlib
import json
import math
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any

from ruamel.yaml import YAML

from drawerwright.basics.errors import DrawerwrightError
from drawerwright.basics.loads import parse_load
from drawerwright.basics.typed_lengths import parse_length
from drawerwright.job.file.building import job_of, read_job
from drawerwright.job.file.editing import get_value, set_value
from drawerwright.job.file.entry_types import parse_given
from drawerwright.job.file.profiles import parse_profile
from drawerwright.job.file.reading import Document
from drawerwright.job.file.yaml_text import plain_tree
from drawerwright.job.job import Job
from drawerwright.job.planning.draft import draft_job
from drawerwright.job.planning.job_findings import draft_findings
from drawerwright.job.test_cuts.trial_reading import read_trial
from drawerwright.sheets.published.instance import solve_instance
from fuzz.mutations import Maker, any_of, any_signs, at, places, signs, spoiled_text, spoiled_tree
from fuzz.odd_values import ODD_VALUES
from random_jobs import random_entries, text_of

ROOT = Path(__file__).parents[2]
EXAMPLES = [
    (ROOT / "examples" / name).read_text("utf-8")
    for name in ("music-school.yaml", "repair-bench.yaml", "trays-and-chest.yaml")
]
TRIAL = (ROOT / "examples" / "test-cut.yaml").read_text("utf-8")
PROFILE = (ROOT / "examples" / "measured-cutter.csv").read_text("utf-8")
LENGTHS = (
    *(
        "14.65",
        "14,65 mm",
        "3/4 in",
        '1 1/8"',
        "2'",
        "2' 3 1/2\"",
        "1⅛ in",
        "0.25 ± 0.05",
        "6.4 ± 1/64 in",
        "1.2 cm",
    ),
    *("12 kg", "25 lb", "-0.1", "1e3", "5'-6\""),
)
INSTANCES: list[Any] = [
    {
        "name": "two stages",
        "sheet": {"length": 100, "width": 50},
        "kerf": 1,
        "stages": 2,
        "cut_type": "non-exact",
        "first_cut": "any",
        "rotation": True,
        "items": [{"length": 20, "width": 10, "demand": 5}, {"length": 33, "width": 21, "demand": 2}],
    },
    {
        "name": "priced",
        "sheets": [
            {"length": 100, "width": 50, "cost": 3, "count": 9},
            {"length": 70, "width": 40, "cost": 2},
        ],
        "objective": "min_cost",
        "stages": 3,
        "items": [{"length": 20, "width": 10, "demand": 2}],
    },
    {"name": "bars", "sheet": {"length": 100}, "stages": 1, "items": [{"length": 20, "demand": 5}]},
]


@dataclass(frozen=True, slots=True)
class Target:
    """A door, the texts that are tried there, and what must hold.

    Attributes:
        name: of the door, and of its folder in `tests/corpus`.
        what: a text is, for the table of counts.
        make: draws a text.
        check: raises where something does not hold.
    """

    name: str
    what: str
    make: Maker
    check: Callable[[str], object]


def plain(text: str) -> Any:
    """The entries of a YAML text, without anything that only its writing has."""
    return YAML(typ="safe", pure=True).load(text)


def check_length(text: str) -> None:
    """Lengths, loads and estimates are finite, or refused with words."""
    for parse in (parse_length, parse_load, lambda given: parse_length(given, default_unit="in")):
        with contextlib.suppress(DrawerwrightError, ValueError):
            assert math.isfinite(parse(text))
    with contextlib.suppress(DrawerwrightError, ValueError):
        given = parse_given(text)
        assert math.isfinite(given.value)


def refused_or_done(work: Callable[[str], object]) -> Callable[[str], None]:
    """Whether `work` comes to its end, or says in words why not."""

    def check(text: str) -> None:
        said = "done"
        try:
            work(text)
        except DrawerwrightError as refused:
            said = str(refused)
        assert said

    return check


def draft(text: str) -> None:
    """Read and draft a job; what is found has words."""
    told(read_job(text))


def draft_entries(text: str) -> None:
    """The same of entries that nobody wrote as YAML, which takes most of the time of a file."""
    told(job_of(Document.of(plain_tree(json.loads(text)))))


def told(job: Job) -> None:
    """Draft a job; whatever is found has words."""
    findings = draft_findings(draft_job(job))
    assert all(str(finding.text) for finding in findings)


def solve(text: str) -> None:
    """Solve an instance of the literature's form."""
    solve_instance(json.loads(text), time_limit=0.5)


def edit(text: str) -> None:
    """What is set in a job file stands in it, and every other entry says what it said.

    Args:
        text: JSON: the job file's text, the way to the entry, and what it is to say.
    """
    before, way, value = json.loads(text)
    after = set_value(before, tuple(way), value)
    assert get_value(after, tuple(way)) == value
    wanted = plain(before)
    at(wanted, way[:-1])[way[-1]] = value
    assert plain(after) == wanted


JOB_TREES = [*map(plain, EXAMPLES), *(random_entries(seed) for seed in range(30))]
JOB_TEXTS = [*EXAMPLES, *map(text_of, JOB_TREES[3:9])]


def edits(random: Random) -> str:
    """An entry of an example job, and what it is to say."""
    number = random.randrange(len(EXAMPLES))
    way = random.choice(EXAMPLE_WAYS[number])
    return json.dumps([EXAMPLES[number], way, random.choice(PLAIN_VALUES)])


def is_json(value: Any) -> bool:
    """Whether JSON gives a value back as it was."""
    return bool(json.loads(json.dumps(value)) == value)


EXAMPLE_WAYS = [list(places(tree)) for tree in JOB_TREES[:3]]
PLAIN_VALUES = [value for value in ODD_VALUES if value is not None and value == value and is_json(value)]

TARGETS = {
    target.name: target
    for target in (
        Target(
            "lengths",
            "lengths, loads and estimates",
            any_of(
                spoiled_text(LENGTHS), any_signs(12), signs("0123456789 .,/'\"½⅛±-+eE×inmckglbft", most=30)
            ),
            check_length,
        ),
        Target(
            "jobs",
            "job files",
            any_of(spoiled_tree(JOB_TREES, text_of), spoiled_text(JOB_TEXTS)),
            refused_or_done(draft),
        ),
        Target(
            "entries",
            "job files given as entries",
            spoiled_tree(JOB_TREES, json.dumps),
            refused_or_done(draft_entries),
        ),
        Target(
            "trials",
            "trial files",
            any_of(spoiled_tree([plain(TRIAL)], text_of), spoiled_text([TRIAL])),
            refused_or_done(lambda text: read_trial(text, "trial.yaml", ROOT / "examples")),
        ),
        Target(
            "profiles",
            "tables of a cutter",
            spoiled_text([PROFILE, "depth;inset\n0;1,5\n3,2;2\n"]),
            refused_or_done(parse_profile),
        ),
        Target(
            "instances",
            "cutting instances",
            spoiled_tree(INSTANCES, json.dumps),
            refused_or_done(solve),
        ),
        Target("edits", "edits of a job file", edits, refused_or_done(edit)),
    )
}

"""Write the tables of entries into the docs from the models that read the files (`make tables`).

A table stands between `<!-- entries: ... -->` and `<!-- end -->`, and this script writes what is between. After the
colon come the file (`job` or `trial`), the section, and the sections below it that its table leaves out: `job boxes
without bottom`; `alone` leaves out what is in any. `usual` and `runners` ask for what a missing uncertainty or
clearance is taken for, `wood species` and `wood climates` for the figures of wood; `commands` for all that the command
line takes, `rooms` for the map of the program as CONTRIBUTING.md has it, `run NAME` for a run of a benchmark as it was
kept, `tried` for how much runs with random input tried, `scans` for how well pictures were read, and `remedies` for
what each finding tells to change.
"""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from drawerwright.basics import usual
from drawerwright.basics.loads import LOAD_UNITS
from drawerwright.cli import build_parser
from drawerwright.cli.command_arguments import CommandArgument, ToldCommand, Value, told_commands
from drawerwright.drawers.runners import STANDARD_RUNNERS, STANDING
from drawerwright.job.file.described import EACH, NOTHING, DescribedEntry, described, figure_words
from drawerwright.job.file.model import JobFile
from drawerwright.job.file.trial_model import TrialFile
from drawerwright.wood.moisture import CLIMATES, air_words
from drawerwright.wood.movement import Sawn, species_swelling
from drawerwright.wood.species import Species, every_species

sys.path.insert(0, str(Path(__file__).parent))

from finding_remedies import remedies

HERE = Path(__file__).parent
FINDINGS, REMEDIES = HERE / "findings.md", "<!-- entries: remedies -->"
RUNS = HERE.parent / "benchmarks" / "data" / "runs"
PAGES = (
    "job-file.md",
    "test-cuts.md",
    "wood.md",
    "options.md",
    "architecture.md",
    "benchmarks.md",
    "findings.md",
    "reliability.md",
    "scanning.md",
)
FILES = {"job": JobFile, "trial": TrialFile}
TABLE = re.compile(r"(<!-- entries: ([^>]*?) -->\n)(.*?)(<!-- end -->)", re.DOTALL)
NEEDED = "required"


USUAL = (
    ("`mid_depth`, `step`", f"± {usual.CUTTER_MEASURE:g} mm"),
    ("`slope`", f"± {usual.SLOPE:g}°; {figure_words(usual.UNKNOWN_SLOPE)}° by default"),
    (
        "`height_gauge_offset`, `fence_gauge_offset`",
        f"± {usual.GAUGE:g} mm; {figure_words(usual.UNKNOWN_GAUGE)} mm by default",
    ),
    ("`repeatability`", f"{usual.REPEATABILITY:g} mm"),
    ("`calipers` (their zero)", f"{usual.CALIPERS_ZERO:g} mm"),
    ("`mean` of a stock", f"± {usual.CALIPER_READING:g} mm"),
    ("`scatter`, where no sheet was measured at two places", f"{usual.SCATTER:g} mm"),
    (
        "a stock that is neither measured nor published",
        f"± {usual.NOMINAL:g} mm about its nominal thickness",
    ),
    ("`profile_uncertainty`", f"{usual.PROFILE_INSET:g} mm"),
)


def with_tables(text: str) -> str:
    """A page with every table as the models have it."""
    return TABLE.sub(lambda found: f"{found[1]}\n{table(found[2])}\n\n{found[4]}", text)


def table(asked: str) -> str:
    """The table that a marker asks for."""
    if asked == "usual":
        return _table(("what", "usual"), USUAL)
    if asked == "runners":
        kinds = tuple(STANDARD_RUNNERS)
        measures = STANDING
        rows = [
            (f"`{name}`", *(figure_words(getattr(STANDARD_RUNNERS[kind], name)) for kind in kinds))
            for name in measures
        ]
        return _table(("mm", *(f"`{kind}`" for kind in kinds)), rows)
    if asked == "wood climates":
        return _table(("name", "dry end", "damp end", "moisture of wood"), list(_climates()))
    if asked == "wood species":
        heads = ("species", "also", "radial", "tangential", "source of the coefficients")
        return _table(heads, [_species(each) for each in every_species()])
    if asked == "commands":
        return "\n\n".join(map(_command, told_commands(build_parser)))
    if asked == "remedies":
        told = {code: " *Or:* ".join(texts) for code, texts in remedies().items()}
        order = re.findall(
            r"^\| `([a-z-]+)` \|", FINDINGS.read_text("utf-8").split(REMEDIES)[0], re.MULTILINE
        )
        return _table(("code", "what to change"), [(f"`{code}`", told[code]) for code in order])
    if asked == "tried":
        return _tried()
    if asked == "scans":
        return _scans()
    if asked.startswith("run "):
        return f"```console\n{(RUNS / f'{asked.split()[1]}.txt').read_text('utf-8').rstrip()}\n```"
    if asked == "rooms":
        return _rooms((HERE.parent / "CONTRIBUTING.md").read_text("utf-8"))
    section, _, left_out = asked.partition(" without ")
    file, *place = section.split()
    is_alone = place[-1:] == ["alone"]
    entries = _below(described(FILES[file]), tuple(place[: len(place) - is_alone]))
    rows = [
        _row(name, entry)
        for name, entry in entries
        if "." not in name or not (is_alone or name.split(".")[0] in left_out.split())
    ]
    return _table(("entry", "value", "limits", "default", "meaning"), rows)


def _tried() -> str:
    """What runs with random input tried, as they kept it themselves."""
    rows = json.loads((RUNS.parent / "tried.json").read_text("utf-8"))
    return _table(
        ("run", "tried", "how many", "finds", "on"),
        [
            (f"`{row['command']}`", row["tried"], f"{row['count']:,}", str(row["finds"]), row["day"])
            for row in rows
        ],
    )


SCANNED = {
    "mid_depth": "mid depth",
    "step": "step",
    "bit_height": "bit height",
    "fence": "fence setting",
    "slope": "slope",
}


def _scans() -> str:
    """How well scans and photos of known truth were read, as `benchmarks/scan.py --for-docs` kept it."""
    kinds = {
        name: json.loads((RUNS / f"{file}.json").read_text("utf-8"))
        for name, file in (("scans", "scan"), ("photos", "scan_photos"))
    }
    counts = [
        (
            f"`{run['command']}`",
            str(run["pictures"]),
            str(run["refused"]),
            str(run["read"] - run["sure"]),
            str(len(run["wrong"]) or "none"),
            f"{run['holds']:.1%}".replace("%", " %"),
        )
        for run in kinds.values()
    ]
    rows = []
    for measure, words in SCANNED.items():
        row = [words]
        for run in kinds.values():
            of, digits, unit = run["measures"][measure], *((2, "°") if measure == "slope" else (3, " mm"))
            told = (f"{of[key]:.{digits}f}{unit}" for key in ("p95", "sure_p95"))
            row += [f"{of['goal']:g}{unit}", f"{of['within']:.1%}".replace("%", " %"), *told]
            row += [f"{of['holds']:.1%}".replace("%", " %")]
        rows.append(row)
    heads = ("goal", "within it", "95 % within", "without a doubt", "interval holds")
    return "\n\n".join(
        (
            _table(
                ("run", "pictures", "refused", "read with a doubt", "wrong without one", "intervals hold"),
                counts,
            ),
            *(
                _table((name, *heads), [[row[0], *row[1 + 5 * i : 6 + 5 * i]] for row in rows])
                for i, name in enumerate(kinds)
            ),
        )
    )


def _command(command: ToldCommand) -> str:
    """A command with what it takes and an example."""
    summary = " ".join(command.summary.split())
    rows = [_argument(each) for each in command.arguments]
    table = f"\n\n{_table(('', 'takes', 'meaning'), rows)}" if rows else ""
    return f"## {command.name}\n\n{summary[0].upper()}{summary[1:]}.{table}\n\n```console\n$ {command.example}\n```"


def _argument(argument: CommandArgument) -> tuple[str, ...]:
    name = ", ".join(f"`{each}`" for each in argument.names) or f"`{argument.value_name}`"
    takes = NOTHING if argument.value is Value.NONE else f"`{argument.value_name}`"
    if argument.words:
        takes = ", ".join(f"`{word}`" for word in argument.words)
    needed = " Required." if argument.is_required and argument.names else ""
    meaning = argument.meaning.replace("|", "\\|")
    return name, takes, f"{meaning[:1].upper()}{meaning[1:]}.{needed}"


def _rooms(text: str) -> str:
    """The map, without its links: they are from another folder."""
    (found,) = re.findall(r"^\| folder .+?(?=\n\n)", text, re.MULTILINE | re.DOTALL)
    return re.sub(r"\(\[how\]\(docs/([^)]+)\)\)", r"([how](\1))", found)


def _climates() -> Iterator[tuple[str, ...]]:
    for climate in CLIMATES.values():
        low, high = climate.range
        yield (
            f"`{climate.name}`",
            air_words(climate.dry),
            air_words(climate.damp),
            f"{low:.1f} to {high:.1f} %",
        )


def _species(species: Species) -> tuple[str, ...]:
    """A species with its two coefficients, or with dashes where nothing says how it moves."""
    also = ", ".join(species.aliases) or NOTHING
    if not (species.row("movement") or species.row("shrinkage")):
        return species.name, also, NOTHING, NOTHING, NOTHING
    radial, tangential = (species_swelling(species, cut) for cut in (Sawn.RADIAL, Sawn.TANGENTIAL))
    derived = "" if species.row("movement") else ", from S"
    figures = (f"{each.coefficient:.5f}" for each in (radial, tangential))
    return species.name, also, *figures, f"{radial.source}{derived}"


def _below(entries: Sequence[DescribedEntry], place: tuple[str, ...]) -> Iterator[tuple[str, DescribedEntry]]:
    """Entries below a place, with their names as seen from there."""
    for entry in entries:
        path = tuple(step for step in entry.path if step != EACH)
        if len(path) > len(place) and path[: len(place)] == place:
            yield ".".join(path[len(place) :]), entry


def _row(name: str, entry: DescribedEntry) -> tuple[str, ...]:
    unit = f" ({entry.unit})" if entry.unit else ""
    if entry.unit == LOAD_UNITS["mm"]:
        unit = f" ({entry.unit}; with `units: in` {LOAD_UNITS['in']})"
    left_out = NEEDED if entry.is_required else figure_words(entry.usual)
    return f"`{name}`", f"{entry.kind}{unit}", entry.limits or NOTHING, left_out, entry.meaning


def _table(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    lines = [heads, ["---"] * len(heads), *rows]
    return "\n".join(f"| {' | '.join(cells)} |" for cells in lines)


if __name__ == "__main__":
    for page in PAGES:
        path = HERE / page
        path.write_text(with_tables(path.read_text("utf-8")), "utf-8")

"""A kept test cut in the form it was typed into, to be changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.job.file.entry_paths import members_at
from drawerwright.job.file.entry_types import parse_given
from drawerwright.store.records import ShelfEntry
from drawerwright.web.fields import job_text

if TYPE_CHECKING:
    from drawerwright.basics.lengths import LengthStyle
    from drawerwright.job.test_cuts.bench import Bench
    from drawerwright.job.test_cuts.plain_bench import PlainBench

CHANGED = "change"
"""The field that names the kept cut whose place the form takes."""


def typed_again(bench: Bench | PlainBench, entry: ShelfEntry, style: LengthStyle) -> dict[str, str]:
    """What somebody typed when the cut was kept, by the fields of its form."""
    data = job_text.data_of(entry.text)
    typed = dict(_lengths(bench, data, style)) | {CHANGED: str(entry.id)}
    if "block" in data:
        typed["by_block"] = "1"
    if (seen := data.get("seen")) is not None:
        typed["seen"] = str(seen)
    return typed


def _lengths(
    bench: Bench | PlainBench, data: Mapping[str, Any], style: LengthStyle
) -> Iterator[tuple[str, str]]:
    from drawerwright.job.test_cuts.kept_cuts import HEIGHT

    kept = {**members_at(data, ("settings",)), **data, **members_at(data, ("readings",))}
    kept.setdefault(HEIGHT, data.get("block"))
    for one in (*bench.asked_about, *bench.rules, *bench.of_sections):
        if kept.get(one.name) is None:
            continue
        try:
            given = parse_given(kept[one.name])
        except InvalidValueError:  # shown as it stands, for its field to say what is wrong
            yield one.field, str(kept[one.name])
            continue
        doubt = "" if given.uncertainty is None else style.show_doubt(given.uncertainty, with_unit=False)
        yield one.field, style.typed(given.value) + (f" ± {doubt}" if doubt else "")

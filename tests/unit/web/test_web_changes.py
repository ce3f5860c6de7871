"""What typing into a field does to a job file: the field then shows it, all else stays, and it can be taken back."""

from __future__ import annotations

import copy
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drawerwright.basics.errors import InvalidValueError
from drawerwright.job.file.entry_paths import EntryPath, value_at
from drawerwright.job.file.first_jobs import example_text
from drawerwright.job.file.fresh_entries import FEWEST, MOST, PLAIN_COUNT, count_of
from drawerwright.job.file.kind_changes import is_kind
from drawerwright.web.fields.drawer_fields import columns_of, panels_of
from drawerwright.web.fields.field import Field, shown, stored
from drawerwright.web.fields.job_fields import whole_fields
from drawerwright.web.fields.job_text import data_of
from drawerwright.web.fields.machine_fields import machine_fields, machine_name
from drawerwright.web.fields.typed_changes import change, presents
from drawerwright.web.reader.preferences import Preferences

TEXT = example_text()
DATA = data_of(TEXT)
COMMENTS = [line.split("#", 1)[1] for line in TEXT.splitlines() if "#" in line]


def fields() -> list[Field]:
    """Every field of the pages Stock and machine, and Drawers, for the example."""
    found = [machine_name(), *whole_fields({}).fields]
    for machine in machine_fields():
        found += machine.fields
    for name in ("banks", "boxes"):
        for place, item in enumerate(DATA[name]):
            groups = (columns_of(name, item), *(inside for _title, inside in panels_of(name, item, DATA)))
            found += [field.at(name, place) for inside in groups for field in inside]
    return found


PLAIN = [
    field for field in fields() if not field.is_ticked and field.kind != "rule" and not is_kind(field.path)
]
"""Another kind of front, runner or bottom takes with it what hangs on the old one: see test_kind_changes."""
TICKED = [field for field in fields() if field.is_ticked]
READERS = st.builds(
    Preferences,
    language=st.sampled_from(["en", "de"]),
    unit=st.sampled_from(["mm", "in"]),
    decimal_sign=st.sampled_from([".", ","]),
)


def typed_into(field: Field) -> st.SearchStrategy[str]:
    if field.choices:
        return st.sampled_from([key for key, _words in field.choices])
    numbers = st.sampled_from(["12", "7.5", "3,25", "3/4", "1 1/8 in", "6.1 ± 0.05"])
    words = st.sampled_from(["Reeds", "a: b", "# no comment", "it's", '"quoted"', "ä ½"])
    return {
        "text": words,
        "name-groups": st.just('A1, A2; "Reeds, oboe"'),
        "lengths": st.sampled_from(["95; 120,5; rest", "(14.6 14.7); 14.5"]),
        "numbers": st.just("8000; 12000"),
        "aims": st.just("routing; offcuts"),
    }.get(field.kind, numbers)


@settings(max_examples=15, deadline=None)
@given(st.data(), st.sampled_from(PLAIN), READERS)
def test_a_field_shows_what_was_typed_and_nothing_else_changes(
    data: st.DataObject, field: Field, reader: Preferences
) -> None:
    typed = data.draw(typed_into(field))
    after = change(TEXT, field.path, field.kind, typed, reader)
    assert presents(after, field.path, field.kind, reader) == shown(
        stored(typed, field.kind, reader, "mm"), field.kind, reader
    )
    assert without(data_of(after), field.path) == without(DATA, field.path)
    assert all(comment in after for comment in COMMENTS)


def without(data: Any, path: EntryPath) -> Any:
    """The data less one entry, and less the sections that hold nothing else."""
    data = copy.deepcopy(data)
    ways = [value_at(data, path[:length]) for length in range(len(path))]
    for node, step in zip(reversed(ways), reversed(path), strict=True):
        if isinstance(node, dict):
            node.pop(step, None)
            if node:
                break
    return data


@settings(max_examples=8, deadline=None)
@given(st.data(), st.sampled_from([field for field in PLAIN if value_at(DATA, field.path) is None]))
def test_an_emptied_field_is_as_if_nothing_had_been_typed(data: st.DataObject, field: Field) -> None:
    reader = Preferences()
    typed = change(TEXT, field.path, field.kind, data.draw(typed_into(field)), reader)
    assert value_at(data_of(typed), field.path) is not None
    emptied = change(typed, field.path, field.kind, " ", reader)
    assert presents(emptied, field.path, field.kind, reader) == ""
    assert without(data_of(emptied), field.path) == without(DATA, field.path)


@pytest.mark.parametrize("field", TICKED, ids=lambda field: field.path_name)
def test_a_box_is_ticked_and_unticked(field: Field) -> None:
    reader = Preferences()
    before = presents(TEXT, field.path, field.kind, reader)
    other = "" if before else "yes"
    turned = change(TEXT, field.path, field.kind, other, reader)
    assert presents(turned, field.path, field.kind, reader) == other
    back = change(turned, field.path, field.kind, before, reader)
    assert presents(back, field.path, field.kind, reader) == before
    assert without(data_of(back), field.path) == without(DATA, field.path)


RULES = ("given", "equal", "arithmetic", "geometric")


@given(st.sampled_from(RULES), st.sampled_from(RULES), st.integers(FEWEST, MOST))
def test_another_rule_for_heights_keeps_how_many_fronts_there_are(
    before: str, after: str, count: int
) -> None:
    heights = {
        "given": [100] * (count - 1) + ["rest"],
        "equal": count,
        "arithmetic": {"count": count, "step": 5},
        "geometric": {"count": count, "ratio": 1.1},
    }
    text = f"fronts: # kept\n  heights: {{{before}: {heights[before]}}}\n".replace("'", "")
    changed = change(text, ("fronts", "heights"), "rule", after, Preferences())
    found = data_of(changed)["fronts"]["heights"]
    assert list(found) == [after]
    assert count_of(found) == count
    assert "# kept" in changed


def test_what_no_page_offers_is_refused() -> None:
    with pytest.raises(InvalidValueError, match="'random' is no rule for front heights"):
        change(TEXT, ("banks", 0, "fronts", "heights"), "rule", "random", Preferences())
    with pytest.raises(InvalidValueError, match="no section 'opening' to add"):
        change(TEXT, ("banks", 0, "opening"), "part", "yes", Preferences())
    assert count_of("four") == count_of({"equal": 0}) == count_of({"given": "x"}) == PLAIN_COUNT

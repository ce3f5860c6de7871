"""An edit changes its entry and nothing else."""

from __future__ import annotations

import difflib

import pytest

from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.job.editing import get_value, insert_item, set_value

TEXT = """\
# the whole batch
job: "Paper trays"   # quoted
stock:
  birch:
    nominal: 15   # as sold
    measured: [14.6,  14.65]
banks:
  # left of the door
  - name: left
    fronts:
      - 120
      - 3 1/8 in  # odd one
  - name: right
"""


def changed_lines(new: str) -> list[str]:
    lines = difflib.unified_diff(TEXT.splitlines(), new.splitlines(), n=0, lineterm="")
    return [line for line in lines if line[0] in "+-" and line[:3] not in ("+++", "---")]


def test_setting_the_same_value_changes_nothing() -> None:
    assert set_value(TEXT, ["stock", "birch", "nominal"], 15) == TEXT


def test_one_value_changes_one_line_and_keeps_its_comment() -> None:
    new = set_value(TEXT, ["stock", "birch", "nominal"], 18)
    assert changed_lines(new) == ["-    nominal: 15   # as sold", "+    nominal: 18   # as sold"]


def test_list_item_with_comment() -> None:
    new = set_value(TEXT, ["banks", 0, "fronts", 1], "80")
    assert len(changed_lines(new)) == 2
    assert "# odd one" in new
    assert get_value(new, ["banks", 0, "fronts", 1]) == "80"


def test_missing_entries_on_the_way_are_made() -> None:
    new = set_value(TEXT, ["machine", "kerf"], 3.2)
    assert changed_lines(new) == ["+machine:", "+  kerf: 3.2"]
    assert get_value(set_value("", ["a", "b", 0], 1), ["a", "b"]) == [1]


def test_none_takes_an_entry_out() -> None:
    assert changed_lines(set_value(TEXT, ["banks", 1], None)) == ["-  - name: right"]


def test_items_are_put_in_before_a_place() -> None:
    new = insert_item(TEXT, ["banks"], 1, {"name": "middle"})
    assert [bank["name"] for bank in get_value(new, ["banks"])] == ["left", "middle", "right"]
    assert changed_lines(new) == ["+  - name: middle"]


def test_lists_without_indent_stay_so() -> None:
    text = "fronts:\n- 1\n- 2\n"
    assert set_value(text, ["fronts", 1], 3) == "fronts:\n- 1\n- 3\n"


def test_impossible_paths_are_refused() -> None:
    with pytest.raises(InvalidValueError):
        set_value(TEXT, ["job", "name"], 1)
    with pytest.raises(InvalidValueError):
        set_value(TEXT, ["banks", 7], 1)
    with pytest.raises(FaultyInputError):
        set_value("a: [1", ["a"], 1)
    assert get_value(TEXT, ["nothing", "here"], "default") == "default"


def test_a_phrase_is_written_as_the_text_it_is() -> None:
    assert (
        set_value("", ("corner",), phrase("front corner, lip {lip}", lip=3))
        == "corner: front corner, lip 3\n"
    )


def test_rows_of_numbers_stand_in_one_line_each() -> None:
    assert set_value("", ["points"], [[0, 0.5], [4, 0]]) == "points:\n  - [0, 0.5]\n  - [4, 0]\n"

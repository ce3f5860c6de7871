"""An edit changes its entry and nothing else."""

from __future__ import annotations

import difflib

import pytest

from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.editing import get_value, set_value
from drawerwright.job.file.yaml_text import read_tree

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


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("a:\n  b:   # seen\n    - {x: 1}\nd: 1\n", ("a", "b", 0)),
        ("a:\n  b:   # seen\n    x: 1\nd: 1\n", ("a", "b", "x")),
        ("b:   # seen\n  - {x: 1}\n", ("b", 0)),
    ],
)
def test_the_last_entry_goes_from_below_a_comment(text: str, path: tuple[str | int, ...]) -> None:
    """The text without it can be read, and the comment beside the name stays."""
    without = set_value(text, path, None)
    assert "# seen" in without
    left = read_tree(without)
    for step in path[:-1]:
        left = left[step]
    assert not left


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


LAST = "\n# about the last\nlast: 1\n"


@pytest.mark.parametrize(
    ("text", "path", "gone"),
    [
        ("a: 1\n# about b\nb: 2  # two\n", ["b"], ["b: 2  # two"]),
        ("a:\n  value: 6  # six\n  other: 1\n", ["a"], ["a:", "  value: 6  # six", "  other: 1"]),
        ("l:\n  - {x: 1}  # one\n  # between\n  - {x: 1}  # two\n", ["l", 0], ["  - {x: 1}  # one"]),
        ("l:\n  - x: 1\n    y: 2  # why\n", ["l", 0, "y"], ["    y: 2  # why"]),
        ("l:\n- 1\n- 2  # two\n", ["l", 1], ["- 2  # two"]),
    ],
)
def test_what_is_taken_out_takes_no_comment_of_its_neighbours_along(
    text: str, path: list[str | int], gone: list[str]
) -> None:
    text += LAST
    rest = text.splitlines()
    at = rest.index(gone[0])
    assert rest[at : at + len(gone)] == gone
    assert set_value(text, path, None).splitlines() == rest[:at] + rest[at + len(gone) :]


@pytest.mark.parametrize(
    ("text", "path", "value", "wanted"),
    [
        ("a:\n  b: 1\n", ["a", "b"], None, "a: {}\n"),
        ("a:\n  value: 6\n  uncertainty: 1\n", ["a"], "6 ± 1", "a: 6 ± 1\n"),
        ("m: [14.6,  14.7]\n", ["m"], [14.6, 14.8, 15], "m: [14.6, 14.8, 15]\n"),
        (
            "m:\n  - 14.6  # left\n  - 14.7  # right\n",
            ["m"],
            [14.6, 14.8, 15],
            "m:\n  - 14.6  # left\n  - 14.8  # right\n  - 15\n",
        ),
        ("m:\n  - 14.6  # left\n  - 14.7  # right\n", ["m"], [14.6], "m:\n  - 14.6  # left\n"),
    ],
)
def test_a_value_in_place_of_another_keeps_the_comments_below_and_beside(
    text: str, path: list[str | int], value: object, wanted: str
) -> None:
    assert set_value(text + LAST, path, value) == wanted + LAST


def test_a_new_item_stands_above_the_comment_of_what_follows() -> None:
    text = "l:\n  - x: 1  # one\n  # after it\n"
    assert set_value(text + LAST, ["l", 1], {"x": 2}) == text + "  - x: 2\n" + LAST


def test_line_ends_stay_as_they_are() -> None:
    text = TEXT.replace("\n", "\r\n")
    for path, value in ((["stock", "birch", "nominal"], 18), (["machine", "kerf"], 3), (["banks", 1], None)):
        assert set_value(text, path, value) == set_value(TEXT, path, value).replace("\n", "\r\n")

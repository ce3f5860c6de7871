"""Whatever a file holds is read or refused with a fault that has its line; nothing in it stops the program."""

from __future__ import annotations

import pytest

from drawerwright.basics.errors import FaultyInputError
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.reading import Document

LAUGHS = "a: &a [1, 1, 1, 1, 1, 1, 1, 1, 1, 1]\n" + "".join(
    f"{name}: &{name} [{', '.join([f'*{before}'] * 10)}]\n"
    for before, name in zip("abcdefgh", "bcdefghi", strict=True)
)
"""Nine lines whose references stand for a thousand million entries."""


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("job: x\nname: \x00", 2, "the character U+0000 is not allowed in it"),
        ("job: x\n\nname: '\ud800'", 3, "the character U+D800 is not allowed in it"),
        ("job: 2024-13-45", 1, "'2024-13-45' looks like a date or a number but is neither"),
        ("banks:\n  - name: !!int many", 2, "'many' looks like a date or a number"),
        (f"job: x\ncount: {'9' * 5000}", 2, "looks like a date or a number"),
        ("job: !!bool maybe", 1, "'maybe' looks like a date or a number"),
        ("stock: " + "{a: " * 800 + "1" + "}" * 800, None, "nested too deeply"),
        (LAUGHS, None, "expand to too many entries"),
        ("job: [1, 2", 1, "expected ',' or ']'"),
    ],
)
def test_what_cannot_be_read_is_a_fault_with_its_line(text: str, line: int | None, words: str) -> None:
    with pytest.raises(FaultyInputError) as raised:
        Document(text)
    (fault,) = raised.value.faults
    assert words in fault.message
    assert fault.line == line
    if line is not None:
        with pytest.raises(FaultyInputError, match="cannot be read as YAML"):
            set_value(text, ("job",), "y")


@pytest.mark.parametrize(
    ("text", "data"),
    [
        ("a: &a [*a]", {"a": [None]}),
        ("a: &a\n  b: *a", {"a": {"b": None}}),
        ('job: "half a sign: \\ud83d"', {"job": "half a sign: \N{REPLACEMENT CHARACTER}"}),
        ('job: "\\ud83e\\udeb5"', {"job": "\N{WOOD}"}),
        ("first: &first {width: 3}\nsecond: {<<: *first, depth: 4}", {"width": 3, "depth": 4}),
    ],
)
def test_what_is_odd_but_can_be_read(text: str, data: dict[str, object]) -> None:
    found = Document(text).data
    assert found.get("second", found) == data


def test_a_file_of_many_entries_is_read() -> None:
    """A list of measured thicknesses far longer than any rack of boards."""
    text = "measured: [" + ", ".join(["14.65"] * 20_000) + "]"
    assert len(Document(text).data["measured"]) == 20_000

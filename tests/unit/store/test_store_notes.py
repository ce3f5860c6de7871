"""What a save did is kept with its values, so that each reader gets it in their own language."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawerwright.basics.lengths import millimetres
from drawerwright.basics.phrases import Phrase, Wording, joined, phrase, plural, said
from drawerwright.store import Database, JobTable
from drawerwright.store.database import FILE_NAME
from drawerwright.store.migrations import MIGRATIONS
from drawerwright.store.notes import kept_note, read_note

OpenDatabase = Callable[[Path], Database]


@dataclass(frozen=True)
class Shouting:
    """A reader whose language is that of the source in capitals between its braces, with a decimal comma."""

    decimal_sign: str = ","

    @property
    def wording(self) -> Wording:
        return Wording("xx", lambda text: f"¡{text}!", lambda one, many, count: one if count == 1 else many)


WORDS = st.text(max_size=12)
"""Any text: with braces, quotes, percent signs and line ends among them."""
VALUES = st.one_of(WORDS, st.integers(-(10**6), 10**6), st.floats(allow_nan=False, allow_infinity=False))


@st.composite
def phrases(draw: st.DrawFn, depth: int = 2) -> Phrase:
    inner = st.one_of(VALUES, phrases(depth=depth - 1)) if depth else VALUES
    kind = draw(st.sampled_from(("plain", "counted", "joined")))
    if kind == "plain":
        return phrase("{first} beside {second}", first=draw(inner), second=draw(inner))
    if kind == "counted":
        return plural("{count} of {name}", "{count} of all {name}", draw(st.integers(0, 3)), name=draw(inner))
    return joined([draw(WORDS), draw(phrases(depth=0))], draw(st.sampled_from(("; ", " {or} "))))


@given(phrases())
def test_a_kept_phrase_is_read_as_it_was_written_by_every_reader(note: Phrase) -> None:
    again = read_note(*kept_note(note))
    assert again == note
    assert said(again, Shouting()) == said(note, Shouting())


@given(WORDS)
def test_own_words_have_no_values_and_no_template(words: str) -> None:
    assert kept_note(words) == (words, None)
    assert said(read_note(words, None), Shouting()) == words


def test_a_value_that_cannot_be_kept_is_refused() -> None:
    with pytest.raises(TypeError):
        kept_note(phrase("a shoulder of {width}", width=millimetres(2.0)))


def test_notes_come_back_from_the_data_file_as_phrases(tmp_path: Path, open_database: OpenDatabase) -> None:
    jobs = JobTable(open_database(tmp_path))
    job = jobs.add("a", "one", phrase("copy of job {number}", number=7))
    jobs.save(job.id, "two", title="a", base=1, note="banks[1].{name}")
    notes: list[Any] = [revision.note for revision in jobs.revisions(job.id)]
    assert notes == ["banks[1].{name}", "copy of job 7"]
    assert [isinstance(note, Phrase) for note in notes] == [False, True]
    assert said(jobs.load(job.id).revision.note, Shouting()) == "banks[1].{name}"


def test_a_data_file_of_the_first_version_keeps_its_notes(
    tmp_path: Path, open_database: OpenDatabase
) -> None:
    """Written by the statements of that version; notes in a reader's finished words stay as they are."""
    with sqlite3.connect(tmp_path / FILE_NAME) as old:
        for statement in MIGRATIONS[0]:
            old.execute(statement)
        old.execute("INSERT INTO job (title, head) VALUES ('Truhe', 4)")
        notes = ("imported", "banks[0].name", "Kopie von Auftrag 3", "{0} % <b>")
        for number, note in enumerate(notes, start=1):
            old.execute(
                "INSERT INTO revision VALUES (1, ?, ?, 'text', ?, 'then')", (number, number - 1, note)
            )
        old.execute("INSERT INTO job (title, head) VALUES ('Job without a name', 1)")
        old.execute("INSERT INTO revision VALUES (2, 1, NULL, 'stock: {}', 'imported', 'then')")
        old.execute("PRAGMA user_version = 1")
    old.close()
    database = open_database(tmp_path)
    kept = [revision.note for revision in reversed(JobTable(database).revisions(1))]
    assert tuple(kept) == notes
    assert [said(note, Shouting()) for note in kept] == ["¡imported!", *notes[1:]]
    assert [JobTable(database).load(number).title for number in (1, 2)] == ["Truhe", ""]
    with database.reading() as connection:
        assert connection.execute("PRAGMA user_version").fetchone()[0] == len(MIGRATIONS)

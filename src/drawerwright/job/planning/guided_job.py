"""A job from the answers of a guided start, or what is wrong with each answer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from drawerwright.basics import usual
from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.basics.lengths import LengthStyle, Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.basics.typed_lengths import at_plus_minus, parse_length
from drawerwright.job.file.editing import set_value
from drawerwright.job.file.first_jobs import skeleton
from drawerwright.job.file.first_questions import Question, question_groups
from drawerwright.job.file.model import JobFile
from drawerwright.job.file.reading import Document, check_model, field_name
from drawerwright.job.file.typed_entries import figure_entries, figure_entry
from drawerwright.job.planning.shown_job import shown_job
from drawerwright.store.files import write_whole


@dataclass(frozen=True, slots=True)
class GuidedJob:
    """The text of a job, and what is wrong with it by the name of the question that asks it.

    The text of a fault is empty where it stands at another question that it concerns as well; at "" stands what no
    question asks.
    """

    text: str
    faults: Mapping[str, str]


def guided_job(style: LengthStyle, entries: Mapping[str, Any]) -> GuidedJob:
    """The job that entries make, in the unit and words of `style`.

    Args:
        style: how its reader reads.
        entries: by the name of each question; None or absent for a blank answer.
    """
    text = skeleton(style)
    places: dict[str, str] = {}
    faults: dict[str, str] = {}
    for question in questions(style):
        entry = _entry(question, entries.get(question.name), style)
        if entry is None and not question.may_be_blank:
            faults[question.name] = phrase("is missing")
        elif (slip := _unlikely(question, entry, style)) is not None:
            faults[question.name] = slip
        text = _with_entry(text, question, entry)
        places |= {field_name(path): question.name for path in question.paths}
    for fault in shown_job(text).faults:
        names = _asked_at(fault.field, places)
        faults.setdefault(names[0] if names else "", fault.message)
        for name in names[1:]:
            faults.setdefault(name, "")
    for question in questions(style):
        is_faulty = bool(question.beside) and question.name in faults
        if is_faulty and entry_fault(style, question, entries.get(question.name)) is None:
            faults.setdefault(question.beside, "")
    return GuidedJob(text, faults)


def entry_fault(style: LengthStyle, question: Question, entry: Any) -> str | None:
    """What is wrong with one answer, whatever the others are; None for nothing."""
    entry = _entry(question, entry, style)
    if entry is None:
        return None if question.may_be_blank else phrase("is missing")
    try:
        check_model(JobFile, Document(_with_entry(skeleton(style), question, entry)))
    except FaultyInputError as error:
        places = tuple(map(field_name, question.paths))
        found = next((fault.message for fault in error.found if fault.field.startswith(places)), None)
        if found is not None:
            return found
    return _unlikely(question, entry, style)


def _unlikely(question: Question, entry: Any, style: LengthStyle) -> str | None:
    """That a measure is more or less than any of its kind: a slip of the unit or the decimal sign."""
    for given in entry if isinstance(entry, list) else [entry]:
        try:
            length = parse_length(at_plus_minus(str(given))[0], default_unit=style.typed_unit)
        except InvalidValueError:  # told as what it is by the model
            continue
        if length > 0 and (words := _slip(question, length)) is not None:
            return words
    return None


def _slip(question: Question, length: Mm) -> Phrase | None:
    given, check = millimetres(length, "g"), phrase("Check the unit and the decimal sign")
    most = millimetres(usual.THICKEST, "g")
    if question.paths[0][0] == "cutter":
        if length < usual.LEAST_CUTTER_MEASURE:
            return phrase(
                "{given} is too little: no cutter for drawer corners measures less than {limit} there. {check}",
                given=given,
                limit=millimetres(usual.LEAST_CUTTER_MEASURE, "g"),
                check=check,
            )
        if length > usual.THICKEST:
            return phrase(
                "{given} is too much: no cutter for drawer corners measures more than {limit} there. {check}",
                given=given,
                limit=most,
                check=check,
            )
    if question.is_thickness:
        if length < usual.THINNEST:
            return phrase(
                "{given} is too thin: no stock for drawers is thinner than {limit}. {check}",
                given=given,
                limit=millimetres(usual.THINNEST, "g"),
                check=check,
            )
        if length > usual.THICKEST:
            return phrase(
                "{given} is too thick: no joint for drawers is made in stock over {limit}. {check}",
                given=given,
                limit=most,
                check=check,
            )
    if question.name == "opening_depth" and length < usual.LEAST_DEPTH:
        return phrase(
            "{given} is too little: openings for drawers are {limit} deep or more. {check}",
            given=given,
            limit=millimetres(usual.LEAST_DEPTH, "g"),
            check=check,
        )
    return None


def _entry(question: Question, entry: Any, style: LengthStyle) -> Any:
    """An entry, or the usual one for a blank."""
    usual = question.shown_usual(style)
    return (figure_entry(usual) if usual else None) if entry is None else entry


def _with_entry(text: str, question: Question, entry: Any) -> str:
    blank: Any = [] if question.kind == "lengths" else ""
    for path in question.paths:
        text = set_value(text, path, blank if entry is None else entry)
    return text


def typed_entry(question: Question, typed: str) -> Any:
    """What was typed on a terminal, where a bare number is in the unit of the file; None for nothing."""
    plain = typed.strip()
    if not plain:
        return None
    if question.kind == "text":
        return plain
    return figure_entries(plain) if question.kind == "lengths" else figure_entry(plain)


def questions(style: LengthStyle) -> tuple[Question, ...]:
    """All questions, in their order."""
    return tuple(question for group in question_groups(style) for question in group.questions)


def check_is_new(path: Path) -> None:
    """A job file that is begun takes no other's place.

    Raises:
        InvalidValueError: there is something at `path`, or no folder for it.
    """
    if path.exists():
        raise InvalidValueError(phrase("{file} exists already: choose another name", file=path))
    if not path.parent.is_dir():
        raise InvalidValueError(phrase("there is no folder {folder}: make it first", folder=path.parent))


def write_new_job(path: Path, text: str) -> None:
    """Write a job file, whole or not at all.

    Raises:
        InvalidValueError: there is something at `path` by now.
        OSError: it cannot be written.
    """
    check_is_new(path)
    write_whole(path, text.encode())


def _asked_at(field: str, places: Mapping[str, str]) -> Sequence[str]:
    """The questions whose entry is faulty; of a section that is faulty as a whole, all of its questions."""
    exact = [name for place, name in places.items() if field.startswith(place)]
    return exact or ([name for place, name in places.items() if place.startswith(field)] if field else [])

"""The questions of a guided start on a terminal: one by one, with a way back, until the answers make a job."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import phrase

if TYPE_CHECKING:
    from drawerwright.job.file.first_questions import Question

BACK, NONE = "<", "-"
UNIT_NAMES = {"mm": "millimetres", "in": "inches"}


def ask_for_job(style: LengthStyle) -> str:
    """The text of the job that the answers make.

    Raises:
        InvalidValueError: the input ended before that.
    """
    from drawerwright.job.file.first_questions import question_groups
    from drawerwright.job.planning.guided_job import guided_job, questions, typed_entry

    asked = questions(style)
    titles = {
        each.name: style.say(group.title) for group in question_groups(style) for each in group.questions
    }
    print(f"{len(asked)} questions make a first job file; you can change and refine everything later.")
    print(f"Enter takes the value in brackets; {BACK} goes back one question.")
    print(
        f"Lengths are in {UNIT_NAMES[style.typed_unit]} unless you write a unit. After ± (or +-) you may add"
    )
    print("how sure you are of a measure; otherwise the usual is assumed.")
    typed: dict[str, str] = {}
    _ask(asked, asked, style, typed, titles)
    while True:
        entries = {question.name: typed_entry(question, typed[question.name]) for question in asked}
        made = guided_job(style, entries)
        if not made.faults:
            return made.text
        print()
        _ask(asked, _concerned(asked, made.faults, style), style, typed, titles)


def _ask(
    asked: tuple[Question, ...],
    wanted: tuple[Question, ...],
    style: LengthStyle,
    typed: dict[str, str],
    titles: Mapping[str, str],
) -> None:
    """Ask each wanted question until its answer can be read; what was typed before is offered again, and the way back
    leads through all that are asked."""
    from drawerwright.job.planning.guided_job import entry_fault, typed_entry

    places = [asked.index(question) for question in wanted]
    place, title = places[0], ""
    while True:
        question = asked[place]
        if title != titles[question.name]:
            title = titles[question.name]
            print(f"\n{title}")
        answer = _answer(_prompt(question, style, typed.get(question.name, ""), f"{place + 1}/{len(asked)}"))
        if answer == BACK:
            place = max(0, place - 1)
            continue
        answer = answer or typed.get(question.name, "")
        if answer == NONE and question.may_be_blank:
            answer = ""
        fault = entry_fault(style, question, typed_entry(question, answer))
        if fault is not None:
            print(f"  {question.label}: {style.say(fault)}")
            continue
        typed[question.name] = answer
        following = [each for each in places if each > place]
        if not following:
            return
        place = following[0]


def _prompt(question: Question, style: LengthStyle, before: str, number: str) -> str:
    """A question as it stands on the terminal."""
    unit = f", {style.typed_unit}" if question.kind in ("length", "lengths") else ""
    usual = before or question.shown_usual(style)
    hints = [question.hint] if question.hint else []
    if not usual:
        hints.append(f"for instance {question.shown_example(style)}")
    hint = f" ({'; '.join(hints)})" if hints else ""
    if before and question.may_be_blank:
        usual = f"{before}, or {NONE} for none"
    return f"{number}  {question.label}{unit}{hint}{f' [{usual}]' if usual else ''}: "


def _answer(prompt: str) -> str:
    try:
        return input(prompt).strip()
    except EOFError:
        print()
        raise InvalidValueError(
            phrase("the input ended before every question was answered: nothing was written")
        ) from None


def _concerned(
    asked: tuple[Question, ...], faults: Mapping[str, str], style: LengthStyle
) -> tuple[Question, ...]:
    """Say what is wrong with the answers together, and give the questions to ask again."""
    again = tuple(question for question in asked if question.name in faults)
    for name, fault in faults.items():
        if fault:
            label = next((f"{question.label}: " for question in asked if question.name == name), "")
            print(f"{label}{style.say(fault)}")
    return again or asked

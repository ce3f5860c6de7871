"""One entry of a job file as a field of a page: how it is shown, what typing means, what stands wrong.

The file keeps what was typed. A bare number that a reader of millimetres types becomes a number; anything
else, fractions and inches among them, stays the text it was, and the job-file reader judges it.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal, TypeAlias, get_args

from drawerwright.basics.json_text import read_json
from drawerwright.basics.lengths import MM_PER_INCH
from drawerwright.basics.loads import KG_PER_POUND, LOAD_UNITS
from drawerwright.basics.typed_lengths import PLUS_MINUS, at_plus_minus, unit_named
from drawerwright.job.file.entry_paths import EntryPath
from drawerwright.job.file.file_units import FileUnit
from drawerwright.job.file.typed_entries import BARE, SEPARATOR, figure_entry
from drawerwright.web.fields.tie_breaker_words import shown_aims, stored_aims
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _

Kind: TypeAlias = Literal[
    "length",
    "load",
    "number",
    "price",
    "whole",
    "text",
    "choice",
    "yes",
    "usual",
    "part",
    "rule",
    "lengths",
    "numbers",
    "aims",
    "name-groups",
    "yes-or-name",
]
"""`yes` is ticked or absent, `usual` ticked where it is absent. `part` is a whole section that may be left out,
`rule` a section that holds one of several rules; see `drawerwright.web.fields.typed_changes` for what typing does to
these. A `price` is shown to the hundredth. `aims` is an order of later aims, `name-groups` several lists of texts,
`yes-or-name` a text or the reader's word for yes."""
TICKED: tuple[Kind, ...] = ("yes", "usual", "part")
KINDS: dict[str, Kind] = {kind: kind for kind in get_args(Kind)}
WITHIN = ","
"""Between the names of one group."""
QUOTED = re.compile(r'"(?:[^"]|"")*"')
"""A name that holds a separator, as spreadsheets write one: a quote inside it is doubled."""
QUOTED_OR_ONE = re.compile(
    rf"(?:(?<![^{SEPARATOR}{WITHIN}\s])){QUOTED.pattern}(?=\s*(?:[{SEPARATOR}{WITHIN}]|$))|.", re.DOTALL
)
"""A quoted name, or any one character."""

CELL = re.compile(r'(?:"((?:[^"]|"")*)"|([^\t\n]*))(\t|\n|\Z)')
"""A cell of a spreadsheet as it is copied, and what ends it. One that holds a line end or a quote may be quoted."""


@dataclass(frozen=True, slots=True)
class Field:
    """A field of a page bound to an entry.

    `absent` is what the reader of the job file takes where the entry is missing, shown as a hint in the
    empty field. `choices` are (value, words). `usual_doubt` is what is assumed of a
    figure that may carry its own doubt, and carries none; typing one takes a keyboard with letters and signs.
    """

    path: EntryPath
    label: str
    kind: Kind = "length"
    choices: tuple[tuple[str, str], ...] = ()
    absent: str = ""
    hint: str = ""
    usual_doubt: float | None = None
    head: str = ""
    """What stands over its column, where that says already what it is a part of."""
    pictures: str = ""
    """Which small drawings its choices are told by; none where words are enough."""
    part_of: str = ""
    """What it says something of, where a summary tells all of that in one."""
    names_part: bool = False
    """Whether it only says which part that is: a summary has it as its head."""

    @property
    def id(self) -> str:
        """Identifies the field within its page."""
        return "-".join(re.sub(r"\W+", "_", str(step)) for step in self.path)

    @property
    def path_name(self) -> str:
        """The path as faults name it."""
        return name_of(self.path)

    @property
    def is_ticked(self) -> bool:
        """Whether it is a box to tick."""
        return self.kind in TICKED

    def key_of(self, typed: str) -> str:
        """The choice that somebody means who writes its words; what is no choice stays as it is."""
        wanted = typed.strip().casefold()
        return next((key for key, words in self.choices if words.casefold() == wanted), typed)

    def at(self, *above: str | int) -> Field:
        """The same field below other entries."""
        return replace(self, path=(*above, *self.path))

    @property
    def path_text(self) -> str:
        """The path as it travels through a form."""
        return json.dumps(self.path)


def name_of(path: EntryPath) -> str:
    """A path as the job-file reader names it in its faults."""
    from drawerwright.job.file.reading import field_name

    return field_name(path)


def read_path(text: str) -> EntryPath | None:
    """A path from a form, or None if it is none."""
    try:
        steps = read_json(text)
    except ValueError:
        return None
    if not isinstance(steps, list) or not 0 < len(steps) <= 12:
        return None
    if not all(isinstance(step, str) or (isinstance(step, int) and 0 <= step < 1000) for step in steps):
        return None
    return tuple(steps)


LONGEST_SHOWN = 200
"""Characters of an entry of another kind than its field's."""
UNSHOWN = "…"
"""Stands for a number with more digits than can be written."""


def cells_of(text: str) -> list[list[str]]:
    """Cells copied from a spreadsheet: tabs between columns, line ends between rows.

    >>> cells_of("Tray A\\t310\\r\\nTray B\\t320\\r\\n")
    [['Tray A', '310'], ['Tray B', '320']]
    """
    plain = text.replace("\r\n", "\n").strip("\n")
    rows: list[list[str]] = [[]]
    for match in CELL.finditer(plain):
        quoted, bare, end = match.groups()
        rows[-1].append(bare if quoted is None else quoted.replace('""', '"').replace("\n", " "))
        if end == "\n":
            rows.append([])
        elif not end:
            break
    return rows


def shown(value: Any, kind: Kind, reader: Preferences) -> str:
    """An entry as its field shows it; what is nothing of its kind as it stands, so that it can be typed anew."""
    try:
        return _shown(value, kind, reader)
    except (ArithmeticError, AttributeError, TypeError, ValueError):
        return repr(value)[:LONGEST_SHOWN] if not isinstance(value, int) else UNSHOWN


def _shown(value: Any, kind: Kind, reader: Preferences) -> str:
    if kind == "rule":
        return str(next(iter(value), "")) if isinstance(value, Mapping) else ""
    if kind in TICKED:
        return (
            "yes" if (value is not None and value is not False) or (value is None and kind == "usual") else ""
        )
    if value is None:
        return ""
    if isinstance(value, bool):
        return (_("yes") if kind == "yes-or-name" else "yes") if value else ""
    if isinstance(value, list):
        if kind == "aims":
            return shown_aims(value, reader)
        return f"{SEPARATOR} ".join(_shown_item(item, kind, reader) for item in value)
    if isinstance(value, Mapping):
        if kind == "choice":  # a section where a name could stand
            return ""
        doubt = value.get("uncertainty")
        return _shown_estimate([value.get("value"), *([] if doubt is None else [doubt])], kind, reader)
    if isinstance(value, int | float):
        if kind == "load" and reader.typed_unit == "in":
            return f"{value / KG_PER_POUND:.4g} lb".replace(".", reader.decimal_sign)
        if kind in ("length", "lengths") and reader.typed_unit == "in":
            return reader.lengths.show(float(value), fine=True)
        if kind == "price" and round(value, 2) == value:
            return f"{value:.2f}".replace(".", reader.decimal_sign)
        return f"{value:.10g}".replace(".", reader.decimal_sign)
    bits = at_plus_minus(str(value))
    if kind in ("length", "number") and len(bits) > 1 and all(BARE.fullmatch(bit) for bit in bits):
        plain = [bit.replace(",", ".") for bit in bits]
        if kind == "length" and reader.typed_unit == "in":
            return _shown_estimate([float(bit) for bit in plain], kind, reader)
        return " ± ".join(bit.replace(".", reader.decimal_sign) for bit in plain)
    return str(value)


def _shown_estimate(bits: Sequence[Any], kind: Kind, reader: Preferences) -> str:
    """A figure and its doubt; in inches to the ten-thousandth, since a doubt is small."""
    if kind == "length" and reader.typed_unit == "in" and all(isinstance(bit, int | float) for bit in bits):
        inches = (f"{bit / MM_PER_INCH:.4f} in".replace(".", reader.decimal_sign) for bit in bits)
        return " ± ".join(inches)
    return " ± ".join(shown(bit, kind, reader) for bit in bits)


def shown_absent(field: Field, reader: Preferences) -> str:
    """What stands for a missing entry; a figure as its field would show it."""
    if BARE.fullmatch(field.absent):
        return with_unit(shown(float(field.absent), field.kind, reader), field.kind, reader)
    if PLUS_MINUS.search(field.absent):
        return with_unit(shown(field.absent, field.kind, reader), field.kind, reader)
    return field.absent


METRIC_UNITS: dict[Kind, str] = {"length": "mm", "lengths": "mm", "load": "kg"}
"""What a bare figure of these kinds is; a figure in inches or pounds names its unit already."""


def with_unit(figure: str, kind: Kind, reader: Preferences) -> str:
    """A bare figure with the unit that the reader takes it in; inches name theirs already."""
    unit = METRIC_UNITS.get(kind) if reader.typed_unit == "mm" else None
    return figure if unit is None else f"{figure} {unit}"


def shown_doubt(field: Field, reader: Preferences) -> str:
    """What is assumed of a figure without a doubt of its own, as its field would show it."""
    if field.kind == "length" and reader.typed_unit == "in":
        return _shown_estimate([field.usual_doubt], field.kind, reader)
    return shown(field.usual_doubt, field.kind, reader)


def _shown_item(item: Any, kind: Kind, reader: Preferences) -> str:
    """Thicknesses may be grouped by sheet; a group is written in brackets. Names need none."""
    if isinstance(item, list) and kind == "name-groups":
        return f"{WITHIN} ".join(_quoted(str(member)) for member in item)
    if kind == "name-groups":
        return _quoted(str(item))
    if isinstance(item, list):
        return "(" + " ".join(_shown_member(member, kind, reader) for member in item) + ")"
    return shown(item, kind, reader)


def _shown_member(member: Any, kind: Kind, reader: Preferences) -> str:
    """One of a group, which spaces part: no unit, and no fraction after a whole number."""
    if kind == "lengths" and reader.typed_unit == "in" and isinstance(member, int | float):
        return reader.lengths.typed(float(member))
    number, _space, unit = member.partition(" ") if isinstance(member, str) else (member, "", "")
    if kind == "lengths" and unit == "in" and BARE.fullmatch(number):
        number = number.replace(".", reader.decimal_sign)
        return number if reader.typed_unit == unit else f"{number}{unit}"
    return shown(member, kind, reader)


def stored(typed: str, kind: Kind, reader: Preferences, unit: FileUnit) -> Any:
    """What a typed text becomes in a job file whose bare numbers are of `unit`; None takes the entry out."""
    plain = typed.strip()
    if kind == "yes":
        return True if plain else None
    if kind == "usual":
        return None if plain else False
    if not plain:
        return None
    if kind in ("lengths", "numbers"):
        single: Kind = "length" if kind == "lengths" else "number"
        return [
            _stored_group(bit.strip(), single, reader, unit) for bit in plain.split(SEPARATOR) if bit.strip()
        ]
    if kind == "aims":
        return stored_aims(plain, reader)
    if kind == "name-groups":
        groups = _members(plain, SEPARATOR)
        return [[_name(member) for member in _members(group, WITHIN)] for group in groups]
    if kind == "yes-or-name" and plain.casefold() == _("yes").casefold():
        return True
    if kind in ("text", "choice", "yes-or-name"):
        return " ".join(plain.splitlines())
    if kind == "load" and reader.typed_unit != unit and BARE.fullmatch(plain):
        return f"{plain} {LOAD_UNITS[reader.typed_unit]}"
    if kind == "length" and reader.typed_unit != unit:
        return " ± ".join(_with_unit_meant(bit, reader.typed_unit) for bit in at_plus_minus(plain))
    return figure_entry(plain)


def _with_unit_meant(typed: str, unit: str) -> str:
    """A typed figure as the job file understands it, digit by digit: with the unit that its reader meant."""
    return f"{typed} {unit}" if unit_named(typed) == "" else typed


def _members(text: str, separator: str) -> list[str]:
    """What stands between the separators, quoted or not; a separator inside quotes is part of a name."""
    bits = [""]
    for piece in QUOTED_OR_ONE.findall(text):
        if piece == separator:
            bits.append("")
        else:
            bits[-1] += piece
    return [bit.strip() for bit in bits if bit.strip()]


def _name(bit: str) -> str:
    """The name that a member of a list stands for."""
    return bit[1:-1].replace('""', '"') if QUOTED.fullmatch(bit) else bit


def _quoted(name: str) -> str:
    """A name as a list shows it: in quotes where it would be read as something else without them."""
    is_plain = name and name == name.strip() and not set(name) & {SEPARATOR, WITHIN, '"'}
    return name if is_plain else '"' + name.replace('"', '""') + '"'


def _stored_group(bit: str, kind: Kind, reader: Preferences, unit: FileUnit) -> Any:
    if bit.startswith("(") and bit.endswith(")"):
        return [stored(member, kind, reader, unit) for member in bit[1:-1].split()]
    return stored(bit, kind, reader, unit)

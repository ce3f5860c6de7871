"""Reading a form of lengths: every fault at once, each beside its field, in the words of the job-file reader."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import partial

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.basics.typed_lengths import parse_length
from drawerwright.job.file.entry_types import Given, parse_given
from drawerwright.web.reader.preferences import Preferences


@dataclass(slots=True)
class LengthsForm:
    """What was typed, what it means (mm), and what is wrong with it, by field."""

    typed: Mapping[str, str]
    reader: Preferences
    values: dict[str, Mm] = field(default_factory=dict)
    faults: dict[str, str] = field(default_factory=dict)
    doubts: dict[str, Mm] = field(default_factory=dict)
    """How well a field says that its length is known (standard uncertainty, mm), of those that may say it."""

    def read(
        self,
        names: Iterable[str],
        *,
        least: Mm | None = None,
        over_zero: bool = False,
        with_doubt: bool = False,
    ) -> None:
        """Read some fields, with the least value that they may have; `with_doubt` they may be like 6.1 ± 0.05."""
        parse = partial(parse_length, default_unit=self.reader.typed_unit)
        for name in names:
            typed = self.typed.get(name, "")
            try:
                given = parse_given(typed, parse) if with_doubt else Given(parse(typed))
            except InvalidValueError as error:
                self.faults[name] = str(error)
                continue
            value = given.value
            if over_zero and value <= 0:
                self.faults[name] = phrase("must be more than 0, not {value}", value=millimetres(value, "g"))
            elif least == 0 and value < 0:
                self.faults[name] = phrase("must be 0 or more, not {value}", value=millimetres(value, "g"))
            elif least is not None and value < least:
                self.faults[name] = phrase(
                    "must be {least} or more, not {value}",
                    least=millimetres(least, "g"),
                    value=millimetres(value, "g"),
                )
            else:
                self.values[name] = value
                if given.uncertainty is not None:
                    self.doubts[name] = given.uncertainty

    def given(self, name: str) -> Given:
        """What a field that was read says, with its doubt where it states one."""
        return Given(self.values[name], self.doubts.get(name))

    def read_angle(self, name: str) -> None:
        """Read an angle in degrees between 0 and 90."""
        text = self.typed.get(name, "").replace(",", ".").replace("°", "").strip()
        try:
            value = float(text)
        except ValueError:
            self.faults[name] = phrase("cannot read {value!r} as a number", value=self.typed.get(name, ""))
            return
        if 0 < value < 90:
            self.values[name] = value
        else:
            self.faults[name] = phrase("must lie between 0 and 90 degrees, not {value:g}", value=value)

"""Reading a form of lengths: every fault at once, each beside its field, in the words of the job-file reader."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres, parse_length
from drawerwright.basics.phrases import phrase
from drawerwright.web.reader.preferences import Preferences


@dataclass(slots=True)
class LengthsForm:
    """What was typed, what it means (mm), and what is wrong with it, by field."""

    typed: Mapping[str, str]
    reader: Preferences
    values: dict[str, Mm] = field(default_factory=dict)
    faults: dict[str, str] = field(default_factory=dict)

    def read(self, names: Iterable[str], *, least: Mm | None = None, over_zero: bool = False) -> None:
        """Read some fields, with the least value that they may have."""
        for name in names:
            try:
                value = parse_length(self.typed.get(name, ""), default_unit=self.reader.typed_unit)
            except InvalidValueError as error:
                self.faults[name] = str(error)
                continue
            if over_zero and value <= 0:
                self.faults[name] = phrase(
                    "must be more than 0 mm, not {value}", value=millimetres(value, "g")
                )
            elif least is not None and value < least:
                self.faults[name] = phrase(
                    "must be {least} or more, not {value}",
                    least=millimetres(least, "g"),
                    value=millimetres(value, "g"),
                )
            else:
                self.values[name] = value

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

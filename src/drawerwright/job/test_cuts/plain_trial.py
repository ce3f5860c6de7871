"""Test cuts of one corner that no self-mating cutter makes, from a trial file: what they say, in text and as data."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from drawerwright.basics import usual
from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase, plural
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.plain_data import clean, estimate_data
from drawerwright.joints.plain_cuts import PlainAnswer, PlainCut, answer
from drawerwright.joints.plain_joint import PlainCorner


@dataclass(frozen=True, slots=True)
class PlainTrial:
    """Test cuts of a corner without a cutter; `width` of its edge, `repeatability` of a setting (mm)."""

    name: str
    style: LengthStyle
    made: PlainCorner
    width: Mm
    cuts: tuple[PlainCut, ...]
    repeatability: Mm = usual.REPEATABILITY
    learnt: tuple[Mapping[str, Estimate], ...] = ()
    """What test cuts that the job has accepted say of its settings."""

    @property
    def answer(self) -> PlainAnswer:
        """What the cuts say, oldest first.

        Raises:
            InvalidValueError: a reading cannot come from such a cut.
        """
        return answer(self.made, self.width, self.cuts, self.learnt, self.repeatability)

    def data(self) -> dict[str, Any]:
        """As JSON-ready data, lengths in mm, cuts counted from 1."""
        found = self.answer
        return {
            "format": "drawerwright-bench-correction",
            "version": 1,
            "units": {"length": "mm"},
            "trial": self.name,
            "kind": self.made.kind,
            "next_cut": {
                "dial_in": {each.setting.figure: clean(each.shown) for each in found.settings},
                "change": {each.setting.figure: clean(each.change) for each in found.settings},
            },
            "off": {
                each.setting.figure: None if each.off is None else estimate_data(each.off)
                for each in found.settings
            },
            "says": list(found.lines),
            "contradictions": list(found.quarrels),
        }

    def text(self) -> str:
        """For a person at the bench."""
        return "\n".join(map(self.style.say, self._lines()))

    def _lines(self) -> Iterator[str]:
        found = self.answer
        yield plural("{name}: {count} test cut", "{name}: {count} test cuts", len(self.cuts), name=self.name)
        yield from found.lines
        yield from found.quarrels
        yield (
            phrase("For the next cut, leave everything as it is:")
            if found.leaves_all
            else phrase("For the next cut:")
        )
        for each in found.settings:
            shown = self.style.show(each.shown, fine=True)
            size = self.style.show(each.change or 0.0, fine=True)
            change = self.style.say(phrase("(leave it)")) if each.is_left else size
            sign = "+" if each.change and each.change > 0 else ""
            yield f"  {self.style.say(each.setting.words)} {shown}  {sign}{change}"

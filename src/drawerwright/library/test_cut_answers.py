"""Test cuts: what was set and read, and what to set for the next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from os import PathLike
from pathlib import Path
from typing import Any, Literal, TypeAlias, overload

from drawerwright.basics.declared import checked
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.findings import Finding
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.test_cuts.correcting import (
    correct_trial,
    correction_text,
    next_cut_words,
    trial_findings,
)
from drawerwright.job.test_cuts.goes_home import HomeQuestion, home_finding, home_questions
from drawerwright.job.test_cuts.plain_trial import PlainTrial
from drawerwright.job.test_cuts.trial_reading import Trial, open_trial, told_trial
from drawerwright.joints.correction import Correction, NextCut
from drawerwright.joints.cutter import Cutter
from drawerwright.library.bench_answers import PlainTestCutAdvice
from drawerwright.library.corner_answers import CornerSettings
from drawerwright.library.notebook import html_findings, html_paragraph, html_table

Seen: TypeAlias = Literal["play", "tight", "proud", "closes"]
"""What the eye says of a drawer-lock corner put together (docs/test-cuts.md)."""
Read: TypeAlias = Estimate | float | Literal["seen", "none"]
"""A reading in mm; `"seen"` and `"none"` for what only shows."""


@checked
@dataclass(frozen=True, slots=True)
class TestCut:
    """One test cut, with the entries that docs/test-cuts.md explains. Lengths in mm, all of them as they were shown.

    Give the height as `height_shown` by the gauge or as the thickness of a planed `block`, the fence as `fence_shown`
    for both pieces or as `fence_flat_shown` and `fence_upright_shown`. `flat` and `upright` are the thicknesses of the
    two test pieces, those of the corner where they are not measured anew. `seen` is what the corner shows when it is
    put together, `readings` what calipers say: `{"roof": 3.35, "play": 0.05}`.
    """

    __test__ = False  # a class of the trade, not one of pytest's

    height_shown: Mm | None = None
    block: Estimate | Mm | None = None
    fence_shown: Mm | None = None
    fence_flat_shown: Mm | None = None
    fence_upright_shown: Mm | None = None
    flat: Estimate | Mm | None = None
    upright: Estimate | Mm | None = None
    seen: Seen | tuple[Seen, ...] = ()
    readings: Mapping[str, Read] = field(default_factory=dict)

    @property
    def entries(self) -> dict[str, Any]:
        """The same as a trial file says it."""
        given = {name: getattr(self, name) for name in _ENTRIES}
        told = {name: _told(value) for name, value in given.items() if value is not None}
        return {
            **told,
            "seen": self.seen,
            "readings": {kind: _told(read) for kind, read in self.readings.items()},
        }


_ENTRIES = (
    "height_shown",
    "block",
    "fence_shown",
    "fence_flat_shown",
    "fence_upright_shown",
    "flat",
    "upright",
)


def _told(value: Any) -> Any:
    """An entry; an estimate whose doubt is only assumed says no more than its value."""
    if not isinstance(value, Estimate):
        return value
    return value.value if value.is_assumed else {"value": value.value, "uncertainty": value.uncertainty}


@dataclass(frozen=True, slots=True)
class TestCutAdvice:
    """What the test cuts of a corner say. Lengths in mm, odds from 0 to 1.

    Printed it tells all that `drawerwright correct` does; a notebook shows the next setting as a table.
    """

    __test__ = False

    trial: Trial = field(repr=False)
    correction: Correction = field(repr=False)

    @property
    def _next(self) -> NextCut:
        return self.correction.next_cut

    @property
    def height_shown(self) -> Mm:
        """What the height gauge has to show for the next cut, or how thick the block has to be."""
        return self._next.height_shown

    @property
    def fence_flat_shown(self) -> Mm:
        """What the fence scale has to show for the flat piece."""
        return self._next.fence_flat_shown

    @property
    def fence_upright_shown(self) -> Mm:
        """What the fence scale has to show for the upright piece."""
        return self._next.fence_upright_shown

    @property
    def height_change(self) -> Mm:
        """By how much the height changes; 0 where it is better left alone."""
        return self._next.height_change

    @property
    def fence_flat_change(self) -> Mm:
        """By how much the fence of the flat piece moves; 0 where it is better left alone."""
        return self._next.fence_flat_change

    @property
    def fence_upright_change(self) -> Mm:
        """The same for the upright piece."""
        return self._next.fence_upright_change

    @property
    def leave_it(self) -> bool:
        """Whether the machine is best left as it stands."""
        return self._next.leaves_all

    @property
    def odds(self) -> float:
        """Probability that the next cut fits with its lip right. Where `findings` ask whether the corner goes home, it
        holds only if that is as it was read."""
        return self._next.odds.both

    @property
    def odds_as_it_is(self) -> float:
        """The same when nothing is touched."""
        return self.correction.as_it_is.both

    @property
    def cutter(self) -> Cutter:
        """The cutter with what was learnt about its mid depth and step."""
        return self.correction.learnt.cutter

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is still to be asked of the corner, and what is doubtful beside the readings."""
        by_block = self.trial.cuts[-1].by_block
        asked = (home_finding(question, by_block=by_block) for question in self._questions)
        return (*asked, *trial_findings(self.trial))

    @property
    def _questions(self) -> tuple[HomeQuestion, ...]:
        return home_questions(self.trial, self.correction)

    def __str__(self) -> str:
        return correction_text(self.trial, self.correction)

    def _repr_html_(self) -> str:
        style, after = self.trial.style, self._next
        rows = [
            (name, style.show(shown, fine=True), "leave it" if is_left else style.show(change, fine=True))
            for name, shown, change, is_left in (
                ("height", after.height_shown, after.height_change, after.leaves_height),
                ("fence, flat piece", after.fence_flat_shown, after.fence_flat_change, after.leaves_fence),
                (
                    "fence, upright piece",
                    after.fence_upright_shown,
                    after.fence_upright_change,
                    after.leaves_fence,
                ),
            )
        ]
        return (
            html_table(f"{self.trial.name}: next cut", ("dial in", "shows", "change"), rows)
            + "".join(map(html_paragraph, next_cut_words(self.correction, self._questions)))
            + html_findings(self.findings)
        )


@overload
def correct(tried: str | PathLike[str], /) -> TestCutAdvice | PlainTestCutAdvice: ...
@overload
def correct(tried: CornerSettings, /, *cuts: TestCut) -> TestCutAdvice: ...
@checked
def correct(
    tried: CornerSettings | str | PathLike[str], /, *cuts: TestCut
) -> TestCutAdvice | PlainTestCutAdvice:
    """What test cuts say, and what to set for the next one.

    docs/test-cuts.md explains how readings are weighed. A trial file about fingers or a rebate gets a
    `PlainTestCutAdvice`, which tells each setting of such a joint.

    Args:
        tried: the corner as `corner` gave it, or the path of a trial file, which holds its cuts.
        cuts: the test cuts of the corner, oldest first.

    Raises:
        DrawerwrightError: entries are faulty (each is named), there is no cut, or the readings cannot all be right.
    """
    if not isinstance(tried, CornerSettings):
        found = open_trial(Path(tried))
        if isinstance(found, PlainTrial):
            _ = (
                found.answer
            )  # readings that cannot be are said here, not when something is asked of the advice
            return PlainTestCutAdvice(found)
        trial = found
    elif cuts:
        table = tried.settled.table
        trial = told_trial("Test cuts", tried.cutter, table, tried.wanted, [cut.entries for cut in cuts])
    else:
        raise InvalidValueError(phrase("there is no test cut: give at least one"))
    return TestCutAdvice(trial, correct_trial(trial))

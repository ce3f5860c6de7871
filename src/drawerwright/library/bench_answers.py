"""What test cuts of a joint without a self-mating cutter say: fingers, rebates, and those of other packages."""

from __future__ import annotations

from dataclasses import dataclass, field

from drawerwright.basics.lengths import Mm
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.test_cuts.plain_trial import PlainTrial
from drawerwright.library.notebook import html_paragraph, html_table


@dataclass(frozen=True, slots=True)
class PlainTestCutAdvice:
    """What to set for the next cut, setting by setting (mm).

    The names of settings are those that docs/test-cuts.md gives for the joint. Printed it tells all that
    `drawerwright correct` does; a notebook shows the settings as a table.
    """

    trial: PlainTrial = field(repr=False)

    @property
    def kind(self) -> str:
        """Of the joint."""
        return self.trial.made.kind

    @property
    def dial_in(self) -> dict[str, Mm]:
        """What each setting has to show for the next cut."""
        return {each.setting.figure: each.shown for each in self.trial.answer.settings}

    @property
    def changes(self) -> dict[str, Mm]:
        """By how much each is changed; 0 where it is better left alone."""
        return {each.setting.figure: each.change or 0.0 for each in self.trial.answer.settings}

    @property
    def off(self) -> dict[str, Estimate]:
        """How much more than planned is to be set, of each setting of which the cuts tell that."""
        return {each.setting.figure: each.off for each in self.trial.answer.settings if each.off is not None}

    @property
    def leave_it(self) -> bool:
        """Whether everything is best left as it stands."""
        return self.trial.answer.leaves_all

    @property
    def contradictions(self) -> tuple[str, ...]:
        """Readings that cannot all be right."""
        return tuple(map(str, self.trial.answer.quarrels))

    def __str__(self) -> str:
        return self.trial.text()

    def _repr_html_(self) -> str:
        style = self.trial.style
        rows = [
            (
                style.say(each.setting.words),
                style.show(each.shown, fine=True),
                "leave it" if each.is_left else style.show(each.change or 0.0, fine=True),
            )
            for each in self.trial.answer.settings
        ]
        lines = (*self.trial.answer.lines, *self.trial.answer.quarrels)
        return html_table(f"{self.trial.name}: next cut", ("set", "shows", "change"), rows) + "".join(
            html_paragraph(style.say(line)) for line in lines
        )

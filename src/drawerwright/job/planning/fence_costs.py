"""What each way to choose the fence positions costs, in words for terminal, packet, data and pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import millimetres
from drawerwright.basics.phrases import joined, phrase, plural
from drawerwright.job.planning.draft import CutterFences
from drawerwright.run.fence_plans import FencePlan, FenceRoutine
from drawerwright.run.fencing import FenceChoice

BREAKS_A_LIMIT = phrase("breaks a limit")


@dataclass(frozen=True, slots=True)
class ComparedPlan:
    """One way to choose the positions: what it does and how it stands.

    `cutter` is the name of the one whose corners it serves, where the job uses several.
    """

    plan: FencePlan
    is_used: bool
    cutter: str = ""

    @property
    def name(self) -> str:
        """What it is called."""
        return self.plan.routine.words

    @property
    def words(self) -> str:
        """What it does."""
        return self.plan.routine.meaning

    @property
    def broken_limit(self) -> str:
        """Which limit it breaks; empty where it keeps all."""
        if self.plan.keeps_limits:
            return ""
        broken = (split.broken_limit for split in self.plan.splits if split.broken_limit)
        return next(broken, BREAKS_A_LIMIT)

    @property
    def standing(self) -> str:
        """Whether it is used, whether any plan has fewer positions, and which limit it breaks if it does."""
        return self._standing(self.broken_limit)

    @property
    def short_standing(self) -> str:
        """The same for a narrow column: only whether it breaks a limit."""
        return self._standing(BREAKS_A_LIMIT)

    def _standing(self, broken_limit: str) -> str:
        marks: list[str] = [phrase("used")] if self.is_used else []
        if not self.plan.keeps_limits:
            marks.append(broken_limit)
        elif self.plan.is_proven:
            marks.append(phrase("fewest, proven"))
        elif self.is_used:
            marks.append(phrase("at least {count} needed", count=self.plan.lower_bound))
        return joined(marks, ", ")


def compared_plans(fences: Sequence[CutterFences]) -> tuple[ComparedPlan, ...]:
    """Every plan, cutter by cutter, the one with the fewest positions first."""
    return tuple(
        ComparedPlan(plan, plan is each.choice.chosen, each.cutter.name if len(fences) > 1 else "")
        for each in fences
        for plan in each.choice.compared
    )


def choice_in_words(fences: Sequence[CutterFences]) -> str:
    """What was chosen for each cutter, how sure it is, and what the usual routine would cost."""
    if len(fences) == 1:
        return _choice_in_words(fences[0].choice)
    said = (joined((each.cutter.name, _choice_in_words(each.choice)), ": ") for each in fences)
    return joined(said, " ")


def _choice_in_words(choice: FenceChoice) -> str:
    chosen = choice.chosen
    if chosen is None:
        return ""
    impossible = joined(dict.fromkeys(joint.key for joint in chosen.impossible), "; ")
    if impossible:
        return phrase(
            "No fence plan can cut the {corners}. The findings say why; do not cut at these positions.",
            corners=impossible,
        )
    said = [_count(choice, chosen)]
    usual = next((plan for plan in choice.compared if plan.routine is FenceRoutine.TOOTH), None)
    if usual is not None and usual is not chosen:
        said.append(_beside(chosen, usual))
    if chosen.ties_open:
        said.append(
            phrase(
                "Time ran out before every plan with as few positions was compared: there may "
                "be one with a thicker neck or a truer lip."
            )
        )
    return joined(said, " ")


def _count(choice: FenceChoice, chosen: FencePlan) -> str:
    if chosen.routine is not FenceRoutine.FEWEST:
        fewest = choice.compared[0].moves
        return plural(
            "The fence is set {count} time, as the job asks; {fewest} would do.",
            "The fence is set {count} times, as the job asks; {fewest} would do.",
            chosen.moves,
            fewest=fewest,
        )
    if chosen.is_proven:
        return plural(
            "{count} fence position serves every corner, and no plan needs fewer.",
            "{count} fence positions serve every corner, and no plan needs fewer.",
            chosen.moves,
        )
    return phrase(
        "{count} fence positions serve every corner; the search ran out of time, and no plan "
        "can do with fewer than {least}.",
        count=chosen.moves,
        least=chosen.lower_bound,
    )


def _beside(chosen: FencePlan, usual: FencePlan) -> str:
    """The usual routine has a neck wherever it exists, and so has the plan beside it."""
    here, there = chosen.thinnest_neck or 0.0, usual.thinnest_neck or 0.0
    return plural(
        "The usual routine (tooth alone) sets the fence {count} time and leaves a neck of "
        "{there} at its thinnest; this plan leaves {here}.",
        "The usual routine (tooth alone) sets the fence {count} times and leaves a neck of "
        "{there} at its thinnest; this plan leaves {here}.",
        usual.moves,
        there=millimetres(there),
        here=millimetres(here),
    )

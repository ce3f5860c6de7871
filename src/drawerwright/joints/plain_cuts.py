"""What test cuts of a joint without a self-mating cutter say: how far each setting is off, and what to set next.

What is set is a figure of the joint; the wood shows by how much it came out otherwise (`PlainJoint.changes`). What was
set, less what was really cut, is how far the setting is off: a gauge that reads high, a bit that cuts wide. It is the
same from cut to cut, but for the error of each reading and of each setting that is dialled in again. So the cuts of a
job add up, those of other corners that are made alike too. Cuts that contradict each other by more than three standard
deviations are named, and the last one counts.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from drawerwright.basics import usual
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm, millimetres
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.basics.uncertain import Cause, Estimate, Origin, propagate
from drawerwright.joints.corner_key import CornerKey
from drawerwright.joints.plain_joint import TOLD_APART, BenchSetting, ChosenJoint, PlainCorner, plain_joint
from drawerwright.joints.setting import CornerGeometry

CONTRADICTS = 3.0
"""Standard deviations beyond which two cuts cannot both be right, as for cutters (`contradictions`)."""
LEAST_DOUBT: Mm = 1e-6
"""So that figures stated as exact can be weighed too."""
_FLAT, _UPRIGHT = "flat piece", "upright piece"
"""Causes of doubt beside the readings; no reading is called so."""


@dataclass(frozen=True, slots=True)
class PlainCut:
    """A test cut as it was made and read (mm).

    `shown` is what was set, by the figures that it sets; `width` of the edge, for a joint that depends on it.
    """

    shown: Mapping[str, Mm]
    flat_thickness: Estimate
    upright_thickness: Estimate
    readings: Mapping[str, Estimate]
    width: Mm = 0.0

    def made(self, corner: PlainCorner) -> PlainCorner:
        """The corner that was meant, in the wood of the test pieces, with the measures that the job's has."""
        joint = plain_joint(corner.kind)
        measures = tuple((each.name, joint.measure(corner, each.name)) for each in joint.measures)
        pieces = CornerGeometry(
            self.flat_thickness.value, self.upright_thickness.value, lip=corner.corner.lip
        )
        return replace(corner, corner=pieces, measures=measures)


@dataclass(frozen=True, slots=True)
class LearntJoint:
    """What accepted test cuts have taught of a joint with its measures: how much more than planned is to be set, by the
    figures (mm)."""

    chosen: ChosenJoint
    off: Mapping[str, Estimate]

    def is_of(self, key: CornerKey) -> bool:
        """Whether a corner is cut by the same measures."""
        return (self.chosen.joint.name, self.chosen.measures) == (key.joint, key.measures)


def learnt_off(learnt: Iterable[LearntJoint], key: CornerKey) -> Mapping[str, Estimate]:
    """How much more than planned is to be set for a corner, by accepted test cuts (mm); nothing where none was."""
    return next((known.off for known in learnt if known.is_of(key)), {})


@dataclass(frozen=True, slots=True)
class NextSetting:
    """What to set for the next cut: what the gauge has to show, and how far that is from the last cut's (mm).

    `change` is None before the first cut, and 0 where it stays as it is. `off`: how much more than planned is to be
    set; None where no cut says.
    """

    setting: BenchSetting
    shown: Mm
    change: Mm | None
    off: Estimate | None

    @property
    def is_left(self) -> bool:
        return self.change == 0


@dataclass(frozen=True, slots=True)
class PlainAnswer:
    """What the cuts of a corner ask for: settings, sentences, and what contradicts itself."""

    settings: tuple[NextSetting, ...]
    lines: tuple[Phrase, ...]
    quarrels: tuple[Phrase, ...] = ()

    @property
    def leaves_all(self) -> bool:
        """Whether the machine is set as it should be."""
        return all(each.is_left for each in self.settings)

    @property
    def dial(self) -> dict[str, Mm]:
        """What the gauges have to show (mm), by the figures that they set."""
        return {each.setting.figure: each.shown for each in self.settings}


def aimed(made: PlainCorner, width: Mm) -> dict[str, Mm]:
    """What is set for a corner while nothing is known of the gauges (mm), by the figures."""
    joint = plain_joint(made.kind)
    values = {figure.name: figure.value for figure in joint.figures(made, width)}
    return {setting.figure: values[setting.figure] for setting in joint.settings}


def can_be_set(made: PlainCorner, width: Mm) -> bool:
    """Whether an edge of this width (mm) has room for the joint."""
    try:
        aimed(made, width)
    except InvalidValueError:
        return False
    return True


def check_readings(made: PlainCorner, cut: PlainCut) -> None:
    """See whether a cut can be what it says.

    Raises:
        InvalidValueError: the joint has no such reading or setting, or a reading cannot come from such a cut.
    """
    joint = plain_joint(made.kind)
    joint.check_named(cut.readings)
    known = {setting.figure for setting in joint.settings}
    for name in cut.shown:
        if name not in known:
            raise InvalidValueError(
                phrase(
                    "a {kind} joint has no setting {name!r}; it has {known}",
                    kind=joint.name,
                    name=name,
                    known=", ".join(setting.figure for setting in joint.settings),
                )
            )
    joint.changes(cut.made(made), cut.width, {name: read.value for name, read in cut.readings.items()})


def settings_off(
    made: PlainCorner, cut: PlainCut, repeatability: Mm = usual.REPEATABILITY
) -> dict[str, Estimate]:
    """How much more than planned is to be set after a cut of a corner (mm), by the figures; without those of which its
    readings say nothing, or of which nobody wrote what was set."""
    joint = plain_joint(made.kind)
    causes = [
        Cause.normal(_FLAT, cut.flat_thickness),
        Cause.normal(_UPRIGHT, cut.upright_thickness),
        *(Cause.normal(name, read) for name, read in cut.readings.items()),
    ]
    found = {}
    for setting in joint.settings:
        if setting.figure not in cut.shown or setting.change not in _changes(made, cut, {}):
            continue

        def off(at: Mapping[str, Mm], setting: BenchSetting = setting) -> Mm:
            really = (
                _aimed_at(made, cut, at)[setting.figure]
                - setting.way * _changes(made, cut, at)[setting.change]
            )
            return cut.shown[setting.figure] - really

        known = propagate(off, causes).estimate
        doubt = math.hypot(known.uncertainty, repeatability, LEAST_DOUBT)
        found[setting.figure] = Estimate(known.value, doubt, Origin.LEARNT)
    return found


def answer(
    made: PlainCorner,
    width: Mm,
    cuts: Sequence[PlainCut],
    former: Sequence[Mapping[str, Estimate]] = (),
    repeatability: Mm = usual.REPEATABILITY,
) -> PlainAnswer:
    """What test cuts of a corner say, oldest first.

    Args:
        made: the corner.
        width: of its edge (mm).
        cuts: those that count for it; none before the first.
        former: what cuts of other corners that are made alike say (`settings_off`).
        repeatability: standard deviation of a setting that is dialled in again (mm).

    Raises:
        InvalidValueError: a reading cannot come from such a cut.
    """
    joint, aim = plain_joint(made.kind), aimed(made, width)
    own = [settings_off(made, cut, repeatability) for cut in cuts]
    settings, quarrels = [], []
    for setting in joint.settings:
        said = [(number, each[setting.figure]) for number, each in enumerate(own) if setting.figure in each]
        told = [known for _number, known in said]
        apart = _contradicting(told)
        if apart is not None:
            quarrels.append(_quarrel(setting, [(said[place][0], said[place][1]) for place in apart]))
        others = [each[setting.figure] for each in former if setting.figure in each]
        known = told[-1] if apart is not None else _weighed([*others, *told])
        settings.append(_next(setting, aim[setting.figure], known, cuts, made))
    return PlainAnswer(tuple(settings), _lines(made, cuts, settings), tuple(quarrels))


def _next(
    setting: BenchSetting, aim: Mm, known: Estimate | None, cuts: Sequence[PlainCut], made: PlainCorner
) -> NextSetting:
    """What is aimed at, and by how much it is off. What the last cut shows to be right stays."""
    shown = aim + (0.0 if known is None else known.value)
    last = cuts[-1].shown.get(setting.figure) if cuts else None
    if last is None:
        return NextSetting(setting, shown, None, known)
    asked = _changes(made, cuts[-1], {}).get(setting.change)
    is_right = abs(shown - last if asked is None else asked) <= TOLD_APART
    return NextSetting(setting, last if is_right else shown, 0.0 if is_right else shown - last, known)


def _lines(
    made: PlainCorner, cuts: Sequence[PlainCut], settings: Sequence[NextSetting]
) -> tuple[Phrase, ...]:
    """The last cut in words, its changes as all cuts together ask for them."""
    if not cuts:
        return ()
    changes = dict(_changes(made, cuts[-1], {}))
    for each in reversed(settings):
        if each.setting.change in changes and each.change is not None:
            changes[each.setting.change] = each.setting.way * each.change
    return plain_joint(made.kind).told(changes)


def _read(cut: PlainCut, at: Mapping[str, Mm]) -> dict[str, Mm]:
    return {name: at.get(name, read.value) for name, read in cut.readings.items()}


def _piece(cut: PlainCut, made: PlainCorner, at: Mapping[str, Mm]) -> PlainCorner:
    pieces = CornerGeometry(
        at.get(_FLAT, cut.flat_thickness.value),
        at.get(_UPRIGHT, cut.upright_thickness.value),
        lip=made.corner.lip,
    )
    return replace(cut.made(made), corner=pieces)


def _changes(made: PlainCorner, cut: PlainCut, at: Mapping[str, Mm]) -> Mapping[str, Mm]:
    return plain_joint(made.kind).changes(_piece(cut, made, at), cut.width, _read(cut, at))


def _aimed_at(made: PlainCorner, cut: PlainCut, at: Mapping[str, Mm]) -> Mapping[str, Mm]:
    return aimed(_piece(cut, made, at), cut.width)


def _weighed(known: Sequence[Estimate]) -> Estimate | None:
    """Their mean, each with the weight that its doubt leaves it (JCGM 100:2008, 5.1 with the mean as the model)."""
    if not known:
        return None
    weights = [1 / each.uncertainty**2 for each in known]
    mean = sum(weight * each.value for weight, each in zip(weights, known, strict=True)) / sum(weights)
    return Estimate(mean, 1 / math.sqrt(sum(weights)), Origin.LEARNT)


def _contradicting(known: Sequence[Estimate]) -> tuple[int, int] | None:
    """The last cut, and the latest one before it that cannot be right with it."""
    for place in reversed(range(len(known) - 1)):
        doubt = math.hypot(known[place].uncertainty, known[-1].uncertainty)
        if abs(known[place].value - known[-1].value) > CONTRADICTS * doubt:
            return place, len(known) - 1
    return None


def _quarrel(setting: BenchSetting, cuts: Sequence[tuple[int, Estimate]]) -> Phrase:
    (one, first), (other, second) = cuts
    return phrase(
        "{setting}: by cut {one} it is {first} off the planned figure, by cut {other} {second}. One of the two was "
        "misread, or something has slipped; the answer follows the last cut. Read both again, and lock the machine.",
        setting=setting.words,
        one=one + 1,
        first=millimetres(first.value),
        other=other + 1,
        second=millimetres(second.value),
    )

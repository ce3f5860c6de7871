"""A test cut from its entries, in a trial file or as the app keeps it: what calipers and eye read of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drawerwright.basics import usual
from drawerwright.basics.errors import FaultyInputError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.entry_types import Given
from drawerwright.job.file.reading import Document, Location, check_model
from drawerwright.job.file.trial_model import CutEntry, KeptCutEntry, Sight, TakenEntry
from drawerwright.joints.joint import SelfMating
from drawerwright.joints.plain_cuts import PlainCut
from drawerwright.joints.plain_joint import PlainJoint
from drawerwright.joints.readings import RULES, STEPS_BETWEEN_FACES, ReadingKind
from drawerwright.joints.trial_cut import TakenReading, TrialCut

_SIGHTS: dict[Sight, tuple[tuple[ReadingKind, Mm | None], ...]] = {
    Sight.PLAY: ((ReadingKind.PLAY, None),),
    Sight.TIGHT: ((ReadingKind.PLAY, 0.0), (ReadingKind.STANDS_PROUD, 0.0)),
    Sight.PROUD: ((ReadingKind.STANDS_PROUD, None),),
    Sight.CLOSES: ((ReadingKind.STANDS_PROUD, 0.0),),
}
"""What each sight says: shown but not measured (None), or not there."""


@dataclass(frozen=True, slots=True)
class Instruments:
    """How well readings are known that say nothing themselves (mm): by calipers, None where nobody has said; by eye."""

    calipers: Mm | None = None
    eye: Mm = usual.EYE

    def measured(self, given: Given) -> Estimate:
        """A length that calipers have measured."""
        stated = self.calipers if given.uncertainty is None else given.uncertainty
        return Given(given.value, stated).estimate(usual.CALIPER_READING)

    def taken(self, kind: ReadingKind, entry: TakenEntry) -> TakenReading:
        """A reading: what there is to measure goes by calipers, what does not show by eye."""
        if entry.uncertainty is not None:
            return TakenReading(kind, entry.value, entry.uncertainty)
        if RULES[kind].is_seen_when_positive and not entry.value:
            return TakenReading(kind, entry.value, self.eye)
        return TakenReading(kind, entry.value, self.measured(Given(entry.value or 0.0)).uncertainty)


def cut_of_entries(entry: CutEntry, flat: Estimate, upright: Estimate, instruments: Instruments) -> TrialCut:
    """A cut's entries as values; `flat` and `upright` stand in where it gives no thickness of its own."""
    readings = [instruments.taken(ReadingKind(name), taken) for name, taken in entry.readings.items()]
    seen = dict.fromkeys(shown for sight in entry.seen for shown in _SIGHTS[sight])
    readings += [TakenReading(kind, value, instruments.eye) for kind, value in seen]
    fence_flat, fence_upright = entry.fences
    return TrialCut(
        height_shown=Estimate(entry.height_shown or 0.0)
        if entry.block is None
        else instruments.measured(entry.block),
        fence_flat_shown=fence_flat,
        fence_upright_shown=fence_upright,
        flat_thickness=flat if entry.flat is None else instruments.measured(entry.flat),
        upright_thickness=upright if entry.upright is None else instruments.measured(entry.upright),
        readings=tuple(readings),
        by_block=entry.block is not None,
    )


def plain_cut_of_entries(
    entry: CutEntry, flat: Estimate, upright: Estimate, width: Mm, instruments: Instruments
) -> PlainCut:
    """The same of a joint without a cutter; `width` of the edge (mm) stands in too."""
    return PlainCut(
        dict(entry.settings),
        flat if entry.flat is None else instruments.measured(entry.flat),
        upright if entry.upright is None else instruments.measured(entry.upright),
        {
            name: instruments.measured(Given(taken.value or 0.0, taken.uncertainty))
            for name, taken in entry.readings.items()
        },
        width if entry.width is None else entry.width,
    )


def read_kept_cut(text: str) -> TrialCut:
    """A test cut that the app has kept (`KeptCutEntry`): one cut of a trial file.

    Raises:
        FaultyInputError: it cannot be read, does not give the thicknesses of its pieces, or has a reading that no
            cutter's joint has.
    """
    entry, document, (flat, upright) = _kept(text)
    unknown = [name for name in entry.readings if name not in RULES]
    if unknown:
        raise FaultyInputError(
            (document.fault(("readings", unknown[0]), "is no reading of a cutter's joint"),)
        )
    return cut_of_entries(entry, flat, upright, Instruments())


def read_kept_plain_cut(text: str) -> PlainCut:
    """The same of a joint without a cutter.

    Raises:
        FaultyInputError: it cannot be read, or does not give the thicknesses of its pieces.
    """
    entry, _document, (flat, upright) = _kept(text)
    return plain_cut_of_entries(entry, flat, upright, 0.0, Instruments())


def _kept(text: str) -> tuple[KeptCutEntry, Document, tuple[Estimate, Estimate]]:
    document = Document(text)
    entry = check_model(KeptCutEntry, document)
    if entry.flat is None or entry.upright is None:
        raise FaultyInputError((document.fault((), "needs the thickness of both pieces"),))
    measured = Instruments().measured
    return entry, document, (measured(entry.flat), measured(entry.upright))


def reading_faults(joint: SelfMating, cut: CutEntry) -> Iterator[tuple[Location, str]]:
    """Every joint has its own readings."""
    if cut.settings:
        yield (
            ("settings",),
            f"belongs to a joint without a cutter; of a {joint.name} cutter give height and fence",
        )
    for reading in cut.readings:
        if reading not in joint.readings:
            yield (
                ("readings", reading),
                f"is not read with a {joint.name} cutter; its readings are {', '.join(joint.readings)}",
            )
    if cut.seen and joint.first_reading is None:
        felt = " or ".join(repr(str(kind)) for kind in STEPS_BETWEEN_FACES if kind in joint.readings)
        yield (
            ("seen",),
            f"belongs to a joint that has play or stands proud; with a {joint.name} cutter read {felt} "
            "(0 where nothing is felt)",
        )


def plain_reading_faults(joint: PlainJoint, cut: CutEntry) -> Iterator[tuple[Location, str]]:
    """Every joint without a cutter has its own settings and readings, which are measured."""
    if cut.is_of_cutter:
        known = ", ".join(setting.figure for setting in joint.settings)
        yield (), f"has the height or fence of a cutter; a {joint.name} joint has 'settings': {known}"
    for what, given, known_names in (
        ("settings", cut.settings, [setting.figure for setting in joint.settings]),
        ("readings", cut.readings, [reading.name for reading in joint.readings]),
    ):
        for name in given:
            if name not in known_names:
                yield (
                    (what, name),
                    f"is not of a {joint.name} joint; it has {', '.join(known_names) or 'none'}",
                )
    signed = [reading.name for reading in joint.readings if reading.is_signed]
    for name, taken in cut.readings.items():
        if taken.value is None:
            yield ("readings", name), "must be measured: give its length"
        elif taken.value <= 0 and name not in signed:
            yield ("readings", name), f"must be more than 0 mm, not {taken.value:g} mm"
    if cut.seen or cut.scan is not None:
        name = "seen" if cut.seen else "scan"
        yield (name,), f"belongs to a joint that a cutter makes; of a {joint.name} joint give readings"

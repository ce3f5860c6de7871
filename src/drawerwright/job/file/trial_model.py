"""The trial file as users write it: what was set, what was read, what is wanted."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Any

from pydantic import BeforeValidator, Discriminator, Field, Tag, model_validator

from drawerwright.basics import usual
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.typed_lengths import LONGEST, in_any_case, with_doubt
from drawerwright.job.file.entry_types import (
    ANY,
    MORE,
    ZERO_OR_MORE,
    Clearance,
    Doubted,
    Entries,
    Length,
    PlainJointChoice,
    PositiveLength,
    PositiveLengthGiven,
    Told,
    Usual,
    parse_given,
    positive_length,
)
from drawerwright.job.file.file_units import FileUnit
from drawerwright.job.file.formats import FileFormat
from drawerwright.job.file.model import CutterEntry, ShownEntry
from drawerwright.job.file.shop_model import MachineEntry
from drawerwright.joints.corner_key import USUAL_ORIENTATION, CornerKey, Orientation
from drawerwright.joints.plain_joint import plain_joints
from drawerwright.joints.readings import RULES, FitRange, ReadingKind
from drawerwright.joints.setting import FenceRule

_FIT = FitRange()
SEEN, NOT_SEEN = "seen", "none"
MOST_CUTS = 50
"""A corner is right long before that."""


class Sight(StrEnum):
    """What the eye says of a drawer-lock corner put together."""

    PLAY = "play"
    """It goes home and can be pulled: a gap shows."""
    TIGHT = "tight"
    """It goes home, and no gap shows."""
    PROUD = "proud"
    """It does not go home."""
    CLOSES = "closes"
    """It goes home; whether it has play was not looked at."""


@dataclass(frozen=True, slots=True)
class TakenEntry:
    """A reading as written: a length, or None for what was seen but not measured; uncertainty None: as usual."""

    value: Mm | None
    uncertainty: Mm | None = None


def _taken(value: Any) -> TakenEntry:
    if isinstance(value, TakenEntry):
        return value
    word = value.strip().lower() if isinstance(value, str) else None
    if word == SEEN:
        return TakenEntry(None)
    if word == NOT_SEEN:
        return TakenEntry(0.0)
    if value is None:
        raise InvalidValueError("must be a length, 'seen' or 'none'; leave out what you did not measure")
    given = parse_given(value)
    return TakenEntry(given.value, given.uncertainty)


def _fence(value: Any) -> FenceRule | float:
    return FenceRule(value) if value in tuple(FenceRule) else positive_length(value)


def _listed(value: Any) -> Any:
    return (value,) if isinstance(value, str) else value


def _corner(value: Any) -> Any:
    if isinstance(value, str):
        return {"name": value}
    if isinstance(value, dict):
        return value
    raise InvalidValueError("must name a corner, or describe it: {flat: birch15, lip: 7.5}")


_READ = "length, ± its uncertainty, `seen` or `none`"
_SEEN_OR_READ = rf"^\s*(?:{in_any_case(f'{SEEN}|{NOT_SEEN}')})\s*$|{with_doubt(ANY, ZERO_OR_MORE)}"
_SETTING = "`one`, `tooth` or length"
Taken = Annotated[
    TakenEntry,
    BeforeValidator(_taken, json_schema_input_type=float | str | Doubted),
    Told(_READ, unit="mm", most=LONGEST, pattern=_SEEN_OR_READ),
]
FenceWish = Annotated[
    FenceRule | float,
    BeforeValidator(_fence, json_schema_input_type=float | str),
    Told(_SETTING, unit="mm", above=0, most=LONGEST, pattern=rf"^(?:{'|'.join(FenceRule)})$|{MORE}"),
]
Sights = Annotated[
    tuple[Sight, ...], BeforeValidator(_listed, json_schema_input_type=Sight | tuple[Sight, ...])
]

Pictures = Annotated[
    tuple[str, ...],
    BeforeValidator(_listed, json_schema_input_type=str | tuple[str, ...]),
    Told("text or list"),
]


_SEEN_ONE_WAY = frozenset(str(kind) for kind, rule in RULES.items() if rule.is_seen_when_positive)


def _reading_names() -> list[str]:
    return [*map(str, ReadingKind), *(each.name for joint in plain_joints() for each in joint.readings)]


def _reading_name(value: Any) -> str:
    names = _reading_names()
    if value not in names:
        known = ", ".join(dict.fromkeys(names))
        raise InvalidValueError(f"is no reading of any joint; there are {known}")
    return str(value)


class _ReadingsInSchema:
    """Editors are told the readings that there are when they ask."""

    @classmethod
    def __get_pydantic_json_schema__(cls, _core: Any, _handler: Any) -> dict[str, Any]:
        return {"type": "string", "enum": _reading_names()}


ReadingName = Annotated[str, BeforeValidator(_reading_name), _ReadingsInSchema]
"""What some joint is read by; whether it is this one's is seen when the joint is known."""


class CornerEntry(Entries):
    """Which corner of the job is meant, by what is said of it: cutter and stocks by their names.

    A text is a name: the corner's own, or the drawer's.
    """

    name: str | None = None
    """The corner's name in the plan."""
    drawer: str | None = None
    """The name of a drawer."""
    cutter: str | None = None
    """The name of a cutter."""
    flat: str | None = None
    """The name of the stock of the flat piece."""
    upright: str | None = None
    """The name of the stock of the upright piece."""
    lip: Length | None = None
    """Its lip."""
    orientation: Orientation | None = None
    """Which pieces lie flat on the router table."""


CutterWish = Annotated[
    Annotated[CutterEntry, Tag("own")] | Annotated[str, Tag("of the job")],
    Discriminator(lambda given: "of the job" if isinstance(given, str) else "own"),
]
"""A cutter of its own, or the name of one of the job's."""
CornerWish = Annotated[
    CornerEntry,
    BeforeValidator(_corner, json_schema_input_type=str | CornerEntry),
    Told("text or section"),
]


class WantedEntry(Entries):
    """The corner to be made, and what counts as a fit."""

    corner: CornerWish | None = None
    """A corner of the job: its name in the plan, the name of a drawer with only one corner, or a description
    that fits no other.
    """
    flat: PositiveLengthGiven | None = None
    """Thickness of the flat piece; by default the job's, if you name a corner."""
    upright: PositiveLengthGiven | None = None
    """Thickness of the upright piece; by default the job's, if you name a corner."""
    width: PositiveLength | None = None
    """Of a joint without a cutter: width of its edge, the height of the drawer; by default that of the highest drawer
    of the job that has the corner.
    """
    lip: Annotated[Length | None, Usual(0.0)] = None
    """How far the flat piece is to stand beyond the upright; by default the job's, if you name a corner."""
    fence: Annotated[FenceWish | None, Usual(FenceRule.ONE)] = None
    """`one` setting for both pieces, only the `tooth` for the upright piece, or the upright piece's fence
    setting.
    """
    least_play: Annotated[Clearance | None, Usual(_FIT.least_play)] = None
    """Least play that counts as a fit; by default the job's, if you name one."""
    most_play: Annotated[Clearance | None, Usual(_FIT.most_play)] = None
    """Most play that counts as a fit; by default the job's, if you name one."""
    flushness: Annotated[PositiveLength | None, Usual(_FIT.flushness)] = None
    """How far the lip, or the tip of a lock-mitre, may be off; by default the job's, if you name one."""


class ScanEntry(Entries):
    """Pictures of the sawn pieces of a test cut, beside the file: PNG, JPEG, TIFF or WebP."""

    flat: Pictures = ()
    """Picture of the flat piece, or a list of several."""
    upright: Pictures = ()
    """Picture of the upright piece, or a list of several."""
    dpi: Annotated[float, Field(gt=0), Told("number", unit="dpi", above=0)] | None = None
    """Dots per inch; by default as the pictures say."""
    slice_height: PositiveLengthGiven | None = None
    """Of photos on the sheet of marks: how high the slices stand over it, by caliper; by default about 7 mm."""
    scanner: str | None = None
    """A calibrated scanner on your shelf, by its name: its own scale is used."""

    @model_validator(mode="after")
    def _shows_something(self) -> ScanEntry:
        if not self.flat and not self.upright:
            raise InvalidValueError("names no picture: give 'flat', 'upright' or both")
        return self


class CutEntry(Entries):
    """One test cut: what the gauges showed, how thick the two pieces are, what was read or seen."""

    height_shown: PositiveLength | None = None
    """What the height gauge showed; or give `block`."""
    block: PositiveLengthGiven | None = None
    """Thickness of a block planed to the bit height."""
    fence_shown: Length | None = None
    """What the fence scale showed, if you cut both pieces without moving it."""
    fence_flat_shown: Length | None = None
    """What it showed for the flat piece."""
    fence_upright_shown: Length | None = None
    """What it showed for the upright piece."""
    flat: PositiveLengthGiven | None = None
    """Thickness of the flat scrap; by default as wanted."""
    upright: PositiveLengthGiven | None = None
    """Thickness of the upright scrap; by default as wanted."""
    seen: Sights = ()
    """What you saw; a list if you saw several things."""
    settings: dict[str, PositiveLength] = Field(default_factory=dict)
    """Of a finger joint, a rebate or another joint without a cutter: what you set, by the names of its settings."""
    width: PositiveLength | None = None
    """Of such a joint: width of the scraps' joined edge; by default as wanted."""
    readings: dict[ReadingName, Taken] = Field(default_factory=dict)
    """Your readings, by the names above."""
    scan: ScanEntry | None = None
    """Pictures that the readings are taken from, beside or instead of calipers ([scanning](scanning.md))."""
    note: str | None = None
    """Anything you like."""

    @property
    def fences(self) -> tuple[Mm, Mm]:
        """What the fence scale showed for the flat and for the upright piece."""
        flat, upright = self.fence_flat_shown, self.fence_upright_shown
        if flat is not None and upright is not None:
            return flat, upright
        return (self.fence_shown or 0.0,) * 2

    @property
    def is_of_cutter(self) -> bool:
        """Whether it says what a height gauge and a fence scale showed: a self-mating cutter's."""
        gauges = (self.height_shown, self.block, self.fence_shown, self.fence_flat_shown)
        return any(gauge is not None for gauge in (*gauges, self.fence_upright_shown))

    @model_validator(mode="after")
    def _is_set_once(self) -> CutEntry:
        if self.settings and not self.is_of_cutter:
            return self
        if self.settings:
            raise InvalidValueError(
                "has 'settings', for a joint without a cutter, beside the height or the fence of one: leave out "
                "what the joint does not have"
            )
        if (self.height_shown is None) == (self.block is None):
            raise InvalidValueError(
                "needs the height: either 'height_shown' (the height gauge) or 'block' (planed to the bit height); of "
                "a joint without a cutter its 'settings'"
            )
        apart = (self.fence_flat_shown, self.fence_upright_shown)
        if None in apart if self.fence_shown is None else apart != (None, None):
            raise InvalidValueError(
                "needs the fence: either 'fence_shown' for both pieces, or 'fence_flat_shown' and "
                "'fence_upright_shown'"
            )
        return self

    @model_validator(mode="after")
    def _is_read_as_it_shows(self) -> CutEntry:
        for kind, taken in self.readings.items():
            is_one_sided = kind in _SEEN_ONE_WAY
            if taken.value is None and not is_one_sided:
                raise InvalidValueError(f"the reading {kind} must be measured: give its length")
            if taken.value is not None and taken.value < 0 and is_one_sided:
                raise InvalidValueError(
                    f"the reading {kind} cannot be less than 0 ({taken.value:g} mm): write 0 or 'none'"
                )
        return self


class KeyEntry(Entries):
    """The key of a corner (`drawerwright.joints.corner_key`)."""

    joint: str
    cutter: str
    flat: str
    upright: str
    lip: float = 0.0
    orientation: Orientation = USUAL_ORIENTATION
    measures: dict[str, float] = Field(default_factory=dict)

    @property
    def key(self) -> CornerKey:
        return CornerKey(**{**dict(self), "measures": tuple(self.measures.items())})


class KeptCutEntry(CutEntry):
    """A test cut as the app keeps it beside a job: the same entries, and where it belongs.

    `corner` is what the corner of its `key` was called when it was saved, in English.
    """

    job: int | None = None
    cutter: str | None = None
    corner: str | None = None
    key: KeyEntry | None = None
    claimed: KeyEntry | None = None
    """The corner that somebody says it counts for, where its own was not known or is no more."""
    accepted: bool = False


def is_job_file(data: Any) -> bool:
    """Whether what was given for a trial file is the file of a job."""
    return isinstance(data, dict) and "stock" in data and not data.keys() & {"trial", "cuts"}


class TrialFile(Entries):
    """Test cuts of one corner, oldest first."""

    format: FileFormat
    """Version of this description."""
    trial: str = Field(min_length=1, max_length=120)
    """A name for these cuts."""
    units: FileUnit | None = None
    """Unit of numbers that name none; by default as in the job file that it names, else mm."""
    job: str | None = None
    """A job file beside this one; supplies the cutter, the machine, the fit and how lengths are shown."""
    shown: ShownEntry | None = None
    """As in a job file; overrides the job's."""
    cutter: CutterWish | None = None
    """As in a job file; overrides the job's. Or the name of one of the job's several cutters, unless
    `wanted.corner` already says it.
    """
    joint: PlainJointChoice | None = None
    """Instead of a cutter: a joint that needs none, as in a job file; unless `wanted.corner` already says it."""
    machine: MachineEntry | None = None
    """As in a job file; overrides the job's."""
    wanted: WantedEntry = WantedEntry()
    """The corner to be made, and what counts as a fit."""
    calipers: Annotated[Clearance | None, Usual(usual.CALIPER_READING)] = None
    """Standard uncertainty of measured readings and thicknesses that give none; `± 0` means exact."""
    eye: Clearance = usual.EYE
    """How much play, or standing proud, the eye may miss."""
    cuts: tuple[CutEntry, ...] = Field(min_length=1, max_length=MOST_CUTS)
    """The test cuts of this corner, oldest first; they add up."""


class ToldCuts(Entries):
    """Test cuts that stand in no file."""

    cuts: tuple[CutEntry, ...] = Field(min_length=1, max_length=MOST_CUTS)


class PartialTrialFile(TrialFile):
    """What is left of a faulty file: checked as well, so that all faults come at once."""

    format: FileFormat = 1
    trial: str = "trial"
    cuts: tuple[CutEntry, ...] = ()

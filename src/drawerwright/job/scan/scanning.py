"""The use case `scan`: what pictures of test pieces say of the cutter and of how the machine was set."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle, Mm, millimetres
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.plain_data import Data, clean
from drawerwright.job.scan.picture_files import NOTHING_KNOWN, OpenedPicture, TakenWith, open_picture
from drawerwright.joints.mating import mating
from drawerwright.joints.registry import USUAL
from drawerwright.joints.scan.by_hand import HandEdit
from drawerwright.joints.scan.cut_measures import MEASURES, Measured, SectionReading, combined, read_section
from drawerwright.joints.scan.instrument import ScaleSource
from drawerwright.joints.scan.mitre_measures import read_mitre
from drawerwright.joints.scan.picture_scale import INCH


@dataclass(frozen=True, slots=True)
class PictureGiven:
    """A picture and the piece that it shows; `thickness` by caliper (mm), None where nobody has measured;
    `edits`: what was changed by hand."""

    picture: OpenedPicture
    is_flat: bool
    thickness: Estimate | None = None
    edits: tuple[HandEdit, ...] = ()


@dataclass(frozen=True, slots=True)
class ScannedCut:
    """What pictures of one cut say together: each measure (mm, degrees), None where they do not tell, and each
    picture's own reading by its name."""

    kind: str
    measures: dict[str, Measured | None]
    mid_to_tip: Measured | None
    points: tuple[tuple[Mm, Mm], ...]
    point_uncertainty: Mm
    readings: tuple[tuple[str, SectionReading], ...]
    doubts: tuple[Phrase, ...]


def open_pictures(
    flat: Sequence[Path],
    upright: Sequence[Path],
    thickness: Estimate | None = None,
    taken: TakenWith = NOTHING_KNOWN,
) -> tuple[PictureGiven, ...]:
    """Pictures from files; raises as `open_picture`, of no picture too."""
    if not flat and not upright:
        raise InvalidValueError(
            phrase("give a picture of the flat piece with --flat, of the upright one with --upright, or both")
        )
    named = [(path, True) for path in flat] + [(path, False) for path in upright]
    return tuple(PictureGiven(open_picture(path, taken), is_flat, thickness) for path, is_flat in named)


def scan_pictures(
    given: Sequence[PictureGiven],
    *,
    kind: str | None = None,
    bit_height: Estimate | None = None,
) -> ScannedCut:
    """What pictures of the test pieces of one cut say.

    Args:
        given: the pictures.
        kind: of the joint that the cutter makes; None: the usual one.
        bit_height: as it was set (mm), for a cutter whose top lies outside the wood.

    Raises:
        InvalidValueError: a picture cannot be read; the text names it.
    """
    kind = kind or USUAL
    through = mating(kind).through(1.0) is not None
    readings = []
    for one in given:
        try:
            reading = _read(one, through, bit_height)
        except InvalidValueError as error:
            raise InvalidValueError(
                phrase("{name}: {text}", name=one.picture.name, text=error.args[0])
            ) from None
        readings.append((one.picture.name, reading))
    return _together(kind, readings)


def _read(one: PictureGiven, through: bool, bit_height: Estimate | None) -> SectionReading:
    dpi = one.picture.dpi
    how: dict[str, Any] = {
        "is_flat": one.is_flat,
        "per_mm": None if dpi is None else dpi / INCH,
        "source": one.picture.source,
        "thickness": one.thickness,
        "instrument": one.picture.instrument,
    }
    if through:
        reading = read_mitre(one.picture.pixels, bit_height=bit_height, **how)
    else:
        reading = read_section(one.picture.pixels, edits=one.edits, **how)
    if not one.picture.few_tones:
        return reading
    few = phrase(
        "the picture has too few colours or greys to tell an edge finely: scan in colour, and save it without reducing "
        "them."
    )
    return replace(reading, doubts=(*reading.doubts, few))


def _together(kind: str, readings: list[tuple[str, SectionReading]]) -> ScannedCut:
    alone = [reading for _, reading in readings]
    doubts: list[Phrase] = []
    for name, reading in readings:
        doubts += [phrase("{name}: {text}", name=name, text=doubt) for doubt in reading.doubts]
    measures: dict[str, Measured | None] = {}
    for name in MEASURES:
        found, agree = combined(alone, name)
        measures[name] = found
        if not agree:
            doubts.append(_quarrel_words(name, readings))
            if name in ("fence", "thickness", "bit_height"):
                measures[name] = None
    if any(
        reading.scale.source in (ScaleSource.FILE, ScaleSource.GIVEN) and reading.scale.agrees is None
        for reading in alone
    ):
        doubts.append(
            phrase(
                "The scale is as good as a usual scanner, which is assumed: the thickness by caliper checks it."
            )
        )
    best = min(alone, key=lambda reading: reading.measures["step"].own)
    height, middle = measures["bit_height"], measures["mid_depth"]
    tip, _ = combined(alone, "mid_to_tip")
    if tip is None and height is not None and middle is not None:
        tip = Measured(
            height.value - middle.value,
            math.hypot(height.own, middle.own),
            abs(height.common - middle.common),
        )
    return ScannedCut(
        kind, measures, tip, best.points, best.point_uncertainty, tuple(readings), tuple(doubts)
    )


def agreement_words(readings: Iterable[SectionReading]) -> tuple[Phrase, ...]:
    """What is said of thicknesses by caliper that agree with the scale of their pictures."""
    agree = dict.fromkeys(one.scale.agrees for one in readings if one.scale.agrees is not None)
    return tuple(
        phrase(
            "The thickness by caliper, {thickness}, agrees with the scale.", thickness=millimetres(thickness)
        )
        for thickness in agree
    )


_WORDS = {
    "mid_depth": phrase("mid depth"),
    "step": phrase("step"),
    "slope": phrase("slope"),
    "bit_height": phrase("bit height"),
    "fence": phrase("fence setting"),
    "thickness": phrase("thickness"),
}


def _quarrel_words(name: str, readings: Iterable[tuple[str, SectionReading]]) -> Phrase:
    values = joined(
        [
            phrase("{value:.2f} in {name}", value=reading.measures[name].value, name=file)
            for file, reading in readings
            if name in reading.measures
        ],
        ", ",
    )
    if name == "fence":
        return phrase(
            "The pieces were cut at different fence settings ({values}): each picture has its own.",
            values=values,
        )
    if name == "thickness":
        return phrase("The pieces are not equally thick ({values}): each picture has its own.", values=values)
    return phrase(
        "The pictures contradict each other in the {what} ({values}): was it one cutter and one set-up?",
        what=_WORDS[name],
        values=values,
    )


def scan_data(cut: ScannedCut) -> Data:
    """A scanned cut as plain data."""
    points = {
        "value": [[clean(depth), clean(inset)] for depth, inset in cut.points],
        "uncertainty": clean(cut.point_uncertainty),
    }
    first = cut.readings[0][1]
    return {
        "kind": cut.kind,
        **{name: _measured_data(measured) for name, measured in cut.measures.items()},
        "mid_to_tip": _measured_data(cut.mid_to_tip),
        "points": points if cut.points else None,
        "scale": _scale_data(first),
        "pictures": [_picture_data(name, reading) for name, reading in cut.readings],
        "doubts": [str.__str__(doubt) for doubt in cut.doubts],
    }


def _measured_data(measured: Measured | None) -> Data | None:
    if measured is None:
        return None
    return {"value": clean(measured.value), "uncertainty": clean(measured.uncertainty)}


def _scale_data(reading: SectionReading) -> Data:
    scale = reading.scale
    return {
        "value": clean(scale.per_mm),
        "uncertainty": clean(scale.per_mm * scale.share),
        "unit": "pixels per mm",
        "dpi": round(scale.per_mm * INCH, 2),
        "from": str(scale.source),
        "agrees_with_thickness": scale.agrees is not None,
    }


def _picture_data(name: str, reading: SectionReading) -> Data:
    return {
        "file": name,
        "piece": "flat" if reading.is_flat else "upright",
        **{measure: _measured_data(measured) for measure, measured in reading.measures.items()},
        "scale": _scale_data(reading),
        "left_out": {str.__str__(left.face): round(left.share, 3) for left in reading.left_out},
        "doubts": [str.__str__(doubt) for doubt in reading.doubts],
    }


def scan_text(cut: ScannedCut, style: LengthStyle) -> str:
    """A scanned cut as text for the terminal."""
    lines = []
    for name, measured in cut.measures.items():
        if measured is None:
            lines.append(f"{_WORDS[name]:<14} " + phrase("not shown by the pictures"))
        elif name == "slope":
            lines.append(f"{_WORDS[name]:<14} {measured.value:.1f}° ± {measured.uncertainty:.1f}°")
        else:
            value, doubt = style.show(measured.value, fine=True), style.show_doubt(measured.uncertainty)
            lines.append(f"{_WORDS[name]:<14} {value} ± {doubt}")
    if cut.mid_to_tip is not None:
        value, doubt = (
            style.show(cut.mid_to_tip.value, fine=True),
            style.show_doubt(cut.mid_to_tip.uncertainty),
        )
        lines.append(f"{phrase('middle above the table'):<14} {value} ± {doubt}")
    names = [name for name, _ in cut.readings]
    for name, reading in cut.readings:
        scale = reading.scale
        piece = phrase("flat piece") if reading.is_flat else phrase("upright piece")
        called = f"{name} ({piece})" if names.count(name) > 1 else name
        where = {
            ScaleSource.FILE: phrase("from the file"),
            ScaleSource.GIVEN: phrase("as given"),
            ScaleSource.THICKNESS: phrase("from the thickness by caliper"),
            ScaleSource.CALIBRATION: phrase("by the scanner's calibration"),
            ScaleSource.SHEET: phrase("by the sheet's marks"),
        }[scale.source]
        left = [
            f"{share.face} {share.share * 100:.0f} %" for share in reading.left_out if share.share >= 0.05
        ]
        out = phrase("; left out: {faces}", faces=", ".join(left)) if left else ""
        lines.append(
            phrase(
                "{name}: {dpi:.1f} dots per inch, {source}{left}.",
                name=called,
                dpi=scale.per_mm * INCH,
                source=where,
                left=out,
            )
        )
    lines += [style.say(words) for words in agreement_words(reading for _, reading in cut.readings)]
    lines += [style.say(phrase("In doubt: {text}", text=doubt)) for doubt in cut.doubts]
    return "\n".join(lines)

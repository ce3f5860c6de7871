"""A test cut from pictures of its pieces, for a page: readings to put into the form, and the pictures to look at."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import Phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.entry_types import Given
from drawerwright.job.scan.hand_changes import stretch_words
from drawerwright.job.scan.picture_files import OpenedPicture, TakenWith, read_picture
from drawerwright.job.scan.scanned_readings import readings_of
from drawerwright.job.scan.scanning import PictureGiven, agreement_words, scan_pictures
from drawerwright.job.scan.shown_section import in_own_process, left_out_words, shown_section
from drawerwright.joints.scan.by_hand import edits_in
from drawerwright.joints.trial_cut import TakenReading


@dataclass(frozen=True, slots=True)
class LoadedPicture:
    """The content of a picture's file, and the piece that it shows; `thickness` by caliper (mm) checks its scale;
    `by_hand`: stretches left out or moved, as `drawerwright.joints.scan.by_hand` writes them."""

    name: str
    content: bytes
    is_flat: bool
    thickness: Estimate | None = None
    by_hand: str = ""


@dataclass(frozen=True, slots=True)
class ScannedTestCut:
    """What the pictures say: readings (mm) by the names of their kinds, each picture with the outline that was found (a
    small JPEG) by its file's name, what is to be said of them, and doubts."""

    readings: Mapping[str, Given]
    pictures: tuple[tuple[str, bytes], ...]
    remarks: tuple[Phrase, ...]
    doubts: tuple[Phrase, ...]
    pieces: tuple[str, ...] = ()
    """The fields of a page whose pictures these are: `flat_picture`, `upright_picture`."""

    @property
    def stretches(self) -> tuple[tuple[str, Phrase, Phrase], ...]:
        """The faces whose stretches can be changed by hand: letter, and what it is called on either piece."""
        return stretch_words()


def scanned_test_cut(
    pictures: Sequence[LoadedPicture], *, kind: str, taken: TakenWith, bit_height: Estimate | None
) -> ScannedTestCut:
    """What the pictures of the pieces of one cut say.

    Args:
        pictures: at least one.
        kind: of the joint that the cutter makes.
        taken: what is known of how they were taken.
        bit_height: that of a block (mm), for a cutter that goes through the wood.

    Raises:
        InvalidValueError: a picture cannot be read, or takes too long; the text names it.
        MissingLibraryError: the library that reads pictures is not installed.
    """
    return in_own_process(_read, tuple(pictures), kind, taken, bit_height)


def _read(
    pictures: Sequence[LoadedPicture], kind: str, taken: TakenWith, bit_height: Estimate | None
) -> ScannedTestCut:
    opened: list[OpenedPicture] = [read_picture(one.name, one.content, taken) for one in pictures]
    given = [
        PictureGiven(picture, one.is_flat, one.thickness, edits_in(one.by_hand))
        for picture, one in zip(opened, pictures, strict=True)
    ]
    cut = scan_pictures(given, kind=kind, bit_height=bit_height)
    alone = [reading for _name, reading in cut.readings]
    return ScannedTestCut(
        _together(readings_of(cut)),
        tuple(
            (picture.name, shown_section(picture, reading))
            for picture, reading in zip(opened, alone, strict=True)
        ),
        tuple(
            dict.fromkeys(
                (
                    *(words for reading in alone for words in left_out_words(reading)),
                    *agreement_words(alone),
                )
            )
        ),
        tuple(dict.fromkeys(cut.doubts)),
        tuple("flat_picture" if one.is_flat else "upright_picture" for one in pictures),
    )


def _together(taken: Iterable[TakenReading]) -> dict[str, Given]:
    """One reading of each kind: what two pictures tell alike by weight, no surer than the surer of them, since both may
    share a scanner's error."""
    kinds: dict[str, list[tuple[Mm, Mm]]] = {}
    for one in taken:
        if one.value is not None:
            kinds.setdefault(str(one.kind), []).append((one.value, one.uncertainty))
    return {
        kind: Given(
            sum(value / doubt**2 for value, doubt in told) / sum(1 / doubt**2 for _value, doubt in told),
            min(doubt for _value, doubt in told),
        )
        for kind, told in kinds.items()
    }

"""A scanner's own scale, from a scan of a block whose sides were measured by caliper; kept on the shelf by its name."""

from __future__ import annotations

import math
from collections.abc import Mapping
from io import BytesIO
from pathlib import Path
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.reading import entries_of
from drawerwright.job.plain_data import Data, clean
from drawerwright.job.scan.picture_files import TakenWith, open_picture
from drawerwright.job.scan.scanner_scale import ScannerScale
from drawerwright.store import Database, Shelf, ShelfKind, data_folder

MM_PER_INCH = 25.4
MOST_OFF = 0.05
"""A scanner that is off by a larger share was given the wrong length."""
UNEVEN = 0.0003
"""Standard uncertainty of a scale from one place of the glass to another, as a share (assumed)."""


def calibrate(path: Path, across: Estimate | None, along: Estimate | None, dpi: float | None) -> ScannerScale:
    """The scale of a scanner by the scan of a block.

    Args:
        path: the scan.
        across, along: the block's sides by caliper (mm), across the scan and along it.
        dpi: instead of what the file says.

    Raises:
        InvalidValueError: no length, no block, or one that contradicts the dpi by more than a scanner can be off.
    """
    from drawerwright.joints.scan.block import see_block

    if across is None and along is None:
        raise InvalidValueError(
            phrase("give the block's length by caliper: --across the scan, --along it, or better both")
        )
    opened = open_picture(path, TakenWith(dpi=dpi))
    if opened.instrument.is_photo or opened.dpi is None:
        raise InvalidValueError(
            phrase(
                "{name}: the scan of a block does not state its dots per inch: give --dpi",
                name=str(path),
            )
        )
    seen = see_block(opened.pixels)
    return ScannerScale(
        _off(seen.across, across, opened.dpi, "--across"), _off(seen.along, along, opened.dpi, "--along")
    )


def _off(seen: tuple[float, float], length: Estimate | None, dpi: float, option: str) -> Estimate | None:
    if length is None:
        return None
    if length.value <= 0:
        raise InvalidValueError(
            phrase("{option}: a length is more than 0 mm, not {value:g}", option=option, value=length.value)
        )
    off = seen[0] / length.value / (dpi / MM_PER_INCH) - 1
    if abs(off) > MOST_OFF:
        raise InvalidValueError(
            phrase(
                "{option}: at {dpi:.0f} dpi the block is {seen:.2f} mm long, not {value:.2f}: is it the other side, or "
                "another resolution?",
                option=option,
                dpi=dpi,
                seen=seen[0] / dpi * MM_PER_INCH,
                value=length.value,
            )
        )
    return Estimate(off, math.hypot(seen[1] / seen[0], length.uncertainty / length.value, UNEVEN))


def keep_scanner(folder: Path | None, name: str, scale: ScannerScale) -> None:
    """Put a scanner's scale on the shelf, instead of an earlier one of its name; `folder` None: the user's own."""
    database = Database(folder or data_folder())
    try:
        shelf = Shelf(database)
        old = next((entry for entry in shelf.list(ShelfKind.SCANNER) if entry.name == name), None)
        if old is None:
            shelf.add(ShelfKind.SCANNER, name, scale_text(scale))
        else:
            shelf.save(old.id, scale_text(scale), name=name, base=old.version)
    finally:
        database.close()


def kept_scanner(folder: Path | None, name: str) -> ScannerScale:
    """The scale of a scanner on the shelf.

    Raises:
        InvalidValueError: there is none of that name; the text lists those there are.
    """
    folder = folder or data_folder()
    if not folder.exists():  # reading makes no data file
        raise InvalidValueError(_no_scanner_words())
    database = Database(folder)
    try:
        return scanner_on(Shelf(database), name)
    finally:
        database.close()


def scanner_on(shelf: Shelf, name: str) -> ScannerScale:
    """As `kept_scanner`, on an open shelf."""
    entries = shelf.list(ShelfKind.SCANNER)
    for entry in entries:
        if entry.name == name:
            return scale_of(entries_of(entry.text))
    known = ", ".join(entry.name for entry in entries)
    raise InvalidValueError(
        phrase("there is no scanner {name!r} on the shelf; there are {known}", name=name, known=known)
        if known
        else _no_scanner_words()
    )


def _no_scanner_words() -> str:
    return phrase("no scanner is on the shelf: calibrate one with drawerwright scan --calibrate")


def scale_data(scale: ScannerScale) -> Data:
    """A scanner's scale as plain data: shares."""
    return {
        way: None if one is None else {"value": clean(one.value), "uncertainty": clean(one.uncertainty)}
        for way, one in (("across", scale.across), ("along", scale.along))
    }


def scale_text(scale: ScannerScale) -> str:
    """A scanner's scale as it stands on the shelf."""
    from ruamel.yaml import YAML

    stream = BytesIO()
    YAML().dump({way: one for way, one in scale_data(scale).items() if one}, stream)
    return stream.getvalue().decode("utf-8")


def scale_of(entries: Mapping[str, Any]) -> ScannerScale:
    """A scanner's scale from its entries."""
    found = {
        way: Estimate(float(given["value"]), float(given["uncertainty"]))
        for way, given in entries.items()
        if way in ("across", "along")
    }
    return ScannerScale(found.get("across"), found.get("along"))


def scale_words(name: str, scale: ScannerScale) -> Phrase:
    """What was found of a scanner, and that it is kept."""
    ways = [
        phrase(
            "{way} by {off:+.2f} % ± {doubt:.2f} %", way=way, off=100 * one.value, doubt=100 * one.uncertainty
        )
        for way, one in ((phrase("across"), scale.across), (phrase("along"), scale.along))
        if one is not None
    ]
    return phrase(
        "{name} does not have the dots per inch that it states: {ways}.", name=name, ways=", ".join(ways)
    )

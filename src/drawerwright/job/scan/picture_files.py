"""Pictures as files: what kind they are, how large, how many dots per inch, and their pixels.

All but the pixels is read from the first bytes, before anything is unpacked: a small file can claim to hold more
than any memory. PNG (ISO/IEC 15948), JPEG (ITU-T T.81, T.871), TIFF (revision 6) and WebP (RFC 9649) are known,
the tags of a camera (Exif) as far as they tell the scale and the lens. From memory.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import Mm
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.given_files import given_bytes

if TYPE_CHECKING:
    from drawerwright.job.scan.scanner_scale import ScannerScale
    from drawerwright.joints.scan.instrument import Instrument, ScaleSource

MOST_BYTES = 60_000_000
MOST_PIXELS = 80_000_000
"""A full sheet of A4 at 900 dpi."""
KINDS = ("PNG", "JPEG", "TIFF", "WebP")
INCH = 25.4
DPI = (50.0, 5000.0)
"""Resolutions of scanners lie between these."""
SQUARE = 2e-4
"""Dots to an inch that differ by a larger share across and along make oblong pixels."""


@dataclass(frozen=True, slots=True)
class PictureHead:
    """What a picture's file says of itself; `dpi` across and along, None where it does not say. A photo has a camera's
    tags; `focal_35`: of its lens, as on film of 35 mm."""

    kind: str
    width: int
    height: int
    dpi: tuple[float, float] | None
    is_photo: bool = False
    focal_35: Mm | None = None


@dataclass(frozen=True, slots=True)
class TakenWith:
    """What is known of how a picture was taken: dots per inch instead of what the file says, how high the slice
    stands over the sheet that it was photographed on, and the scanner's own scale."""

    dpi: float | None = None
    slice_height: Estimate | None = None
    scanner: ScannerScale | None = None


@dataclass(frozen=True, slots=True)
class OpenedPicture:
    """A picture's pixels (grey, or blue, green and red), all square, and how many there are to an inch; who says so,
    and what it was taken with."""

    name: str
    pixels: Any
    dpi: float | None
    source: ScaleSource
    instrument: Instrument
    few_tones: bool = False
    """Whether it is of so few colours or greys that a program has put them together: edges lose their softness."""


NOTHING_KNOWN = TakenWith()


def open_picture(path: Path, taken: TakenWith = NOTHING_KNOWN) -> OpenedPicture:
    """The picture in a file.

    Raises:
        OSError: there is no such file.
        FaultyInputError: it cannot be read, or is a folder, a device or a pipe.
        InvalidValueError: it is no picture of a known kind, too large, or broken; the text names the file.
        MissingLibraryError: the library that unpacks pictures is not installed.
    """
    if path.stat().st_size > MOST_BYTES:
        raise InvalidValueError(_too_many_bytes(str(path), path.stat().st_size))
    return read_picture(str(path), given_bytes(path, MOST_BYTES), taken)


def read_picture(name: str, content: bytes, taken: TakenWith = NOTHING_KNOWN) -> OpenedPicture:
    """The picture in the content of a file called `name`; raises as `open_picture`."""
    if len(content) > MOST_BYTES:
        raise InvalidValueError(_too_many_bytes(name, len(content)))
    head = picture_head(name, content)
    if head.width * head.height > MOST_PIXELS:
        raise InvalidValueError(
            phrase(
                "{name}: {width} by {height} pixels are more than the {most:.0f} million that are unpacked: crop a "
                "scan to the piece or scan at 300 or 600 dpi, set a camera to fewer pixels",
                name=name,
                width=head.width,
                height=head.height,
                most=MOST_PIXELS / 1e6,
            )
        )
    from drawerwright.joints.scan import pixels  # loads numpy
    from drawerwright.joints.scan.instrument import ScaleSource

    unpacked = pixels.unpacked(content)
    if unpacked is None or unpacked.shape[:2] != (head.height, head.width):
        raise InvalidValueError(
            phrase(
                "{name}: the picture is damaged or of a kind that cannot be read: save it as PNG",
                name=name,
            )
        )
    from drawerwright.joints.scan.sheet_photo import flatten_photo

    try:
        flat = flatten_photo(unpacked, slice_height=taken.slice_height, focal_35=head.focal_35)
    except InvalidValueError as error:
        raise InvalidValueError(phrase("{name}: {text}", name=name, text=error.args[0])) from None
    if flat is not None:
        return OpenedPicture(name, flat.picture, flat.per_mm * INCH, ScaleSource.SHEET, flat.instrument)
    if head.is_photo:
        raise InvalidValueError(
            phrase(
                "{name}: this is a photo, and none of the marks that tell where the camera stood can be "
                "seen: print their sheet with drawerwright scan --sheet sheet.pdf, and photograph the "
                "slice on it. If it does lie on the sheet, the photo was cropped to the slice, or it is "
                "too dark or too blurred",
                name=name,
            )
        )
    return _scanned(name, unpacked, head, taken)


def _scanned(name: str, pixels: Any, head: PictureHead, taken: TakenWith) -> OpenedPicture:
    from drawerwright.joints.scan.instrument import SCANNER, Instrument, ScaleSource
    from drawerwright.joints.scan.pixels import stretched

    if taken.dpi is not None and not DPI[0] <= taken.dpi <= DPI[1]:
        raise InvalidValueError(
            phrase(
                "a scan has {low:g} to {high:g} dots per inch, not {dpi:g}",
                low=DPI[0],
                high=DPI[1],
                dpi=taken.dpi,
            )
        )
    dpi, source = head.dpi, ScaleSource.FILE
    if taken.dpi is not None:
        dpi, source = (taken.dpi, taken.dpi), ScaleSource.GIVEN
    if dpi is not None and max(dpi) > 3 * min(dpi):
        dpi = None
    if dpi is None:
        return OpenedPicture(name, pixels, None, source, SCANNER, _few_tones(pixels))
    instrument = SCANNER
    if taken.scanner is not None:
        dpi, source = taken.scanner.dots(dpi), ScaleSource.CALIBRATION
        share = taken.scanner.share
        instrument = Instrument(share=share, stretch=share, is_assumed=False)
    across, along = dpi
    few = _few_tones(pixels)
    if abs(across / along - 1) > SQUARE:
        most = max(across, along)
        return OpenedPicture(
            name, stretched(pixels, most / across, most / along), most, source, instrument, few
        )
    return OpenedPicture(name, pixels, (across + along) / 2, source, instrument, few)


SOME = 200_000
"""Of about so many pixels the colours are counted."""
FEW_GREYS, FEW_COLOURS = 16, 256
"""A picture of no more is one of black and white, or one with a table of colours."""


def _few_tones(pixels: Any) -> bool:
    import numpy as np

    every = max(1, round((pixels.shape[0] * pixels.shape[1] / SOME) ** 0.5))
    some = pixels[::every, ::every]
    if some.ndim == 2:
        return len(np.unique(some)) <= FEW_GREYS
    return len(np.unique(some.astype(np.uint32) @ np.array([1, 256, 65536], np.uint32))) <= FEW_COLOURS


def picture_head(name: str, content: bytes) -> PictureHead:
    """What the first bytes of a picture's file say.

    Raises:
        InvalidValueError: it is no picture of a known kind, or ends too soon.
    """
    try:
        if content[:8] == b"\x89PNG\r\n\x1a\n":
            return _png(content)
        if content[:3] == b"\xff\xd8\xff":
            return _jpeg(content)
        if content[:4] in (b"II*\0", b"MM\0*"):
            tags = _tags(content)
            return PictureHead("TIFF", int(tags[256]), int(tags[257]), _tagged_dpi(tags))
        if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
            return _webp(content)
    except (struct.error, IndexError, KeyError, ValueError, ZeroDivisionError):
        raise InvalidValueError(
            phrase("{name}: the picture is damaged: it does not say how large it is", name=name)
        ) from None
    if content[4:8] == b"ftyp" and content[8:12] in _HEIC:
        raise InvalidValueError(
            phrase(
                "{name}: HEIC pictures cannot be read: set the phone's camera to save JPEG, or save a copy as JPEG",
                name=name,
            )
        )
    raise InvalidValueError(
        phrase(
            "{name}: this is no picture that can be read; a picture is {kinds}",
            name=name,
            kinds=phrase("PNG, JPEG, TIFF or WebP"),
        )
    )


_HEIC = (b"heic", b"heix", b"hevc", b"mif1", b"msf1", b"avif")
"""How files begin that hold pictures in a film's coding (ISO/IEC 23008-12)."""


def _too_many_bytes(name: str, size: int) -> str:
    return phrase(
        "{name}: {size:.0f} MB are more than the {most:.0f} MB that a picture may have: crop a scan to the "
        "piece, set a camera to fewer pixels",
        name=name,
        size=size / 1e6,
        most=MOST_BYTES / 1e6,
    )


def _sane(across: float, along: float) -> tuple[float, float] | None:
    return (across, along) if 20 <= across <= 20_000 and 20 <= along <= 20_000 else None


def _png(content: bytes) -> PictureHead:
    width, height = struct.unpack(">II", content[16:24])
    dpi = None
    at = 8
    while at + 12 <= len(content):
        size, kind = struct.unpack(">I4s", content[at : at + 8])
        if kind == b"pHYs":
            across, along, unit = struct.unpack(">IIB", content[at + 8 : at + 17])
            dpi = _sane(across * 0.0254, along * 0.0254) if unit == 1 else None
        if kind in (b"IDAT", b"IEND"):
            break
        at += 12 + size
    return PictureHead("PNG", width, height, dpi)


_FRAMES = {*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC}
"""Markers of a JPEG that tell its size."""


def _jpeg(content: bytes) -> PictureHead:
    dpi, tags = None, dict[int, float]()
    at = 2
    while True:
        while content[at] == 0xFF and content[at + 1] == 0xFF:
            at += 1
        marker, size = content[at + 1], struct.unpack(">H", content[at + 2 : at + 4])[0]
        body = content[at + 4 : at + 2 + size]
        if content[at] != 0xFF or size < 2:
            raise ValueError("no marker")
        if marker == 0xE0 and body[:5] == b"JFIF\0":
            unit, across, along = struct.unpack(">BHH", body[7:12])
            if unit in (1, 2):
                inch = 1.0 if unit == 1 else 2.54
                dpi = _sane(across * inch, along * inch)
        elif marker == 0xE1 and body[:6] == b"Exif\0\0":
            try:
                tags = _tags(body[6:])
            except (struct.error, IndexError, ValueError, ZeroDivisionError):
                tags = {}
        elif marker in _FRAMES:
            height, width = struct.unpack(">HH", body[1:5])
            return PictureHead("JPEG", width, height, dpi or _tagged_dpi(tags), *_camera(tags))
        at += 2 + size


def _webp(content: bytes) -> PictureHead:
    at, size, tags = 12, None, dict[int, float]()
    while at + 8 <= len(content):
        kind, length = struct.unpack("<4sI", content[at : at + 8])
        body = content[at + 8 : at + 8 + length]
        if kind == b"VP8X":
            size = size or (1 + int.from_bytes(body[4:7], "little"), 1 + int.from_bytes(body[7:10], "little"))
        elif kind == b"VP8 ":
            width, height = struct.unpack("<HH", body[6:10])
            size = size or (width & 0x3FFF, height & 0x3FFF)
        elif kind == b"VP8L":
            bits = int.from_bytes(body[1:5], "little")
            size = size or ((bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1)
        elif kind == b"EXIF":
            tags = _tags(body[6:] if body[:6] == b"Exif\0\0" else body)
        at += 8 + length + length % 2
    if size is None:
        raise ValueError("no size")
    return PictureHead("WebP", *size, _tagged_dpi(tags), *_camera(tags))


def _tags(content: bytes) -> dict[int, float]:
    """The numbers among the tags of a TIFF's first page, and of the camera's own page where there is one."""
    order = "<" if content[:2] == b"II" else ">"
    (start,) = struct.unpack(order + "I", content[4:8])
    tags = _page(content, order, start)
    if EXIF_PAGE in tags:
        tags |= _page(content, order, int(tags[EXIF_PAGE]))
    return tags


def _page(content: bytes, order: str, start: int) -> dict[int, float]:
    (count,) = struct.unpack(order + "H", content[start : start + 2])
    found: dict[int, float] = {}
    for index in range(count):
        at = start + 2 + 12 * index
        tag, kind, many = struct.unpack(order + "HHI", content[at : at + 8])
        if kind == 3 and many >= 1:
            found[tag] = struct.unpack(order + "H", content[at + 8 : at + 10])[0]
        elif kind == 4 and many >= 1:
            found[tag] = struct.unpack(order + "I", content[at + 8 : at + 12])[0]
        elif kind == 5:
            (place,) = struct.unpack(order + "I", content[at + 8 : at + 12])
            above, below = struct.unpack(order + "II", content[place : place + 8])
            found[tag] = above / below if below else 0.0
    return found


EXIF_PAGE, FOCAL_35 = 34665, 41989
CAMERAS = frozenset({33434, 33437, 34855, 37386, FOCAL_35})
"""Tags of a camera: exposure time, aperture, sensitivity, focal length, and that as on film of 35 mm (Exif 2.3; from
memory)."""


def _camera(tags: dict[int, float]) -> tuple[bool, Mm | None]:
    """Whether a camera took it, and the focal length that it tells (mm). A program that cuts a photo smaller may leave
    only a few of a camera's tags."""
    focal = tags.get(FOCAL_35, 0.0)
    return bool(CAMERAS & tags.keys()), focal if 8 <= focal <= 400 else None


def _tagged_dpi(tags: dict[int, float]) -> tuple[float, float] | None:
    unit = tags.get(296, 2)
    if 282 not in tags or unit not in (2, 3):
        return None
    inch = 1.0 if unit == 2 else 2.54
    return _sane(tags[282] * inch, tags.get(283, tags[282]) * inch)

"""Which letters the papers' typeface has, and what stands for one that it has not.

A PDF that is kept for archives may hold no letter that cannot be shown, so a name in other letters would refuse the
packet.
"""

from __future__ import annotations

import re
import struct
import unicodedata
from functools import cache

from drawerwright.drawings.lettering import FONT_FOLDER

_OTHER = re.compile(r"[^\x00-\x7f]")
_PLAIN = str.maketrans("ŁłĐđıŦŧĦħ", "LlDdiTtHh")
"""Letters with a stroke, which Unicode does not take apart."""
UNKNOWN = "?"


def in_typeface(text: str) -> str:
    """The text in letters that the typeface has: without the accent that it lacks, else with a question mark.

    >>> in_typeface("Küche ½ Dvořák Łódź 🎻")
    'Küche ½ Dvorák Lódz ?'
    """
    return _OTHER.sub(lambda found: _shown(found[0]), text)


@cache
def _shown(letter: str) -> str:
    if ord(letter) in _letters():
        return letter
    kind = unicodedata.category(letter)
    if kind == "Zs":
        return " "
    if kind in ("Cf", "Mn"):  # joins or colours what stands before it
        return ""
    bare = unicodedata.normalize("NFKD", letter).translate(_PLAIN)
    known = "".join(each for each in bare if each.isascii() or ord(each) in _letters())
    return known.replace('"', "″").replace("\\", "/") or UNKNOWN


@cache
def _letters() -> frozenset[int]:
    """Code points of the typeface, by the `cmap` table of its file (OpenType, ISO/IEC 14496-22, format 4)."""
    font = (FONT_FOLDER / "B612-Regular.otf").read_bytes()
    (tables,) = struct.unpack_from(">H", font, 4)
    records = (struct.unpack_from(">4sLLL", font, 12 + 16 * number) for number in range(tables))
    cmap = next(offset for tag, _sum, offset, _length in records if tag == b"cmap")
    (count,) = struct.unpack_from(">H", font, cmap + 2)
    encodings = [struct.unpack_from(">HHL", font, cmap + 4 + 8 * number) for number in range(count)]
    table = cmap + next(offset for platform, encoding, offset in encodings if (platform, encoding) == (3, 1))
    (twice,) = struct.unpack_from(">H", font, table + 6)
    ends = struct.unpack_from(f">{twice // 2}H", font, table + 14)
    starts = struct.unpack_from(f">{twice // 2}H", font, table + 16 + twice)
    return frozenset(
        code
        for start, end in zip(starts, ends, strict=True)
        for code in range(start, end + 1)
        if code != 0xFFFF
    )

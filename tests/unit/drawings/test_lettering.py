from __future__ import annotations

import json
import unicodedata

import pytest
from fontTools.ttLib import TTFont

from drawerwright.drawings.font_letters import in_typeface
from drawerwright.drawings.lettering import CAP_HEIGHT, FONT_FAMILY, FONT_FOLDER, text_width

NEEDED = "0123456789 ″′⅛⅜⅝⅞¼½¾×±−–·°≤≥→ABCÄÖÜäöüßéabc,.:;/%#()"


@pytest.mark.parametrize("file", ["B612-Regular.otf", "B612-Bold.otf"])
class TestAgainstTheFontItself:
    """The expected widths are the advance widths in the font files (their hmtx table)."""

    def test_every_sign_the_trade_writes_is_there(self, file: str) -> None:
        letters = TTFont(FONT_FOLDER / file).getBestCmap()
        assert not [sign for sign in NEEDED if ord(sign) not in letters]

    def test_widths_are_those_of_the_font(self, file: str) -> None:
        font = TTFont(FONT_FOLDER / file)
        names, widths, em = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
        for sign in map(chr, (*range(32, 127), *map(ord, NEEDED))):
            true = widths[names[ord(sign)]][0] / em
            assert text_width(sign, 1.0) == pytest.approx(true, abs=0.011), sign

    def test_family_and_height_of_capitals(self, file: str) -> None:
        font = TTFont(FONT_FOLDER / file)
        assert font["name"].getDebugName(1) == FONT_FAMILY
        assert font["OS/2"].sCapHeight / font["head"].unitsPerEm == CAP_HEIGHT


def test_letters_of_the_typeface_are_those_that_its_file_has() -> None:
    """Against fontTools, in both weights."""
    for weight in ("Regular", "Bold"):
        known = TTFont(FONT_FOLDER / f"B612-{weight}.otf").getBestCmap()
        others = (
            letter for code in range(0xA1, 0x3000) if unicodedata.category(letter := chr(code))[0] not in "CZ"
        )
        assert all((in_typeface(letter) == letter) is (ord(letter) in known) for letter in others)


@pytest.mark.parametrize(
    ("name", "shows"),
    [
        ("Küche ½ − „x“", "Küche ½ − „x“"),
        ("Dvořák", "Dvorák"),
        ("Łódź", "Lódz"),
        ("🎻 box", "? box"),
        ("＂＼", "″/"),
    ],
)
def test_a_letter_that_the_typeface_lacks_is_made_of_what_it_has(name: str, shows: str) -> None:
    """What comes back is no sign that would end a text in JSON."""
    assert in_typeface(name) == shows
    assert json.loads(in_typeface(json.dumps(name, ensure_ascii=False))) == shows

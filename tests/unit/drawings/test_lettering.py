from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont

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

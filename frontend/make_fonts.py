"""Makes the pages' font files: the papers' typeface, cut down to the signs that English and German pages use.

Writes src/drawerwright/web/static/fonts (`make fonts`), anew when the typeface or the signs below change. A browser
test fails where a page shows a sign that is missing here.
"""

from __future__ import annotations

from pathlib import Path

from fontTools import subset

ROOT = Path(__file__).resolve().parents[1]
PAPERS = ROOT / "src" / "drawerwright" / "drawings" / "fonts"
PAGES = ROOT / "src" / "drawerwright" / "web" / "static" / "fonts"
WEIGHTS = ("Regular", "Bold")

LETTERS = "".join(map(chr, [*range(0x20, 0x7F), *range(0xA0, 0x100)])) + "ŒœŠšŸ"
"""Latin 1 (English, German and their neighbours), and what French adds."""
QUOTES = "‘’‚“”„‹›–—…•"
SIGNS = "′″←↑→↓↔↩↪↶↷▶▷▸▼▽▾−≈≠≤≥√∞°±×✓☐☑⚠δσΔ"
FRACTIONS = "⅛⅜⅝⅞⅓⅔⁄⁰¹²³⁴⁵⁶⁷⁸⁹"
LEAST_SPACES = "  "


def main() -> None:
    """Write one file for each weight."""
    PAGES.mkdir(exist_ok=True)
    options = subset.Options(
        flavor="woff2", layout_features=["kern", "mark", "mkmk"], notdef_outline=True, desubroutinize=False
    )
    for weight in WEIGHTS:
        font = subset.load_font(str(PAPERS / f"B612-{weight}.otf"), options)
        cutter = subset.Subsetter(options)
        cutter.populate(text=LETTERS + QUOTES + SIGNS + FRACTIONS + LEAST_SPACES)
        cutter.subset(font)
        subset.save_font(font, str(PAGES / f"B612-{weight}.woff2"), options)


if __name__ == "__main__":
    main()

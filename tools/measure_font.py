"""Write the table of advance widths from the font files (run when the font changes)."""

from __future__ import annotations

import csv
from pathlib import Path

CHARACTERS = "".join(map(chr, (*range(32, 127), *range(160, 384)))) + "–—‘’“”…⁄½⅛⅜⅝⅞°×≤≥→"


def main() -> None:
    """Read both weights with fontTools and write data/fira_sans_widths.csv."""
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    here = Path(__file__).parents[1] / "src" / "hoopwright" / "drawing"
    fonts = [
        TTFont(here.parent / "sheet" / "fonts" / f"FiraSans-{weight}.ttf")
        for weight in ("Regular", "SemiBold")
    ]
    with (here / "data" / "fira_sans_widths.csv").open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(("character", "regular [em]", "semibold [em]"))
        for character in CHARACTERS:
            names = [font.getBestCmap().get(ord(character)) for font in fonts]
            if all(names):
                widths = [
                    font["hmtx"][name][0] / font["head"].unitsPerEm
                    for font, name in zip(fonts, names, strict=True)
                ]
                writer.writerow((character, *widths))


if __name__ == "__main__":
    main()

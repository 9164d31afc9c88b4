"""The fonts the site ships, their stylesheet, and the advance widths the picture places text by.

Alegreya Sans for words, STIX Two Text for symbols; both under the SIL Open Font License 1.1, as subset woff2 files
from npm. `python3 web fonts` rewrites `engine/steelyard/picture/advances.json` from the files; a test holds it to them.
"""

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from .places import ENGINE

ADVANCES = ENGINE / "steelyard" / "picture" / "advances.json"

# Which file of a family a browser takes for which characters.
UNICODE_RANGES = {
    "latin": "U+0000-00FF, U+0131, U+0152-0153, U+02BB-02BC, U+02C6, U+02DA, U+02DC, U+0300-0308, U+0323-0329, "
    "U+2000-206F, U+20AC, U+2122, U+2191, U+2193, U+2212, U+2215",
    "greek": "U+0370-03FF",
}
SCRIPTS = tuple(UNICODE_RANGES)

# Figures are set lining and of equal width where the family has such glyphs.
FIGURE_FEATURES = ("lnum", "tnum")

# The stand-in width for a character outside the table: that of a wide small letter, so that labels rather keep apart.
WIDE_LETTER = "m"
FIRST_VISIBLE = 0x20

# The files have no narrow no-break space; a browser takes it from another font, as wide as a thin space.
THIN_SPACE, NARROW_NO_BREAK_SPACE = "\u2009", "\u202f"


@dataclass(frozen=True, slots=True)
class Face:
    """One style of one family."""

    family: str
    style: str
    weight: int
    package: str

    @property
    def key(self) -> str:
        """How the advance table names it."""
        return f"{self.family}|{self.style}|{self.weight}"

    def file_name(self, script: str) -> str:
        """The file for one script, named alike in the package and on the site."""
        return f"{self.package.split('/')[1]}-{script}-{self.weight}-{self.style}.woff2"

    def file_in(self, modules: Path, script: str) -> Path:
        """The file as npm delivered it."""
        return modules / self.package / "files" / self.file_name(script)


ALEGREYA_SANS = ("Alegreya Sans", "@fontsource/alegreya-sans")
STIX_TWO_TEXT = ("STIX Two Text", "@fontsource/stix-two-text")
FACES = tuple(
    Face(family, style, weight, package)
    for (family, package), style, weight in (
        (ALEGREYA_SANS, "normal", 400),
        (ALEGREYA_SANS, "normal", 500),
        (ALEGREYA_SANS, "normal", 700),
        (ALEGREYA_SANS, "italic", 400),
        (STIX_TWO_TEXT, "normal", 400),
        (STIX_TWO_TEXT, "italic", 400),
    )
)


def stylesheet() -> str:
    """The @font-face rules, for a stylesheet in a folder beside `fonts/`."""
    return "".join(
        f'@font-face {{ font-family: "{face.family}"; font-style: {face.style}; font-weight: {face.weight}; '
        f'font-display: swap; src: url("../fonts/{face.file_name(script)}") format("woff2"); '
        f"unicode-range: {UNICODE_RANGES[script]}; }}\n"
        for face in FACES
        for script in SCRIPTS
    )


def licences(modules: Path) -> dict[str, str]:
    """Licence texts by file name."""
    return {
        f"{package.split('/')[1]}-licence.txt": (modules / package / "LICENSE").read_text(encoding="utf-8")
        for _, package in (ALEGREYA_SANS, STIX_TWO_TEXT)
    }


def advances(modules: Path) -> dict[str, Any]:
    """Advance widths in font units by face and character, read from the font files (needs fontTools)."""
    table: dict[str, Any] = {}
    for face in FACES:
        widths: dict[str, int] = {}
        units_per_em = 0
        for script in reversed(SCRIPTS):
            units_per_em, of_script = _read(face.file_in(modules, script))
            widths.update(of_script)
        widths[NARROW_NO_BREAK_SPACE] = widths[THIN_SPACE]
        table[face.key] = {
            "unitsPerEm": units_per_em,
            "default": widths[WIDE_LETTER],
            "advances": dict(sorted(widths.items())),
        }
    return table


def advances_text(modules: Path) -> str:
    """The advance table as it is committed: one face a line."""
    rows = [f"{json.dumps(key)}: {json.dumps(value, ensure_ascii=False)}" for key, value in advances(modules).items()]
    return "{\n" + ",\n".join(rows) + "\n}\n"


def _read(file: Path) -> tuple[int, dict[str, int]]:
    from fontTools.ttLib import TTFont

    font = TTFont(file)
    swaps = _figure_glyphs(font)
    widths = {
        chr(code): font["hmtx"][swaps.get(glyph, glyph) if chr(code).isdigit() else glyph][0]
        for code, glyph in font.getBestCmap().items()
        if code >= FIRST_VISIBLE
    }
    return font["head"].unitsPerEm, widths


def _figure_glyphs(font: Any) -> dict[str, str]:
    """Glyph replacements that the figure features make, followed through in the order the font applies them."""
    if "GSUB" not in font:
        return {}
    table = font["GSUB"].table
    lookups = sorted(
        {
            index
            for record in table.FeatureList.FeatureRecord
            if record.FeatureTag in FIGURE_FEATURES
            for index in record.Feature.LookupListIndex
        }
    )
    swaps: dict[str, str] = {}
    for index in lookups:
        for subtable in table.LookupList.Lookup[index].SubTable:
            single: dict[str, str] = getattr(getattr(subtable, "ExtSubTable", subtable), "mapping", {})
            swaps = {glyph: single.get(now, now) for glyph, now in swaps.items()} | {
                glyph: new for glyph, new in single.items() if glyph not in swaps
            }
    return swaps

"""Text placed without measuring: runs, their widths from the shipped fonts, and records made of them."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

from . import theme
from .record import Layer, Record, Run

# Stand-in advance in em for a character no table knows: a wide small letter, so that labels rather keep apart.
ESTIMATE_EM = 0.62
# Height of a line above and below its baseline, in em: capitals and ascenders, then descenders.
ASCENT_EM = 0.76
DESCENT_EM = 0.26
# How far a subscript drops, in em of the whole line.
SUBSCRIPT_DROP_EM = 0.24


@lru_cache(maxsize=1)
def _tables() -> dict[str, tuple[dict[str, float], float]]:
    """Advances in em by "family|style|weight", and the stand-in of each face."""
    file = resources.files(__package__) / "advances.json"
    if not file.is_file():
        return {}
    raw = json.loads(file.read_text(encoding="utf-8"))
    return {
        face: (
            {character: width / entry["unitsPerEm"] for character, width in entry["advances"].items()},
            entry["default"] / entry["unitsPerEm"],
        )
        for face, entry in raw.items()
    }


@lru_cache(maxsize=4096)
def _advance_em(text: str, face: str) -> float:
    table, default = _tables().get(face, ({}, ESTIMATE_EM))
    return sum(table.get(character, default) for character in text)


@lru_cache(maxsize=256)
def _face(role: str, run_role: str) -> tuple[str, float]:
    """Face key and size factor of a run inside a text of a role."""
    own = theme.STYLES[role]
    run = theme.STYLES[run_role]
    style = run if run.family else own
    key = f"{style.family}|{'italic' if style.italic else 'normal'}|{style.weight}"
    return key, run.em or 1.0


def width_of(text: str, role: str, size_px: float, run_role: str = "plain") -> float:
    """Advance width in px of a plain string set in a role, from the fonts' own tables."""
    face, factor = _face(role, run_role)
    return _advance_em(text, face) * size_px * factor


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """One line of runs with its width; immutable, made by `line`, which makes each once: compared at a glance."""

    runs: tuple[Run, ...]
    width: float
    size: float
    role: str


@lru_cache(maxsize=2048)
def line(role: str, size_px: float, *pieces: tuple[str, str] | tuple[str, str, float]) -> Line:
    """A line from (text, run role[, gap before in px]) pieces; subscripts drop and the next run comes back up."""
    runs: list[Run] = []
    width = 0.0
    drop = round(size_px * SUBSCRIPT_DROP_EM, 1)
    lowered = False
    for piece in pieces:
        text, run_role = piece[0], piece[1]
        gap = piece[2] if len(piece) == 3 else 0.0
        low = run_role.startswith("sub")
        shift = 0.0 if low == lowered else (drop if low else -drop)
        lowered = low
        runs.append(Run(text, run_role, round(gap, 1), shift))
        width += gap + width_of(text, role, size_px, run_role)
    return Line(tuple(runs), width, size_px, role)


def symbol_pieces(symbol: str) -> list[tuple[str, str]]:
    """A quantity's letter with its subscript as pieces: "R_x" has an italic x, "T_1" and "F_crane" stand upright.

    Axes are quantities and slope; numbers and words are descriptions and do not.
    """
    base, _, below = symbol.partition("_")
    below = below.strip("{}")
    pieces = [(base or symbol, "symbol")]
    if base and below:
        pieces.append((below, "sub" if below in ("x", "y", "z") else "sub-upright"))
    return pieces


def component_pieces(symbol: str, axis: str) -> list[tuple[str, str]]:
    """The letter of a component: R_x; of R_A it is R with A and x below."""
    return [*symbol_pieces(symbol), (axis, "sub")]


def subscript_pieces(symbol: str) -> list[tuple[str, str]]:
    """A quantity's letter as a subscript, as in d with T below: the letter slopes, its digits do not."""
    base, _, below = symbol.partition("_")
    pieces = [(base or symbol, "sub")]
    if base and below:
        pieces.append((below.strip("{}"), "sub-upright"))
    return pieces


def plain(symbol: str) -> str:
    """A symbol as it is read aloud: "R_x" becomes "R x"."""
    return symbol.replace("_", " ").replace("{", "").replace("}", "")


def number(value: float) -> str:
    """A sheet coordinate: at most two decimals, never "-0"."""
    written = f"{value:.2f}"
    if written[-1] != "0":
        return written
    shorter = written[:-3] if written[-2] == "0" else written[:-1]
    return "0" if shorter == "-0" else shorter


def record(
    record_id: str,
    content: Line,
    x: float,
    y: float,
    *,
    layer: Layer = "label",
    anchor: str = "start",
    of: str = "",
    lit_only: bool = False,
    turned_deg: float = 0.0,
    name: str = "",
) -> Record:
    """A text record with its baseline at (x, y)."""
    attrs = [("x", number(x)), ("y", number(y)), ("font-size", number(content.size))]
    if anchor != "start":
        attrs.append(("text-anchor", anchor))
    if turned_deg:
        attrs.append(("transform", f"rotate({number(turned_deg)} {number(x)} {number(y)})"))
    return Record(
        record_id, "text", content.role, layer, tuple(attrs), content.runs, of, "lit" if lit_only else "always", name
    )

"""Where things stand on the strips, and the parts of them that move with their own numbers only: made once, kept."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from ..geometry import Point, Vector, perpendicular, scale
from ..statics import axes
from . import text, theme
from .edge import straight_glyph, turning_glyph
from .look import PARTS_KEPT
from .record import Record
from .text import number


class Layout:
    """Where things stand across and down a strip, in px; made by `layout_of`, equal only to itself.

    `rail`: left and right end of the rails; `zero`: the zero line; `half`: half the length of a rail; `pitch`: from
    row to row; `bar`: height of a segment; `height`: of the whole drawing; `open`: length of the hatching of an open
    force; `letter`: type size of the letters in segments and of row labels; `small`: of the sums at the ends.
    """

    def __init__(self, width: float, unit: float, narrow: bool) -> None:
        self.width = width
        self.unit = unit
        self.narrow = narrow
        self.rail = (84.0 * unit, width - 92.0 * unit) if narrow else (190.0 * unit, width - 236.0 * unit)
        self.zero = sum(self.rail) / 2.0
        self.half = (self.rail[1] - self.rail[0]) / 2.0
        self.pitch = (34.0 if narrow else 31.0) * unit
        self.bar = (22.0 if narrow else 20.0) * unit
        self.height = self.top(2) + self.pitch + 14.0 * unit
        self.open = (34.0 if narrow else 50.0) * unit
        self.letter = theme.COMPACT_SIZE * unit
        self.small = (theme.EDGE_SIZE if narrow else theme.SMALL_SIZE) * unit

    def top(self, index: int) -> float:
        """Top of a row's segments."""
        return 6.0 * self.unit + index * self.pitch

    def span(self, side: int, start: float, stop: float) -> tuple[float, float]:
        """Left and right in px of a stretch from the zero line, kept on the rail, with air at its ends."""
        start, stop = min(start, self.half), min(stop, self.half)
        air = 1.3 * self.unit
        low, high = start + air, max(stop - air, start + air + 0.5)
        return (self.zero + low, self.zero + high) if side > 0 else (self.zero - high, self.zero - low)


@lru_cache(maxsize=8)
def layout_of(width: float, unit: float, narrow: bool) -> Layout:
    """The one layout at a width, a text scale, and on a phone or not."""
    return Layout(width, unit, narrow)


@lru_cache(maxsize=8)
def rails(layout: Layout) -> Record:
    """The three rails with their divisions."""
    left, right = layout.rail
    n, u = number, layout.unit
    path = ""
    for index in range(3):
        y = layout.top(index) + layout.bar
        path += f"M{n(left)} {n(y)}H{n(right)}"
        for step in range(-4, 5):
            if step:
                depth = 6.0 * u if abs(step) == 4 else 4.0 * u
                path += f"M{n(layout.zero + step * layout.half / 4.0)} {n(y)}v{n(depth)}"
    return Record("rails", "path", "rail", "ground", (("d", path),))


@lru_cache(maxsize=64)
def direction(layout: Layout, row: str, side: int, at: Point, counterclockwise_positive: bool, x_axis: Vector) -> str:
    """The glyph at the end of a row: an arrow, or a turn, towards its side."""
    n, u = number, layout.unit
    x, y = at
    if row == "turn":
        return turning_glyph((x, y + 1.0 * u), 6.6 * u, (side > 0) == counterclockwise_positive)
    if x_axis != axes.LEVEL:
        axis = x_axis if row == "x" else perpendicular(x_axis)
        return straight_glyph(at, scale(axis, side), 14.0 * u, (5.0 * u, 4.0 * u))
    if row == "x":
        return (
            f"M{n(x - side * 7 * u)} {n(y)}h{n(side * 14 * u)}m{n(-side * 5 * u)} {n(-4 * u)}"
            f"l{n(side * 5 * u)} {n(4 * u)}l{n(-side * 5 * u)} {n(4 * u)}"
        )
    up = -side
    return (
        f"M{n(x)} {n(y - up * 7 * u)}v{n(up * 14 * u)}m{n(-4 * u)} {n(-up * 5 * u)}"
        f"l{n(4 * u)} {n(up * 5 * u)}l{n(4 * u)} {n(-up * 5 * u)}"
    )


class Segment(NamedTuple):
    """A force's segment in one row: its path, left and right end, a gap where it runs on, and its letter."""

    box: str
    span: tuple[float, float]
    cut: Record | None
    letter: Record | None


@lru_cache(maxsize=PARTS_KEPT)
def segment(
    layout: Layout, index: int, of: str, kind: str, symbol: str, side: int, start: float, stop: float
) -> Segment:
    """A segment from `start` to `stop` px beside the zero line; a "faded" one is a bare path."""
    left, right = layout.span(side, start, stop)
    top, n = layout.top(index), number
    inset = 0.0 if kind == "known" else 0.9
    box = f"M{n(left + inset)} {n(top + inset)}H{n(right - inset)}V{n(top + layout.bar - inset)}H{n(left + inset)}Z"
    if kind == "faded":
        return Segment(box, (left, right), None, None)
    cut = _cut(layout, index, of, side) if stop > layout.half + 0.5 else None
    content = text.line(f"segment-text-{kind}", layout.letter, *text.symbol_pieces(symbol))
    letter = None
    if content.width + 6.0 <= right - left:
        baseline = top + layout.bar / 2 + layout.letter * 0.33
        letter = text.record(f"{of}.letter-{index}", content, (left + right) / 2, baseline, anchor="middle", of=of)
    return Segment(box, (left, right), cut, letter)


def band(layout: Layout, index: int, left: float, right: float) -> str:
    """The brass band behind a lit segment."""
    top, n, grow = layout.top(index), number, 4.0 * layout.unit
    return f"M{n(left - grow)} {n(top - grow)}H{n(right + grow)}V{n(top + layout.bar + grow)}H{n(left - grow)}Z"


def _cut(layout: Layout, index: int, of: str, side: int) -> Record:
    """A gap near the end of the rail: the segment runs on beyond the scale."""
    u, n = layout.unit, number
    x, top = layout.zero + side * (layout.half - 9.0 * u), layout.top(index)
    path = f"M{n(x - 3 * u)} {n(top + layout.bar + 2)}L{n(x + 3 * u)} {n(top - 2)}"
    return Record(f"{of}.cut-{index}", "path", "segment-break", "force", (("d", path),), (), of)


def hatch(layout: Layout, left: float, right: float, top: float, gap: float) -> str:
    """Strokes at 45° inside a box, as plain lines: no pattern, no reference."""
    n, height = number, layout.bar
    strokes = ""
    foot = left - height + gap / 2
    while foot < right:
        x1, x2 = max(left, foot), min(right, foot + height)
        if x2 > x1:
            strokes += f"M{n(x1)} {n(top + height - (x1 - foot))}L{n(x2)} {n(top + height - (x2 - foot))}"
        foot += gap
    return strokes

"""The strips: ΣFx, ΣFy and Στ about the pivot, every force a segment to scale on its side of one zero line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ..model import Settings, Sketch
from ..statics import axes
from ..statics import pivot as pivots
from ..statics.reading import Analysis
from ..units import MINUS, write_exact, write_quantity
from . import text, theme
from .frame import COMPACT_PX, step_at_least
from .record import Picture, Record
from .strip_layout import Layout, band, direction, hatch, layout_of, rails, segment
from .strip_sums import ROWS, Bar, Row, bars_of, sides_possible, term
from .text import number

# A scale is kept for as long as the longest side fills at least this part of the rail.
KEPT_PART = 0.30
# A pivot's name longer than this has no room below the sign on a phone.
LONGEST_BELOW = 2


@dataclass(frozen=True, slots=True)
class Scales:
    """What a rail's half length stands for: newtons on the first two strips, newton metres on the third."""

    newton: float
    newton_metre: float


def settle(analysis: Analysis | None, width_px: float, scales: Scales | None) -> Scales:
    """The scales for these forces in 1-2-5 steps; the given ones while the longest side fills 30 to 100 % of them.

    A side on which open forces may lie keeps room for their hatching at this width.
    """
    old = scales or Scales(0.0, 0.0)
    if analysis is None:
        return scales or Scales(1000.0, 1000.0)
    layout = layout_of(width_px, 1.0, width_px < COMPACT_PX)
    longest = {row: 0.0 for row in ROWS}
    for row in ROWS:
        sums = [0.0, 0.0]
        open_count = [0, 0]
        for reading in analysis.readings:
            value = term(reading, row, analysis)
            if value is not None:
                sums[value > 0.0] += abs(value)
            elif reading.force.role == "unknown":
                for side in sides_possible(reading, row, analysis):
                    open_count[side > 0] += 1
        free = [1.0 - min(0.6, count * (layout.open + 2.0) / layout.half) for count in open_count]
        longest[row] = max(total / part for total, part in zip(sums, free, strict=True))
    return Scales(
        _settled(max(longest["x"], longest["y"]), old.newton),
        _settled(longest["turn"], old.newton_metre),
    )


def _settled(longest: float, old: float) -> float:
    if longest <= 0.0:
        return old or 1000.0
    if old > 0.0 and KEPT_PART <= longest / old <= 1.0:
        return old
    return step_at_least(longest)


def draw(
    sketch: Sketch,
    analysis: Analysis | None,
    width_px: float,
    scales: Scales,
    *,
    text_scale: float = 1.0,
    narrow: bool = False,
    lit: frozenset[str] | None = None,
) -> Picture:
    """The three strips at a width; `narrow` is the phone's layout. `lit` is as on the board.

    Answers that `analysis` does not hold are hatched open-ended on the side they must lie, on both if either
    is possible. What still lacks is hatched to scale. Nothing is worked out here but sums of what is given.
    """
    layout = layout_of(width_px, text_scale, narrow)
    drawing = _Strips(sketch, layout, scales, lit)
    if analysis is not None:
        drawing.bars(bars_of(sketch, analysis))
    else:
        drawing.bars({row: Bar() for row in ROWS})
    return Picture(width_px, round(layout.height, 1), tuple(drawing.records))


class _Strips:
    def __init__(self, sketch: Sketch, layout: Layout, scales: Scales, lit: frozenset[str] | None) -> None:
        self.lit = lit
        self.settings: Settings = sketch.settings
        self.sketch = sketch
        self.x_axis = axes.x_axis(sketch)
        self.layout = layout
        self.scales = scales
        self.records: list[Record] = []
        # Paths of segments and of their brass bands, by (force, role): one record carries all three rows.
        self.segments: dict[tuple[str, str], list[str]] = {}
        self.bands: dict[str, list[str]] = {}
        self.letters: list[Record] = []

    def bars(self, bars: dict[Row, Bar]) -> None:
        """Everything, in paint order: bands, rails, segments, zero line, words."""
        all_close = bool(self.sketch.bodies) and all(bar.closed for bar in bars.values())
        any_letters = any(bar.letters for bar in bars.values())
        words: list[Record] = []
        for index, (row, bar) in enumerate(bars.items()):
            self._segments(index, row, bar, any_letters)
        for index, (row, bar) in enumerate(bars.items()):
            words += self._words(index, row, bar, all_close, any_letters)
        bands = [
            Record(f"{of}.brass", "path", "highlight-area", "ground", (("d", "".join(paths)),), (), of, "lit")
            for of, paths in self.bands.items()
        ]
        segments = [
            Record(
                of if not role.endswith("faded") else f"{of}.faded",
                "path",
                role,
                "body",
                (("d", "".join(paths)),),
                (),
                of,
            )
            for (of, role), paths in self.segments.items()
        ]
        self.records = [
            *bands,
            rails(self.layout),
            *segments,
            *self.records,
            Record("zero", "path", "zero", "force", (("d", self._zero(list(bars.values()))),)),
            *self.letters,
            *words,
            *self._scale_notes(any_letters),
        ]

    def _zero(self, bars: list[Bar]) -> str:
        """The zero line; it leaves out a row that says only why it says nothing."""
        n, layout = number, self.layout
        path = f"M{n(layout.zero)} {n(1.0)}"
        for index, bar in enumerate(bars):
            if bar.faded:
                path += f"V{n(layout.top(index) - 2.0)}M{n(layout.zero)} {n(layout.top(index) + layout.bar)}"
        return f"{path}V{n(layout.top(2) + layout.bar + 9.0 * layout.unit)}"

    def _positive(self, row: Row) -> float:
        """+1 where the positive sense lies to the right; clockwise-positive sketches turn the third strip round."""
        return 1.0 if row != "turn" or self.settings.counterclockwise_positive else -1.0

    def _segments(self, index: int, row: Row, bar: Bar, any_letters: bool) -> None:
        layout = self.layout
        u = layout.unit
        per_px = (self.scales.newton_metre if row == "turn" else self.scales.newton) / layout.half
        if any_letters:
            most = max(sum(1 for each in bar.terms if (each[3] > 0) is side) for side in (True, False))
            block = min(64.0 * u, layout.half / (most + 1.5))
        reach = {1: 0.0, -1: 0.0}
        for of, kind, symbol, value in bar.terms:
            side = 1 if value * self._positive(row) > 0 else -1
            size = block if any_letters else abs(value) / per_px
            start, stop = reach[side], reach[side] + size
            reach[side] = stop
            role = "segment-faded" if bar.faded else f"segment-{kind}"
            self._segment(index, of, role, symbol, "faded" if bar.faded else kind, side, start, stop)
        for of, symbol, sides in bar.open_sides:
            for side in () if bar.faded else sides:
                place = int(side * self._positive(row))
                start = min(reach[place], layout.half - layout.open)
                self._open(index, row, of, symbol, place, start)
                reach[place] = start + layout.open + 2.0 * u
        if (
            not bar.open_sides
            and not bar.letters
            and not bar.closed
            and bar.total
            and not bar.faded
            and not any_letters
        ):
            side = -1 if bar.total * self._positive(row) > 0 else 1
            self._needed(index, row, side, reach[side], reach[side] + abs(bar.total) / per_px)

    def _segment(
        self, index: int, of: str, role: str, symbol: str, kind: str, side: int, start: float, stop: float
    ) -> None:
        if start >= self.layout.half:
            return
        drawn = segment(self.layout, index, of, kind, symbol, side, start, stop)
        self.segments.setdefault((of, role), []).append(drawn.box)
        if kind != "faded":
            self._band(index, of, drawn.span)
        if drawn.cut is not None:
            self.records.append(drawn.cut)
        if drawn.letter is not None:
            self.letters.append(drawn.letter)

    def _band(self, index: int, of: str, span: tuple[float, float]) -> None:
        """The brass behind what can be lit."""
        if self.lit is None or of in self.lit:
            self.bands.setdefault(of, []).append(band(self.layout, index, *span))

    def _needed(self, index: int, row: Row, side: int, start: float, stop: float) -> None:
        """The part still needed for this sum to close, hatched on the side where it is needed."""
        layout = self.layout
        if start >= layout.half:
            start = layout.half - 16.0 * layout.unit
        left, right = layout.span(side, start, stop)
        top, n = layout.top(index), number
        box = f"M{n(left)} {n(top + 0.6)}H{n(right)}V{n(top + layout.bar - 0.6)}H{n(left)}Z"
        self.records.append(Record(f"needed.{row}", "path", "needed", "body", (("d", box),)))
        strokes = hatch(layout, left, right, top, 7.0 * layout.unit)
        if strokes:
            self.records.append(Record(f"needed.{row}-hatch", "path", "needed-hatch", "body", (("d", strokes),)))

    def _open(self, index: int, row: Row, of: str, symbol: str, side: int, start: float) -> None:
        """An open force: hatched, without an outer end, on a side where it can lie."""
        layout, n = self.layout, number
        left, right = layout.span(side, start, start + layout.open)
        top, low = layout.top(index) + 0.9, layout.top(index) + layout.bar - 0.9
        inner, outer = (left, right) if side > 0 else (right, left)
        edge = f"M{n(outer)} {n(top)}H{n(inner)}V{n(low)}H{n(outer)}"
        where = f"{row}{'p' if side > 0 else 'n'}"
        self.records.append(Record(f"{of}.open-{where}", "path", "segment-open", "body", (("d", edge),), (), of))
        content = text.line("segment-text-unknown", layout.letter, *text.symbol_pieces(symbol))
        # The letter stands in a window of the hatching, not on it.
        y, middle, window = layout.top(index), (left + right) / 2, content.width / 2 + 3.0 * layout.unit
        strokes = hatch(layout, left, middle - window, y, 6.0 * layout.unit)
        strokes += hatch(layout, middle + window, right, y, 6.0 * layout.unit)
        self.records.append(Record(f"{of}.open-{where}-hatch", "path", "open-hatch", "body", (("d", strokes),), (), of))
        self._band(index, of, (left, right))
        baseline = y + layout.bar / 2 + layout.letter * 0.33
        self.letters.append(
            text.record(f"{of}.letter-{where}", content, middle, baseline, layer="label", anchor="middle", of=of)
        )

    # Words

    def _words(self, index: int, row: Row, bar: Bar, all_close: bool, any_letters: bool) -> list[Record]:
        layout = self.layout
        top = layout.top(index)
        middle = top + layout.bar / 2
        records = [self._row_label(index, row, middle, bar)]
        records += self._ends(index, row, bar, middle, any_letters)
        if bar.faded:
            # On a phone, the reason stays unsaid: it would run over the signs at the ends.
            words = bar.faded.partition(":")[0] if layout.narrow else bar.faded
            note = text.line("row-note", layout.small, (words, "plain"))
            size = layout.small * min(1.0, (layout.width - 12.0) / note.width)
            note = text.line("row-note", size, (words, "plain"))
            x = max(layout.zero, note.width / 2 + 4.0)
            x = min(x, layout.width - note.width / 2 - 4.0)
            records.append(text.record(f"note.{row}", note, x, middle + size * 0.33, anchor="middle"))
        if self.sketch.bodies and not any_letters:
            records += self._sum(index, row, bar, middle, all_close)
        elif bar.open_sides and self.sketch.answers == "shown" and not bar.faded:
            # With letters there is no amount to say, only whether the side is certain.
            certain = all(len(sides) == 1 for _, _, sides in bar.open_sides)
            words = "certain" if certain else "depends" if layout.narrow else "depends on sizes"
            size = (theme.SMALL_SIZE if layout.narrow else theme.COMPACT_SIZE) * layout.unit
            content = text.line("row-sum", size, (words, "plain"))
            right = layout.width - 14.0 * layout.unit
            records.append(text.record(f"total.{row}", content, right, middle + size * 0.33, anchor="end"))
        return records

    def _row_label(self, index: int, row: Row, middle: float, bar: Bar) -> Record:
        layout = self.layout
        role = "row-label-faded" if bar.faded else "row-label"
        size = layout.letter
        if row != "turn":
            content = text.line(role, size, ("Σ", "sign"), ("F", "symbol"), (row, "sub"))
        else:
            letter = "τ" if self.settings.turning_word == "torque" else "M"
            name = pivots.name_of(self.sketch) if self.sketch.bodies else ""
            pieces: list[tuple[str, str] | tuple[str, str, float]] = [("Σ", "sign"), (letter, "symbol")]
            if name and not layout.narrow:
                pieces.append((f"about {name}", "plain", 5.0))
            elif 0 < len(name) <= LONGEST_BELOW:
                pieces.append((name, "sub-upright"))
            content = text.line(role, size, *pieces)
        return text.record(f"label.{row}", content, 14.0 * layout.unit, middle + size * 0.33)

    def _ends(self, index: int, row: Row, bar: Bar, middle: float, any_letters: bool) -> list[Record]:
        """Direction and sum of both sides; the positive end carries a plus."""
        layout, u, n = self.layout, self.layout.unit, number
        left, right = layout.rail
        records: list[Record] = []
        for side, end in ((-1, left), (1, right)):
            x = end + side * (18.0 if layout.narrow else 16.0) * u
            y = middle - 6.0 * u if layout.narrow else middle
            glyph = self._direction(row, side, (x, y))
            if side > 0:
                px = x + (13.0 if layout.narrow else 14.0) * u
                glyph += f"M{n(px - 3 * u)} {n(y)}h{n(6 * u)}m{n(-3 * u)} {n(-3 * u)}v{n(6 * u)}"
            records.append(Record(f"end.{row}{'p' if side > 0 else 'n'}", "path", "glyph", "label", (("d", glyph),)))
            if any_letters or bar.faded or not bar.terms:
                continue
            sum_ = sum(abs(each[3]) for each in bar.terms if (each[3] * self._positive(row) > 0) == (side > 0))
            content = text.line("side-sum", layout.small, (self._figure(sum_, row), "plain"))
            place = f"sum.{row}{'p' if side > 0 else 'n'}"
            if layout.narrow:
                # Between the row's label and the rail; a figure too long for that is left to the table.
                if content.width <= 38.0 * u:
                    records.append(text.record(place, content, x, middle + 13.0 * u, anchor="middle"))
            else:
                at = end + side * (31.0 if side < 0 else 40.0) * u
                anchor = "end" if side < 0 else "start"
                records.append(text.record(place, content, at, middle + layout.small * 0.33, anchor=anchor))
        return records

    def _figure(self, value: float, row: Row) -> str:
        kind: Literal["force", "couple"] = "couple" if row == "turn" else "force"
        # Without a unit where the scale note gives it; large values step up and must name their unit.
        return write_quantity(value, kind, self.settings, with_unit=abs(value) >= 1e5)

    def _direction(self, row: Row, side: int, at: tuple[float, float]) -> str:
        return direction(self.layout, row, side, at, self.settings.counterclockwise_positive, self.x_axis)

    def _sum(self, index: int, row: Row, bar: Bar, middle: float, all_close: bool) -> list[Record]:
        layout, u, n = self.layout, self.layout.unit, number
        right = layout.width - 14.0 * u
        size = (theme.SMALL_SIZE if layout.narrow else theme.COMPACT_SIZE) * u
        baseline = middle + size * 0.33
        records: list[Record] = []
        role = "row-sum-faded" if bar.faded else "row-sum"
        if bar.closed:
            if all_close:
                tick = f"M{n(right - 13 * u)} {n(middle)}l{n(4 * u)} {n(5 * u)}l{n(9 * u)} {n(-11 * u)}"
                records.append(Record(f"check.{row}", "path", "check", "label", (("d", tick),)))
                right -= 21.0 * u
            content = text.line(role, size, ("closed", "plain"))
            if layout.narrow and all_close:
                return records
            return [*records, text.record(f"total.{row}", content, right, baseline, anchor="end")]
        if bar.never:
            words = "cannot" if layout.narrow else "cannot close"
            return [text.record(f"total.{row}", text.line(role, size, (words, "plain")), right, baseline, anchor="end")]
        if bar.open_sides:
            content = self._open_sum(row, bar, role, size)
            return [text.record(f"total.{row}", content, right, baseline, anchor="end")]
        if self.sketch.answers == "kept" and not bar.faded:
            # The side is in sight anyway; the amount is not said.
            side = -1 if bar.total * self._positive(row) > 0 else 1
            glyph = self._direction(row, side, (right - 9.0 * u, middle))
            records.append(Record(f"more.{row}", "path", "glyph", "label", (("d", glyph),)))
            content = text.line(role, size, ("still needed", "plain"))
            if not layout.narrow:
                records.append(text.record(f"total.{row}", content, right - 24.0 * u, baseline, anchor="end"))
            return records
        shown = bar.total * self._positive(row)
        words = self._signed(shown, row)
        return [text.record(f"total.{row}", text.line(role, size, (words, "plain")), right, baseline, anchor="end")]

    def _signed(self, value: float, row: Row) -> str:
        kind: Literal["force", "couple"] = "couple" if row == "turn" else "force"
        words = write_quantity(abs(value), kind, self.settings, with_unit=not self.layout.narrow or abs(value) >= 1e5)
        return f"{MINUS if value < 0 else '+'}{words}"

    def _open_sum(self, row: Row, bar: Bar, role: str, size: float) -> text.Line:
        """What is known of the sum, the letters still open, and "= ?"; on a phone the open letters alone, "R, T ?"."""
        letters: list[tuple[str, str] | tuple[str, str, float]] = []
        for _, symbol, _ in bar.open_sides:
            letters.append(("+", "plain", 4.0))
            base, *below = text.symbol_pieces(symbol)
            letters += [(base[0], base[1], 4.0), *below]
        end: tuple[str, str, float] = ("= ?", "plain", 5.0)
        if self.layout.narrow:
            # What is said in the strip itself stays out: here only whose size is still open.
            short: list[tuple[str, str] | tuple[str, str, float]] = []
            for place, (_, symbol, _) in enumerate(bar.open_sides):
                short += [(", ", "plain")] if place else []
                short += text.symbol_pieces(symbol)
            line = text.line(role, size, *short, ("?", "plain", 3.0))
            room = self.layout.width - self.layout.rail[1] - 40.0 * self.layout.unit
            return line if line.width <= room else text.line(role, size, ("open", "plain"))
        known = bar.total * self._positive(row)
        whole = [(f"{MINUS if known < 0 else ''}{self._figure(abs(known), row)}", "plain"), *letters, end]
        line = text.line(role, size, *whole)
        # Clear of the sum at the rail's right end.
        room = self.layout.width - self.layout.rail[1] - (58.0 + self._side_width(row, bar)) * self.layout.unit
        if line.width <= room and bar.terms:
            return line
        line = text.line(role, size, *letters, end)
        return line if line.width <= room else text.line(role, size, ("= ?", "plain"))

    def _side_width(self, row: Row, bar: Bar) -> float:
        """Width of the sum at the right end, in px at text scale 1."""
        right = sum(abs(each[3]) for each in bar.terms if each[3] * self._positive(row) > 0)
        return text.width_of(self._figure(right, row), "side-sum", self.layout.small) / self.layout.unit

    def _scale_notes(self, any_letters: bool) -> list[Record]:
        layout = self.layout
        size = theme.EDGE_SIZE * layout.unit
        y = layout.height - 3.0 * layout.unit
        left, right = layout.rail
        if any_letters:
            note = text.line("scale-note", size, ("not to scale", "plain"))
            return [text.record("scale", note, layout.zero, y, anchor="middle")]
        newtons = write_exact(self.scales.newton, "force", self.settings)
        words = f"{newtons} · {write_exact(self.scales.newton_metre, 'couple', self.settings)}"
        note = text.line("scale-note", size, (words, "plain"))
        return [
            text.record(f"scale.{name}", note, x, y, anchor="middle") for name, x in (("left", left), ("right", right))
        ]

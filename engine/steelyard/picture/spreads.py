"""Spread loads on the sheet: the load diagram with its small arrows, and the one thin arrow it comes to.

The diagram is what is drawn; the resultant is thin and open-headed, and only there while its load is lit (or when
lines and arms are asked for), so that the two never look like two loads.
"""

from __future__ import annotations

import math
from typing import Literal, NamedTuple

from ..geometry import Point
from ..model import Body, Sketch, SpreadLoad
from ..statics import shape, spread
from ..statics.reading import ForceReading
from ..units import write_exact, write_quantity
from . import arrows, text
from .arrows import Arrow
from .bodies import half_thickness_px
from .frame import Frame
from .labels import HARD, SYMBOL_COST, Field, Wanted
from .record import Record
from .text import number

# Heights of the greatest load in a diagram: never so low that its arrows are lost, never so high that it hides all.
LOWEST_PX = 22.0
HIGHEST_PX = 96.0
LETTER_PX = 44.0
# Small arrows stand about so far apart, and are left out where the diagram is lower than their heads.
APART_PX = 22.0
SHORTEST_ARROW_PX = 8.0
_HEAD_PX, _HEAD_HALF_PX = 6.0, 2.6
# Between the body's edge and the heads.
_GAP_PX = 3.0


class Diagram(NamedTuple):
    """One load diagram in px: the foot and the top at its start and end, and which way it acts."""

    load: SpreadLoad
    feet: tuple[Point, Point]
    tops: tuple[Point, Point]
    acts: Point

    @property
    def outline(self) -> list[Point]:
        """Its four corners, in order."""
        return [self.feet[0], self.tops[0], self.tops[1], self.feet[1]]


def diagram(load: SpreadLoad, body: Body, frame: Frame) -> Diagram:
    """Where the diagram of a load stands: beside the body, on the side the load comes from."""
    placed = shape.placing(body)
    ends = [frame.to_sheet(placed(place)) for place in (load.start_m, load.end_m)]
    x, y = spread.along(load, body)
    acts = (x, -y)
    off, rise = ((part[0], -part[1]) for part in spread.sides(load, body))
    reach = half_thickness_px(body, frame) + _GAP_PX * frame.pen
    feet = [(x + off[0] * reach, y + off[1] * reach) for x, y in ends]
    tops = [(x + rise[0] * high, y + rise[1] * high) for (x, y), high in zip(feet, heights(load, frame), strict=True)]
    return Diagram(load, (feet[0], feet[1]), (tops[0], tops[1]), acts)


def heights(load: SpreadLoad, frame: Frame) -> tuple[float, float]:
    """How high the diagram is at start and end, in px: to the scale of forces, within bounds."""
    start, end = (abs(each) for each in load.shares)
    most = max(start, end)
    if load.letter_only:
        highest = LETTER_PX * frame.pen
    else:
        highest = min(HIGHEST_PX, max(LOWEST_PX, most / frame.intensity_per_px)) * frame.pen
    return (highest * start / most, highest * end / most) if most > 0.0 else (0.0, 0.0)


def records(drawn: Diagram, frame: Frame, name: str) -> list[Record]:
    """The diagram: its outline with the shafts, the heads, and the brass behind it while it is lit."""
    of = drawn.load.id
    n = number
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = drawn.outline
    outline = f"M{n(x0)} {n(y0)}L{n(x1)} {n(y1)}L{n(x2)} {n(y2)}L{n(x3)} {n(y3)}Z"
    shafts, heads = _small_arrows(drawn, frame)
    made = [
        Record(f"{of}.brass-diagram", "path", "highlight-area", "ground", (("d", outline),), (), of, "lit"),
        Record(of, "path", "spread-line", "force", (("d", outline + shafts),), (), of, "always", name),
    ]
    if heads:
        made.append(Record(f"{of}.heads", "path", "spread-head", "force", (("d", heads),), (), of))
    return made


def _small_arrows(drawn: Diagram, frame: Frame) -> tuple[str, str]:
    """Paths of the shafts and of the heads."""
    n = number
    pen = frame.pen
    spaces = max(2, round(math.dist(*drawn.feet) / (APART_PX * pen)))
    ux, uy = drawn.acts
    shafts = heads = ""
    flat = _lies_flat(drawn)
    for index in range(spaces + (0 if flat else 1)):
        part = (index + (0.5 if flat else 0.0)) / spaces
        foot, top = (_between(ends, part) for ends in (drawn.feet, drawn.tops))
        high = math.dist(foot, top)
        if high < SHORTEST_ARROW_PX * pen:
            continue
        tip, tail = foot, top
        if flat:
            # It lies along the body: a short arrow half-way up.
            x, y = (foot[0] + top[0]) / 2.0, (foot[1] + top[1]) / 2.0
            reach = 0.4 * APART_PX * pen
            tip, tail = (x + ux * reach, y + uy * reach), (x - ux * reach, y - uy * reach)
            shafts += f"M{n(tail[0])} {n(tail[1])}L{n(tip[0])} {n(tip[1])}"
        elif 0 < index < spaces:
            shafts += f"M{n(tail[0])} {n(tail[1])}L{n(tip[0])} {n(tip[1])}"
        back, half = _HEAD_PX * pen, _HEAD_HALF_PX * pen
        bx, by = tip[0] - ux * back, tip[1] - uy * back
        heads += (
            f"M{n(tip[0])} {n(tip[1])}L{n(bx - uy * half)} {n(by + ux * half)}L{n(bx + uy * half)} {n(by - ux * half)}Z"
        )
    return shafts, heads


def _lies_flat(drawn: Diagram) -> bool:
    """Whether the load runs along its body, so that its diagram rises square to it."""
    (x, y), (to_x, to_y) = drawn.feet
    along = (to_x - x) * drawn.acts[0] + (to_y - y) * drawn.acts[1]
    across = (to_x - x) * drawn.acts[1] - (to_y - y) * drawn.acts[0]
    return abs(across) < spread.FLAT * math.hypot(along, across)


def _between(ends: tuple[Point, Point], part: float) -> Point:
    (x, y), (to_x, to_y) = ends
    return (x + part * (to_x - x), y + part * (to_y - y))


def keep_clear(drawn: Diagram, field: Field) -> None:
    """The diagram as something labels keep off."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = drawn.outline
    xs, ys = (x0, x1, x2, x3), (y0, y1, y2, y3)
    if min(math.dist((x0, y0), (x1, y1)), math.dist((x2, y2), (x3, y3))) > 0.0 and (x0 == x3 or y0 == y3):
        field.box((min(xs), min(ys), max(xs), max(ys)), SYMBOL_COST)
    for part in range(9):
        foot, top = (_between(ends, part / 8.0) for ends in (drawn.feet, drawn.tops))
        field.segment(foot, top, 1.5, SYMBOL_COST)
    field.segment(drawn.tops[0], drawn.tops[1], 1.5, HARD)


def label_wishes(drawn: Diagram, sketch: Sketch, frame: Frame, on: str) -> list[Wanted]:
    """What the diagram says: the load on each metre, at both ends where it differs, and what exerts it."""
    load = drawn.load
    settings = sketch.settings
    start, end = load.shares
    by = "Earth" if load.acts == "weight" else load.agent or "?"
    who = by if frame.compact or not on else f"{by} on {on}"
    caption = text.line("caption", frame.small_px, (who, "plain"))
    symbol = text.symbol_pieces(load.spread_symbol)
    if load.letter_only or start == end or 0.0 in (start, end):
        most = max((each for each in (load.start_n_per_m, load.end_n_per_m) if each), key=abs, default=0.0)
        value = "" if load.letter_only else write_exact(abs(most), "intensity", settings)
        lines = (
            text.line("label-known", frame.label_px, *symbol, *([(value, "value", 6.0)] if value else [])),
            caption,
        )
        if start == end:
            at = _between(drawn.tops, 0.5)
            return [Wanted(f"{load.id}.label", load.id, lines, (at, drawn.tops[0], drawn.tops[1]), 4.0)]
        peak = drawn.tops[0] if abs(start) > abs(end) else drawn.tops[1]
        return [Wanted(f"{load.id}.label", load.id, lines, (peak, _between(drawn.tops, 0.5)), 4.0)]
    wishes = []
    for index, value_n in enumerate((start, end)):
        value = write_exact(abs(value_n), "intensity", settings)
        words = [text.line("label-known", frame.label_px, *symbol, (value, "value", 6.0))]
        if abs(value_n) == max(abs(start), abs(end)):
            words.append(caption)
        label_id = f"{load.id}.label" if len(words) == 2 else f"{load.id}.label-{'end' if index else 'start'}"
        wishes.append(Wanted(label_id, load.id, tuple(words), (drawn.tops[index],), 4.0))
    return wishes


def resultant(reading: ForceReading, frame: Frame) -> Arrow | None:
    """The arrow of the resultant, from where its line of action meets the body; None for a size of nothing."""
    force = reading.force
    at = frame.to_sheet(force.point)
    along = force.along or (0.0, 0.0)
    if reading.vector is None:
        px = (along[0] * arrows.STANDARD_PX * frame.pen, -along[1] * arrows.STANDARD_PX * frame.pen)
    elif math.hypot(*reading.vector) == 0.0:
        return None
    else:
        px = (reading.vector[0] / frame.n_per_px, -reading.vector[1] / frame.n_per_px)
    return arrows.placed(at, px, "known", frame.pen, exact=frame.exact)


def resultant_records(arrow: Arrow, of: str, frame: Frame, *, always: bool) -> list[Record]:
    """A thin shaft and an open head, and the dot where it acts."""
    n = number
    pen = frame.pen
    length = arrow.length or 1.0
    ux, uy = (arrow.head[0] - arrow.tail[0]) / length, (arrow.head[1] - arrow.tail[1]) / length
    x, y = arrow.head
    back, half = min(12.0 * pen, 0.8 * length), 4.6 * pen
    path = (
        f"M{n(arrow.tail[0])} {n(arrow.tail[1])}L{n(x)} {n(y)}"
        f"M{n(x - ux * back - uy * half)} {n(y - uy * back + ux * half)}L{n(x)} {n(y)}"
        f"L{n(x - ux * back + uy * half)} {n(y - uy * back - ux * half)}"
    )
    shown: Literal["always", "lit"] = "always" if always else "lit"
    made = [Record(f"{of}.resultant", "path", "resultant", "force", (("d", path),), (), of, shown)]
    if not arrow.to_scale:
        made.append(arrows.break_mark(arrow, f"{of}.resultant-break", of, pen)._replace(shown=shown))
    made.append(arrows.dot(arrow.tail, f"{of}.at", of, 3.2 * pen)._replace(shown=shown))
    return made


def resultant_label(reading: ForceReading, arrow: Arrow, sketch: Sketch, frame: Frame) -> Wanted:
    """The letter of the resultant and its size."""
    pieces: list[tuple[str, str] | tuple[str, str, float]] = [*text.symbol_pieces(reading.force.symbol)]
    if reading.size_n is not None:
        pieces.append((write_quantity(reading.size_n, "force", sketch.settings), "value", 6.0))
    line = text.line("label-known", frame.small_px, *pieces)
    return Wanted(f"{reading.force.id}.resultant-label", reading.force.id, (line,), (arrow.middle, arrow.head), 4.0)


def spoken(load: SpreadLoad, sketch: Sketch, on: str) -> str:
    """What a screen reader calls the diagram: "Q, spread load by snow on gangway, w 400 N/m"."""
    by = "Earth" if load.acts == "weight" else load.agent or "something not named"
    said = f"{text.plain(load.symbol)}, spread load by {by} on {on or 'body'}, {text.plain(load.spread_symbol)}"
    values = [None if each is None else write_quantity(abs(each), "intensity", sketch.settings)
              for each in (load.start_n_per_m, load.end_n_per_m)]  # fmt: skip
    if load.letter_only:
        return said
    return f"{said} {values[0]}" if values[0] == values[1] else f"{said} from {values[0]} to {values[1]}"

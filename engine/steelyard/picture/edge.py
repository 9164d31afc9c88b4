"""The graduated edge of the sheet: rulers at the left and bottom, metre crosses, scale of force, positive senses."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from ..geometry import Point, Vector, add, perpendicular, scale
from ..model import Settings
from ..statics.axes import LEVEL
from ..units import write_exact
from ..units.table import FOOT_M, SHOWN
from . import text, theme
from .arrows import on_circle
from .frame import REFERENCE_PX, Frame, step_at_least
from .record import Record
from .text import number

# Rulers are divided so that a division is at least this wide, on a desktop and on a phone.
DIVISION_PX = 72.0
COMPACT_DIVISION_PX = 40.0
# More crosses than this say no more and cost a long path.
MOST_CROSSES = 400


@dataclass(frozen=True, slots=True)
class Ruler:
    """How the sheet is divided: px per shown unit, what a unit is in stored ones, the step, and its name.

    `names` are what is measured along x and y, as pieces of text.
    """

    px_per_unit: float
    stored_per_unit: float
    step: float
    unit: str
    names: tuple[tuple[tuple[str, str], ...], tuple[tuple[str, str], ...]] = ((("x", "symbol"),), (("y", "symbol"),))


def ruler(frame: Frame, settings: Settings) -> Ruler:
    """The division for this zoom: 1-2-5 steps in metres, or feet where those are shown."""
    metres = FOOT_M if settings.units == "us" else 1.0
    per_unit = frame.px_per_m * metres
    widest = (COMPACT_DIVISION_PX if frame.compact else DIVISION_PX) * frame.text_scale
    return Ruler(per_unit, metres, step_at_least(widest / per_unit), "ft" if settings.units == "us" else "m")


FORCE_NAMES = ((("F", "symbol"), ("x", "sub")), (("F", "symbol"), ("y", "sub")))
# The edges are level: with tilted axes what is measured along them is no component.
PLAIN_NAMES = ((("F", "symbol"),), (("F", "symbol"),))


def force_ruler(frame: Frame, settings: Settings, x_axis: Vector = LEVEL) -> Ruler:
    """The division of a sheet of newtons, whose "metres" are newtons: 1-2-5 steps in the unit that suits them."""
    widest = (COMPACT_DIVISION_PX if frame.compact else DIVISION_PX) * frame.text_scale
    step_n = step_at_least(widest / frame.px_per_m)
    # A few steps make the largest figure in sight: that decides between N, kN and MN.
    unit = next(each for each in reversed(SHOWN[settings.units]["force"]) if 5.0 * step_n >= each.from_size)
    per_unit = frame.px_per_m * unit.factor
    names = FORCE_NAMES if x_axis == LEVEL else PLAIN_NAMES
    return Ruler(per_unit, unit.factor, step_at_least(widest / per_unit), unit.sign, names)


def _numbers(low: float, high: float, step: float) -> list[int]:
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return list(range(first, min(last, first + 200) + 1))


def _figure(index: int, step: float, settings: Settings) -> str:
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    shown = f"{abs(index) * step:.{decimals}f}"
    if settings.decimal_comma:
        shown = shown.replace(".", ",")
    return f"−{shown}" if index < 0 else shown


@lru_cache(maxsize=8)
def draw(frame: Frame, settings: Settings, x_axis: Vector = LEVEL) -> tuple[Record, ...]:
    """Rulers and crosses, kept: they move with the paper only.

    The rulers lie level and upright; they are called x and y where the axes do too.
    """
    # What lies over the right of the sheet floats on it: the paper and its edge go on beneath.
    return tuple(ruled(frame, settings, named(ruler(frame, settings), x_axis), frame.width_px))


@lru_cache(maxsize=4)
def of_forces(plane: Frame, settings: Settings, x_axis: Vector) -> tuple[Record, ...]:
    """The same for a sheet of newtons, up to the right of its room."""
    return tuple(ruled(plane, settings, force_ruler(plane, settings, x_axis), plane.room[2]))


def named(rule: Ruler, x_axis: Vector) -> Ruler:
    """The ruler without the letters of axes that do not run along it."""
    return rule if x_axis == LEVEL else replace(rule, names=((), ()))


def ruled(frame: Frame, settings: Settings, rule: Ruler, right: float) -> list[Record]:
    """The graduated edge of a ruler, and its crosses, up to a place at the right."""
    left, top, _, bottom = frame.room
    margin_left = frame.covered_px[3]
    margin_bottom = frame.height_px - frame.covered_px[2]
    band = (5.0 if frame.compact else 7.0) * frame.text_scale
    size = theme.EDGE_SIZE * frame.text_scale
    low, high = frame.to_world((left, bottom)), frame.to_world((right, top))
    unit = rule.stored_per_unit
    columns = _numbers(low[0] / unit, high[0] / unit, rule.step)
    rows = _numbers(low[1] / unit, high[1] / unit, rule.step)
    xs = [frame.to_sheet((index * rule.step * unit, 0.0))[0] for index in columns]
    ys = [frame.to_sheet((0.0, index * rule.step * unit))[1] for index in rows]
    n = number

    records = []
    if len(xs) * len(ys) <= MOST_CROSSES:
        crosses = "".join(
            f"M{n(x - 4)} {n(y)}h8M{n(x)} {n(y - 4)}v8" for x in xs if x > left + 5 for y in ys if y < bottom - 5
        )
        records.append(Record("edge.crosses", "path", "cross", "edge", (("d", crosses or "M0 0"),)))
    margin = f"M{n(margin_left)} {n(top)}H{n(left)}V{n(bottom)}H{n(right)}V{n(margin_bottom)}H{n(margin_left)}Z"
    blank = f"M{n(left - band)} {n(top)}H{n(left)}V{n(bottom)}H{n(right)}V{n(bottom + band)}H{n(left - band)}Z"
    records.append(Record("edge.margin", "path", "edge-margin", "edge", (("d", margin),)))
    records.append(Record("edge.blank", "path", "edge-blank", "edge", (("d", blank),)))
    records.append(Record("edge.bands", "path", "edge-band", "edge", (("d", _bands(frame, rule, right, band)),)))
    outline = f"M{n(left - band)} {n(top)}V{n(bottom + band)}H{n(right)}M{n(left)} {n(top)}V{n(bottom)}H{n(right)}"
    records.append(Record("edge.line", "path", "edge-line", "edge", (("d", outline),)))

    baseline = bottom + band + size * 1.02
    x_name = text.line("edge-number", size, *rule.names[0], (rule.unit, "plain", 3.0))
    for index, x in zip(columns, xs, strict=True):
        figure = text.line("edge-number", size, (_figure(index, rule.step, settings), "plain"))
        if x - figure.width / 2 < left - 2 or x + figure.width / 2 > right - x_name.width - 14:
            continue
        records.append(text.record(f"edge.x{index}", figure, x, baseline, layer="edge", anchor="middle"))
    records.append(text.record("edge.x-name", x_name, right - 6, baseline, layer="edge", anchor="end"))
    y_name = text.line("edge-number", size, *rule.names[1], (rule.unit, "plain", 3.0))
    place = left - band - 5.0
    if y_name.width > place - margin_left - 1:
        y_name = text.line("edge-number", size, (rule.unit, "plain"))
    for index, y in zip(rows, ys, strict=True):
        if y < top + size * 2.2 or y > bottom - 2:
            continue
        figure = text.line("edge-number", size, (_figure(index, rule.step, settings), "plain"))
        if figure.width > place - margin_left - 1:
            continue
        records.append(text.record(f"edge.y{index}", figure, place, y + size * 0.33, layer="edge", anchor="end"))
    records.append(text.record("edge.y-name", y_name, place, top + size * 1.25, layer="edge", anchor="end"))
    return records


def _bands(frame: Frame, rule: Ruler, right: float, band: float) -> str:
    """Every other division of both rulers, inked."""
    left, top, _, bottom = frame.room
    step_px = rule.step * rule.px_per_unit
    n = number
    path = []
    zero_x, zero_y = frame.to_sheet((0.0, 0.0))
    first = math.floor((left - zero_x) / step_px)
    for index in range(first, math.ceil((right - zero_x) / step_px)):
        if index % 2 == 0:
            start, end = max(left, zero_x + index * step_px), min(right, zero_x + (index + 1) * step_px)
            if end > start:
                path.append(f"M{n(start)} {n(bottom)}H{n(end)}v{n(band)}H{n(start)}Z")
    first = math.floor((zero_y - bottom) / step_px)
    for index in range(first, math.ceil((zero_y - top) / step_px)):
        if index % 2 == 0:
            start, end = min(bottom, zero_y - index * step_px), max(top, zero_y - (index + 1) * step_px)
            if start > end:
                path.append(f"M{n(left - band)} {n(start)}V{n(end)}h{n(band)}V{n(start)}Z")
    return "".join(path) or "M0 0"


def marks(of: str, at: Point, frame: Frame) -> Record | None:
    """Where a force's point stands on both rulers, shown while the force is lit; None when it is off the sheet."""
    left, top, right, bottom = frame.room
    n, size = number, 6.0 * frame.pen
    path = ""
    if left <= at[0] <= right:
        path += f"M{n(at[0])} {n(bottom)}l{n(-size)} {n(size * 1.66)}h{n(2 * size)}Z"
    if top <= at[1] <= bottom:
        path += f"M{n(left)} {n(at[1])}l{n(-size * 1.66)} {n(-size)}v{n(2 * size)}Z"
    if not path:
        return None
    return Record(f"{of}.marks", "path", "edge-mark", "edge", (("d", path),), (), of, "lit")


def key_size(frame: Frame, settings: Settings) -> tuple[float, float]:
    """Width and height of the key (axes, positive sense, scale of force, and that it is seen from above)."""
    unit = frame.text_scale
    if frame.compact and settings.seen_from == "above":
        return (132.0 * unit, 50.0 * unit)
    return (132.0 * unit, 40.0 * unit) if frame.compact else (158.0 * unit, 62.0 * unit)


@lru_cache(maxsize=8)
def key(
    frame: Frame, settings: Settings, left: float, low: float, *, with_scale: bool, x_axis: Vector = LEVEL
) -> tuple[Record, ...]:
    """The key with its lower left corner at (left, low): axes, positive sense of turning, newtons per length; kept."""
    unit = frame.text_scale
    size = theme.SMALL_SIZE * unit

    def s(value: float) -> str:
        return number(value * unit)

    records: list[Record] = []

    def stroke(part: str, path: str) -> None:
        records.append(Record(f"key.{part}", "path", "glyph", "edge", (("d", path),)))

    def letter(part: str, x: float, y: float) -> None:
        content = text.line("glyph-text", size, (part, "symbol"))
        records.append(text.record(f"key.{part}", content, x, y, layer="edge"))

    x0, y0 = left + 6 * unit, low - 7 * unit
    plus_from: Point | None = None
    start = f"M{number(x0)} {number(y0)}"
    if frame.compact:
        turn_at = (left + 10 * unit, low - 14 * unit)
    elif x_axis != LEVEL:
        origin, places, path = _tilted_axes((x0, y0), x_axis, unit)
        between = scale(add(x_axis, perpendicular(x_axis)), 20.0 * unit)
        turn_at = (origin[0] + between[0], origin[1] - between[1])
        # Farther out between the arrows there is room for the plus, whichever way they point.
        plus_from = (origin[0] + 1.6 * between[0] - 4 * unit, origin[1] - 1.6 * between[1])
        stroke("axes", path)
        for name, place in places.items():
            content = text.line("glyph-text", size, (name, "symbol"))
            records.append(text.record(f"key.{name}", content, *place, layer="edge", anchor="middle"))
    else:
        turn_at = (x0 + 20 * unit, y0 - 20 * unit)
        across = f"{start}h{s(34)}m{s(-6)} {s(-4)}l{s(6)} {s(4)}l{s(-6)} {s(4)}"
        stroke("axes", f"{across}{start}v{s(-34)}m{s(-4)} {s(6)}l{s(4)} {s(-6)}l{s(4)} {s(6)}")
        letter("x", x0 + 40 * unit, y0 + 4 * unit)
        letter("y", x0 - 3 * unit, y0 - 40 * unit)
    stroke("turn", turning_glyph(turn_at, 7.5 * unit, settings.counterclockwise_positive))
    plus_from = plus_from or (turn_at[0] + 12 * unit, turn_at[1] - 5 * unit)
    plus_at = f"M{number(plus_from[0])} {number(plus_from[1])}"
    stroke("plus", f"{plus_at}h{s(8)}m{s(-4)} {s(-4)}v{s(8)}")
    if settings.seen_from == "above":
        words_at = (left + 34 * unit, y0 - 28 * unit) if frame.compact else (left + 56 * unit, y0 - 36 * unit)
        words = text.line("glyph-text", theme.EDGE_SIZE * unit, ("seen from above", "plain"))
        records.append(text.record("key.above", words, *words_at, layer="edge"))
    if with_scale:
        bar_x = left + (52 if frame.compact else 94) * unit
        bar = f"M{number(bar_x)} {number(y0 - 5 * unit)}v{s(10)}m0 {s(-5)}h{s(REFERENCE_PX)}m0 {s(-5)}v{s(10)}"
        stroke("scale", bar)
        size_words = write_exact(round_newtons(frame.n_per_px * REFERENCE_PX * unit), "force", settings)
        content = text.line("glyph-text", theme.EDGE_SIZE * unit, (size_words, "plain"))
        middle = bar_x + REFERENCE_PX * unit / 2
        records.append(text.record("key.scale-text", content, middle, y0 - 11 * unit, layer="edge", anchor="middle"))
    return tuple(records)


def _tilted_axes(corner: Point, x_axis: Vector, unit: float) -> tuple[Point, dict[str, Point], str]:
    """Axes that are not level, in the room above and right of a corner: their origin, places of letters, strokes."""
    ways = {"x": x_axis, "y": perpendicular(x_axis)}
    tips = [(0.0, 0.0), *((34.0 * unit * way[0], -34.0 * unit * way[1]) for way in ways.values())]
    left, low = min(tip[0] for tip in tips), max(tip[1] for tip in tips)
    origin = (corner[0] - left, corner[1] - low)
    path, places = "", {}
    for (name, way), tip in zip(ways.items(), tips[1:], strict=True):
        middle = (origin[0] + tip[0] / 2.0, origin[1] + tip[1] / 2.0)
        path += straight_glyph(middle, way, 34.0 * unit, (6.0 * unit, 4.0 * unit))
        places[name] = (origin[0] + tip[0] * 1.24, origin[1] + tip[1] * 1.24 + 4.0 * unit)
    return origin, places, path


def straight_glyph(middle: Point, way: Vector, length: float, barb: tuple[float, float]) -> str:
    """An arrow of a length round its middle along a world direction, with an open head (how far back, how wide)."""
    n, ux, uy = number, way[0], -way[1]
    half, (back, wide) = length / 2.0, barb
    tip = (middle[0] + ux * half, middle[1] + uy * half)
    wings = [(tip[0] - ux * back + side * uy * wide, tip[1] - uy * back - side * ux * wide) for side in (1.0, -1.0)]
    return (
        f"M{n(middle[0] - ux * half)} {n(middle[1] - uy * half)}L{n(tip[0])} {n(tip[1])}"
        f"M{n(wings[0][0])} {n(wings[0][1])}L{n(tip[0])} {n(tip[1])}L{n(wings[1][0])} {n(wings[1][1])}"
    )


def round_newtons(value: float) -> float:
    """The scale bar's newtons without the last bits of the division that made them."""
    return float(f"{value:.6g}")


def turning_glyph(centre: Point, radius: float, counterclockwise: bool) -> str:
    """A three-quarter turn with an open head, as a stroke."""
    sign = 1.0 if counterclockwise else -1.0
    # Open at the upper side, where the head looks back into the gap: a bow open below reads as a letter.
    end = 90.0 + sign * 45.0
    start = end - sign * 285.0
    x1, y1 = on_circle(centre, radius, start)
    x2, y2 = on_circle(centre, radius, end)
    heading = math.radians(end + sign * 100.0)
    barb = radius * 0.8
    points = []
    for turn in (0.62, -0.62):
        points.append((x2 - barb * math.cos(heading + turn), y2 + barb * math.sin(heading + turn)))
    n = number
    return (
        f"M{n(x1)} {n(y1)}A{n(radius)} {n(radius)} 0 1 {0 if counterclockwise else 1} {n(x2)} {n(y2)}"
        f"M{n(points[0][0])} {n(points[0][1])}L{n(x2)} {n(y2)}L{n(points[1][0])} {n(points[1][1])}"
    )

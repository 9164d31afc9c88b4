"""What is drawn of each force: decided by what is known of it, never by anything worked out here."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal

from ..geometry import Point, Vector, cross, dot, scale
from ..model import Force, Sketch
from ..statics import axes, holding
from ..statics.reading import Analysis, ForceReading, Turning
from ..units import write_quantity
from . import arrows, names, text
from .arrows import Arrow, Kind
from .frame import Frame
from .friction import apex
from .labels import HARD, SYMBOL_COST, Field, Wanted
from .look import PARTS_KEPT, Look, look_of
from .record import Record
from .text import Line, number

# A force no larger than this part of the sketch's largest counts as none: no arrow, "0 N".
NO_FORCE = 1e-9
# A guess within this of its answer's direction (about 5°) is drawn this far beside it.
BESIDE_SINE = 0.09
BESIDE_PX = 11.0
RING_RADIUS_PX = 38.0
BARS_PX = 66.0
NO_TURNING = Turning(None, None, None, None, None, None, False)

# What the state of a force asks the pen to do.
State = Literal["solid", "letter", "solved", "kept", "barred", "cannot", "none"]


@dataclass(slots=True)
class Drawn:
    """What the forces put on the board: records, label wishes, and the arrows by the id of their force."""

    clear: Field
    readings: tuple[ForceReading, ...] = ()
    records: list[Record] = field(default_factory=list)
    wanted: list[Wanted] = field(default_factory=list)
    # Arrows in drawing order; a force may have two (components), or one of its guess ("<id>.guess").
    arrows: dict[str, Arrow] = field(default_factory=dict)
    # Sheet points and radius of turning arrows.
    turnings: dict[str, Point] = field(default_factory=dict)
    # The vector (or unit line) each force is lit along: world direction.
    lines: dict[str, Vector] = field(default_factory=dict)


def state_of(reading: ForceReading, sketch: Sketch, analysis: Analysis) -> State:
    """How a force is to be drawn."""
    force = reading.force
    turning = force.along is None
    value = reading.couple_n_m if turning else reading.vector
    if force.role == "known":
        if value is None:
            return "letter"
        return "none" if not turning and math.hypot(*reading.vector or (0.0, 0.0)) == 0.0 else "solid"
    if reading.cannot:
        return "cannot"
    if analysis.supports.kind == "impossible":
        # The only balance needs what a support cannot do: its values are nobody's answer.
        return "letter"
    if value is not None and reading.fixed:
        if turning:
            return "none" if abs(reading.couple_n_m or 0.0) <= NO_FORCE * analysis.torque_scale_n_m else "solved"
        return "none" if math.hypot(*reading.vector or (0.0, 0.0)) <= NO_FORCE * analysis.force_scale_n else "solved"
    if sketch.answers == "kept":
        return "kept"
    # Without sizes of all known forces a determinate answer stays a letter; otherwise statics cannot tell.
    return "letter" if analysis.supports.kind in ("determinate", "none") else "barred"


def draw(sketch: Sketch, analysis: Analysis, readings: tuple[ForceReading, ...], frame: Frame, field_: Field) -> Drawn:
    """These forces and couples of the isolated body."""
    drawn = Drawn(field_, readings)
    look = look_of(frame, sketch.settings, sketch.answers)
    ending = {load.id for load in sketch.loads if isinstance(load, Force) and load.head_at_point}
    for reading in readings:
        # What it does about the pivot is drawn elsewhere: while only the pivot moves, all of these stand.
        alone = reading._replace(turning=NO_TURNING, guess_turning=None)
        part = _drawn(alone, state_of(reading, sketch, analysis), reading.force.id in ending, look)
        drawn.records += part.records
        drawn.wanted += part.wanted
        drawn.clear.things += part.clear.things
        drawn.arrows |= part.arrows
        drawn.turnings |= part.turnings
        drawn.lines |= part.lines
    return drawn


@lru_cache(maxsize=PARTS_KEPT)
def _drawn(reading: ForceReading, state: State, ends: bool, look: Look) -> Drawn:
    """One force's part of it, kept as long as nothing of it changes: never changed once made."""
    part = Drawn(Field((0.0, 0.0, 0.0, 0.0)))
    _force(reading, state, ends, look, part)
    return part


def _force(reading: ForceReading, state: State, ends: bool, look: Look, drawn: Drawn) -> None:
    force, frame = reading.force, look.frame
    if force.along is None:
        _couple(reading, state, look, drawn)
        return
    # What balance would need past the end of a face is drawn at that end.
    at = frame.to_sheet(apex(force))
    kind: Kind = "known" if force.role == "known" else "unknown"
    name = names.of_force(reading, look.settings)
    guessed = force.guess is not None
    if state in ("solid", "solved") and reading.vector is not None:
        px = (reading.vector[0] / frame.n_per_px, -reading.vector[1] / frame.n_per_px)
        arrow = arrows.placed(at, px, kind, frame.pen, head_at_point=ends, exact=frame.exact)
        _arrow(drawn, force.id, force.id, arrow, frame, name)
        _label(drawn, reading, look, arrow, _value(reading, state, look))
        drawn.lines[force.id] = reading.vector
        if _turned_round(reading):
            _as_drawn(drawn, force.id, at, force.along, frame)
    elif state == "none":
        _label_at(drawn, reading, look, (at,), write_quantity(0.0, "force", look.settings))
        if force.sought != "size and direction":
            drawn.lines[force.id] = force.along
    elif state == "cannot":
        _cannot(drawn, reading, look, at)
        drawn.lines[force.id] = force.along
    elif state == "barred":
        _barred(drawn, reading, look, at)
    elif not (guessed and state == "kept"):
        _open(drawn, reading, state, look, at, ends, name)
    if guessed and force.guess is not None:
        # Over a face a guess says how much, never where: it stands in the middle.
        _guess(drawn, reading, look, frame.to_sheet(holding.unplaced(force).point), ends)
    drawn.records.append(arrows.dot(at, f"{force.id}.at", force.id, 3.2 * frame.pen))
    drawn.clear.box((at[0] - 4, at[1] - 4, at[0] + 4, at[1] + 4), SYMBOL_COST)
    if force.id not in drawn.arrows and not any(record.id == force.id for record in drawn.records):
        # Every force has one record of its own id, which is what a screen reader finds.
        drawn.records.append(_bare_dot(force.id, at, frame, name))


def _arrow(drawn: Drawn, key: str, of: str, arrow: Arrow, frame: Frame, name: str = "") -> None:
    drawn.records.extend(arrows.straight(arrow, key, of, frame.pen, name))
    if not arrow.to_scale:
        drawn.records.append(arrows.break_mark(arrow, f"{key}.break", of, frame.pen))
    drawn.arrows[key] = arrow
    _keep_clear(drawn.clear, arrow, frame)


def _keep_clear(field_: Field, arrow: Arrow, frame: Frame) -> None:
    half = 3.0 * frame.pen
    field_.segment(arrow.tail, arrow.head, half, HARD)
    length = arrow.length or 1.0
    back = min(1.0, 17.0 * frame.pen / length)
    neck = (
        arrow.head[0] + (arrow.tail[0] - arrow.head[0]) * back,
        arrow.head[1] + (arrow.tail[1] - arrow.head[1]) * back,
    )
    field_.segment(neck, arrow.head, 6.6 * frame.pen, HARD)


def highlight(key: str, of: str, arrow: Arrow) -> Record:
    """The brass band behind a lit arrow."""
    n = number
    path = f"M{n(arrow.tail[0])} {n(arrow.tail[1])}L{n(arrow.head[0])} {n(arrow.head[1])}"
    return Record(f"{key}.brass", "path", "highlight", "construct", (("d", path),), (), of, "lit")


def _pieces(reading: ForceReading, words: str) -> list[tuple[str, str] | tuple[str, str, float]]:
    pieces: list[tuple[str, str] | tuple[str, str, float]] = [*text.symbol_pieces(reading.force.symbol)]
    if words:
        pieces.append((words, "value", 6.0))
    return pieces


def _turned_round(reading: ForceReading) -> bool:
    """Whether the answer is minus what was drawn: on a known line only, else the arrow's direction says it all."""
    return reading.against_drawn and reading.force.sought == "size" and reading.force.guess is None


def _value(reading: ForceReading, state: State, look: Look) -> str:
    if reading.size_n is None:
        return ""
    sign = -1.0 if state == "solved" and _turned_round(reading) else 1.0
    return write_quantity(sign * abs(reading.size_n), "force", look.settings)


def _who(reading: ForceReading, frame: Frame) -> str:
    by = reading.force.by or "?"
    return by if frame.compact or not reading.force.on else f"{by} on {reading.force.on}"


def _role(reading: ForceReading) -> str:
    return "label-known" if reading.force.role == "known" else "label-unknown"


def _want(
    drawn: Drawn, label_id: str, of: str, lines: tuple[Line, ...], anchors: tuple[Point, ...], gap: float = 0.0
) -> None:
    drawn.wanted.append(Wanted(label_id, of, lines, anchors, gap))


def _label(drawn: Drawn, reading: ForceReading, look: Look, arrow: Arrow, words: str) -> None:
    force, frame = reading.force, look.frame
    lines = (
        text.line(_role(reading), frame.label_px, *_pieces(reading, words)),
        text.line("caption", frame.small_px, (_who(reading, frame), "plain")),
    )
    gap = 2.0 if arrow.kind == "known" else 3.0
    _want(drawn, f"{force.id}.label", force.id, lines, (arrow.head, arrow.middle, arrow.tail), gap)


def _label_at(
    drawn: Drawn,
    reading: ForceReading,
    look: Look,
    anchors: tuple[Point, ...],
    words: str,
    gap: float = 4.0,
) -> None:
    frame = look.frame
    lines = (
        text.line(_role(reading), frame.label_px, *_pieces(reading, words)),
        text.line("caption", frame.small_px, (_who(reading, frame), "plain")),
    )
    _want(drawn, f"{reading.force.id}.label", reading.force.id, lines, anchors, gap)


def _as_drawn(drawn: Drawn, of: str, at: Point, along: Vector, frame: Frame) -> None:
    """A thin open stub the other way: the sense the arrow was drawn in."""
    unit = frame.pen
    ux, uy = along[0], -along[1]
    tip = (at[0] + ux * 46 * unit, at[1] + uy * 46 * unit)
    back, wide = 11 * unit, 6 * unit
    n = number
    path = (
        f"M{n(at[0])} {n(at[1])}L{n(tip[0])} {n(tip[1])}"
        f"M{n(tip[0] - ux * back - uy * wide)} {n(tip[1] - uy * back + ux * wide)}L{n(tip[0])} {n(tip[1])}"
        f"L{n(tip[0] - ux * back + uy * wide)} {n(tip[1] - uy * back - ux * wide)}"
    )
    drawn.records.append(Record(f"{of}.as-drawn", "path", "as-drawn", "force", (("d", path),), (), of))
    drawn.clear.segment(at, tip, 3.0 * unit, HARD)
    words = text.line("caption", frame.small_px, ("as drawn", "plain"))
    middle = ((at[0] + tip[0]) / 2, (at[1] + tip[1]) / 2)
    _want(drawn, f"{of}.as-drawn-label", of, (words,), (tip, middle), 2.0)


def _bare_dot(force_id: str, at: Point, frame: Frame, name: str) -> Record:
    """A force of which nothing but its point can be drawn, found there by a screen reader."""
    attrs = arrows.dot(at, "", "", 3.2 * frame.pen).attrs
    return Record(force_id, "circle", "tail", "force", attrs, (), force_id, "always", name)


def _guess(drawn: Drawn, reading: ForceReading, look: Look, at: Point, ends: bool) -> None:
    force, frame = reading.force, look.frame
    if force.guess is None:
        return
    size = math.hypot(*force.guess)
    lines = (
        text.line("label-guess", frame.label_px, *_pieces(reading, write_quantity(size, "force", look.settings))),
        text.line("caption", frame.small_px, ("your guess", "plain")),
    )
    key = f"{force.id}.guess"
    if size == 0.0:
        _want(drawn, f"{key}-label", force.id, lines, (at,), 4.0)
        return
    px = (force.guess[0] / frame.n_per_px, -force.guess[1] / frame.n_per_px)
    if force.id in drawn.arrows and _same_way(force.guess, reading.vector):
        # Its answer lies along it: the guess is laid beside, or one would hide the other.
        aside = BESIDE_PX * frame.pen / math.hypot(*px)
        at = (at[0] + px[1] * aside, at[1] - px[0] * aside)
    arrow = arrows.placed(at, px, "guess", frame.pen, head_at_point=ends, exact=frame.exact)
    _arrow(drawn, key, force.id, arrow, frame, names.of_guess(reading))
    _want(drawn, f"{key}-label", force.id, lines, (arrow.head, arrow.middle, arrow.tail), 2.0)


def _same_way(first: Vector, second: Vector | None) -> bool:
    """Whether two arrows from one point would cover each other."""
    if second is None:
        return False
    sizes = math.hypot(*first) * math.hypot(*second)
    return dot(first, second) > 0.0 and abs(cross(first, second)) <= BESIDE_SINE * sizes


def _cannot(drawn: Drawn, reading: ForceReading, look: Look, at: Point) -> None:
    """A one-way force that would have to act the other way: a slack rope, or the sense it was drawn in; struck out."""
    force, frame = reading.force, look.frame
    along = force.along or (0.0, 1.0)
    unit, n = frame.pen, number
    ux, uy = along[0], -along[1]
    slack = force.type == "tension"
    length = 72.0 * unit
    if slack:
        points = []
        steps = 26
        for step in range(steps + 1):
            part = step / steps
            wave = math.sin(step * 1.25) * 7.0 * unit * min(1.0, 3.0 * part)
            sag = 34.0 * unit * part * part
            points.append(
                (at[0] + ux * length * part * 0.9 - uy * wave, at[1] + uy * length * part * 0.9 + ux * wave + sag)
            )
        path = "M" + "L".join(f"{n(x)} {n(y)}" for x, y in points)
        drawn.records.append(Record(f"{force.id}.slack", "path", "slack", "force", (("d", path),), (), force.id))
        middle, end = points[len(points) // 2], points[-1]
        drawn.clear.corners(points, HARD)
    else:
        if reading.force.type == "friction" and reading.against_drawn:
            ux, uy = -ux, -uy
        arrow = Arrow(at, (at[0] + ux * length, at[1] + uy * length), "unknown", True)
        drawn.arrows[force.id] = arrow
        drawn.records.extend(
            arrows.straight(arrow, force.id, force.id, frame.pen, names.of_force(reading, look.settings))
        )
        _keep_clear(drawn.clear, arrow, frame)
        middle, end = arrow.middle, arrow.head
    s = 12.0 * unit
    strike = f"M{n(middle[0] - s)} {n(middle[1] + s)}L{n(middle[0] + s)} {n(middle[1] - s)}"
    drawn.records.append(Record(f"{force.id}.strike", "path", "strike", "force", (("d", strike),), (), force.id))
    drawn.clear.box((middle[0] - s, middle[1] - s, middle[0] + s, middle[1] + s), HARD)
    _label_at(drawn, reading, look, (end, middle, at), _cannot_words(reading), 8.0)


def _cannot_words(reading: ForceReading) -> str:
    """What a force that balance asks too much of cannot do, in a word or two."""
    force = reading.force
    if force.type == "tension":
        return "slack"
    if force.type == "friction":
        return "cannot hold"
    if force.face is not None and (reading.size_n or 0.0) > 0.0 and not reading.against_drawn:
        return "past its end"
    return "cannot pull"


def _bar(drawn: Drawn, of: str, key: str, at: Point, along: Vector, frame: Frame) -> Point:
    """A line between two end bars: a force along it, of a size statics does not fix."""
    unit, n = frame.pen, number
    ux, uy = along[0], -along[1]
    end = (at[0] + ux * BARS_PX * unit, at[1] + uy * BARS_PX * unit)
    half = 9.0 * unit
    sx, sy = -uy * half, ux * half
    path = f"M{n(at[0])} {n(at[1])}L{n(end[0])} {n(end[1])}"
    for x, y in (at, end):
        path += f"M{n(x - sx)} {n(y - sy)}L{n(x + sx)} {n(y + sy)}"
    drawn.records.append(Record(key, "path", "bars", "force", (("d", path),), (), of))
    drawn.clear.segment(at, end, 3.0 * unit, HARD)
    drawn.clear.segment((end[0] - sx, end[1] - sy), (end[0] + sx, end[1] + sy), 2.0, HARD)
    return end


def _barred(drawn: Drawn, reading: ForceReading, look: Look, at: Point) -> None:
    """Statics does not fix it: lines with end bars and a question mark; a component it does fix keeps its value."""
    force, frame = reading.force, look.frame
    along = force.along or (1.0, 1.0)
    if force.sought != "size and direction":
        end = _bar(drawn, force.id, f"{force.id}.bars", at, along, frame)
        middle = ((at[0] + end[0]) / 2, (at[1] + end[1]) / 2)
        _label_at(drawn, reading, look, (end, middle), "?", 5.0)
        drawn.lines[force.id] = along
        return
    anchors = []
    x_part, y_part = axes.assumed(force)
    for axis, (letter, unit_vector) in enumerate((("x", x_part), ("y", y_part))):
        fixed = reading.components_n[axis]
        if fixed is not None:
            size = abs(fixed)
            words = write_quantity(size, "force", look.settings)
            if size == 0.0:
                continue
            sign = 1.0 if fixed * along[axis] > 0.0 else -1.0
            unit_vector = scale(unit_vector, sign)
            px = (unit_vector[0] * size / frame.n_per_px, -unit_vector[1] * size / frame.n_per_px)
            arrow = arrows.placed(at, px, "unknown", frame.pen, exact=frame.exact)
            _arrow(drawn, f"{force.id}.{letter}", force.id, arrow, frame)
            end = arrow.head
        else:
            words = "?"
            end = _bar(drawn, force.id, f"{force.id}.bars-{letter}", at, unit_vector, frame)
        symbol = component_symbol(force.symbol, letter)
        pieces: list[tuple[str, str] | tuple[str, str, float]] = [*symbol, (words, "value", 6.0)]
        content = text.line("label-unknown", frame.label_px, *pieces)
        anchors.append(end)
        _want(
            drawn,
            f"{force.id}.label-{letter}",
            force.id,
            (content,),
            (end, ((at[0] + end[0]) / 2, (at[1] + end[1]) / 2)),
            4.0,
        )


def open_ways(reading: ForceReading) -> tuple[Vector, ...]:
    """The unit vectors of the arrows that stand for a force without a size: one along its line, or two components.

    Beside letters a sense may be certain: then the arrow shows it, whichever way it was drawn.
    """
    force = reading.force
    if force.sought == "size and direction":
        pairs = zip(axes.assumed(force), reading.senses, strict=True)
        return tuple(scale(assumed, -1.0) if sense < 0 else assumed for assumed, sense in pairs)
    along = force.along or (1.0, 1.0)
    return (scale(along, -1.0) if force.sought == "size" and reading.senses[0] < 0 else along,)


def component_symbol(symbol: str, axis: str) -> list[tuple[str, str]]:
    """R and x make R with an italic x below; R_1 and x make R with "1x"."""
    pieces = text.symbol_pieces(symbol)
    return [*pieces, (axis, "sub")]


def _open(drawn: Drawn, reading: ForceReading, state: State, look: Look, at: Point, ends: bool, name: str) -> None:
    """What is known of a force without a size: its line at a standard length, two components, or a ring."""
    force, frame = reading.force, look.frame
    ways = open_ways(reading)
    kept = state == "kept"
    unit = frame.pen
    kind: Kind = "known" if force.role == "known" else "unknown"
    if force.sought != "size and direction":
        along = ways[0]
        length = arrows.STANDARD_PX * unit
        arrow = arrows.placed(at, (along[0] * length, -along[1] * length), kind, unit, head_at_point=ends)
        if kept:
            n = number
            reach = 1.9 * length
            ux, uy = along[0], -along[1]
            start = arrow.head if not ends else arrow.tail
            turn = 1.0 if not ends else -1.0
            stop = (start[0] + ux * turn * (reach - length), start[1] + uy * turn * (reach - length))
            path = f"M{n(start[0])} {n(start[1])}L{n(stop[0])} {n(stop[1])}"
            drawn.records.append(
                Record(f"{force.id}.line", "path", "unknown-line", "force", (("d", path),), (), force.id)
            )
            drawn.clear.segment(start, stop, 1.5, HARD)
        _arrow(drawn, force.id, force.id, arrow, frame, name)
        _label(drawn, reading, look, arrow, "how much?" if kept else "")
        drawn.lines[force.id] = along
        return
    if kept and look.settings.unknowns_drawn == "ring":
        _ring(drawn, force.id, at, frame, name)
        r = RING_RADIUS_PX * unit * 0.72
        _label_at(
            drawn,
            reading,
            look,
            ((at[0] + r, at[1] - r), (at[0] - r, at[1] - r), (at[0], at[1] + r)),
            "which way?",
            8.0,
        )
        return
    length = arrows.COMPONENT_PX * unit
    for axis, part in zip("xy", ways, strict=True):
        arrow = arrows.placed(at, (part[0] * length, -part[1] * length), kind, unit, head_at_point=False)
        key = force.id if axis == "x" else f"{force.id}.y"
        _arrow(drawn, key, force.id, arrow, frame, name if axis == "x" else "")
        pieces: list[tuple[str, str] | tuple[str, str, float]] = [*component_symbol(force.symbol, axis)]
        if kept:
            pieces.append(("?", "value", 4.0))
        content = text.line("label-unknown", frame.label_px, *pieces)
        _want(drawn, f"{force.id}.label-{axis}", force.id, (content,), (arrow.head, arrow.middle), 2.0)


def _ring(drawn: Drawn, of: str, at: Point, frame: Frame, name: str) -> None:
    """Eight open heads round the point: which way?"""
    unit, n = frame.pen, number
    radius = RING_RADIUS_PX * unit
    attrs = (("cx", n(at[0])), ("cy", n(at[1])), ("r", n(radius)))
    drawn.records.append(Record(of, "circle", "ring", "force", attrs, (), of, "always", name))
    path = ""
    for step in range(8):
        angle = math.radians(45.0 * step + 22.5)
        ux, uy = math.cos(angle), -math.sin(angle)
        x, y = at[0] + ux * (radius + 5 * unit), at[1] + uy * (radius + 5 * unit)
        back, wide = 7.5 * unit, 5.5 * unit
        path += (
            f"M{n(x - ux * back - uy * wide)} {n(y - uy * back + ux * wide)}L{n(x)} {n(y)}"
            f"L{n(x - ux * back + uy * wide)} {n(y - uy * back - ux * wide)}"
        )
    drawn.records.append(Record(f"{of}.ring-heads", "path", "ring-head", "force", (("d", path),), (), of))
    reach = radius + 6 * unit
    for step in range(8):
        first, second = math.radians(45.0 * step), math.radians(45.0 * (step + 1))
        drawn.clear.segment(
            (at[0] + reach * math.cos(first), at[1] + reach * math.sin(first)),
            (at[0] + reach * math.cos(second), at[1] + reach * math.sin(second)),
            3.0 * unit,
            HARD,
        )


def _couple(reading: ForceReading, state: State, look: Look, drawn: Drawn) -> None:
    """A couple: a turning arrow where it is drawn; the place means nothing to the sums."""
    force, frame = reading.force, look.frame
    at = frame.to_sheet(force.point)
    kind: Kind = "known" if force.role == "known" else "unknown"
    name = names.of_force(reading, look.settings)
    value = reading.couple_n_m
    turned = force.drawn_sense >= 0 if value is None or value == 0.0 else value > 0.0
    words = ""
    if value is not None and state in ("solid", "solved", "none"):
        shown = 0.0 if state == "none" else abs(value)
        sign = -1.0 if state == "solved" and reading.against_drawn and force.guess_couple_n_m is None else 1.0
        words = write_quantity(sign * shown, "couple", look.settings)
    elif state == "kept":
        words = "how much?"
    elif state == "barred":
        words = "?"
    guessed = force.guess_couple_n_m is not None
    radius = arrows.TURNING_RADIUS_PX * frame.pen
    drawn.turnings[force.id] = at
    if not (guessed and state == "kept"):
        if state != "none":
            drawn.records.extend(arrows.turning(at, turned, kind, force.id, force.id, frame.pen, name))
        else:
            drawn.records.append(_bare_dot(force.id, at, frame, name))
        _turning_label(
            drawn, f"{force.id}.label", reading, frame, at, radius, _role(reading), words, _who(reading, frame)
        )
    if guessed and force.guess_couple_n_m is not None:
        key = f"{force.id}.guess" if state != "kept" else force.id
        drawn.records.extend(
            arrows.turning(
                at, force.guess_couple_n_m >= 0.0, "guess", key, force.id, frame.pen * 1.3, names.of_guess(reading)
            )
        )
        words = write_quantity(abs(force.guess_couple_n_m), "couple", look.settings)
        _turning_label(
            drawn, f"{force.id}.guess-label", reading, frame, at, radius * 1.3, "label-guess", words, "your guess"
        )
    reach = radius * (1.3 if guessed else 1.0) + 7.0 * frame.pen
    drawn.clear.box((at[0] - reach, at[1] - reach, at[0] + reach, at[1] + reach), HARD)


def _turning_label(
    drawn: Drawn,
    label_id: str,
    reading: ForceReading,
    frame: Frame,
    at: Point,
    radius: float,
    role: str,
    words: str,
    who: str,
) -> None:
    lines = (
        text.line(role, frame.label_px, *_pieces(reading, words)),
        text.line("caption", frame.small_px, (who, "plain")),
    )
    r = radius + 4.0
    _want(
        drawn,
        label_id,
        reading.force.id,
        lines,
        ((at[0] + r * 0.8, at[1] - r * 0.8), (at[0] - r * 0.8, at[1] - r * 0.8), (at[0], at[1] + r)),
        6.0,
    )

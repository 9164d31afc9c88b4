"""The pivot and the second one: their rings with four ticks, and what drops out about the one in hand."""

from __future__ import annotations

import math
from typing import NamedTuple

from ..geometry import Point, Vector
from ..model import Sketch
from ..statics import moments
from ..statics import pivot as pivots
from ..statics.advice import parts_of, turning
from ..statics.reading import Analysis, ForceReading
from . import advice, constructions, text
from .frame import Frame
from .grips import PIVOT_ID, RING_PX, SECOND_PIVOT_ID
from .labels import HARD, SYMBOL_COST, Field
from .record import Record
from .text import Line, number

TICK_PX = 8.0


class Placed(NamedTuple):
    """A pivot by its id: where it is in the world, and what it is called ("pivot A")."""

    id: str
    place: Point
    called: str

    def reach_px(self, frame: Frame) -> float:
        """From its middle to the end of a tick."""
        return (RING_PX[self.id] + TICK_PX) * frame.pen


def placed(sketch: Sketch, analysis: Analysis | None) -> tuple[Placed, ...]:
    """The pivot, and the second one where there is one; none on an empty sheet."""
    if not sketch.bodies:
        return ()
    word = sketch.settings.pivot_word
    place = analysis.pivot if analysis is not None else pivots.pivot_point(sketch)
    first = Placed(PIVOT_ID, place, f"{word} {pivots.name_of(sketch)}")
    second = pivots.second_point(sketch)
    if second is None:
        return (first,)
    return (first, Placed(SECOND_PIVOT_ID, second, f"{word} {pivots.second_name(sketch)}"))


def ring(pivot: Placed, frame: Frame, field_: Field) -> Record:
    """The ring with its ticks, the second one with a thinner pen; labels are to keep off it."""
    x, y = frame.to_sheet(pivot.place)
    r, long = RING_PX[pivot.id] * frame.pen, pivot.reach_px(frame)
    n = number
    path = (
        f"M{n(x - r)} {n(y)}a{n(r)} {n(r)} 0 1 0 {n(2 * r)} 0a{n(r)} {n(r)} 0 1 0 {n(-2 * r)} 0"
        f"M{n(x - long)} {n(y)}H{n(x - r)}M{n(x + r)} {n(y)}H{n(x + long)}"
        f"M{n(x)} {n(y - long)}V{n(y - r)}M{n(x)} {n(y + r)}V{n(y + long)}"
    )
    field_.box((x - r - 2, y - r - 2, x + r + 2, y + r + 2), HARD)
    field_.box((x - long, y - 2, x + long, y + 2), SYMBOL_COST)
    field_.box((x - 2, y - long, x + 2, y + long), SYMBOL_COST)
    role = "pivot" if pivot.id == PIVOT_ID else "pivot-second"
    return Record(pivot.id, "path", role, "pivot", (("d", path),), (), pivot.id, "always", pivot.called)


def name_line(pivot: Placed, frame: Frame) -> Line:
    """The name beside the ring."""
    return text.line("label-pivot", frame.label_px * 17 / 19, (pivot.called, "plain"))


def dropping(analysis: Analysis, place: Point, frame: Frame) -> tuple[Line | None, list[Record]]:
    """What drops out about a point, in words for below the pivot's name; and the lines that run through its ring.

    A force of unknown direction drops out by components, as it stands in an equation.
    """
    keys: list[str] = []
    lines: list[tuple[str, Vector]] = []
    for reading in analysis.readings:
        force = reading.force
        if force.along is None:
            continue
        line = certain_line(reading)
        if moments.passes(place, force.point, line, analysis.lever_m):
            keys.append(force.id)
            lines.extend([(force.id, line)] if line is not None else ())
        elif force.sought == "size and direction":
            for part in parts_of(force):
                if part.along is not None and not turning(part, place, analysis.lever_m):
                    keys.append(part.key)
                    lines.append((part.key, part.along))
    if not keys:
        return None, []
    at, reach = frame.to_sheet(place), 3.0 * RING_PX[PIVOT_ID]
    symbols = {reading.force.id: reading.force.symbol for reading in analysis.readings}
    verb = " drops out" if len(keys) == 1 else " drop out"
    said = text.line("caption", frame.small_px, *advice.listed(keys, symbols), (verb, "plain"))
    return said, [constructions.through(key, at, along, reach, frame) for key, along in lines]


def certain_line(reading: ForceReading) -> Vector | None:
    """The unit line a force acts along, where there is one to be seen: of its guess, its answer, or as given."""
    force = reading.force
    for vector in (force.guess, reading.vector):
        if vector is not None and math.hypot(*vector) > 0.0:
            size = math.hypot(*vector)
            return (vector[0] / size, vector[1] / size)
    return None if force.sought == "size and direction" else force.along

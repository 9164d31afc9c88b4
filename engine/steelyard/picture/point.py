"""The view Point: every force from one dot. It decides the acceleration of the centre of mass, and not the turning."""

from __future__ import annotations

from ..geometry import Point, add
from ..model import Sketch
from ..statics.reading import Analysis, ForceReading
from . import arrows, constructions, forces, grips, inset, lanes
from .force_sheet import ForceSheet, Looking, keep_clear_of_dot, label_px, open_reach, size_of
from .frame import Frame, Need
from .inset import Piece
from .pivots import certain_line
from .plane import Window, fitted
from .record import Picture
from .text import plain

# Arrows that point the same way start this far apart.
APART_PX = 11.0
DOT_PX = 8.0
NO_PLACE = "All arrows start from one dot here: where a force acts is shown on the small body."


def words(analysis: Analysis) -> tuple[Piece, ...]:
    """What this view can tell and what it cannot, in a sentence."""
    pieces: list[Piece] = [
        ("From one dot, where the forces act is lost: it tells whether ", "plain"),
        ("ΣF", "plain"),
        (" = 0 (the acceleration ", "plain"),
        ("a", "symbol"),
        (" of the centre of mass), not the turning (", "plain"),
        ("α", "symbol"),
        (").", "plain"),
    ]
    couples = [reading.force.symbol for reading in analysis.readings if reading.force.along is None]
    if couples:
        verb = "has" if len(couples) == 1 else "have"
        named = " and ".join(plain(symbol) for symbol in couples)
        pieces.append((f" {named}, turning only, {verb} no arrow here.", "plain"))
    return tuple(pieces)


def window(sketch: Sketch, analysis: Analysis, frame: Frame, before: Window | None) -> Window:
    """The window for these forces, the dot in the middle."""
    small = inset.settled(sketch, analysis, frame, words(analysis), None)
    wide, high = label_px(frame)
    needs: list[Need] = []
    for reading in _readings(analysis):
        shown = [vector for vector in (_vector(reading, sketch, analysis), reading.force.guess) if vector is not None]
        for x, y in shown:
            level = 0.35 * (abs(x) + abs(y))
            side = wide if abs(x) > level else wide / 2.0
            needs.append(((x, y), side if x <= level else 12.0, high / 2, side if x >= -level else 12.0, high / 2))
        if not shown:
            needs.append(((0.0, 0.0), *open_reach(reading, frame, sketch)))
    return fitted(frame, needs, before, small, middle=True)


def _readings(analysis: Analysis) -> tuple[ForceReading, ...]:
    return tuple(reading for reading in analysis.readings if reading.force.along is not None)


def _vector(reading: ForceReading, sketch: Sketch, analysis: Analysis) -> Point | None:
    return reading.vector if forces.state_of(reading, sketch, analysis) in ("solid", "solved") else None


def draw(sketch: Sketch, analysis: Analysis, frame: Frame, window: Window, looking: Looking) -> Picture:
    """The picture of this view."""
    sheet = ForceSheet(sketch, analysis, frame, window, looking)
    sheet.rule()
    plane = sheet.plane
    middle = plane.to_sheet((0.0, 0.0))
    readings = _readings(analysis)
    asides = _asides(sheet, readings)
    placed = []
    for reading in readings:
        force = reading.force
        held = looking.held
        at = held[1] if held is not None and held[0] == force.id else add(middle, asides[force.id])
        sheet.tails[force.id] = at
        placed.append(reading._replace(force=force._replace(point=plane.to_world(at), face=None)))
    keep_clear_of_dot(sheet.field, middle, DOT_PX * plane.pen)
    drawn = sheet.arrows(placed, sketch)
    for reading in placed:
        arrow = drawn.arrows.get(f"{reading.force.id}.guess") or drawn.arrows.get(reading.force.id)
        if arrow is not None and arrow.to_scale:
            sheet.add(
                constructions.components(reading.force.id, arrow.tail, arrow.head, arrow.kind, reading.force.x_axis)
            )
    sheet.add(arrows.dot(middle, "point.dot", "", DOT_PX * plane.pen, "tail", "pivot"))
    sheet.wanted.extend(drawn.wanted)
    sheet.small_body(words(analysis), None)
    sheet.heads(drawn)
    for reading in placed:
        arrow = drawn.arrows.get(f"{reading.force.id}.guess") or drawn.arrows.get(reading.force.id)
        if arrow is not None:
            name = plain(reading.force.symbol)
            sheet.held.line(
                reading.force.id, "shaft", [arrow.tail, arrow.head], grips.RANK_SHAFT, name, locked=NO_PLACE
            )
    return sheet.picture()


def _asides(sheet: ForceSheet, readings: tuple[ForceReading, ...]) -> dict[str, Point]:
    """How far aside each force starts, in px: those that point the same way lie side by side, through a gesture too."""
    entries = [(reading.force.id, way) for reading in readings for way in _ways(reading, sheet)]
    keys = [f"{force_id}.lane{index}" for index, (force_id, _) in enumerate(entries)]
    if not sheet.looking.settle and all(key in sheet.remembered for key in keys):
        shares = [sheet.remembered[key] for key in keys]
    else:
        shares = lanes.fan([way for _, way in entries])
    sheet.sides.update(zip(keys, shares, strict=True))
    found = {reading.force.id: (0.0, 0.0) for reading in readings}
    for (force_id, (x, y)), share in zip(entries, shares, strict=True):
        aside = 0.5 * share * APART_PX * sheet.plane.pen
        found[force_id] = add(found[force_id], (-y * aside, x * aside))
    return found


def _ways(reading: ForceReading, sheet: ForceSheet) -> list[Point]:
    """The directions on the sheet in which arrows of a force are seen: one, or those of two components."""
    force = reading.force
    if force.guess is not None or reading.vector is not None:
        line = certain_line(reading)
        return [] if line is None or size_of(reading) == 0.0 else [(line[0], -line[1])]
    ring = sheet.sketch.answers == "kept" and sheet.sketch.settings.unknowns_drawn == "ring"
    if force.sought == "size and direction" and ring:
        return []
    return [(x, -y) for x, y in forces.open_ways(reading)]

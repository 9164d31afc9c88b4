"""The view Point: every force from one dot. It decides the acceleration of the centre of mass, and not the turning."""

from __future__ import annotations

from ..geometry import Point
from ..model import Sketch
from ..statics.reading import Analysis, ForceReading
from . import arrows, constructions, forces, grips, inset, lanes
from .force_sheet import ForceSheet, Looking, keep_clear_of_dot, label_px, open_reach, size_of
from .frame import Frame, Need
from .inset import Piece
from .plane import Window, fitted
from .record import Picture
from .text import plain

# Arrows that point the same way start this far apart.
APART_PX = 9.0
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
    shares = _shares(sheet, readings)
    placed = []
    for reading in readings:
        force = reading.force
        at = _start(sheet, reading, shares[force.id], middle)
        sheet.tails[force.id] = at
        placed.append(reading._replace(force=force._replace(point=plane.to_world(at))))
    keep_clear_of_dot(sheet.field, middle, DOT_PX * plane.pen)
    drawn = sheet.arrows(placed, sketch)
    for reading in placed:
        arrow = drawn.arrows.get(f"{reading.force.id}.guess") or drawn.arrows.get(reading.force.id)
        if arrow is not None and arrow.to_scale:
            sheet.add(constructions.components(reading.force.id, arrow.tail, arrow.head, arrow.kind))
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


def _shares(sheet: ForceSheet, readings: tuple[ForceReading, ...]) -> dict[str, int]:
    """Half-lanes of arrows that point the same way; they stay through a gesture."""
    keys = [f"{reading.force.id}.lane" for reading in readings]
    if not sheet.looking.settle and all(key in sheet.remembered for key in keys):
        found = [sheet.remembered[key] for key in keys]
    else:
        found = lanes.fan([_way(reading, sheet) for reading in readings])
    sheet.sides.update(zip(keys, found, strict=True))
    return {reading.force.id: share for reading, share in zip(readings, found, strict=True)}


def _way(reading: ForceReading, sheet: ForceSheet) -> Point:
    """The direction on the sheet a force is seen in; none for one whose direction is to be found."""
    along = inset.line_of(reading) if size_of(reading) > 0.0 or reading.size_n is None else None
    return (0.0, 0.0) if along is None else (along[0], -along[1])


def _start(sheet: ForceSheet, reading: ForceReading, share: int, middle: Point) -> Point:
    held = sheet.looking.held
    if held is not None and held[0] == reading.force.id:
        return held[1]
    x, y = _way(reading, sheet)
    aside = 0.5 * share * APART_PX * sheet.plane.pen
    return (middle[0] - y * aside, middle[1] + x * aside)

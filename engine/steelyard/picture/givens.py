"""Givens on the figure: dimension lines, angle arcs, slope triangles and labels, with where a hand holds them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from ..document.givens import PIVOT
from ..geometry import Point, add, direction, dot, scale, subtract
from ..model import Given, MeasuredPoint, Sketch
from ..statics import measuring
from . import along_line, constructions, given_words, labels, text
from .arrows import on_circle
from .bodies import half_thickness_px
from .constructions import Met
from .frame import Frame
from .grips import RANK_BODY, RANK_GRIP, Grips
from .labels import EDGE_COST, HARD, SYMBOL_COST, Box, Field, Wanted
from .record import Record
from .text import Line, number

GRIP = "offset"
RANK_GIVEN = RANK_BODY - 3
# Drawing sizes in px before the pen's scale.
_HEAD, _HEAD_HALF = 9.0, 2.8
_GAP, _BEYOND = 4.0, 6.0
_LEAST_RADIUS, _LEAST_SIDE = 26.0, 46.0
# A dimension line shorter than this has its heads outside, pointing in.
_TIGHT = 34.0
# Along its line, in parts of the long side, where a slope triangle may stand until somebody places it.
_SHIFTS = (0.0, 0.7, -0.7, 1.4, -1.4)


@dataclass(slots=True)
class DrawnGivens:
    """What was drawn of the givens: records, labels asking for a place, sides to remember, and what can be held."""

    records: list[Record] = field(default_factory=list)
    wanted: list[Wanted] = field(default_factory=list)
    sides: dict[str, int] = field(default_factory=dict)
    lines: list[tuple[str, list[Point]]] = field(default_factory=list)
    areas: list[tuple[str, list[Point]]] = field(default_factory=list)
    grips: dict[str, Point] = field(default_factory=dict)
    names: dict[str, str] = field(default_factory=dict)


def draw(
    sketch: Sketch,
    frame: Frame,
    view: str,
    field_: Field,
    remembered: Mapping[str, int],
    moving: frozenset[str],
    *,
    settle: bool,
) -> DrawnGivens:
    """The givens of a view, and in `field_` what labels must then keep clear of.

    Texts along a line keep their place through a gesture unless their given is `moving`.
    """
    drawn = DrawnGivens()
    for given in sketch.givens:
        if view == "set-up" or (view == "extended" and given.in_extended):
            drawn.names[given.id] = given_words.spoken(sketch, given)
            old = remembered.get(f"{given.id}.value")
            keep = None if settle or given.id in moving else old
            _Pen(sketch, frame, view, field_, drawn, given, keep).draw()
    return drawn


class _Pen:
    """Draws one given."""

    def __init__(
        self,
        sketch: Sketch,
        frame: Frame,
        view: str,
        field_: Field,
        drawn: DrawnGivens,
        given: Given,
        keep: int | None,
    ) -> None:
        self.sketch = sketch
        self.frame = frame
        self.field = field_
        self.drawn = drawn
        self.given = given
        self.keep = keep
        self.view = view
        self.unit = frame.pen

    def draw(self) -> None:
        match self.given.kind:
            case "length":
                self._length()
            case "angle":
                self._angle()
            case "slope":
                self._slope()
            case "label":
                self._label()

    def _content(self) -> Line:
        return text.line("given-label", self.frame.small_px, *given_words.pieces(self.sketch, self.given))

    def _stroke(self, part: str, path: str, *, named: bool = False, role: str = "given-line") -> None:
        of = self.given.id
        name = self.drawn.names[of] if named else ""
        record_id = of if named else f"{of}.{part}"
        self.drawn.records.append(Record(record_id, "path", role, "construct", (("d", path),), (), of, "always", name))
        if named:
            glow = Record(f"{of}.brass", "path", "given-glow", "ground", (("d", path),), (), of, "lit")
            self.drawn.records.append(glow)

    def _clear_of(self, *points: Point) -> None:
        """Labels rather keep off these strokes."""
        self.field.path(points, 1.0, EDGE_COST, closed=False)

    # Dimension lines

    def _length(self) -> None:
        frame, unit = self.frame, self.unit
        measured = measuring.length(self.sketch, self.given)
        start, end = (frame.to_sheet(each) for each in measuring.dimension_ends(measured, self.given))
        extensions = []
        ends = ((self.given.start, measured.start, start), (self.given.end, measured.end, end))
        for given_point, at, foot in ends:
            point = frame.to_sheet(at)
            size = math.dist(point, foot)
            gap = _GAP * unit + self._half_of(given_point)
            if size > gap + 2.0 * unit:
                x, y = (foot[0] - point[0]) / size, (foot[1] - point[1]) / size
                first = (point[0] + x * gap, point[1] + y * gap)
                last = (foot[0] + x * _BEYOND * unit, foot[1] + y * _BEYOND * unit)
                extensions.append(_path(first, last))
                self._clear_of(first, last)
        if extensions:
            self._stroke("extensions", "".join(extensions), role="given-extension")
        way = measuring.way(measured, self.given)
        along = (way[0], -way[1])
        tight = math.dist(start, end) < _TIGHT * unit
        reach = 16.0 * unit if tight else 0.0
        first = (start[0] - along[0] * reach, start[1] - along[1] * reach)
        last = (end[0] + along[0] * reach, end[1] + along[1] * reach)
        self._stroke("line", _path(first, last), named=True)
        back = (-along[0], -along[1])
        heads = _head(start, along if tight else back, unit) + _head(end, back if tight else along, unit)
        self._stroke("heads", heads, role="given-head")
        self.drawn.lines.append((self.given.id, [first, last]))
        # Beside the number, which a person may be reading while they hold it.
        self.drawn.grips[self.given.id] = (start[0] + 0.2 * (end[0] - start[0]), start[1] + 0.2 * (end[1] - start[1]))
        self._text_along(start, end)
        self._clear_of(first, last)

    def _half_of(self, measured: MeasuredPoint | None) -> float:
        """Half the drawn thickness in px of the body a point lies on: extension lines begin at its edge."""
        if measured is None or measured.of == PIVOT or measured.part == "anchor":
            return 0.0
        others = (*self.sketch.supports, *self.sketch.loads, *self.sketch.points)
        held = next((each.body for each in others if each.id == measured.of), measured.of)
        body = next((body for body in self.sketch.bodies if body.id == held), None)
        return 0.0 if body is None else half_thickness_px(body, self.frame)

    def _text_along(self, start: Point, end: Point) -> None:
        """The value in a break of its line, else beside it, else level and wherever there is room."""
        content = self._content()
        key = f"{self.given.id}.value"
        places = along_line.places(start, end, content, 2.0 * _HEAD * self.unit)
        side = self.keep
        if side is None:
            side, cost = along_line.best(places, _taken(self.field), self.field.room)
            if cost >= 1.0:
                side = len(places)
        self.drawn.sides[key] = side
        if side >= len(places):
            middle = _between(start, end)
            words = Wanted(f"{self.given.id}.words", self.given.id, (content,), (middle, start, end), 2.0)
            self.drawn.wanted.append(words)
            return
        place = places[side]
        x, y = place.baseline
        turn = place.turned_deg
        self.drawn.records.append(text.record(key, content, x, y, anchor="middle", of=self.given.id, turned_deg=turn))
        self.drawn.areas.append((self.given.id, list(place.corners)))
        one, two, three, four = place.corners
        self.field.segment(_between(one, four), _between(two, three), math.dist(one, four) / 2.0, HARD)

    # Angles

    def _angle(self) -> None:
        frame, unit = self.frame, self.unit
        measured = measuring.angle(self.sketch, self.given)
        at = frame.to_sheet(measured.at)
        radius = max(self.given.offset_m * frame.px_per_m, _LEAST_RADIUS * unit)
        sweep = (measured.to_deg - measured.from_deg) % 360.0
        first, last = on_circle(at, radius, measured.from_deg), on_circle(at, radius, measured.to_deg)
        n = number
        if abs(measured.value_deg - 90.0) < 1e-7:
            leg = 0.42 * radius
            x, y = direction(measured.from_deg)
            corner = on_circle(at, leg, measured.from_deg)
            other = on_circle(at, leg, measured.to_deg)
            across = (other[0] + x * leg, other[1] - y * leg)
            self._stroke("arc", _path(corner, across, other), named=True)
            arc = [corner, across, other]
        else:
            path = f"M{n(first[0])} {n(first[1])}A{n(radius)} {n(radius)} 0 0 0 {n(last[0])} {n(last[1])}"
            self._stroke("arc", path, named=True)
            arc = [on_circle(at, radius, measured.from_deg + sweep * step / 8.0) for step in range(9)]
        self._clear_of(*arc)
        sides = []
        for angle in (measured.from_deg, measured.to_deg):
            begin = self._drawn_to(measured.at, angle)
            if begin < radius + _BEYOND * unit:
                out = on_circle(at, radius + 2.0 * _BEYOND * unit, angle)
                inner = on_circle(at, begin, angle)
                sides.append(_path(inner, out))
                self._clear_of(inner, out)
        if sides:
            self._stroke("sides", "".join(sides), role="given-extension")
        self.drawn.lines.append((self.given.id, arc))
        middle = measured.from_deg + sweep / 2.0
        grip = on_circle(at, radius, middle)
        self.drawn.grips[self.given.id] = grip
        anchors = (grip, on_circle(at, radius, measured.from_deg + sweep / 4.0), on_circle(at, 0.6 * radius, middle))
        self.drawn.wanted.append(Wanted(f"{self.given.id}.words", self.given.id, (self._content(),), anchors, 0.0))

    def _drawn_to(self, at: Point, angle_deg: float) -> float:
        """How far, in px from the arc's point, one of the measured lines is drawn in a direction anyway; 0: not."""
        along = direction(angle_deg)
        given = self.given
        pairs = ((given.line, given.edge), (given.second_line, given.second_edge))
        for line, edge in ((line, edge) for line, edge in pairs if line is not None):
            found = measuring.line_of(self.sketch, line, edge)
            if found.length_m is None:
                continue
            ends = [dot(subtract(end, at), along) for end in (found.start, found.end)]
            off = abs(dot(subtract(found.start, at), (-along[1], along[0])))
            parallel = abs(dot(found.along, along)) > 1.0 - 1e-9
            if parallel and off <= 1e-6 * max(1.0, found.length_m) and max(ends) > 0.0:
                return max(ends) * self.frame.px_per_m if min(ends) <= 1e-6 * found.length_m else 0.0
        return 0.0

    # Slopes

    def _slope(self) -> None:
        frame, unit = self.frame, self.unit
        measured = measuring.slope(self.sketch, self.given)
        if measured.rise == 0.0 or measured.run == 0.0:
            word = "level" if measured.rise == 0.0 else "upright"
            at = frame.to_sheet(measured.at)
            content = text.line("given-label", frame.small_px, (word, "plain"))
            self.drawn.wanted.append(Wanted(f"{self.given.id}.words", self.given.id, (content,), (at,), 10.0))
            self.drawn.grips[self.given.id] = at
            return
        side = max(abs(self.given.offset_m) * frame.px_per_m, _LEAST_SIDE * unit)
        if self.view == "extended" and self.given.start is None:
            measured = replace(measured, at=self._beside_the_arrow(measured.at, side))
        places = [_Triangle(measured, self.given, frame, side, self._stand_off(), part) for part in _SHIFTS]
        if self.given.start is not None:
            places = places[:1]
        words = given_words.leg_words(measured, self.sketch.settings)
        contents = [text.line("given-label", frame.small_px, (word, "plain")) for word in words if word]
        taken = _taken(self.field)
        index = self.keep if self.keep is not None and self.keep < len(places) else None
        if index is None:
            costs = [place.cost(contents, taken, self.field.room) for place in places]
            index = costs.index(min(costs))
        self.drawn.sides[f"{self.given.id}.value"] = index
        place = places[index]
        corners = place.corners
        self._stroke("triangle", _path(*corners) + "Z", named=True)
        self._clear_of(*corners, corners[0])
        for part, content, box in zip(("rise", "run", "long"), contents, place.boxes(contents), strict=False):
            baseline = box[1] + content.size * text.ASCENT_EM
            middle = (box[0] + box[2]) / 2.0
            record = text.record(
                f"{self.given.id}.{part}", content, middle, baseline, anchor="middle", of=self.given.id
            )
            self.drawn.records.append(record)
            self.field.box(box, HARD)
        self.drawn.lines.append((self.given.id, [*corners, corners[0]]))
        self.drawn.areas.append((self.given.id, list(corners)))
        self.drawn.grips[self.given.id] = corners[1]

    def _beside_the_arrow(self, middle: Point, side: float) -> Point:
        """Where a rope or strut is replaced by its force, its triangle stands near that."""
        line = measuring.line_of(self.sketch, self.given.line or "", self.given.edge)
        if line.length_m is None or self.given.line in {body.id for body in self.sketch.bodies}:
            return middle
        reach = min(line.length_m / 2.0, (0.5 * side + 30.0 * self.unit) / self.frame.px_per_m)
        return add(line.start, scale(line.along, reach))

    def _stand_off(self) -> float:
        """How far the triangle stands off its line in px: clear of a body's edge, of a rope's twist or a strut."""
        body = next((body for body in self.sketch.bodies if body.id == self.given.line), None)
        if body is not None:
            return 7.0 * self.unit + half_thickness_px(body, self.frame)
        strut = any(each.id == self.given.line and each.kind == "strut" for each in self.sketch.supports)
        return (12.0 if strut else 7.0) * self.unit

    # Labels

    def _label(self) -> None:
        given, frame = self.given, self.frame
        assert given.start is not None
        at = frame.to_sheet(measuring.point_of(self.sketch, given.start))
        content = self._content()
        if given.shift_m is None:
            self.drawn.wanted.append(Wanted(f"{given.id}.words", given.id, (content,), (at,), 4.0))
            self.drawn.grips[given.id] = at
            return
        x = at[0] + given.shift_m[0] * frame.px_per_m
        y = at[1] - given.shift_m[1] * frame.px_per_m
        high, low = content.size * text.ASCENT_EM, content.size * text.DESCENT_EM
        box = (x - content.width / 2.0, y - high / 2.0, x + content.width / 2.0, y + high / 2.0 + low)
        near = (min(max(at[0], box[0]), box[2]), min(max(at[1], box[1]), box[3]))
        away = math.dist(near, at)
        if away > labels.LEADER_PX:
            part = 1.0 - 6.0 / away
            end = (near[0] + (at[0] - near[0]) * part, near[1] + (at[1] - near[1]) * part)
            leader = Record(f"{given.id}.leader", "path", "leader", "label", (("d", _path(near, end)),), (), given.id)
            self.drawn.records.append(leader)
        name = self.drawn.names[given.id]
        self.drawn.records.append(
            text.record(given.id, content, x, y + high / 2.0, anchor="middle", of=given.id, name=name)
        )
        self.field.box(box, HARD)
        self.drawn.areas.append((given.id, _corners(box)))
        self.drawn.grips[given.id] = _beside(box, frame)


class _Triangle:
    """One place of a slope triangle on the sheet: its corners (the right angle second) and where its numbers stand."""

    def __init__(
        self, slope: measuring.Slope, given: Given, frame: Frame, side: float, off: float, part: float
    ) -> None:
        x, y = slope.along[0], -slope.along[1]
        upper = given.offset_m >= 0.0
        # Square to the line on the sheet, towards the side the triangle stands on; y runs down.
        nx, ny = (y, -x) if upper else (-y, x)
        middle = frame.to_sheet(slope.at)
        mx, my = middle[0] + nx * off + x * side * part, middle[1] + ny * off + y * side * part
        low = (mx - x * side / 2.0, my - y * side / 2.0)
        high = (mx + x * side / 2.0, my + y * side / 2.0)
        # The right angle lies on the chosen side of the long side.
        one, other = (low[0], high[1]), (high[0], low[1])
        towards = (one[0] - mx) * nx + (one[1] - my) * ny
        corner = one if towards > 0.0 else other
        self.corners = (low, corner, high)
        self.normal = (nx, ny)
        self.unit = frame.pen

    def boxes(self, contents: list[Line]) -> list[Box]:
        """Boxes of the numbers at the upright leg, the level leg and, where it is whole, the long side."""
        low, corner, high = self.corners
        upright, level = ((low, high)) if abs(low[0] - corner[0]) < 1e-9 else ((high, low))
        found = []
        for index, content in enumerate(contents):
            tall = content.size * (text.ASCENT_EM + text.DESCENT_EM)
            gap = 3.0 * self.unit
            if index == 0:
                outside = 1.0 if corner[0] > level[0] else -1.0
                x, y = corner[0] + outside * (gap + content.width / 2.0), (corner[1] + upright[1]) / 2.0
            elif index == 1:
                outside = 1.0 if corner[1] > upright[1] else -1.0
                x, y = (corner[0] + level[0]) / 2.0, corner[1] + outside * (gap + tall / 2.0)
            else:
                reach = gap + max(content.width, tall) / 2.0
                x = (low[0] + high[0]) / 2.0 + self.normal[0] * reach
                y = (low[1] + high[1]) / 2.0 + self.normal[1] * reach
            found.append((x - content.width / 2.0, y - tall / 2.0, x + content.width / 2.0, y + tall / 2.0))
        return found

    def cost(self, contents: list[Line], taken: list[Met], room: Box) -> float:
        """How much the triangle and its numbers would meet."""
        total = 0.0
        low, corner, high = self.corners
        boxes = self.boxes(contents)
        for box in boxes:
            out = box[0] < room[0] or box[1] < room[1] or box[2] > room[2] or box[3] > room[3]
            total += 10.0 if out else 0.0
        numbers = [along_line.outline(box, None) for box in boxes]
        legs = [along_line.outline(room, (*start, *end, 1.0)) for start, end in ((low, corner), (corner, high))]
        for other, stroke, weight in taken:
            there = along_line.outline(other, stroke)
            total += weight * sum(along_line.meet(each, there) for each in numbers)
            total += 0.3 * weight * sum(along_line.meet(each, there) for each in legs)
        return total


def of_givens(held: Grips, drawn: DrawnGivens, boxes: Mapping[str, Box]) -> None:
    """What a hand can hold of the givens: their lines, their numbers, and the grip of the selected one."""
    for of, points in drawn.lines:
        held.line(of, GRIP, points, RANK_GIVEN, drawn.names[of])
    for of, corners in drawn.areas:
        held.area(of, GRIP, corners, RANK_GIVEN, drawn.names[of], "grab")
    for wanted in drawn.wanted:
        box = boxes.get(wanted.id)
        if box is not None:
            held.area(wanted.of, GRIP, _corners(box), RANK_GIVEN, drawn.names[wanted.of], "grab")
            if wanted.id.endswith(".words") and wanted.of not in {of for of, _ in drawn.lines}:
                drawn.grips[wanted.of] = _beside(box, held.frame)
    if held.selected in drawn.grips:
        held.dot(held.selected, GRIP, drawn.grips[held.selected], RANK_GRIP + 10, drawn.names[held.selected])


def named(records: list[Record], wanted: Wanted, drawn: DrawnGivens) -> list[Record]:
    """The records of a placed label; words that are all there is of a given carry its name."""
    if wanted.of not in drawn.names or any(of == wanted.of for of, _ in drawn.lines):
        return records
    words = records[-1]
    return [*records[:-1], words._replace(name=drawn.names[wanted.of])]


def _beside(box: Box, frame: Frame) -> Point:
    """Where words are held: just beside them, so that they can be read."""
    away = 12.0 * frame.pen
    fits = box[2] + 2.0 * away <= frame.room[2]
    return (box[2] + away if fits else box[0] - away, (box[1] + box[3]) / 2.0)


def _taken(field_: Field) -> list[Met]:
    """What a text along a line keeps clear of; crossing an edge is only ugly."""
    taken: list[Met] = []
    for left, top, right, bottom, weight, stroke in field_.things:
        ugly = weight == EDGE_COST
        if weight >= SYMBOL_COST or ugly:
            taken.append(((left, top, right, bottom), stroke, constructions.UGLY if ugly else 1.0))
    return taken


def _path(*points: Point) -> str:
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)


def _head(tip: Point, along: Point, unit: float) -> str:
    """A slim filled arrowhead with its tip here, pointing along a unit direction of the sheet."""
    x, y = along
    back, half = _HEAD * unit, _HEAD_HALF * unit
    left = (tip[0] - x * back - y * half, tip[1] - y * back + x * half)
    right = (tip[0] - x * back + y * half, tip[1] - y * back - x * half)
    return _path(tip, left, right) + "Z"


def _between(first: Point, second: Point) -> Point:
    return ((first[0] + second[0]) / 2.0, (first[1] + second[1]) / 2.0)


def _corners(box: Box) -> list[Point]:
    left, top, right, bottom = box
    return [(left, top), (right, top), (right, bottom), (left, bottom)]

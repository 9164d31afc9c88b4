"""The third-law partner of a force: the other body in a picture of its own, with the arrow the other way."""

from __future__ import annotations

import math
from dataclasses import replace

from ..geometry import Point, add
from ..model import Body, Sketch, Support, Thing
from ..statics import axes, meeting, shape
from ..statics.isolate import acting_forces
from ..statics.reading import ActingForce, ForceReading
from ..units import write_quantity
from . import arrows, bodies, labels, names, supports, text, theme
from .arrows import Arrow, Kind
from .frame import Frame
from .labels import EDGE_COST, HARD, Box, Field, Wanted
from .record import LAYERS, Picture, Record
from .text import number, symbol_pieces

WIDTH_PX, HEIGHT_PX = 220.0, 138.0
_ARROW_PX = 54.0
_MARGIN_PX = 8.0
# Room beside, and above and below, another body of the sketch with its arrows.
_REAL_MARGIN_PX = (30.0, 26.0)
_EARTH_RADIUS_PX = 34.0
# Longest side of a rope or strut on this sheet.
_LINK_PX = 74.0
# What is pushed on is met by the head of the arrow; what is pulled has the arrow start at it.
# Forces of what reaches from one body to another: between the two it is a thing of its own.
LINKS = ("tension", "strut")
_PUSHED = ("contact", "normal", "friction", "fluid")


def draw(sketch: Sketch, reading: ForceReading, name: str) -> Picture:
    """The other body with the equal and opposite force; `name` is what the arrow is called.

    What is not known of the force, or is kept back, is not shown of its partner either.
    """
    return _Sheet(sketch, reading, name).picture()


class _Sheet:
    def __init__(self, sketch: Sketch, reading: ForceReading, name: str) -> None:
        self.sketch = sketch
        self.reading = reading
        self.force: ActingForce = reading.force
        self.name = name
        self.of = f"partner-{self.force.id}"
        self.records: list[Record] = []
        self.field = Field((_MARGIN_PX, _MARGIN_PX, WIDTH_PX - _MARGIN_PX, HEIGHT_PX - _MARGIN_PX))
        self.middle: Point = (WIDTH_PX / 2.0, HEIGHT_PX / 2.0)
        # What acts on another body of the sketch, where the partner does.
        self.partner = partner_force(sketch, self.force)

    def picture(self) -> Picture:
        at = self._other_body()
        wanted = self._couple(at) if self.force.along is None else self._force(at)
        for label in wanted:
            side = labels.place([label], self.field)[label.id]
            records, box = labels.draw(label, side)
            self.records.extend(records)
            self.field.box(box, HARD)
        order = {layer: index for index, layer in enumerate(LAYERS)}
        return Picture(WIDTH_PX, HEIGHT_PX, tuple(sorted(self.records, key=lambda each: order[each.layer])))

    # The other body

    def _other_body(self) -> Point:
        """Draws it, and returns where the partner acts on the sheet."""
        entity: Support | Thing | None = next(
            (each for each in self.sketch.supports if each.id == self.force.entity),
            next(
                (each for each in self.sketch.loads if each.id == self.force.entity and isinstance(each, Thing)), None
            ),
        )
        if self.force.type == "gravity":
            return self._earth()
        other = meeting.other_body(self.sketch, self.force)
        if self.partner is not None and other is not None:
            return self._real_body(other, self.partner)
        if isinstance(entity, Support):
            return self._support(entity)
        if isinstance(entity, Thing):
            return self._thing(entity)
        return self._something()

    def _real_body(self, body: Body, partner: ActingForce) -> Point:
        """The other body of a joint as it lies on the board, small, with room for the arrow where the joint is."""
        (low_x, low_y), (high_x, high_y) = shape.extent(body)
        (x, y), ways = partner.point, [(0.0, 0.0), *(self._reach() if self.force.along is not None else [])]
        room_x, room_y = WIDTH_PX - 2.0 * _REAL_MARGIN_PX[0], HEIGHT_PX - 2.0 * _REAL_MARGIN_PX[1]
        zoom = min(room_x / max(high_x - low_x, 1e-6), room_y / max(high_y - low_y, 1e-6))
        while True:
            # Px from the joint, down and to the right: the ends of the arrows, and the box of the body.
            xs = [(low_x - x) * zoom, (high_x - x) * zoom, *(way[0] for way in ways)]
            ys = [(y - high_y) * zoom, (y - low_y) * zoom, *(way[1] for way in ways)]
            if (max(xs) - min(xs) <= room_x and max(ys) - min(ys) <= room_y) or zoom * (high_x - low_x) < 1.0:
                break
            zoom *= 0.85
        held = (self.middle[0] - (min(xs) + max(xs)) / 2.0, self.middle[1] - (min(ys) + max(ys)) / 2.0)
        shown = Frame(WIDTH_PX, HEIGHT_PX, zoom, (0.0, 0.0))
        middle = shown.middle_px
        shown = replace(shown, centre_m=(x + (middle[0] - held[0]) / zoom, y - (middle[1] - held[1]) / zoom))
        thin = replace(body, thickness_m=min(body.thickness_m, 12.0 / zoom))
        outline = bodies.outline_px(thin, shown, replace(self.sketch, supports=()))
        record = bodies.body_record(thin, outline, shown, names.of_body(body), isolated=True)
        self.records.append(record._replace(id=f"{self.of}.body", of=self.of))
        self.field.path(outline, 1.0, EDGE_COST, closed=True)
        return shown.to_sheet((x, y))

    def _earth(self) -> Point:
        x, y = self.middle[0], HEIGHT_PX - _MARGIN_PX - _EARTH_RADIUS_PX
        disc = (("cx", number(x)), ("cy", number(y)), ("r", number(_EARTH_RADIUS_PX)))
        self.records.append(
            Record(f"{self.of}.earth", "circle", "support-part", "body", disc, (), self.of, name="Earth")
        )
        r = _EARTH_RADIUS_PX
        self._clear((x - r, y - r, x + r, y + r))
        return (x, y)

    def _support(self, support: Support) -> Point:
        support = self._as_seen(support)
        body = replace(self.sketch.body(support.body), thickness_m=0.0)
        frame, held = self._around(support, body)
        copy = replace(support, id=f"{self.of}-body")
        records, boxes = supports.draw(copy, body, frame, support.agent or support.kind, support.anchor_m)
        self.records.extend(records)
        for corners in boxes:
            xs, ys = [corner[0] for corner in corners], [corner[1] for corner in corners]
            if support.kind not in ("rope", "strut") or corners is not boxes[0]:
                self._clear((min(xs), min(ys), max(xs), max(ys)))
        if support.anchor_m is not None:
            self.field.segment(held, frame.to_sheet(support.anchor_m), 6.0, HARD)
        return held

    def _as_seen(self, support: Support) -> Support:
        """A rope or strut from the body it acts on, straight to where it runs from there."""
        if support.other is None or support.anchor_m is None:
            return support
        ends = (support.body, support.other)
        here, there = ends[::-1] if self.force.back else ends
        towards = support.over_m or meeting.place_on(self.sketch, support, there)
        place = shape.local(self.sketch.body(here), meeting.place_on(self.sketch, support, here))
        return replace(support, body=here, place_m=place, anchor_m=towards)

    def _around(self, support: Support, body: Body) -> tuple[Frame, Point]:
        """A sheet on which the support and its arrow both have room; and where the support holds on it."""
        point = shape.world(body, support.place_m)
        frame = Frame(WIDTH_PX, HEIGHT_PX, 40.0, point)
        far: Point = (0.0, 0.0)
        if support.anchor_m is not None:
            reach = math.dist(point, support.anchor_m)
            zoom = _LINK_PX / reach if reach > 0.0 else 40.0
            frame = replace(frame, px_per_m=zoom)
            far = ((support.anchor_m[0] - point[0]) * zoom, -(support.anchor_m[1] - point[1]) * zoom)
        ways = [far, *(self._reach() if self.force.along is not None else [])]
        xs, ys = [0.0, *(x for x, _ in ways)], [0.0, *(y for _, y in ways)]
        held = (
            self.middle[0] - (min(xs) + max(xs)) / 2.0,
            self.middle[1] - (min(ys) + max(ys)) / 2.0,
        )
        middle = frame.middle_px
        centre = (
            point[0] + (middle[0] - held[0]) / frame.px_per_m,
            point[1] - (middle[1] - held[1]) / frame.px_per_m,
        )
        frame = replace(frame, centre_m=centre)
        return frame, frame.to_sheet(point)

    def _reach(self) -> list[Point]:
        """Where the arrows go, from the point they act at, in px."""
        return [arrow.head if arrow.tail == (0.0, 0.0) else arrow.tail for _, arrow in self._arrows((0.0, 0.0))]

    def _thing(self, thing: Thing) -> Point:
        x, y = self.middle[0], HEIGHT_PX * 0.46
        body = Body(f"{self.of}-under", "bar", "", (0.0, 0.0), 0.0, length_m=1.0, thickness_m=0.0)
        zoom = 1.0
        frame = Frame(WIDTH_PX, HEIGHT_PX, zoom, (0.0, 0.0))
        middle = frame.middle_px
        frame = replace(frame, centre_m=((middle[0] - x) / zoom, -(middle[1] - y) / zoom))
        copy = replace(thing, id=f"{self.of}-body", place_m=(0.0, 0.0))
        record, corners = bodies.thing(copy, body, frame, thing.name or text.plain(thing.symbol))
        self.records.append(record)
        xs, ys = [corner[0] for corner in corners], [corner[1] for corner in corners]
        self._clear((min(xs), min(ys), max(xs), max(ys)))
        return (x, max(ys))

    def _something(self) -> Point:
        """A body nobody has drawn: a plain rounded outline."""
        away = self._away()
        x, y = self.middle[0] + away[0] * 26.0, self.middle[1] + away[1] * 26.0
        n = number
        left, top = x - 34.0, y - 22.0
        path = (
            f"M{n(left + 14)} {n(top)}h40a14 14 0 0 1 14 14v16a14 14 0 0 1 -14 14h-40a14 14 0 0 1 -14 -14v-16"
            "a14 14 0 0 1 14 -14Z"
        )
        said = self.force.by or "the other body"
        self.records.append(Record(f"{self.of}.body", "path", "thing", "body", (("d", path),), (), self.of, name=said))
        self._clear((left, top, left + 68.0, top + 44.0))
        if self.force.along is None:
            return (x, y)
        # At the edge of the outline towards the first body.
        return (x - away[0] * 34.0, y - away[1] * 22.0)

    def _away(self) -> Point:
        """From the first body to the other one, on the sheet: along a pull, against a push."""
        along = self.reading.vector or self.force.along
        if self.reading.vector is None and self.force.sought == "size and direction":
            across, up = axes.assumed(self.force)
            along = add(across, up)
        if along is None or along == (0.0, 0.0):
            return (0.0, 0.0)
        size = math.hypot(*along)
        sign = -1.0 if self.force.type in _PUSHED else 1.0
        return (sign * along[0] / size, -sign * along[1] / size)

    def _clear(self, box: Box) -> None:
        self.field.box(box, HARD)

    # The arrow

    def _kind(self) -> Kind:
        return "known" if self.force.role == "known" else "unknown"

    def _arrows(self, at: Point) -> list[tuple[str, Arrow]]:
        """The arrows at a point: one the other way, or two components of which only the senses are assumed."""
        force, reading = self.force, self.reading
        pushed = force.type in _PUSHED
        along = reading.vector
        if along is not None and math.hypot(*along) > 0.0:
            return [("", self._one(at, along, pushed))]
        if along is not None or force.along is None:
            return []
        if force.sought == "size and direction":
            return [(name, self._one(at, part, pushed)) for name, part in zip("xy", axes.assumed(force), strict=True)]
        return [("", self._one(at, force.along, pushed))]

    def _one(self, at: Point, along: Point, pushed: bool) -> Arrow:
        size = math.hypot(*along)
        way = (-along[0] / size * _ARROW_PX, along[1] / size * _ARROW_PX)
        return arrows.placed(at, way, self._kind(), 1.0, head_at_point=pushed)

    def _force(self, at: Point) -> list[Wanted]:
        wanted = []
        for part, arrow in self._arrows(at):
            key = f"{self.of}.arrow{part}"
            self.records.extend(arrows.straight(arrow, key, self.of, 1.0, self.name))
            self.field.segment(arrow.tail, arrow.head, 5.0, HARD)
            line = self._words(part)
            wanted.append(Wanted(f"{key}-label", self.of, (line,), (arrow.middle, arrow.head, arrow.tail), 2.0))
        if not wanted:
            line = self._words("")
            wanted.append(Wanted(f"{self.of}.label", self.of, (line,), (at,), 4.0))
        self.records.append(arrows.dot(at, f"{self.of}.tail", self.of, 4.0))
        return wanted

    def _couple(self, at: Point) -> list[Wanted]:
        value = self.reading.couple_n_m
        sense = self.force.drawn_sense if value is None else 1 if value > 0.0 else -1
        key = f"{self.of}.arrow"
        self.records.extend(arrows.turning(at, sense < 0, self._kind(), key, self.of, 1.0, self.name))
        r = arrows.TURNING_RADIUS_PX + 6.0
        self._clear((at[0] - r, at[1] - r, at[0] + r, at[1] + r))
        return [Wanted(f"{key}-label", self.of, (self._words(""),), (at,), r)]

    def _words(self, part: str) -> text.Line:
        """The size; a letter where only that is known; a letter with a question mark where nothing is."""
        role = "label-known" if self.force.role == "known" else "label-unknown"
        value = value_words(self.sketch, self.reading)
        if value:
            return text.line(role, theme.SMALL_SIZE, (value, "value"))
        pieces = symbol_pieces(f"{self.force.symbol}_{part}" if part else self.force.symbol)
        if self.force.role == "known":
            return text.line(role, theme.SMALL_SIZE, *pieces)
        return text.line(role, theme.SMALL_SIZE, *pieces, ("?", "value", 4.0))


def partner_force(sketch: Sketch, force: ActingForce) -> ActingForce | None:
    """The third-law partner where it acts on another body of the sketch, as drawn; None where it does not.

    What a rope or strut does to a body has its partner on the rope or strut, whatever that is fastened to.
    """
    body = meeting.other_body(sketch, force)
    if body is None or force.type in LINKS:
        return None
    return next((each for each in acting_forces(sketch, body.id) if each.id == force.partner), None)


def value_words(sketch: Sketch, reading: ForceReading) -> str:
    """The size of a force or couple; "" when it is not known or kept back."""
    if reading.couple_n_m is not None:
        return write_quantity(abs(reading.couple_n_m), "couple", sketch.settings)
    return "" if reading.size_n is None else write_quantity(reading.size_n, "force", sketch.settings)

"""Targets: what a hand can take hold of, in pick order; and the visible grips of the selected thing."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..edit import circles
from ..geometry import Point
from ..model import Body, Couple, Force, Sketch, SpreadLoad, Support, Thing
from ..statics import shape
from ..statics.holding import anchor
from ..statics.reading import ForceReading
from . import names
from .arrows import TURNING_RADIUS_PX, dot, on_circle
from .bodies import axis_px, piece_area
from .forces import Drawn
from .frame import Frame
from .record import Record, Target
from .spreads import Diagram
from .text import number, plain

Loaded = Support | Force | Couple | Thing | SpreadLoad

PIVOT_ID = "pivot"
SECOND_PIVOT_ID = "second-pivot"
PIVOT_IDS = (PIVOT_ID, SECOND_PIVOT_ID)
# The second ring is smaller and thinner: it stands back behind the first.
RING_PX = {PIVOT_ID: 12.0, SECOND_PIVOT_ID: 9.0}
# Pick order where things stack: lower is taken first.
RANK_GRIP = 0
RANK_HEAD = 10
RANK_TAIL = 20
RANK_PIVOT = 30
RANK_SHAFT = 36
RANK_SUPPORT = 40
RANK_POINT = 45
RANK_BODY = 50

GRIP_RADIUS_PX = 6.5
TOUCH_GRIP_RADIUS_PX = 9.0
# The slide lozenge stands at least this far from head and tail, so that each has 24 px of its own.
APART_PX = 26.0


class Grips:
    """Collects targets; draws those of the selected thing.

    `only`, while a hand is busy, names the only things that can be picked besides the selected one.
    """

    def __init__(self, sketch: Sketch, frame: Frame, selected: str | None, only: frozenset[str] | None = None) -> None:
        self.sketch = sketch
        self.frame = frame
        self.selected = selected
        self._only = only
        self.targets: list[Target] = []
        self.records: list[Record] = []

    def wants(self, of: str) -> bool:
        """Whether a thing's targets are asked for."""
        return self._only is None or of in self._only or of == self.selected

    def dot(
        self,
        of: str,
        grip: str,
        at: Point,
        rank: int,
        name: str,
        *,
        locked: str = "",
        only: bool = False,
        role: str = "grip",
        cursor: str = "grab",
    ) -> None:
        """A point to take hold of; visible, and first in line, while its thing is selected."""
        mine = of == self.selected
        self.targets.append(
            Target(
                of,
                grip,
                "dot",
                (at,),
                RANK_GRIP + rank // 10 if mine else rank,
                name,
                only,
                locked,
                "not-allowed" if locked else cursor,
            )
        )
        if not mine:
            return
        radius = (TOUCH_GRIP_RADIUS_PX if self.frame.touch else GRIP_RADIUS_PX) * (1.0 if not locked else 0.7)
        record_id = f"{of}.grip-{grip}"
        if grip == "slide":
            n, r = number, radius * 1.25
            path = f"M{n(at[0])} {n(at[1] - r)}l{n(r)} {n(r)}l{n(-r)} {n(r)}l{n(-r)} {n(-r)}Z"
            self.records.append(Record(record_id, "path", role, "overlay", (("d", path),), (), of))
        else:
            self.records.append(dot(at, record_id, of, radius, role, "overlay"))

    def line(self, of: str, grip: str, points: list[Point], rank: int, name: str, *, locked: str = "") -> None:
        """A stroke to take hold of."""
        cursor = "not-allowed" if locked else "grab"
        self.targets.append(Target(of, grip, "line", tuple(points), rank, name, False, locked, cursor))

    def area(self, of: str, grip: str, points: list[Point], rank: int, name: str, cursor: str = "grab") -> None:
        """A region to take hold of."""
        self.targets.append(Target(of, grip, "area", tuple(points), rank, name, False, "", cursor))


def of_bodies(grips: Grips, outlines: dict[str, list[Point]]) -> None:
    """Ends or corners of bodies, and the bodies themselves."""
    for body in grips.sketch.bodies:
        if not grips.wants(body.id):
            continue
        called = names.of_body(body)
        for grip, place in _body_grips(body, grips.frame):
            what = grip.replace("-", " ")
            grips.dot(body.id, grip, place, RANK_BODY - 2, f"{what} of {called}", only=True, cursor="crosshair")
        for index, piece in enumerate(body.pieces):
            grip, what = f"piece-{index}", f"piece {index + 1} of {called}"
            at = grips.frame.to_sheet(shape.world(body, piece.centre_m))
            grips.dot(body.id, grip, at, RANK_BODY - 2, what, only=True, cursor="move")
            grips.area(body.id, grip, piece_area(body, piece, grips.frame), RANK_BODY - 1, what, "move")
        grips.area(body.id, "body", outlines[body.id], RANK_BODY, called, "move")


def _body_grips(body: Body, frame: Frame) -> Iterator[tuple[str, Point]]:
    corners = axis_px(body, frame)
    if body.kind == "bar":
        yield "start", corners[0]
        yield "end", corners[-1]
        return
    if body.kind == "disc":
        corners = []
    for grip in (*(["rim"] if body.kind == "disc" else []), *circles.hole_grips(body)):
        place = circles.grip_position(body, grip)
        if place is not None:
            yield grip, frame.to_sheet(place)
    for index, corner in enumerate(corners):
        yield f"corner-{index}", corner


def of_pivot(grips: Grips, of: str, at: Point, flag: list[Point] | None, name: str) -> None:
    """The pivot or the second one, by its rim and its name flag."""
    if not grips.wants(of):
        return
    radius = RING_PX[of] * grips.frame.pen
    rim = [on_circle(at, radius, 30.0 * step) for step in range(13)]
    mine = grips.selected == of
    rank = RANK_GRIP + 3 if mine else RANK_PIVOT
    grips.targets.append(Target(of, "pivot", "line", tuple(rim), rank, name, False, "", "move"))
    if flag is not None:
        grips.targets.append(Target(of, "pivot", "area", tuple(flag), rank, name, False, "", "move"))
    if mine:
        # On the rim, not in the middle: the dot of the force applied there stays in sight and in reach.
        grips.records.append(dot(at, f"{of}.grip", of, radius + 5.0, "snap", "overlay"))


def of_points(grips: Grips) -> None:
    """Named points."""
    bodies = {body.id: body for body in grips.sketch.bodies}
    for point in grips.sketch.points:
        if not grips.wants(point.id):
            continue
        place = shape.world(bodies[point.body], point.place_m) if point.body else point.place_m
        grips.dot(point.id, "place", grips.frame.to_sheet(place), RANK_POINT, f"point {point.name}")


def of_supports(grips: Grips, boxes: dict[str, list[list[Point]]], *, as_forces: bool) -> None:
    """Supports by their place and anchor; by their symbol too where it is drawn."""
    bodies = {body.id: body for body in grips.sketch.bodies}
    for support in grips.sketch.supports:
        if not grips.wants(support.id):
            continue
        called = names.of_support(support, grips.sketch)
        at = grips.frame.to_sheet(shape.world(bodies[support.body], support.place_m))
        if support.face_m is not None:
            end = grips.frame.to_sheet(shape.world(bodies[support.body], support.face_m))
            for grip, place in (("start", at), ("end", end)):
                grips.dot(support.id, grip, place, RANK_TAIL + 1, f"{grip} of {called}", only=True, cursor="crosshair")
            at = ((at[0] + end[0]) / 2.0, (at[1] + end[1]) / 2.0)
        if not as_forces:
            grips.dot(support.id, "place", at, RANK_SUPPORT, called)
        for grip, far in (("anchor", anchor(grips.sketch, support)), ("pulley", support.over_m)):
            if far is not None and not (as_forces and support.id != grips.selected):
                at = grips.frame.to_sheet(far)
                grips.dot(support.id, grip, at, RANK_SUPPORT, f"{grip} of {called}", only=as_forces)
        for corners in boxes.get(support.id, ()):
            grips.area(support.id, "place", corners, RANK_SUPPORT + 1, called)


def of_loads_set_up(grips: Grips, boxes: dict[str, list[Point]]) -> None:
    """Things standing on bodies, as drawn in the set-up."""
    bodies = {body.id: body for body in grips.sketch.bodies}
    for load in grips.sketch.loads:
        if isinstance(load, Thing) and grips.wants(load.id):
            at = grips.frame.to_sheet(shape.world(bodies[load.body], load.place_m))
            called = load.name or plain(load.symbol)
            grips.dot(load.id, "place", at, RANK_SUPPORT - 2, called)
            if load.id in boxes:
                grips.area(load.id, "place", boxes[load.id], RANK_SUPPORT - 1, called)


def of_spreads(grips: Grips, diagrams: list[Diagram]) -> None:
    """Load diagrams: their ends along the body, their heights, and the whole of each."""
    for each in diagrams:
        of = each.load.id
        if not grips.wants(of):
            continue
        called = f"spread load {plain(each.load.symbol)}"
        locked = "It is known as a letter only: type a size below." if each.load.letter_only else ""
        for end, foot, top in zip(("start", "end"), each.feet, each.tops, strict=True):
            grips.dot(of, end, foot, RANK_TAIL, f"{end} of {called}", only=True, cursor="crosshair")
            height = _standing_off(foot, top, each.acts)
            grips.dot(
                of, f"{end}-height", height, RANK_HEAD, f"load at the {end} of {called}", locked=locked, only=True
            )
        grips.area(of, "place", each.outline, RANK_SUPPORT - 1, called)


def _standing_off(foot: Point, top: Point, acts: Point) -> Point:
    """The grip of a height: at the top of the diagram, but far enough from the grip at its foot to be taken alone."""
    high = math.dist(foot, top)
    if high >= APART_PX:
        return top
    way = ((top[0] - foot[0]) / high, (top[1] - foot[1]) / high) if high > 1e-9 else (-acts[0], -acts[1])
    return (foot[0] + way[0] * APART_PX, foot[1] + way[1] * APART_PX)


def of_forces(grips: Grips, drawn: Drawn) -> None:
    """Heads, tails, shafts and slide lozenges of the forces drawn."""
    entities: dict[str, Loaded] = {each.id: each for each in (*grips.sketch.supports, *grips.sketch.loads)}
    for reading in drawn.readings:
        force = reading.force
        if not grips.wants(force.id):
            continue
        if isinstance(entities.get(force.id), SpreadLoad):
            continue
        if force.along is None:
            _turning(grips, reading, drawn)
        else:
            _straight(grips, reading, drawn, entities.get(force.entity))


def _turning(grips: Grips, reading: ForceReading, drawn: Drawn) -> None:
    force = reading.force
    at = drawn.turnings.get(force.id)
    if at is None:
        return
    locked = "A fixed end's couple acts at the fixed end." if force.entity != force.id else ""
    called = f"couple {plain(force.symbol)}"
    grips.dot(force.id, "place", at, RANK_TAIL, called, locked=locked)
    radius = TURNING_RADIUS_PX * grips.frame.pen
    arc = [on_circle(at, radius, -45.0 + 27.0 * step) for step in range(11)]
    grips.line(force.id, "place", arc, RANK_SHAFT, called, locked=locked)
    unknown = force.role == "unknown"
    guessed = force.guess_couple_n_m is not None
    letter = "" if unknown or force.couple_n_m is not None else "It is known as a letter only: type a size below."
    # The head is where the arrow's own is: at the end its sense turns to.
    value = (force.guess_couple_n_m if guessed else reading.couple_n_m) or float(force.drawn_sense or 1)
    head = on_circle(at, radius * (1.3 if guessed else 1.0), 225.0 if value > 0.0 else -45.0)
    what = f"guess for {plain(force.symbol)}" if unknown else f"size of {plain(force.symbol)}"
    role = "grip-guess" if guessed else "grip"
    grips.dot(force.id, "head", head, RANK_HEAD, what, locked=letter, only=True, role=role)


def _straight(grips: Grips, reading: ForceReading, drawn: Drawn, entity: Loaded | None) -> None:
    force = reading.force
    letter = plain(force.symbol)
    at = grips.frame.to_sheet(force.point)
    guess_key = f"{force.id}.guess"
    arrow = drawn.arrows.get(guess_key) or drawn.arrows.get(force.id)
    grips.dot(force.id, "tail", at, RANK_TAIL, f"point of application of {letter}", locked=tail_locked(reading, entity))
    if arrow is None:
        return
    head = arrow.tail if arrow.head == at and arrow.tail != at else arrow.head
    locked = head_locked(reading, entity)
    guess = force.role == "unknown"
    grips.dot(
        force.id,
        "head",
        head,
        RANK_HEAD,
        f"guess for {letter}" if guess else f"head of {letter}",
        locked=locked,
        role="grip-guess" if guess_key in drawn.arrows else "grip",
    )
    # A force drawn as its two components is taken by either.
    for each in (arrow, drawn.arrows.get(f"{force.id}.y")):
        if each is not None:
            ends = [each.tail, each.head]
            grips.line(force.id, "tail", ends, RANK_SHAFT, letter, locked=tail_locked(reading, entity))
    if isinstance(entity, Force) and grips.selected == force.id:
        grips.dot(force.id, "slide", _lozenge(at, head), RANK_HEAD + 5, f"slide {letter} along its line", only=True)


def _lozenge(at: Point, head: Point) -> Point:
    """Half-way along a long arrow; behind the point of application of a short one."""
    length = math.hypot(head[0] - at[0], head[1] - at[1]) or 1.0
    if length >= 2.0 * APART_PX:
        return ((at[0] + head[0]) / 2.0, (at[1] + head[1]) / 2.0)
    part = -APART_PX / length
    return (at[0] + (head[0] - at[0]) * part, at[1] + (head[1] - at[1]) * part)


_BACK = "It is the partner of a force on another body: change that one."


def tail_locked(reading: ForceReading, entity: Loaded | None) -> str:
    """Why the point of application cannot be moved; "" when it can."""
    if reading.force.back:
        return _BACK
    if reading.force.type == "gravity" and entity is None:
        return "The weight acts at the centre of mass: change that of the body instead."
    return ""


def head_locked(reading: ForceReading, entity: Loaded | None) -> str:
    """Why the head cannot be moved; "" when it can."""
    if reading.force.back:
        return _BACK
    if reading.force.type == "friction" and reading.force.about_to.startswith("slip"):
        return "It is about to slip: friction is μ times the normal force, against the slip."
    if entity is None:
        return "The weight follows from the mass: change the mass of the body instead."
    if isinstance(entity, Thing):
        return f"This force is the weight of {entity.name or 'the thing'}: change its mass instead."
    if isinstance(entity, SpreadLoad):
        return "This is the resultant of a spread load: change the load instead."
    return ""

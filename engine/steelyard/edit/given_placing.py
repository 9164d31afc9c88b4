"""Putting givens on the figure: from point to point, on a line, or where nothing is pointed at."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..document.givens import LINED, edge_count
from ..geometry import Point, add, distance, dot, nearest_on_segment, scale, subtract
from ..model import Body, Force, Given, GivenKind, MeasuredPoint, NamedPoint, Sketch
from ..statics import measuring, shape
from ..statics.holding import anchor
from ..statics.pivot import pivot_point
from ..units import factor_of
from . import grips, naming
from .change import Change, fail, find, put_given, tidy
from .context import Context, snap_place
from .joining import settle
from .placing import Placing, under
from .shaping import place_on
from .snapping import Snapped, round_step, round_to

GIVEN_TOOLS: tuple[GivenKind, ...] = ("length", "angle", "slope", "label")
# Tools that need a second point: the other end, or what an angle is measured against.
TWO_POINT_GIVENS = ("length", "angle")

# In steps of 8 px: how far a dimension line stands off, the next one farther, the arc's radius, a slope's long side.
_OFF, _FARTHER, _RADIUS, _LONG_SIDE = 5.0, 4.0, 8.0, 11.0
# An arrow whose length on the paper is not known is taken to be this many steps long.
_ARROW = 8.0
_SMALL_DEG = 20.0

Ray = tuple[str, int]


class GivenPlacing(Placing):
    """A given being placed; the same to the hand as any other tool.

    `beside_forces`: it is placed where the forces stand, so it is shown there too. Raises `SteelyardError` when
    nothing that could be measured is under the hand.
    """

    def __init__(
        self, sketch: Sketch, tool: GivenKind, point: Point, context: Context, *, beside_forces: bool = False
    ) -> None:
        self.sketch = sketch
        self.tool = tool
        self.kind = tool
        self.beside_forces = beside_forces
        self.snapped: Snapped | None = None
        self.start = point
        self.corners: list[Point] = []
        self.line: Ray | None = None
        self.measured: MeasuredPoint | None = None
        if tool in ("angle", "slope"):
            self.line = line_near(sketch, point, context)
            if self.line is None:
                fail("no-line", "", "It has to begin on a line: a body, a rope, a strut or a force.", "Press on one.")
        else:
            self.measured, self.snapped = _point_near(sketch, point, context, None)

    def at(self, point: Point, context: Context) -> Change:
        """The sketch with the new given, the second point here; raises `SteelyardError` when it cannot be."""
        dragged = distance(self.start, point) > max(context.release_m, 1e-9)
        given = Given(naming.fresh_id(self.sketch, self.kind), self.kind, in_extended=self.beside_forces)
        match self.kind:
            case "length":
                given = self._length(given, point, context)
            case "angle":
                given = self._angle(given, point, context, dragged)
            case "slope":
                given = self._slope(given, point, context, dragged)
            case "label":
                if dragged:
                    self.measured, self.snapped = _point_near(self.sketch, point, context, self.snapped)
                given = replace(given, start=self.measured, text=naming.point_name(self.sketch))
        return Change(settle(self.sketch, put_given(self.sketch, given)), f"Add {self.kind}", given.id)

    def _length(self, given: Given, point: Point, context: Context) -> Given:
        end, self.snapped = _point_near(self.sketch, point, context, self.snapped, first=self.measured)
        assert self.measured is not None
        begun = measuring.point_of(self.sketch, self.measured)
        if distance(begun, measuring.point_of(self.sketch, end)) < 1e-9:
            fail("one-point", "length", "A length runs between two points: this is one.", "Press on another point.")
        return with_room(self.sketch, replace(given, start=self.measured, end=end), context)

    def _angle(self, given: Given, point: Point, context: Context, dragged: bool) -> Given:
        assert self.line is not None
        line, edge = self.line
        given = replace(given, line=line, edge=edge)
        given = replace(given, offset_m=_radius(self.sketch, given, context))
        self.snapped = Snapped(point, "free")
        second = line_near(self.sketch, point, context) if dragged else None
        if second is not None and second != self.line:
            return replace(given, against="line", second_line=second[0], second_edge=second[1])
        if not dragged:
            return given
        at = measuring.angle(self.sketch, given).at
        x, y = subtract(point, at)
        upright = abs(y) > abs(x)
        self.snapped = Snapped(point, "free", "against the vertical" if upright else "against the horizontal")
        return replace(given, against="vertical" if upright else "horizontal")

    def _slope(self, given: Given, point: Point, context: Context, dragged: bool) -> Given:
        assert self.line is not None
        line, edge = self.line
        given = replace(given, line=line, edge=edge, offset_m=_steps(self.sketch, _LONG_SIDE, context))
        body = next((body for body in self.sketch.bodies if body.id == line), None)
        if body is not None:
            given = replace(given, start=MeasuredPoint(line, place_m=place_on(body, self.start)))
        if dragged:
            given = replace(given, offset_m=slope_side(self.sketch, given, point, context))
        return given


def slope_side(sketch: Sketch, given: Given, point: Point, context: Context) -> float:
    """The long side of a slope triangle whose middle leg is under the hand, negative below its line."""
    found = measuring.slope(sketch, given)
    arm = subtract(point, found.at)
    across = dot(arm, (-found.along[1], found.along[0]))
    size = rounded(sketch, 2.0 * max(abs(across), abs(dot(arm, found.along))), context)
    return -size if across < 0.0 else size


def rounded(sketch: Sketch, length_m: float, context: Context) -> float:
    """A length at a round step in shown units; tidied only, without snapping."""
    step = round_step(context.step_m, sketch.settings)
    return round_to(length_m, step, factor_of("length", sketch.settings)) if step > 0.0 else tidy(length_m)


def usual_given(
    sketch: Sketch, tool: GivenKind, selected: str | None, context: Context, *, beside_forces: bool = False
) -> Change:
    """A given where nobody points: of the selected thing, else of the first body; raises `SteelyardError`."""
    if not sketch.bodies:
        fail("no-body", "", "There is nothing to measure yet.", "Draw a bar first.")
    entity = find(sketch, selected) if selected in _measurable(sketch) and selected is not None else sketch.bodies[0]
    body = entity if isinstance(entity, Body) else sketch.bodies[0]
    if not isinstance(entity, Body) and entity.body is not None:
        body = sketch.body(entity.body)
    given = Given(naming.fresh_id(sketch, tool), tool, in_extended=beside_forces)
    lined = isinstance(entity, Body) or any(line == entity.id for (line, _), _, _ in _lines(sketch, context))
    line = entity.id if lined else body.id
    first, last = (MeasuredPoint(body.id, part) for part in _first_parts(body))
    if tool in ("angle", "slope") and line == body.id and edge_count(body) == 0:
        fail("no-line", "", f"{body.name} has no straight line.", "Select a rope, a strut or a force.")
    match tool:
        case "length":
            end = last if entity is body else MeasuredPoint(entity.id)
            given = with_room(sketch, replace(given, start=first, end=end), context)
        case "angle":
            given = replace(given, line=line)
            given = replace(given, offset_m=_radius(sketch, given, context))
        case "slope":
            given = replace(given, line=line, offset_m=_steps(sketch, _LONG_SIDE, context))
        case "label":
            at = last if entity is body else MeasuredPoint(entity.id)
            given = replace(given, start=at, text=naming.point_name(sketch))
    return Change(settle(sketch, put_given(sketch, given)), f"Add {tool}", given.id)


def _first_parts(body: Body) -> tuple[str, str]:
    return {"plate": ("corner-0", "corner-1"), "disc": ("middle", "rim")}.get(body.kind, ("start", "end"))


def _measurable(sketch: Sketch) -> set[str]:
    return {each.id for each in (*sketch.bodies, *sketch.supports, *sketch.loads, *sketch.points)}


def with_room(sketch: Sketch, given: Given, context: Context) -> Given:
    """A length given whose line stands where no other one does: on the side away from what pulls, then farther."""
    measured = measuring.length(sketch, given)
    along = measuring.way(measured, given)
    normal = (-along[1], along[0])
    pulls = [far for support in sketch.supports if (far := anchor(sketch, support)) is not None]
    above = sum(dot(subtract(far, measured.start), normal) for far in pulls)
    side = -1.0 if above > 0.0 or (above == 0.0 and normal[1] > 0.0) else 1.0
    gap = _steps(sketch, _FARTHER, context)
    off = _steps(sketch, _OFF, context)
    taken = []
    for other in sketch.givens:
        if other.kind == "length":
            start, _ = measuring.dimension_ends(measuring.length(sketch, other), other)
            taken.append(dot(subtract(start, measured.start), normal))
    while any(abs(side * off - level) < 0.7 * gap for level in taken):
        off += gap
    return replace(given, offset_m=tidy(side * rounded(sketch, off, context)))


def _radius(sketch: Sketch, given: Given, context: Context) -> float:
    """A wider arc for a small angle, so that there is something to see."""
    small = measuring.angle(sketch, given).value_deg < _SMALL_DEG
    return _steps(sketch, 2.0 * _RADIUS if small else _RADIUS, context)


def _steps(sketch: Sketch, count: float, context: Context) -> float:
    """So many steps of 8 px in metres; without a board, in proportion to the first body."""
    if context.step_m > 0.0:
        step = context.step_m
    elif context.release_m > 1e-3:
        step = context.release_m * 2.0 / 3.0
    else:
        low, high = shape.extent(sketch.bodies[0])
        step = max(high[0] - low[0], high[1] - low[1]) / 75.0
    size = count * step
    return float(f"{size:.2g}")


def _point_near(
    sketch: Sketch, point: Point, context: Context, previous: Snapped | None, first: MeasuredPoint | None = None
) -> tuple[MeasuredPoint, Snapped]:
    """What under the hand can be measured: a point of a thing, else a place on a body.

    Off everything, the second end is the nearest point but the `first`; without one it raises `SteelyardError`.
    """
    near = [(distance(point, at), measured, at, name) for measured, at, name in _spots(sketch)]
    body = under(sketch, point, context)
    reach = 1.5 * context.release_m + 1e-9
    begun = None if first is None else measuring.point_of(sketch, first)
    best: tuple[float, MeasuredPoint, Point, str] | None = None
    for spot in near:
        wanted = spot[0] <= reach or (begun is not None and body is None and distance(spot[2], begun) > 1e-9)
        if wanted and (best is None or spot[0] < best[0] - 1e-9):
            best = spot
    if best is not None:
        return best[1], Snapped(best[2], "point", best[3], best[1].of)
    if body is None:
        fail("off-body", "", "There is nothing to measure here.", "Press on a body, a support, an anchor or a point.")
    place, caught = snap_place(sketch, body, place_on(body, point), context, previous)
    return MeasuredPoint(body.id, place_m=place), caught


def _spots(sketch: Sketch) -> Iterator[tuple[MeasuredPoint, Point, str]]:
    """Everything a length can end at, the first choice of those at one place first: ends, points, supports, loads."""
    for body in sketch.bodies:
        yield from _of_circles(sketch, body)
        corners = () if body.kind == "disc" else shape.axis(body)
        for index, corner in enumerate(corners):
            part = f"corner-{index}"
            if body.kind != "plate" and index in (0, len(corners) - 1):
                part = "start" if index == 0 else "end"
            yield MeasuredPoint(body.id, part), corner, f"{part.replace('-', ' ')} of {body.name}"
    for entity in (*sketch.points, *sketch.supports, *sketch.loads):
        name = entity.name if isinstance(entity, NamedPoint) else entity.symbol
        yield MeasuredPoint(entity.id), measuring.point_of(sketch, MeasuredPoint(entity.id)), name
    for support in sketch.supports:
        far = anchor(sketch, support)
        if far is not None:
            yield MeasuredPoint(support.id, "anchor"), far, f"anchor of {support.symbol}"
    for body in sketch.bodies:
        if body.weighs:
            centre = f"{sketch.settings.mass_centre_word} of {body.name}"
            yield MeasuredPoint(body.id, "centre"), shape.centre_of_mass(body), centre
    if sketch.bodies:
        yield MeasuredPoint(grips.PIVOT), pivot_point(sketch), sketch.settings.pivot_word


def _of_circles(sketch: Sketch, body: Body) -> Iterator[tuple[MeasuredPoint, Point, str]]:
    """The middle of a disc, its rim, and the centres of round holes."""
    parts = ["middle", "rim"] if body.kind == "disc" else []
    parts += [f"hole-{index}" for index in range(len(body.round_holes))]
    for part in parts:
        measured = MeasuredPoint(body.id, part)
        yield measured, measuring.point_of(sketch, measured), f"{part.partition('-')[0]} of {body.name}"


def _lines(sketch: Sketch, context: Context) -> Iterator[tuple[Ray, Point, Point]]:
    """Every line an angle or a slope can be of, from where to where it is drawn; bodies last."""
    reach = _ARROW * (context.step_m or context.release_m)
    for support in sketch.supports:
        if support.kind in LINED:
            line = measuring.line_of(sketch, support.id)
            far = line.end if line.length_m is not None else add(line.start, scale(line.along, reach))
            yield (support.id, 0), line.start, far
    for load in sketch.loads:
        if isinstance(load, Force) and (load.role == "known" or load.sought == "size"):
            line = measuring.line_of(sketch, load.id)
            size = reach if load.size_n is None else load.size_n / context.newtons_per_m
            yield (load.id, 0), line.start, add(line.start, scale(line.along, -size if load.head_at_point else size))
    for body in sketch.bodies:
        for edge in range(edge_count(body)):
            line = measuring.line_of(sketch, body.id, edge)
            yield (body.id, edge), line.start, line.end


def line_near(sketch: Sketch, point: Point, context: Context) -> Ray | None:
    """The line under the hand; what is drawn thin comes before a body it lies on."""
    best: tuple[float, Ray] | None = None
    for ray, start, end in _lines(sketch, context):
        gap = distance(point, nearest_on_segment(point, start, end)[0])
        body = next((body for body in sketch.bodies if body.id == ray[0]), None)
        reach = 1.5 * context.release_m + 1e-9
        if body is not None:
            reach += 0.0 if body.has_area else body.thickness_m / 2.0
            gap += context.release_m
            reach += context.release_m
        if gap <= reach and (best is None or gap < best[0]):
            best = (gap, ray)
    return None if best is None else best[1]

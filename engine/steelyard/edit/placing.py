"""Making what is not there yet: a tool, a first point and a second one. Press-drag and tap-tap both come to this."""

from __future__ import annotations

from dataclasses import replace

from ..geometry import Point, add, direction, distance, nearest_on_segment
from ..model import Body, BodyKind, Couple, Force, Pivot, Sketch, Support, SupportKind, Thing
from ..statics import shape, spread
from ..units import factor_of
from . import circles, facing, joint_places, moving, naming, shaping, spreading
from .change import Change, angle_between, fail, put, tidy, tidy_point
from .context import Context, candidates, snap_place
from .joining import settle
from .shaping import bar_between, place_on
from .snapping import Snapped, compass, round_to, snap, step_at_least

BODY_TOOLS = ("bar", "bent-bar", "plate", "disc")
SUPPORT_TOOLS = ("pin", "roller", "rope", "strut", "fixed", "contact", "face")
LOAD_TOOLS = ("force", "couple", "thing", "spread")
TOOLS = (*BODY_TOOLS, "hole", *SUPPORT_TOOLS, *LOAD_TOOLS, "pivot")
# Tools that need a second point; the others are placed by one, a second only turns or moves them.
TWO_POINT_TOOLS = (*BODY_TOOLS, "rope", "strut", "face", "force", "spread")

# What usually exerts each support's force; a contact's surface is for its author to name.
AGENTS: dict[str, str] = {
    "pin": "hinge",
    "roller": "roller",
    "rope": "rope",
    "strut": "strut",
    "fixed": "wall",
    "contact": "",
}
# A thing put down weighs something at once, so that the sketch answers; its author types the true mass.
_NEW_THING_KG = 50.0
_NEW_FORCE_N = 100.0


class Placing:
    """One new thing being placed. `at` always starts from the sketch as it was; `corner` fixes one more corner.

    Raises `SteelyardError` when the tool is unknown or needs a body that is not under the hand.
    """

    def __init__(self, sketch: Sketch, tool: str, point: Point, context: Context) -> None:
        if tool not in TOOLS:
            fail("tool", "tool", f'There is no tool called "{tool[:20]}".', f"The tools are {', '.join(TOOLS)}.")
        self.sketch = sketch
        self.tool = tool
        self.snapped: Snapped | None = None
        self.start = point
        self.corners: list[Point] = []
        if tool in BODY_TOOLS:
            self.snapped = _snap_free(sketch, point, None, context, None)
            self.start = tidy_point(self.snapped.point)
            self.corners = [self.start]
        elif tool not in ("pivot", "rope", "strut"):
            body_under(sketch, point, context)

    def at(self, point: Point, context: Context) -> Change:
        """The sketch with the new thing, the second point here; raises `SteelyardError` when it cannot be."""
        if self.tool in BODY_TOOLS:
            return self._body(point, context)
        if self.tool == "pivot":
            changed, self.snapped = moving.move_pivot(self.sketch, False, point, context, self.snapped)
            return Change(settle(self.sketch, changed), "Place pivot", "pivot")
        if self.tool == "hole":
            return self._hole(point, context)
        if self.tool in SUPPORT_TOOLS:
            return self._support(point, context)
        return self._load(point, context)

    def corner(self, point: Point, context: Context) -> bool:
        """Fix one more corner of a bent bar or plate; False when the tap closes it instead (on a corner again)."""
        caught = _snap_free(self.sketch, point, self.corners[-1], context, self.snapped)
        near = max(context.catch_m, 1e-6)
        ends = self.corners[-1:] + (self.corners[:1] if self.tool == "plate" else [])
        if any(distance(corner, at) <= near for corner in ends for at in (point, caught.point)):
            return False
        self.corners.append(tidy_point(caught.point))
        return True

    def finish(self) -> Change:
        """A bent bar or plate of the corners fixed so far."""
        return self._made_body(self.corners)

    @property
    def readout(self) -> str:
        """What the second point is caught by; "" when it is free."""
        return self.snapped.label if self.snapped is not None else ""

    def _body(self, point: Point, context: Context) -> Change:
        if self.tool == "disc":
            radius, self.snapped = circles.drawn_radius(self.sketch, self.start, point, context, self.snapped)
            return self._added(replace(_new_body(self.sketch, "disc"), origin_m=self.start, radius_m=radius))
        last = self.corners[-1]
        self.snapped = caught = _snap_free(self.sketch, point, last, context, self.snapped)
        end = tidy_point(caught.point)
        if self.tool == "bar":
            bar = bar_between(
                _new_body(self.sketch, "bar"), self.start, end, angle_deg=caught.angle_deg, length_m=caught.length_m
            )
            if bar.length_m < 1e-6:
                fail("zero-length", "bar", "A bar needs a length: its two ends are at one point.", "Drag farther.")
            return self._added(replace(bar, thickness_m=_thickness(bar.length_m)))
        if len(self.corners) > 1:
            return self._made_body([*self.corners, end])
        x, y = self.start
        if self.tool == "bent-bar":
            # With two points only, an angle piece: up (or down) first, then across.
            return self._made_body([self.start, (x, end[1]), end])
        return self._made_body([self.start, (end[0], y), end, (x, end[1])])

    def _made_body(self, corners: list[Point]) -> Change:
        kept = [
            corner for index, corner in enumerate(corners) if index == 0 or distance(corner, corners[index - 1]) > 1e-9
        ]
        least = 3 if self.tool == "plate" else 2
        if len(kept) < least:
            fail("corners", self.tool, f"It needs {least} different corners: got {len(kept)}.", "Add a corner.")
        x, y = kept[0]
        places = tuple((tidy(corner[0] - x), tidy(corner[1] - y)) for corner in kept)
        kind: BodyKind = "plate" if self.tool == "plate" else "bent-bar"
        body = replace(_new_body(self.sketch, kind), origin_m=kept[0], points_m=places)
        reach = max(distance((0.0, 0.0), place) for place in places)
        return self._added(replace(body, thickness_m=_thickness(reach)))

    def _added(self, body: Body) -> Change:
        return Change(settle(self.sketch, put(self.sketch, body)), f"Add {body.name}", body.id)

    def _hole(self, point: Point, context: Context) -> Change:
        body = body_under(self.sketch, self.start, context)
        if not body.has_area:
            fail("hole", "hole", "A hole is cut in a plate or disc.", "Press on one.")
        dragged = distance(self.start, point) > max(context.release_m, 1e-9)
        rim = point if dragged else None
        change, self.snapped = circles.new_hole(self.sketch, body, self.start, rim, context, self.snapped)
        return change

    def _support(self, point: Point, context: Context) -> Change:
        if self.tool == "face":
            return self._face(point, context)
        kind = _support_kind(self.tool)
        start, end = self.start, point
        if kind in ("rope", "strut") and not under(self.sketch, start, context) and under(self.sketch, end, context):
            start, end = end, start  # drawn from the anchor to the body
        dragged = distance(self.start, point) > max(context.release_m, 1e-9)
        held_at = start if kind in ("rope", "strut") or (kind in ("roller", "contact") and dragged) else point
        if kind not in ("rope", "strut"):
            joint = joint_places.met(self.sketch, body_under(self.sketch, held_at, context), held_at, context)
            if joint is not None:
                return self._joint(kind, joint, end if dragged else None, context)
        body, place, caught = self._place(held_at, context)
        support = Support(
            naming.fresh_id(self.sketch, kind), kind, body.id, place, naming.symbol(self.sketch, kind), AGENTS[kind]
        )
        if kind == "fixed":
            support = replace(support, couple_symbol=naming.symbol(put(self.sketch, support), "couple"))
        self.snapped = caught
        with_it = put(self.sketch, support)
        if kind in ("rope", "strut"):
            origin = shape.world(body, place)
            if not dragged:
                support = replace(support, anchor_m=tidy_point(add(origin, (0.0, usual_reach(body)))))
            else:
                with_it = put(self.sketch, replace(support, anchor_m=add(origin, (0.0, 1.0))))
                moved = moving.move_anchor(with_it, support, end, context, None)
                support, self.snapped = _entry(moved[0], support), moved[1]
        elif kind in ("roller", "contact"):
            support = replace(support, normal_deg=usual_normal(body, kind, place))
            if dragged:
                support = self._pushing(with_it, support, end, context)
        return Change(self._tied(put(self.sketch, support), support.id), f"Add {kind} {support.symbol}", support.id)

    def _joint(self, kind: SupportKind, joint: joint_places.Met, end: Point | None, context: Context) -> Change:
        """A support where two bodies meet joins them; a surface pushes the body that ends there off the other."""
        sketch = joint.sketch
        symbol = naming.symbol(self.sketch, kind)
        support = Support(
            naming.fresh_id(self.sketch, kind), kind, joint.body.id, joint.place_m, symbol, other=joint.other.id
        )
        if kind == "fixed":
            support = replace(support, couple_symbol=naming.symbol(put(sketch, support), "couple"))
        self.snapped = Snapped(joint.point, "point", joint.label, joint.other.id)
        if kind in ("roller", "contact"):
            away = joint_places.pushed_away(joint.body, joint.other, joint.point)
            support = replace(support, normal_deg=away)
            if end is not None:
                support = self._pushing(put(sketch, support), support, end, context)
        label = f"Join {joint.body.name} and {joint.other.name}"
        return Change(self._tied(put(sketch, support), support.id), label, support.id)

    def _pushing(self, sketch: Sketch, support: Support, end: Point, context: Context) -> Support:
        """A roller or contact that pushes the way the hand was dragged."""
        changed, self.snapped = moving.turn_line(put(sketch, support), support, end, context, None)
        return _entry(changed, support)

    def _face(self, point: Point, context: Context) -> Change:
        """A contact along the body from the first point to here, pressing against it from outside, or from below."""
        body = body_under(self.sketch, self.start, context)
        if body.kind == "disc":
            fail("round", "face", f"{body.name} is round: it touches at a point.", "Use a contact instead.")
        symbol = naming.symbol(self.sketch, "contact")
        made = Support(naming.fresh_id(self.sketch, "contact"), "contact", body.id, (0.0, 0.0), symbol)
        end = point if distance(self.start, point) > max(context.release_m, 1e-9) else None
        made, self.snapped = facing.between(self.sketch, made, self.start, end, context, self.snapped)
        assert made.face_m is not None
        (x, y), (to_x, to_y) = made.place_m, made.face_m
        normal = usual_normal(body, "contact", ((x + to_x) / 2.0, (y + to_y) / 2.0))
        made = replace(made, normal_deg=normal)
        return Change(self._tied(put(self.sketch, made), made.id), f"Add face {symbol}", made.id)

    def _tied(self, sketch: Sketch, support_id: str) -> Sketch:
        """The first support of a sketch without a pivot takes the pivot along."""
        if sketch.pivot is None:
            sketch = replace(sketch, pivot=Pivot((0.0, 0.0), support_id))
        return settle(self.sketch, sketch)

    def _load(self, point: Point, context: Context) -> Change:
        tool = self.tool
        if tool == "spread":
            body = body_under(self.sketch, self.start, context)
            dragged = distance(self.start, point) > max(context.release_m, 1e-9)
            end = point if dragged else None
            change, self.snapped = spreading.new_load(self.sketch, body, self.start, end, context, self.snapped)
            return change
        body, place, caught = self._place(self.start if tool == "force" else point, context)
        self.snapped = caught
        new_id, symbol = naming.fresh_id(self.sketch, tool), naming.symbol(self.sketch, tool)
        if tool == "thing":
            thing = Thing(new_id, body.id, place, symbol, "thing", _NEW_THING_KG)
            return Change(settle(self.sketch, put(self.sketch, thing)), f"Add thing {symbol}", new_id)
        if tool == "couple":
            couple = Couple(new_id, body.id, place, symbol, couple_n_m=step_at_least(context.newtons_per_m))
            return Change(settle(self.sketch, put(self.sketch, couple)), f"Add couple {symbol}", new_id)
        force = Force(new_id, body.id, place, symbol, size_n=_usual_force(self.sketch, context))
        if distance(self.start, point) > max(context.release_m, 1e-9):
            moved = moving.move_head(put(self.sketch, force), force, point, context, None)
            return Change(settle(self.sketch, self._snapped(moved)), f"Add force {symbol}", new_id)
        return Change(settle(self.sketch, put(self.sketch, force)), f"Add force {symbol}", new_id)

    def _snapped(self, moved: moving.Moved) -> Sketch:
        self.snapped = moved[1]
        return moved[0]

    def _place(self, point: Point, context: Context) -> tuple[Body, Point, Snapped]:
        body = body_under(self.sketch, point, context)
        place, caught = snap_place(self.sketch, body, place_on(body, point), context, self.snapped)
        return body, place, caught


def _entry(sketch: Sketch, support: Support) -> Support:
    return next(one for one in sketch.supports if one.id == support.id)


def _support_kind(tool: str) -> SupportKind:
    kinds: dict[str, SupportKind] = {
        "pin": "pin",
        "roller": "roller",
        "rope": "rope",
        "strut": "strut",
        "fixed": "fixed",
        "contact": "contact",
    }
    return kinds[tool]


def _new_body(sketch: Sketch, kind: BodyKind) -> Body:
    return Body(naming.fresh_id(sketch, kind), kind, naming.body_name(sketch, kind), (0.0, 0.0), 0.0)


def _thickness(length_m: float) -> float:
    """Drawn thickness: a quarter metre at ordinary sizes, in proportion at others."""
    return 0.25 if 4.0 <= length_m <= 12.0 else float(f"{0.04 * length_m:.2g}")


def usual_reach(body: Body) -> float:
    """How far off a rope's or strut's far end is until it is moved, metres."""
    low, high = shape.extent(body)
    return float(f"{0.5 * max(high[0] - low[0], high[1] - low[1]):.2g}")


def _usual_force(sketch: Sketch, context: Context) -> float:
    """The size of an arrow placed by a tap alone: round, and long enough to hold."""
    if context.step_m <= 0.0:
        return _NEW_FORCE_N
    factor = factor_of("force", sketch.settings)
    step = step_at_least(6.0 * context.step_m * context.newtons_per_m / factor)
    return round_to(step * factor, step, factor)


def usual_normal(body: Body, kind: str, place: Point) -> float:
    """Which way a roller (up) or a contact pushes at a place of the body (its frame) until it is turned.

    A contact pushes square to the body: a plate inwards, at a corner from the edge more below it; a bar on its upper
    side, but its lower end stands on something level; the rim of a disc towards its centre.
    """
    inward = shape.inward_deg(body, place)
    if kind == "contact" and inward is not None:
        return tidy(inward % 360.0)
    if kind == "roller" or body.kind == "disc":
        return 90.0
    if body.kind == "plate":
        return _inward(body, place)
    first, last = spread.piece_at(body, place)
    normal = (angle_between(first, last) + body.angle_deg + 90.0) % 360.0
    upward = direction(normal)[1]
    if 1e-9 < abs(upward) < 1.0 - 1e-9 and _is_lowest_end(body, place):
        return 90.0
    return tidy(normal if upward >= 0.0 else (normal + 180.0) % 360.0)


def _is_lowest_end(body: Body, place: Point) -> bool:
    """Whether this is the end of a bar below all the rest of it."""
    corners = shape.axis(body)
    here = shape.world(body, place)
    lowest = min(corners, key=lambda corner: corner[1])
    return lowest in (corners[0], corners[-1]) and distance(here, lowest) <= 1e-9 * max(
        1.0, distance(*shape.ends(body))
    )


def _inward(body: Body, place: Point) -> float:
    """The direction into a plate, square to the edge nearest to a place; of two that meet there, the more upward."""
    reach = max(distance((0.0, 0.0), corner) for corner in body.points_m) or 1.0
    best: tuple[float, float, float] | None = None
    for first, last in spread.pieces(body):
        size = distance(first, last)
        if size == 0.0:
            continue
        near, _ = nearest_on_segment(place, first, last)
        x, y = (first[1] - last[1]) / size, (last[0] - first[0]) / size
        middle = ((first[0] + last[0]) / 2.0, (first[1] + last[1]) / 2.0)
        probe = shape.world(body, (middle[0] + 1e-6 * reach * x, middle[1] + 1e-6 * reach * y))
        if distance(shape.world(body, shape.nearest_place(body, probe)), probe) > 1e-9 * reach:
            x, y = 0.0 - x, 0.0 - y
        angle = (angle_between((0.0, 0.0), (x, y)) + body.angle_deg) % 360.0
        rank = (round(distance(near, place) / reach, 9), -round(direction(angle)[1], 9), angle)
        best = rank if best is None else min(best, rank)
    return 90.0 if best is None else tidy(best[2])


def under(sketch: Sketch, point: Point, context: Context) -> Body | None:
    """The body nearest to a point, if the point is on it or within reach of the hand."""
    return shaping.under(sketch, point, 2.0 * context.release_m + 1e-9)


def body_under(sketch: Sketch, point: Point, context: Context) -> Body:
    """The body under the hand; raises `SteelyardError` when there is none."""
    body = under(sketch, point, context)
    if body is None:
        if not sketch.bodies:
            fail("no-body", "", "There is no body yet for it to act on.", "Draw a bar first.")
        fail("off-body", "", "It has to begin on the body.", "Press on the body itself.")
    return body


def _snap_free(
    sketch: Sketch, point: Point, origin: Point | None, context: Context, previous: Snapped | None
) -> Snapped:
    found = candidates(sketch, context, origin=origin, lines=compass() if origin is not None else ())
    return snap(point, found, context.catch_m, context.release_m, previous)


def middle(body: Body) -> Point:
    """A point of the body near its middle, in the world."""
    return shape.world(body, place_on(body, shape.centre_of_mass(body)))

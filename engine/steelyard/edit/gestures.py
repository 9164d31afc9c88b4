"""Moving what is there: a grip is held, and every point of the paper the hand passes gives a whole sketch."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from ..errors import SteelyardError
from ..geometry import Point, add, direction, scale, subtract
from ..model import Body, Couple, Force, Sketch, SpreadLoad, Support
from ..statics import shape
from ..units import factor_of
from . import circles, facing, grips, moving, pieces, spreading
from .change import Change, Entity, angle_between, arrow_place, fail, find, name_of, put, tidy, tidy_point
from .context import Context
from .describe import readout
from .joining import settle, went_along
from .shaping import at_place
from .snapping import Snapped, round_step, step_at_least
from .unknowns import guess_of, part_of, symbol_of

# Held by its ends, or by any of the grips that are its place, a face moves along its piece.
_FACE_GRIPS = (*facing.ENDS, *grips.PLACE_GRIPS)


class Gesture:
    """One hold on one grip.

    `at` always starts from the sketch as it was at the beginning, so dropping a preview is harmless. A point
    that would leave an unsound sketch keeps the last sound one; `problem` then says why.
    Raises `SteelyardError` when the grip does not exist or cannot move.
    """

    def __init__(self, sketch: Sketch, of: str, grip: str, start_point: Point, context: Context) -> None:
        reason = grips.locked(sketch, of, grip)
        if reason:
            fail("locked", of, reason)
        held = grips.position(sketch, of, grip, context.newtons_per_m, context.intensity_per_m)
        self.before = sketch
        self.of = of
        self.grip = grip
        self.sketch = sketch
        self.snapped: Snapped | None = None
        self.problem = ""
        # The hand rarely holds a grip in its exact middle; what is moved keeps that distance.
        self._offset = (0.0, 0.0) if held is None else subtract(held, start_point)

    def at(self, point: Point, context: Context) -> Sketch:
        """The sketch with the hand at this point of the paper."""
        return self._move(add(point, self._offset), context)

    def nudge(self, dx: float, dy: float, context: Context) -> Sketch:
        """The sketch with the grip moved on by steps of the smallest round size, exactly and without snapping."""
        free = replace(context, catch_m=0.0)
        self.snapped = None
        turning = self._turns()
        if turning is not None:
            self._take(lambda: _turned(self.sketch, turning, dx, dy), self.sketch)
            return self.sketch
        step_m = round_step(context.step_m, self.before.settings) * factor_of("length", self.before.settings)
        shift = scale((dx, dy), step_m)
        entity = None if self.of in grips.PIVOTS else find(self.sketch, self.of)
        if isinstance(entity, SpreadLoad):
            load = entity
            self._take(lambda: spreading.nudged(self.sketch, load, self.grip, dx, dy, context), self.sketch)
            return self.sketch
        if isinstance(entity, Support) and entity.face_m is not None and self.grip in _FACE_GRIPS:
            contact = entity
            self._take(lambda: facing.nudged(self.sketch, contact, self.grip, dx, dy, step_m), self.sketch)
            return self.sketch
        if entity is not None and self._on_a_bar(entity):
            self._take(lambda: _along(self.sketch, entity, self.grip, shift, step_m), self.sketch)
            return self.sketch
        held = self._position(context)
        arrow = self._nudged_arrow(entity, held, dx, dy, context)
        return self._move(arrow if arrow is not None else tidy_point(add(held, shift)), free, self.sketch)

    def change(self) -> Change:
        """What the gesture comes to: the last sound sketch, and what undo calls it."""
        entity = None if self.of in grips.PIVOTS else find(self.before, self.of)
        name = self.of.replace("-", " ") if entity is None else name_of(entity)
        if isinstance(entity, Support):
            name = symbol_of(entity, self.of)
        verb = "Guess" if self.grip == "guess" or self._pulls_guess(entity) else "Move"
        return Change(self.sketch, f"{verb} {name}")

    @property
    def readout(self) -> str:
        """What the grip now is, in words and digits, for a line near the hand; and what goes along."""
        if self.problem:
            return self.problem
        along = went_along(self.before, self.sketch, self._own_body())
        said = readout(self.sketch, self.of, self.grip, self.snapped)
        return said if not along else f"{said} · {' and '.join(along)} {'goes' if len(along) == 1 else 'go'} along"

    def _own_body(self) -> str | None:
        """The body that is held, or that what is held sits on."""
        if self.of in grips.PIVOTS:
            return None
        entity = find(self.before, self.of)
        return entity.id if isinstance(entity, Body) else entity.body

    def _move(self, point: Point, context: Context, base: Sketch | None = None) -> Sketch:
        start = self.before if base is None else base
        previous = self.snapped

        def moved() -> Sketch:
            changed, self.snapped = _moved(start, self.of, self.grip, point, context, previous)
            return changed

        self._take(moved, start)
        return self.sketch

    def _take(self, make: Callable[[], Sketch], start: Sketch) -> None:
        """Takes a sketch made of the one at the start, unless it is unsound."""
        try:
            self.sketch = settle(start, make())
            self.problem = ""
        except SteelyardError as problem:
            self.problem = problem.message

    def _turns(self) -> Support | None:
        if self.of in grips.PIVOTS or self.grip not in ("normal", "head"):
            return None
        entity = find(self.sketch, self.of)
        if not isinstance(entity, Support) or entity.kind not in ("roller", "contact"):
            return None
        return entity if self.grip == "normal" or _turns_line(self.sketch, entity, self.of) else None

    def _pulls_guess(self, entity: Entity | None) -> bool:
        if self.grip != "head":
            return False
        if isinstance(entity, Force):
            return entity.role == "unknown"
        if isinstance(entity, Couple):
            return entity.role == "unknown"
        return isinstance(entity, Support) and not _turns_line(self.before, entity, self.of)

    def _on_a_bar(self, entity: Entity) -> bool:
        if isinstance(entity, Body):
            return entity.kind == "bar" and (self.grip == "centre" or self.of != entity.id)
        if self.grip not in grips.PLACE_GRIPS or entity.body is None:
            return False
        return self.sketch.body(entity.body).kind == "bar"

    def _position(self, context: Context) -> Point:
        held = grips.position(self.sketch, self.of, self.grip, context.newtons_per_m, context.intensity_per_m)
        if held is not None:
            return held
        entity = find(self.sketch, self.of)
        assert isinstance(entity, Support | Force | Couple)
        place = arrow_place(self.sketch, entity)
        if isinstance(entity, Support) and entity.anchor_m is not None and _turns_line(self.sketch, entity, self.of):
            return entity.anchor_m
        guess = guess_of(entity, self.of)
        if guess is None:
            return place
        return add(place, scale(direction(guess.direction_deg), guess.size_n / context.newtons_per_m))

    def _nudged_arrow(self, entity: Entity | None, held: Point, dx: float, dy: float, context: Context) -> Point | None:
        """The tip of an arrow moved by a round number of newtons; None when it is not an arrow that is held."""
        is_load = isinstance(entity, Force | Couple)
        arrow = self.grip == "guess" or (is_load and self.grip == "head") or self._pulls_guess(entity)
        if not arrow or context.step_m <= 0.0:
            return None
        factor = factor_of("force", self.before.settings)
        step_n = step_at_least(context.newtons_per_m * context.step_m / factor) * factor
        return add(held, scale((dx, dy), step_n / context.newtons_per_m))


def _along(sketch: Sketch, entity: Entity, grip: str, shift: Point, step_m: float) -> Sketch:
    """A place on a bar moved on by exact steps along it, whichever way the bar lies."""
    body = entity if isinstance(entity, Body) else sketch.body(entity.body or "")
    axis = direction(body.angle_deg)
    part = shift[0] * axis[0] + shift[1] * axis[1]
    size = max(abs(shift[0]), abs(shift[1]), step_m if part else 0.0)
    held = shape.centre_place(body)[0] if isinstance(entity, Body) else entity.place_m[0]
    steady = abs(part) > 1e-9 * size
    along = held + (size if part > 0.0 else -size) if steady else held
    place = (tidy(min(body.length_m, max(0.0, along))), 0.0)
    if isinstance(entity, Body):
        return put(sketch, replace(entity, centre_m=place))
    return put(sketch, at_place(sketch, entity, place))


def _moved(
    sketch: Sketch, of: str, grip: str, point: Point, context: Context, previous: Snapped | None
) -> moving.Moved:
    if of in grips.PIVOTS:
        return moving.move_pivot(sketch, of == grips.SECOND_PIVOT, point, context, previous)
    entity = find(sketch, of)
    if isinstance(entity, Body):
        return _move_body_grip(sketch, entity, "centre" if of != entity.id else grip, point, context, previous)
    if isinstance(entity, SpreadLoad) and grip in (*spreading.ENDS, *spreading.HEIGHTS):
        return spreading.move_grip(sketch, entity, grip, point, context, previous)
    if isinstance(entity, Support) and entity.face_m is not None and grip in facing.ENDS:
        return facing.move_end(sketch, entity, grip, point, context, previous)
    if grip in grips.PLACE_GRIPS:
        return moving.move_place(sketch, entity, point, context, previous)
    if isinstance(entity, Support):
        if grip == "anchor":
            return moving.move_anchor(sketch, entity, point, context, previous)
        if grip == "pulley":
            return moving.move_pulley(sketch, entity, point, context, previous)
        if part_of(entity, of) == "couple":
            return moving.pull_couple(sketch, entity, point, context)
        if grip == "normal" or (grip == "head" and _turns_line(sketch, entity, of)):
            return moving.turn_line(sketch, entity, point, context, previous)
        return moving.pull_guess(sketch, entity, of, point, context, previous)
    if isinstance(entity, Couple):
        return moving.pull_couple(sketch, entity, point, context)
    if isinstance(entity, Force):
        if grip == "slide":
            return moving.slide(sketch, entity, point, context)
        if entity.role == "known":
            return moving.move_head(sketch, entity, point, context, previous)
        return moving.pull_guess(sketch, entity, of, point, context, previous)
    fail("grip", of, f'There is no grip called "{grip[:20]}" here.', "Take hold of another one.")


def _turned(sketch: Sketch, support: Support, dx: float, dy: float) -> Sketch:
    """The line of a roller or contact turned on by whole degrees; over a face it can only change sides."""
    if support.face_m is not None:
        angle = angle_between((0.0, 0.0), (dx, dy))
        return put(sketch, facing.towards(support, sketch.body(support.body), angle))
    return put(sketch, replace(support, normal_deg=moving.turned_by(support.normal_deg, dy - dx)))


def _turns_line(sketch: Sketch, support: Support, of: str) -> bool:
    """Whether the head of a support's force turns its line; with answers kept back it pulls a guess along it.

    Friction has the line of its surface, and a rope to another body that from one to the other: their heads always
    pull a guess.
    """
    if of != support.id or (support.anchor_m is not None and support.other is not None):
        return False
    return support.kind not in ("pin", "fixed") and support.guess is None and sketch.answers == "shown"


def _move_body_grip(
    sketch: Sketch, body: Body, grip: str, point: Point, context: Context, previous: Snapped | None
) -> moving.Moved:
    if grip == "centre":
        return moving.move_centre(sketch, body, point, context, previous)
    if grip in ("start", "end") and body.kind == "bar":
        return moving.move_end(sketch, body, grip == "start", point, context, previous)
    piece = pieces.piece_of(body, grip)
    if piece is not None:
        return pieces.move_piece(sketch, body, piece, point, context, previous)
    if circles.grip_position(body, grip) is not None:
        return circles.move_grip(sketch, body, grip, point, context, previous)
    index = grips.corner_index(body, grip)
    if index is not None:
        return moving.move_corner(sketch, body, index, point, context, previous)
    return moving.move_body(sketch, body, point, context, previous)

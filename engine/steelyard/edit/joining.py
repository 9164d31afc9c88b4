"""Joints stay together: where one body of a joint is changed, the other follows.

A body that is only shifted takes all that is joined to it along. Otherwise a bar that is held at its other end too
turns and stretches about that end, and any other body is shifted until it meets the joint again. A change that
would pull some joint apart all the same is refused.
"""

from __future__ import annotations

from dataclasses import replace

from ..geometry import Point, distance, subtract
from ..model import Body, Sketch, SpreadLoad, Support
from ..statics import meeting, shape
from .change import entities_on, fail, made_sound, put, tidy, tidy_point
from .isolating import opened
from .shaping import bar_between, carried_place, moved, reshaped

# A joint has moved when its two places differ by more than rounding, of the size of their coordinates.
_ROUNDING = 1e-9


def settle(before: Sketch, after: Sketch) -> Sketch:
    """What every change ends with: joints stay together, what is new can be seen, and the whole is sound.

    Raises `SteelyardError` when the change would leave an unsound sketch; then nothing has changed.
    """
    return made_sound(before, opened(before, together(before, after)))


def together(before: Sketch, after: Sketch) -> Sketch:
    """The sketch after a change, with every joint that was there still together; raises `SteelyardError`."""
    joints = [each for each in after.supports if meeting.meets(each)]
    if not joints or (before.bodies == after.bodies and before.supports == after.supports):
        return after
    return _Carrying(before, after, joints).sketch


def went_along(before: Sketch, after: Sketch, own: str | None) -> tuple[str, ...]:
    """Names of bodies that a change to another thing, on the body `own` or that itself, has moved too."""
    old = {body.id: body for body in before.bodies}
    moved_too = [body for body in after.bodies if body.id != own and old.get(body.id, body) != body]
    return tuple(body.name for body in moved_too)


class _Carrying:
    def __init__(self, before: Sketch, after: Sketch, joints: list[Support]) -> None:
        self.sketch = after
        self.was = {body.id: body for body in before.bodies}
        old = {each.id: each for each in before.supports}
        # Where each joint is on each of its bodies (their frames), after the change.
        self.places: dict[tuple[str, str], Point] = {}
        # Joints a hand has slid along: they hold the other body wherever they now are on it.
        self.slid: set[str] = set()
        self.joints = [each for each in joints if self._place(old.get(each.id), each)]
        changed = [body.id for body in after.bodies if self.was.get(body.id, body) != body]
        self.shifted_only = len({_shift(self.was[each], after.body(each)) for each in changed}) == 1 and None not in {
            _shift(self.was[each], after.body(each)) for each in changed
        }
        self.settled = set(changed) | {each.body for each in self.joints if each.id in self.slid}
        self._carry([*self.settled])

    def _place(self, old: Support | None, joint: Support) -> bool:
        """Notes where a joint was on both of its bodies; False for one that is new, which binds nothing yet."""
        if old is None or (old.body, old.other) != (joint.body, joint.other) or not meeting.meets(old):
            return False
        assert joint.other is not None
        other_id = joint.other
        if joint.body not in self.was or other_id not in self.was:
            return False
        body, other = self.was[joint.body], self.was[other_id]
        new_body = self.sketch.body(joint.body)
        place = joint.place_m
        if place == old.place_m:
            place = _followed(body, new_body, place)
            if place != joint.place_m:
                joint = replace(joint, place_m=place)
                self.sketch = put(self.sketch, joint)
        elif body == new_body:
            self.slid.add(joint.id)
        self.places[joint.id, joint.body] = place
        on_other = shape.local(other, shape.world(body, old.place_m))
        self.places[joint.id, other_id] = _followed(other, self.sketch.body(other_id), on_other)
        return True

    def _carry(self, queue: list[str]) -> None:
        while queue:
            here = queue.pop(0)
            for joint in self.joints:
                there = meeting.partner_of(joint, here) if here in (joint.body, joint.other) else None
                if there is None:
                    continue
                at, held = self._at(joint, here), self._at(joint, there)
                if distance(at, held) <= _ROUNDING * max(1.0, abs(at[0]), abs(at[1])):
                    continue
                other = self.sketch.body(there)
                if joint.id in self.slid and meeting.gap(other, at) <= meeting.reach(other):
                    continue
                if there in self.settled:
                    if distance(at, held) > meeting.reach(other):
                        self._refuse(joint, other)
                    continue
                self._follow(joint, other, subtract(at, held), at)
                self.settled.add(there)
                queue.append(there)

    def _at(self, joint: Support, body_id: str) -> Point:
        return shape.world(self.sketch.body(body_id), self.places[joint.id, body_id])

    def _follow(self, joint: Support, body: Body, shift: Point, at: Point) -> None:
        place = self.places[joint.id, body.id]
        end = None if self.shifted_only or joint.id in self.slid else _end_at(body, place)
        far = None if end is None else shape.ends(body)[1 - end]
        if end is None or far is None or not self._held_at(body, far, joint.id):
            self.sketch = moved(self.sketch, body, shift)
            return
        self.sketch = stretched(self.sketch, body, at_start=end == 0, end=at)
        changed = self.sketch.body(body.id)
        for each in self.joints:
            if (each.id, body.id) in self.places:
                on_it = _followed(body, changed, self.places[each.id, body.id])
                self.places[each.id, body.id] = on_it if each.id != joint.id else shape.places(changed)[-end]

    def _held_at(self, body: Body, point: Point, but: str) -> bool:
        """Whether something holds a body at one of its ends."""
        near = meeting.reach(body)
        return any(
            each.id != but
            and each.kind in meeting.JOINTS
            and distance(meeting.place_on(self.sketch, each, body.id), point) <= near
            for each in meeting.supports_on(self.sketch, body.id)
        )

    def _refuse(self, joint: Support, body: Body) -> None:
        message = f"That would pull {joint.symbol} apart: {body.name} is held elsewhere as well."
        fail("apart", joint.id, message, "Take one of the joints away first.")


def stretched(sketch: Sketch, bar: Body, *, at_start: bool, end: Point) -> Sketch:
    """A bar with one end somewhere else; the other stays with all that is at it."""
    start_now, end_now = (tidy_point(each) for each in shape.ends(bar))
    changed = bar_between(bar, end, end_now) if at_start else bar_between(bar, start_now, end)
    if changed.length_m <= 0.0:
        fail("zero-length", bar.id, f"{bar.name} would have no length left.", "Move it another way.")
    at_end = {
        each.id
        for each in entities_on(sketch, bar.id)
        if not isinstance(each, SpreadLoad) and _end_at(bar, each.place_m) == 1
    }
    sketch = reshaped(sketch, changed)
    for each in entities_on(sketch, bar.id):
        if each.id in at_end and not isinstance(each, SpreadLoad):
            sketch = put(sketch, replace(each, place_m=(changed.length_m, 0.0)))
    return sketch


def _end_at(body: Body, place: Point) -> int | None:
    """Which end of a bar a place is, 0 or 1; None elsewhere and on other bodies."""
    if body.kind != "bar":
        return None
    near = meeting.reach(body)
    for end, at in enumerate(shape.places(body)):
        if distance(at, place) <= near:
            return end
    return None


def _shift(before: Body, after: Body) -> Point | None:
    """How far a body was shifted; None when it was turned or reshaped."""
    if replace(after, origin_m=before.origin_m) != before:
        return None
    x, y = subtract(after.origin_m, before.origin_m)
    return (round(x, 9), round(y, 9))


def _followed(before: Body, after: Body, place: Point) -> Point:
    """A place of a body (its frame) after the body was reshaped: ends stay ends, what is on an edge stays on it."""
    if shape.places(before) == shape.places(after):
        return place
    if before.kind == "bar":
        if _end_at(before, place) == 1:
            return (after.length_m, place[1])
        return (tidy(min(after.length_m, max(0.0, place[0]))), place[1])
    return carried_place(before, after, place)

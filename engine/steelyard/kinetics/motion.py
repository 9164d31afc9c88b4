"""A short motion from rest: fixed steps, supports kept exactly, and the energy watched.

Runge and Kutta's fourth-order steps in (x, y, θ) with the accelerations that the supports leave; after each step place
and speed are brought back on what the supports allow, by the shortest way in the measure of the masses. Steps are
halved until the energy is kept; what is left is returned. It ends at the first change of what holds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..model import Sketch
from ..statics.isolate import acting_forces, find_body
from .following import not_followed
from .gripping import Way
from .mover import Mover
from .movers import Movers
from .release import release, without_conditions
from .released import Release
from .touching import touches_of
from .walking import EndKind, Pose, walked

# Poses kept of a motion, evenly in time but for the last.
SAMPLES = 120
LONGEST_S = 5.0
# How often steps may be halved to keep the energy.
HALVINGS = 4
# The same for joined bodies, whose steps take more work.
FEW_HALVINGS = 2
# Where their energy is not kept to this part all the same, less of the motion is shown, at most so often by half.
ENERGY_ASKED = 1e-5
SHORTENED = 3


@dataclass(frozen=True, slots=True)
class Motion:
    """Poses from rest to the end. `ends` says why it ends, `of` what changed there ("" when the time was up).

    `on_the_way`: what began to slip, or stopped, before: when, what, and where. `energy_error`: the greatest gain or
    loss of energy, as a part of the greatest energy of motion. `step_s`: the step. `bodies`: of joined bodies, the
    poses of each by its id; every pose has the energy of motion of them all.
    """

    poses: tuple[Pose, ...]
    ends: EndKind
    of: str
    energy_error: float
    step_s: float
    on_the_way: tuple[tuple[float, EndKind, str], ...] = ()
    bodies: tuple[tuple[str, tuple[Pose, ...]], ...] = ()

    @property
    def duration_s(self) -> float:
        """How long it lasts."""
        return self.poses[-1].time_s


def motion(sketch: Sketch, start: Release | None = None, *, body_id: str | None = None) -> Motion | None:
    """What a body does when let go, for a moment; None while it stays at rest or has no answer.

    The time is a little more than it takes to move by its own reach, five seconds at most.
    """
    body = find_body(sketch, body_id)
    start = release(sketch, body.id) if start is None else start
    if start.trouble or start.all_at_rest or start.agreeing != 1 or not_followed(sketch, start):
        return None
    sketch = without_conditions(sketch)
    holding, touching = _holding(sketch, body.id, start)
    while True:
        found = (
            _followed_together(Movers(sketch, start, holding), start)
            if start.bodies
            else _followed(Mover(sketch, body, start, holding))
        )
        # What only touches at first may be pressed at once: then it holds from the beginning.
        pressed = [key for key in touching if key[0] == found.of]
        if found.ends == "holds again" and pressed and found.duration_s <= 2.0 * found.step_s:
            for key in pressed:
                holding[key] = touching.pop(key)
            continue
        return found


Touching = dict[tuple[str, int | None], Way]


def _holding(sketch: Sketch, body_id: str, start: Release) -> tuple[Touching, Touching]:
    """What holds of all that acts one way only as it starts, and what only touches."""
    if start.bodies:
        together: tuple[Touching, Touching] = ({}, {})
        for grip in start.grips:
            if grip.way != "lifts":
                together[1 if grip.push == 0.0 else 0][grip.force, grip.face] = grip.way
        return together
    if start.gripped is None:
        ways: dict[str, Touching] = {"holds": {}, "touches": {}}
        for held in start.held:
            if held.force.one_way and held.mode in ways:
                ways[held.mode][held.force.id, None] = "holds"
        return ways["holds"], ways["touches"]
    holding: Touching = {}
    touching: Touching = {}
    touches = touches_of(acting_forces(sketch, body_id))
    for touch, way, push in zip(touches, start.gripped.ways, start.gripped.pushes, strict=True):
        if way != "lifts":
            (touching if push == 0.0 else holding)[touch.force, touch.face] = way
    return holding, touching


def _followed(mover: Mover) -> Motion:
    walk = walked(mover, _duration(mover), SAMPLES, HALVINGS)
    return Motion(walk.poses, walk.ends, walk.of, walk.energy_error, walk.step_s, walk.on_the_way)


def _followed_together(movers: Movers, start: Release) -> Motion:
    duration_s = _time(movers.fastest, movers.reach)
    walk = walked(movers, duration_s, SAMPLES, FEW_HALVINGS)
    for _ in range(SHORTENED):
        if walk.energy_error <= ENERGY_ASKED:
            break
        duration_s /= 2.0
        walk = walked(movers, duration_s, SAMPLES, FEW_HALVINGS)
    bodies = tuple((part.body, tuple(each[number] for each in walk.poses)) for number, part in enumerate(start.bodies))
    own = dict(bodies)[start.body]
    return Motion(own, walk.ends, walk.of, walk.energy_error, walk.step_s, walk.on_the_way, bodies)


def _duration(mover: Mover) -> float:
    at = mover.begins
    (ax, ay, turn), _ = mover.motion(at)
    return _time(math.hypot(ax, ay) + abs(turn) / mover.radius * mover.reach, mover.reach)


def _time(fastest: float, reach: float) -> float:
    """A little more than it takes to move by the reach."""
    return min(LONGEST_S, float(f"{2.4 * math.sqrt(2.0 * reach / fastest):.1e}")) if fastest else LONGEST_S

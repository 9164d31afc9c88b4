"""A short motion from rest: fixed steps, supports kept exactly, and the energy watched.

Runge and Kutta's fourth-order steps in (x, y, θ) with the accelerations that the supports leave; after each step place
and speed are brought back on what the supports allow, by the shortest way in the measure of the masses. Steps are
halved until the energy is kept; what is left is returned. It ends at the first change of what holds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..model import Sketch
from .gripping import Way
from .isolate import acting_forces, find_body
from .mover import Change, EndKind, Moment, Mover, Pose
from .release import release, without_conditions
from .released import Release
from .touching import touches_of

# Poses kept of a motion, evenly in time but for the last.
SAMPLES = 120
LONGEST_S = 5.0
# So much of the largest energy of motion may be lost or won before steps are halved, and how often they are.
ENERGY_WANTED = 1e-8
HALVINGS = 4
# Bisections of the step in which something changes: the time is then right to the last digits.
BISECTIONS = 45
# How often a contact may begin to slip or to stick on the way.
MOST_SWITCHES = 20


@dataclass(frozen=True, slots=True)
class Motion:
    """Poses from rest to the end. `ends` says why it ends, `of` what changed there ("" when the time was up).

    `on_the_way`: what began to slip, or stopped, before: when, what, and where. `energy_error`: the greatest gain or
    loss of energy, as a part of the greatest energy of motion. `step_s`: the step.
    """

    poses: tuple[Pose, ...]
    ends: EndKind
    of: str
    energy_error: float
    step_s: float
    on_the_way: tuple[tuple[float, EndKind, str], ...] = ()

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
    if start.trouble or start.at_rest or start.agreeing != 1:
        return None
    sketch = without_conditions(sketch)
    holding, touching = _holding(sketch, body.id, start)
    while True:
        mover = Mover(sketch, body, start, holding)
        found = _kept(mover, _duration(mover))
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


def _duration(mover: Mover) -> float:
    at = mover.begins
    (ax, ay, turn), _ = mover.motion(at)
    fastest = math.hypot(ax, ay) + abs(turn) / mover.radius * mover.reach
    return min(LONGEST_S, float(f"{2.4 * math.sqrt(2.0 * mover.reach / fastest):.1e}")) if fastest else LONGEST_S


def _kept(mover: Mover, duration_s: float) -> Motion:
    """The motion with steps fine enough to keep the energy."""
    best: Motion | None = None
    for halving in range(HALVINGS + 1):
        found = _walked(mover, duration_s, 1 << halving)
        if best is None or found.energy_error < best.energy_error:
            best = found
        if found.energy_error <= ENERGY_WANTED:
            break
    assert best is not None
    return best


def _walked(mover: Mover, duration_s: float, steps: int) -> Motion:
    """`steps` steps from each pose kept to the next; a contact that begins to slip, or stops, goes on so."""
    step_s = duration_s / (SAMPLES * steps)
    moment = mover.begins
    poses = [mover.posed(moment, 0.0)]
    began = mover.energy(moment)
    error = time_s = 0.0
    ends = Change("time", "")
    switches: list[tuple[float, EndKind, str]] = []
    for count in range(1, SAMPLES * steps + 1):
        change: Change | None = None
        while time_s < count * step_s and change is None:
            left_s = count * step_s - time_s
            after = mover.stepped(moment, left_s)
            change = mover.changed(after, time_s + left_s)
            if change is not None:
                left_s, after, change = _when(mover, moment, time_s, left_s, change)
            moment, time_s = after, time_s + left_s
            error = max(error, abs(mover.energy(moment) - began))
            if (
                change is not None
                and (on := _going_on(mover, moment, time_s, change))
                and len(switches) < MOST_SWITCHES
            ):
                switches.append((time_s, change.ends, change.of))
                mover, moment, change = on, on.begins, None
        if change is not None or count % steps == 0:
            poses.append(mover.posed(moment, time_s))
        if change is not None:
            ends = change
            break
    most = max(pose.kinetic_j for pose in poses)
    error = error / most if most > 0.0 else 0.0
    return Motion(tuple(poses), ends.ends, ends.of, error, step_s, tuple(switches))


def _going_on(mover: Mover, moment: Moment, time_s: float, change: Change) -> Mover | None:
    """The motion after a contact sticks or slips otherwise; where sticking does not hold, it slips back."""
    on = mover.going_on(moment, change)
    if on is None or change.way != "sticks":
        return on
    again = on.changed(on.begins, time_s)
    return on if again is None else on.going_on(moment, again)


def _when(mover: Mover, moment: Moment, time_s: float, step_s: float, change: Change) -> tuple[float, Moment, Change]:
    """How far into a step something changes first, where the body is then, and what it is."""
    low, high = 0.0, step_s
    after = mover.stepped(moment, high)
    for _ in range(BISECTIONS):
        middle = 0.5 * (low + high)
        there = mover.stepped(moment, middle)
        found = mover.changed(there, time_s + middle)
        if found is None:
            low = middle
        else:
            high, after, change = middle, there, found
    return high, after, change

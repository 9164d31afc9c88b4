"""A short motion from rest: fixed steps, supports kept exactly, and the energy watched.

Runge and Kutta's fourth-order steps in (x, y, θ) with the accelerations that the supports leave; after each step place
and speed are brought back on what the supports allow, by the shortest way in the measure of the masses. Steps are
halved until the energy is kept; what is left is returned. It ends at the first change of what holds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..model import Sketch
from .isolate import find_body
from .mover import EndKind, Moment, Mover, Pose
from .release import Release, release

# Poses kept of a motion, evenly in time but for the last.
SAMPLES = 120
LONGEST_S = 5.0
# So much of the largest energy of motion may be lost or won before steps are halved, and how often they are.
ENERGY_WANTED = 1e-8
HALVINGS = 4
# Bisections of the step in which something changes: the time is then right to the last digits.
BISECTIONS = 45


@dataclass(frozen=True, slots=True)
class Motion:
    """Poses from rest to the end. `ends` says why it ends, `of` what changed there ("" when the time was up).

    `energy_error`: the greatest gain or loss of energy, as a part of the greatest energy of motion. `step_s`: the step.
    """

    poses: tuple[Pose, ...]
    ends: EndKind
    of: str
    energy_error: float
    step_s: float

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
    holding = frozenset(held.force.id for held in start.held if held.force.one_way and held.mode == "holds")
    touching = [held.force.id for held in start.held if held.mode == "touches"]
    while True:
        mover = Mover(sketch, body, start, holding)
        found = _kept(mover, _duration(mover))
        # What only touches at first may be pressed at once: then it holds from the beginning.
        if found.ends == "holds again" and found.of in touching and found.duration_s <= 2.0 * found.step_s:
            holding |= {found.of}
            touching.remove(found.of)
            continue
        return found


def _duration(mover: Mover) -> float:
    at = Moment((mover.centre[0], mover.centre[1], 0.0), (0.0, 0.0, 0.0))
    (ax, ay, turn), _, _ = mover.motion(at)
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
    """`steps` steps from each pose kept to the next."""
    step_s = duration_s / (SAMPLES * steps)
    moment = Moment((mover.centre[0], mover.centre[1], 0.0), (0.0, 0.0, 0.0))
    poses = [mover.posed(moment, 0.0)]
    began = mover.energy(moment)
    error = 0.0
    ends: tuple[EndKind, str] = ("time", "")
    for count in range(1, SAMPLES * steps + 1):
        after = mover.stepped(moment, step_s)
        time_s = count * step_s
        change = mover.changed(after, time_s)
        if change is not None:
            share, after, change = _when(mover, moment, time_s - step_s, step_s, change)
            time_s = time_s - step_s + share
            ends = change
        moment = after
        error = max(error, abs(mover.energy(moment) - began))
        if change is not None or count % steps == 0:
            poses.append(mover.posed(moment, time_s))
        if change is not None:
            break
    most = max(pose.kinetic_j for pose in poses)
    return Motion(tuple(poses), ends[0], ends[1], error / most if most > 0.0 else 0.0, step_s)


def _when(
    mover: Mover, moment: Moment, time_s: float, step_s: float, change: tuple[EndKind, str]
) -> tuple[float, Moment, tuple[EndKind, str]]:
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

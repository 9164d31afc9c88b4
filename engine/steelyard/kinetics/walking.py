"""Steps of a motion until something changes, with steps halved until the energy is kept: of one body or of several."""

from __future__ import annotations

from typing import Generic, Literal, NamedTuple, Protocol, TypeVar

from ..geometry import Point
from .gripping import Way

EndKind = Literal["time", "lets go", "holds again", "left behind", "caught up", "slides off", "slips", "sticks", "jams"]

# So much of the largest energy of motion may be lost or won before steps are halved.
ENERGY_WANTED = 1e-8
# Bisections of the step in which something changes: the time is then right to the last digits.
BISECTIONS = 45
# How often a contact may begin to slip or to stick on the way.
MOST_SWITCHES = 20


class Pose(NamedTuple):
    """Where the body is `time_s` after it was let go: its frame's origin, and how far it has turned in all."""

    time_s: float
    origin_m: Point
    turned_rad: float
    alpha_rad_s2: float
    kinetic_j: float


class Change(NamedTuple):
    """What no longer holds as it did: what happened, to which force, and with which `way` its contact goes on."""

    ends: EndKind
    of: str
    face: int | None = None
    way: Way | None = None

    @property
    def key(self) -> tuple[str, int | None]:
        """As in `mover.Holding`."""
        return self.of, self.face


M = TypeVar("M")
P = TypeVar("P")


class Moves(Protocol[M, P]):
    """What moves, with the same supports holding all the time: moments M of it, and poses P to keep."""

    begins: M

    def stepped(self, moment: M, step_s: float) -> M:
        """One step on."""
        ...

    def changed(self, moment: M, time_s: float) -> Change | None:
        """What no longer holds as it did; None while all does."""
        ...

    def kinetic(self, moment: M) -> float:
        """Energy of motion, in joules."""
        ...

    def energy(self, moment: M) -> float:
        """What stays the same on the way, in joules."""
        ...

    def posed(self, moment: M, time_s: float) -> P:
        """The same as a pose."""
        ...

    def going_on(self, moment: M, change: Change) -> Moves[M, P] | None:
        """The motion from here after a change; None where it ends."""
        ...


class Walk(NamedTuple, Generic[P]):
    """Poses from rest to the end, and the rest of what `motion.Motion` says."""

    poses: tuple[P, ...]
    ends: EndKind
    of: str
    energy_error: float
    step_s: float
    on_the_way: tuple[tuple[float, EndKind, str], ...]


def walked(mover: Moves[M, P], duration_s: float, samples: int, halvings: int) -> Walk[P]:
    """The motion with steps fine enough to keep the energy."""
    best: Walk[P] | None = None
    for halving in range(halvings + 1):
        found = _walked(mover, duration_s, samples, 1 << halving)
        if best is None or found.energy_error < best.energy_error:
            best = found
        if found.energy_error <= ENERGY_WANTED:
            break
    assert best is not None
    return best


def _walked(mover: Moves[M, P], duration_s: float, samples: int, steps: int) -> Walk[P]:
    """`steps` steps from each pose kept to the next; a contact that begins to slip, or stops, goes on so."""
    step_s = duration_s / (samples * steps)
    moment = mover.begins
    poses = [mover.posed(moment, 0.0)]
    began = mover.energy(moment)
    error = time_s = 0.0
    most = mover.kinetic(moment)
    ends = Change("time", "")
    switches: list[tuple[float, EndKind, str]] = []
    for count in range(1, samples * steps + 1):
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
            most = max(most, mover.kinetic(moment))
        if change is not None:
            ends = change
            break
    error = error / most if most > 0.0 else 0.0
    return Walk(tuple(poses), ends.ends, ends.of, error, step_s, tuple(switches))


def _going_on(mover: Moves[M, P], moment: M, time_s: float, change: Change) -> Moves[M, P] | None:
    """The motion after a contact sticks or slips otherwise; where sticking does not hold, it slips back."""
    on = mover.going_on(moment, change)
    if on is None or change.way != "sticks":
        return on
    again = on.changed(on.begins, time_s)
    return on if again is None else on.going_on(moment, again)


def _when(mover: Moves[M, P], moment: M, time_s: float, step_s: float, change: Change) -> tuple[float, M, Change]:
    """How far into a step something changes first, where it is then, and what it is."""
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

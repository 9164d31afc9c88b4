"""What the engine answers about letting go: a plain frozen result, no computation."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from ..geometry import Point, Vector
from .gripping import Gripped, Way
from .held import Held
from .inertia import Inertia
from .riding import Riding


class Grip(NamedTuple):
    """What one touch of a structure does: its force, the end of its face, and its push (None: open)."""

    force: str
    face: int | None
    way: Way
    push: float | None


@dataclass(frozen=True, slots=True)
class Release:
    """How a body starts to move. With `trouble` there is no answer, and the sentence says why.

    `acceleration_m_s2` is that of the body's centre of mass, `alpha_rad_s2` positive counterclockwise. `moving` is the
    body with what rides on it. `turning_centre_m` is the point that starts without acceleration, None where it does not
    turn. `modes_tried` counts the contact modes looked at; `agreeing` those that agree with themselves: one, or the
    outcome is not certain. `unique`: every reaction has a single value. `gripped`: what each touch does, where there is
    friction or a face. `bodies`: of a body joined to others, how each of them starts, itself among them, in the order
    of the sketch; the whole is then let go, what is counted is of the whole, and `grips` says what each touch does.
    """

    body: str
    trouble: str
    at_rest: bool = False
    acceleration_m_s2: Vector = (0.0, 0.0)
    alpha_rad_s2: float = 0.0
    turning_centre_m: Point | None = None
    own: Inertia | None = None
    moving: Inertia | None = None
    held: tuple[Held, ...] = ()
    things: tuple[Riding, ...] = ()
    modes_tried: int = 0
    agreeing: int = 0
    unique: bool = True
    gripped: Gripped | None = None
    bodies: tuple[Release, ...] = ()
    grips: tuple[Grip, ...] = ()

    @property
    def all_at_rest(self) -> bool:
        """Whether nothing of what is let go moves."""
        return self.at_rest and all(each.at_rest for each in self.bodies)

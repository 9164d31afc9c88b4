"""What the engine answers about one system: plain frozen results, no computation.

Sizes in newtons, torques in newton metres (counterclockwise positive), arms and points in metres of
the world. A value statics does not fix is None, never a placeholder number.

What there is one of for every force is a named tuple: a dozen are made at each pointer move, and a frozen
dataclass takes twice as long to make.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

from ..geometry import Point, Vector
from ..model import AboutTo, ForceType, Role, Sought

BalanceKind = Literal["balanced", "unbalanced", "to-the-figures", "open"]
ModeKind = Literal["holds", "slips", "tips", "slips and tips", "lifts off", "goes slack"]
SupportsKind = Literal["determinate", "indeterminate", "mechanism", "impossible", "none"]


class ActingForce(NamedTuple):
    """One force or couple on the isolated body, before anything is solved (see `statics.isolate`).

    `id` is unique and stable: a load's or support's own id; `<support>-couple` for a fixed end's
    couple; `<body>-weight` for a weight. `entity` is the id of the thing in the sketch it comes from.
    `along` is the unit direction as drawn (for a known or a sought size); None for a couple.
    For "size and direction" `along` holds the signs of the assumed components along `x_axis` and the axis
    square to it: (±1, ±1), not a unit vector. `one_way`: only a positive size along `along` is possible
    (rope, contact, one-way roller).
    Known: `size_n` >= 0 along `along`, or `couple_n_m`; None when only a letter is given.
    Guess: `guess` is a vector in newtons, `guess_couple_n_m` for a couple; None without a guess.
    `drawn_sense`: for a couple, +1 drawn counterclockwise, −1 clockwise; 0 for a force.
    `mu` and `normal` belong to friction: no more than `mu` times the size of the force with the id `normal`.
    `face`: the two ends (world) of the face that a contact's normal, and its friction, act on somewhere; `point` is
    its middle, or the end it is about to tip over, and in a reading with an answer the place where it acts.
    `about_to`: the impending motion set by hand. "slip": friction is `mu` times its normal, acting along `along`;
    "tip": the normal acts at `point`, one end of its face; "lift" and "slack": it is zero.
    `partner`: the id of its third-law partner on another body of the sketch, else "". `back`: it is the second one of
    the two, on the body the support joins to: the values found for the first act on it the other way round.
    """

    id: str
    entity: str
    symbol: str
    type: ForceType
    by: str
    on: str
    role: Role
    sought: Sought | None
    point: Point
    along: Vector | None
    one_way: bool
    size_n: float | None
    couple_n_m: float | None
    guess: Vector | None
    guess_couple_n_m: float | None
    drawn_sense: int = 0
    x_axis: Vector = (1.0, 0.0)
    mu: float | None = None
    normal: str = ""
    face: tuple[Point, Point] | None = None
    about_to: AboutTo = ""
    partner: str = ""
    back: bool = False


class Turning(NamedTuple):
    """What a force does about the pivot.

    `foot` is the foot of the perpendicular, `arm_m` its length, `sense` +1 counterclockwise, −1
    clockwise, 0 none. `from_x_n_m` and `from_y_n_m` are the torques of the components. `drops_out`:
    the line passes through the pivot, whatever the size. All None-able parts are None when the line
    is not known, or the size is not fixed.
    """

    foot: Point | None
    arm_m: float | None
    sense: int | None
    torque_n_m: float | None
    from_x_n_m: float | None
    from_y_n_m: float | None
    drops_out: bool


class ForceReading(NamedTuple):
    """An acting force with its answer. `vector` is the force on the body as known or solved.

    `fixed`: statics fixes it (known forces with a size are fixed). For an unknown, `component_fixed`
    says which of (x, y) are fixed in an indeterminate sketch. `against_drawn`: the answer points
    against the arrow as drawn (for "size and direction", per component: `against_components`).
    `turning` is of the answer; `guess_turning` of the guess.
    `cannot`: why it cannot do what balance would need ("a rope cannot push", "friction can be μN at most"), else "".
    `components_n`: the parts along the sketch's x and y axes, each None when not fixed: in an indeterminate sketch one
    of the two may be fixed while `vector` is None.
    `senses`: beside letters, how the parts along x and y (or the size, or the couple, given twice) must act
    whatever the sizes: +1 as drawn, −1 against it, 0 not settled.
    `squeezed`: which of (x, y) the equations leave open, and have one value only because no other set of reactions is
    within what every support can do.
    """

    force: ActingForce
    vector: Vector | None
    couple_n_m: float | None
    size_n: float | None
    direction_deg: float | None
    fixed: bool
    component_fixed: tuple[bool, bool]
    against_drawn: bool
    against_components: tuple[bool, bool]
    turning: Turning
    guess_turning: Turning | None
    cannot: str
    components_n: tuple[float | None, float | None] = (None, None)
    senses: tuple[int, int] = (0, 0)
    squeezed: tuple[bool, bool] = (False, False)


@dataclass(frozen=True, slots=True)
class Resultant:
    """A sum of forces: level and upright part, torque about the pivot, and the foot on its line of action if any."""

    fx_n: float
    fy_n: float
    torque_n_m: float
    line_point: Point | None


@dataclass(frozen=True, slots=True)
class BalanceVerdict:
    """Do these forces balance? "open": it depends on letters or on unknowns statics cannot fix."""

    kind: BalanceKind
    sentence: str


class Lack(NamedTuple):
    """What a balance would need of a force that the support cannot give.

    "sense": `needed` is the size along the way it can act, negative (N). "friction": `needed` the size of friction and
    `there` the most there can be, μ times the normal (N). "place": how far from the middle of its face the normal
    would have to act, and half the length of the face (m). `force` is the id of the friction force, or of the normal.
    """

    force: str
    kind: Literal["sense", "friction", "place"]
    needed: float
    there: float


class Mode(NamedTuple):
    """What a one-way support does in a motion: `way` it slips (unit vector, world), or the `end` it tips over.

    `force` is the id of its normal, or of its pull.
    """

    force: str
    kind: ModeKind
    way: Vector
    end: Point | None

    @property
    def moves(self) -> bool:
        """Whether it lets go in some way."""
        return self.kind != "holds"


class Way(NamedTuple):
    """One way in which the supports fail: a motion, and the mode of each one-way support in it.

    `motion` is (vx, vy, ω) of the body's point at the world's origin, for one body after the other. No support can do
    negative work on it, and the loads do positive work.
    """

    motion: tuple[float, ...]
    modes: tuple[Mode, ...]


@dataclass(frozen=True, slots=True)
class SupportsVerdict:
    """What can the supports do? `degree`: indeterminate of degree n, or free to move in n ways.

    `free_motion`: for a mechanism, independent motions as (vx, vy, omega) of the body's point at the
    world origin, scaled to unit size; of joined bodies those in which no unknown on the system has a part.
    `near`: a near-degenerate layout said in words, else "". `still_fixed`: ids of unknowns with a single value in an
    indeterminate sketch. `failing`: ids of forces that would have to act the wrong way, or be more than there can be;
    of joined bodies those on the system, all of them being in `WholeVerdict.failing`. `lacks` says by how much, `ways`
    how the supports fail; `at_limit` names forces at the very end of what they can do.
    """

    kind: SupportsKind
    degree: int
    sentence: str
    reason: str
    near: str
    still_fixed: tuple[str, ...]
    failing: tuple[str, ...]
    free_motion: tuple[tuple[float, float, float], ...]
    balanced_as_it_stands: bool
    lacks: tuple[Lack, ...] = ()
    ways: tuple[Way, ...] = ()
    at_limit: tuple[str, ...] = ()
    by_hand: str = ""


@dataclass(frozen=True, slots=True)
class PartVerdict:
    """A part of a joined whole taken alone, every joint to the rest being unknown forces: three equations.

    `unknowns` are the numbers to be found, `rank` how many of the three equations they can answer to. `settled`: in
    the whole each of them has one answer. `sentence` says both.
    """

    bodies: tuple[str, ...]
    name: str
    unknowns: int
    rank: int
    settled: bool
    sentence: str

    @property
    def ways_free(self) -> int:
        """In how many ways it could move, taken alone."""
        return 3 - self.rank

    @property
    def degree(self) -> int:
        """How many unknowns too many it has, taken alone."""
        return self.unknowns - self.rank


@dataclass(frozen=True, slots=True)
class Link:
    """A body of a whole on which forces act at two points only: both run along `direction`, the line joining them.

    `forces` are their ids as third-law pairs share them (`structure.front_id`).
    """

    body: str
    name: str
    forces: tuple[str, str]
    direction: Vector


@dataclass(frozen=True, slots=True)
class WholeVerdict:
    """What can be said of all joined bodies together: three equations each, a third-law pair being one unknown.

    `kind`, `degree` and `failing` as in `SupportsVerdict`; `failing` may name forces on other bodies than the system's.
    `layout` is the sentence that the layout alone tells, with nothing of any answer in it. `parts` are the bodies one
    by one, `alone` the system that was asked for. `motions`: for a mechanism, independent motions of the whole, each
    (vx, vy, omega) per metre of the point at the world origin, body by body, scaled so that no point of a body moves
    more than about 1. `margin` is by what factor the pivot nearest to the limit of the rank is away from it.
    `links` are its two-force bodies.
    """

    bodies: tuple[str, ...]
    unknowns: int
    equations: int
    rank: int
    kind: SupportsKind
    degree: int
    sentence: str
    layout: str
    failing: tuple[str, ...]
    parts: tuple[PartVerdict, ...]
    alone: PartVerdict
    motions: tuple[tuple[tuple[float, float, float], ...], ...]
    margin: float
    links: tuple[Link, ...] = ()


@dataclass(frozen=True, slots=True)
class Analysis:
    """Everything asked of one system, a body or several taken as one, about one pivot.

    `body` is its first body, `bodies` are all of them, and `system` those and the things taken with them: what
    `isolate.acting_forces` is given. `whole` is said of all that is joined to it, None when nothing is; `supports`
    then speaks of that whole too.

    `applied`: sum of known forces. `residual`: known + guesses + other unknowns at their solved
    values; None when an unguessed unknown is not fixed or a size is a letter only. `lever_m`: the
    length by which torques are compared with forces (scale of the sketch). `force_scale_n` likewise.
    `x_axis`: the unit x axis of sums and components; y lies a quarter turn counterclockwise of it.
    """

    body: str
    pivot: Point
    readings: tuple[ForceReading, ...]
    applied: Resultant | None
    residual: Resultant | None
    balance: BalanceVerdict
    supports: SupportsVerdict
    lever_m: float
    force_scale_n: float
    torque_scale_n_m: float
    x_axis: Vector = (1.0, 0.0)
    bodies: tuple[str, ...] = ()
    system: tuple[str, ...] = ()
    whole: WholeVerdict | None = None

    @property
    def y_axis(self) -> Vector:
        """The unit y axis of sums and components."""
        return (-self.x_axis[1] + 0.0, self.x_axis[0])

    def reading(self, force_id: str) -> ForceReading:
        """The reading of one force; KeyError when it does not act here."""
        for reading in self.readings:
            if reading.force.id == force_id:
                return reading
        raise KeyError(force_id)

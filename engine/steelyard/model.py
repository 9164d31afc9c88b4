"""What a sketch holds: frozen, plain entities.

Stored units are metres, newtons, newton metres, kilograms and degrees. x points right, y up; angles
are counterclockwise from +x; a couple or torque is positive counterclockwise. This is the only sign
convention inside the engine; what a user sees may be turned round by `Settings`.

Each body has a frame: `origin_m` in the world and `angle_deg`. Shapes and places on a body are given
in that frame, so a body moves with all that sits on it, and digits typed stay the digits stored:
a bar runs from (0, 0) to (length_m, 0), "5.2 m along" is `place_m = (5.2, 0.0)`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal

from .geometry import Point

FORMAT_VERSION = 1

BodyKind = Literal["bar", "bent-bar", "plate", "disc"]
SupportKind = Literal["pin", "roller", "rope", "strut", "fixed", "contact"]
ForceType = Literal[
    "gravity",
    "normal",
    "friction",
    "contact",
    "pin",
    "tension",
    "strut",
    "fixing force",
    "fixing couple",
    "spring",
    "fluid",
    "muscle",
    "other",
]
Role = Literal["known", "unknown"]
# What is to be found of an unknown: its size on a known line, both components, its size and its place on a face, or
# a couple.
Sought = Literal["size", "size and direction", "size and place", "couple"]
# What a support is about to do, as a condition set by hand (impending motion). A contact slides along its surface,
# the body to the right of the way the surface pushes ("slip") or to its left ("slip-back"); it tips over the far
# end of its face ("tip") or over the near one ("tip-back"); it lifts off; a rope goes slack.
AboutTo = Literal["", "slip", "slip-back", "tip", "tip-back", "lift", "slack"]
Answers = Literal["kept", "shown"]
Measured = Literal["straight", "across", "upright"]
GivenKind = Literal["length", "angle", "slope", "label"]
TorqueForm = Literal["arm", "square", "components"]
# Which way a spread load acts: square to its line, straight down, at an angle, or as the body's own weight.
Acts = Literal["across", "down", "angle", "weight"]


@dataclass(frozen=True, slots=True)
class RoundHole:
    """A round hole in a plate or disc: its centre in the body's frame, and its radius."""

    centre_m: Point
    radius_m: float


@dataclass(frozen=True, slots=True)
class AddedPiece:
    """A uniform piece fixed to a body: its mass is part of the body's, and so is its weight.

    `centre_m` is in the body's frame, on the shape or beside it. A disc of `radius_m`; else a rectangle, `width_m`
    along the frame turned by `angle_deg` and `height_m` across; a bar without height, a point without either.
    """

    centre_m: Point
    mass_kg: float
    radius_m: float = 0.0
    width_m: float = 0.0
    height_m: float = 0.0
    angle_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Body:
    """One rigid body.

    A bar has `length_m` and no `points_m`; a bent bar is a polyline `points_m`; a plate is a polygon
    `points_m` with `holes_m`; a disc has `radius_m`, its frame's origin in its centre. Plates and discs may
    have `round_holes`. `thickness_m` is drawing only. Mass: give `mass_kg`, or `weight_n`, or
    neither ("weight neglected"); `weight_symbol_only` says the weight is known as a letter only.
    `centre_m` overrides the centre of mass computed from the shape (body frame). `pieces` are fixed to it and have
    masses of their own beside `mass_kg`, which is then that of the shape alone.
    """

    id: str
    kind: BodyKind
    name: str
    origin_m: Point
    angle_deg: float
    length_m: float = 0.0
    radius_m: float = 0.0
    points_m: tuple[Point, ...] = ()
    holes_m: tuple[tuple[Point, ...], ...] = ()
    round_holes: tuple[RoundHole, ...] = ()
    pieces: tuple[AddedPiece, ...] = ()
    thickness_m: float = 0.25
    mass_kg: float | None = None
    weight_n: float | None = None
    weight_symbol_only: bool = False
    weight_symbol: str = "W"
    centre_m: Point | None = None

    @property
    def total_mass_kg(self) -> float | None:
        """The mass with that of its pieces; None where it is neglected, or known only as a weight or a letter."""
        if self.weight_n is not None or self.weight_symbol_only:
            return None
        if not self.pieces:
            return self.mass_kg
        return math.fsum([self.mass_kg or 0.0, *(piece.mass_kg for piece in self.pieces)])

    @property
    def weighs(self) -> bool:
        """Whether its weight is not neglected."""
        return self.weight_n is not None or self.weight_symbol_only or self.total_mass_kg is not None

    @property
    def has_area(self) -> bool:
        """Whether it is a plate or disc: things attach anywhere within its edge, and it may have holes."""
        return self.kind in ("plate", "disc")


@dataclass(frozen=True, slots=True)
class NamedPoint:
    """A point with a name; on a body when `body` is given (then `place_m` is in its frame), else of the paper."""

    id: str
    name: str
    place_m: Point
    body: str | None = None


@dataclass(frozen=True, slots=True)
class Guess:
    """A hand-drawn trial for an unknown, kept beside its answer. `couple_n_m` only for a couple."""

    size_n: float = 0.0
    direction_deg: float = 0.0
    couple_n_m: float = 0.0


@dataclass(frozen=True, slots=True)
class Support:
    """What holds a body at a place, and the unknown force it stands for.

    `agent` is what exerts the force ("hinge"; empty shows as "?"). `normal_deg` is the direction in
    which a roller or contact pushes the body. `anchor_m` (world) is the far end of a rope or strut.
    `two_way` rollers can pull as well. `drawn_deg` is the assumed sense: for a pin or fixed end the
    quadrant of the two assumed components, for a strut 0 (drawn pulling) or 180 (drawn pushing), for a
    two-way roller 0 (along the normal) or 180 (against it), for friction 0 (to the right of the normal) or 180;
    None keeps the usual one. `couple_symbol` and `couple_guess` belong to a fixed end.

    A contact is smooth without `mu`, its coefficient of static friction; `friction_symbol` and `friction_guess`
    belong to the friction force. With `face_m` it touches along a straight face from `place_m` to there (body frame),
    and its normal is square to that face, on the side of `normal_deg`. `about_to` is the motion it is on the point of.

    `other` is the id of another body that this support joins to `body`: a pin, a fixed joint or a contact at the same
    point of the world, and for a rope or strut the body its far end sits on, with `anchor_m` then in the frame of
    that body. `over_m` (world) is a small fixed pulley that a rope runs over on its way, without friction.
    """

    id: str
    kind: SupportKind
    body: str
    place_m: Point
    symbol: str
    agent: str = ""
    normal_deg: float = 90.0
    two_way: bool = False
    anchor_m: Point | None = None
    drawn_deg: float | None = None
    guess: Guess | None = None
    couple_symbol: str = "M"
    couple_guess: Guess | None = None
    mu: float | None = None
    mu_symbol: str = "μ"
    friction_symbol: str = "f"
    friction_guess: Guess | None = None
    face_m: Point | None = None
    about_to: AboutTo = ""
    other: str | None = None
    over_m: Point | None = None


@dataclass(frozen=True, slots=True)
class Force:
    """A force arrow drawn on a body, known or unknown.

    Known: `size_n` (None: a letter only) and `direction_deg`. Unknown: `sought` says what is to be
    found; `direction_deg` is the known line, or the assumed senses of the two components.
    `one_way` unknowns can only act as drawn. `head_at_point` draws a push that ends at its point.
    """

    id: str
    body: str
    place_m: Point
    symbol: str
    type: ForceType = "other"
    agent: str = ""
    role: Role = "known"
    size_n: float | None = None
    direction_deg: float = 270.0
    sought: Sought = "size"
    one_way: bool = False
    head_at_point: bool = False
    guess: Guess | None = None


@dataclass(frozen=True, slots=True)
class Couple:
    """A couple on a body: its size `couple_n_m` (>= 0) and its sense; `place_m` says only where it is drawn."""

    id: str
    body: str
    place_m: Point
    symbol: str
    agent: str = ""
    role: Role = "known"
    couple_n_m: float | None = None
    counterclockwise: bool = True
    guess: Guess | None = None


@dataclass(frozen=True, slots=True)
class Thing:
    """Something standing at rest on the body: it gives a contact force m·g downwards, exerted by the thing."""

    id: str
    body: str
    place_m: Point
    symbol: str
    name: str
    mass_kg: float | None = None


@dataclass(frozen=True, slots=True)
class SpreadLoad:
    """A load spread along a straight piece of a body, from `start_m` to `end_m` (body frame).

    `start_n_per_m` and `end_n_per_m` are newtons on each metre of that piece, changing evenly between; None is a
    letter only: both (uniform) or one beside a zero (triangular). A minus sign turns its sense round, at both
    ends alike. `acts`: "across" is square to the way from start to end, to its right; "down" and "weight" (of the
    body itself, by the Earth) straight down; "angle" along `direction_deg`. `symbol` is the letter of its
    resultant, `spread_symbol` of the load on each metre.
    """

    id: str
    body: str
    start_m: Point
    end_m: Point
    symbol: str
    spread_symbol: str = "w"
    type: ForceType = "other"
    agent: str = ""
    start_n_per_m: float | None = None
    end_n_per_m: float | None = None
    acts: Acts = "across"
    direction_deg: float = 270.0

    @property
    def length_m(self) -> float:
        """How long the loaded piece is."""
        return math.hypot(self.end_m[0] - self.start_m[0], self.end_m[1] - self.start_m[1])

    @property
    def letter_only(self) -> bool:
        """Whether its size is known as a letter only."""
        return self.start_n_per_m is None or self.end_n_per_m is None

    @property
    def shares(self) -> tuple[float, float]:
        """The load at start and end as parts of each other: a letter counts as one."""
        return (
            1.0 if self.start_n_per_m is None else self.start_n_per_m,
            1.0 if self.end_n_per_m is None else self.end_n_per_m,
        )

    @property
    def size_n(self) -> float | None:
        """The area of the load diagram, with its sign: (w_start + w_end) · length / 2. None for a letter only."""
        if self.start_n_per_m is None or self.end_n_per_m is None:
            return None
        return (self.start_n_per_m + self.end_n_per_m) * self.length_m / 2.0

    @property
    def place_m(self) -> Point:
        """Where its resultant acts (body frame): under the centroid of the load diagram.

        For a trapezium that is (w_start + 2 w_end) / (3 (w_start + w_end)) of the way from start to end.
        """
        start, end = self.shares
        both = start + end
        part = 0.5 if both == 0.0 or start == end else (start + 2.0 * end) / (3.0 * both)
        (x, y), (to_x, to_y) = self.start_m, self.end_m
        return (x + part * (to_x - x), y + part * (to_y - y))


Load = Force | Couple | Thing | SpreadLoad


@dataclass(frozen=True, slots=True)
class Pivot:
    """Where torques are taken: a point of the paper. `tied_to` names a support, named point or load it follows."""

    place_m: Point
    tied_to: str | None = None


@dataclass(frozen=True, slots=True)
class HalfWidth:
    """How far a measured number may be off, either way, in the number's own unit.

    `path` names the number by the id of its thing: "walker.mass_kg", "hoist.anchor_m[0]", "settings.g_m_s2".
    """

    path: str
    half_width: float


@dataclass(frozen=True, slots=True)
class MeasuredPoint:
    """A point that a given measures from, to or at, tied to the thing it belongs to.

    `of` names a body, support, load or named point, or "pivot". `part` says which point of it: "" is where it is
    (of a body: its middle), "start" and "end" the ends of a bar or bent bar, "corner-2" a corner, "middle" and "rim"
    those of a disc, "hole-2" the centre of a round hole, "centre" the centre of mass, "anchor" the far end of a rope
    or strut. `place_m` is instead a place in a body's own frame.
    """

    of: str
    part: str = ""
    place_m: Point | None = None


@dataclass(frozen=True, slots=True)
class Given:
    """A dimension line, angle arc, slope triangle or label on the figure: its value is always measured.

    length: from `start` to `end`, straight or across (along x) or upright (along y); `offset_m` is how far to the
    left of the way from start to end its line stands. angle: at `start` (None: where the line begins), between
    `line` and what it is measured `against`, the acute angle, or with `other` its supplement; `offset_m` is the
    radius. slope: a right triangle on `line`, `offset_m` its long side. label: `text` or `letter` at `start`,
    shifted by `shift_m` (None: where there is room). `line` and `second_line` name a body (`edge` counts its
    straight pieces), a rope, strut, roller or contact, or a force with a line. `number` shows the value; without
    it `letter` alone stands for it. All are shown in the set-up, and with `in_extended` beside the forces too.
    """

    id: str
    kind: GivenKind
    start: MeasuredPoint | None = None
    end: MeasuredPoint | None = None
    measured: Measured = "straight"
    line: str | None = None
    edge: int = 0
    against: Literal["horizontal", "vertical", "line"] = "horizontal"
    second_line: str | None = None
    second_edge: int = 0
    other: bool = False
    letter: str = ""
    number: bool = True
    text: str = ""
    offset_m: float = 0.0
    shift_m: Point | None = None
    in_extended: bool = False


@dataclass(frozen=True, slots=True)
class Settings:
    """How a sketch is read and shown. Lengths stay stored in metres whatever the display units.

    `axes_deg` turns the axes of sums and components counterclockwise: from level or, with `axes_along`, from
    the first edge of that body (a bar's axis), read towards the right. Stored directions stay as they are.
    `two_sided`: sums are written as one side equal to the other. `torque_form`: force times moment arm,
    distance times the part of the force square to it, or x·F_y − y·F_x. `arm_letter`: the letter of a moment arm.
    """

    g_m_s2: float = 9.81
    counterclockwise_positive: bool = True
    significant_figures: int = 3
    decimal_comma: bool = False
    units: Literal["si", "us"] = "si"
    turning_word: Literal["torque", "moment"] = "torque"
    pivot_word: Literal["pivot", "moment centre"] = "pivot"
    mass_centre_word: Literal["centre of mass", "centre of gravity"] = "centre of mass"
    counterclockwise_word: Literal["counterclockwise", "anticlockwise"] = "counterclockwise"
    seen_from: Literal["side", "above"] = "side"
    unknowns_drawn: Literal["components", "ring"] = "components"
    two_sided: bool = False
    torque_form: TorqueForm = "arm"
    arm_letter: Literal["d", "r⊥", "ℓ"] = "d"
    axes_deg: float = 0.0
    axes_along: str | None = None
    snap: bool = True
    all_constructions: bool = False


@dataclass(frozen=True, slots=True)
class Sketch:
    """One document.

    `pinned` lists force ids whose line of action, arm and sense stay on the board. `second_pivot` is a point to
    take the same torques about again, beside the pivot. `order` lists force ids as they are laid head to tail;
    those it does not name follow as they are read. `told` lists force ids whose answers are shown although
    the others are kept back. `isolated` is the system whose balance is looked at: ids of bodies taken as one, and of
    things standing on them that are taken with them; empty: the body that something is selected on.
    """

    title: str = "Untitled sketch"
    question: str = ""
    caution: str = ""
    bodies: tuple[Body, ...] = ()
    points: tuple[NamedPoint, ...] = ()
    supports: tuple[Support, ...] = ()
    loads: tuple[Load, ...] = ()
    givens: tuple[Given, ...] = ()
    pivot: Pivot | None = None
    second_pivot: Pivot | None = None
    answers: Answers = "shown"
    pinned: tuple[str, ...] = ()
    order: tuple[str, ...] = ()
    told: tuple[str, ...] = ()
    isolated: tuple[str, ...] = ()
    half_widths: tuple[HalfWidth, ...] = ()
    settings: Settings = field(default_factory=Settings)

    def body(self, body_id: str) -> Body:
        """The body with this id; KeyError when there is none."""
        for body in self.bodies:
            if body.id == body_id:
                return body
        raise KeyError(body_id)

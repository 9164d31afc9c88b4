"""Points worth taking torques about, and axes worth summing along: what drops out, what is left.

Only the lines of the unknowns count, never sizes: the advice is the same before anything is solved.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ..geometry import Point, Vector, cross, distance, dot, line_crossing, perpendicular, subtract
from ..model import Sketch
from . import shape
from .moments import DROPS_OUT_TOLERANCE
from .reading import ActingForce, Analysis

# A direction is square to an axis when its part along it is rounding: angles come from coordinates
# with about 1e-13 of error, a hand cannot aim better than 1e-4.
SQUARE_TOLERANCE = 1e-9
# A crossing farther off than this many times the size of the sketch is off every board, and its arms
# would differ only in their last figures.
REACH_LEVERS = 20.0
# A pivot farther than this many times the size of the sketch from where any force acts is off most boards.
FAR_LEVERS = 2.0
# Far enough that the crossing of any two lines statics still tells apart is reached.
ANY_REACH = 1e10
# What the key of a place on a face ends with.
PLACE = ".place"

Which = Literal["size", "x", "y", "couple", "place"]
Source = Literal["support", "point", "crossing", "end", "x", "y", "across", "law"]


@dataclass(frozen=True, slots=True)
class Part:
    """One scalar of an acting force: a size along a line, one component, a couple, or a place on a face.

    `key` is the force's id, with `.x` or `.y` for a component. `along` is the unit direction a positive
    size acts in, as drawn; None for a couple, whose drawn sense is `turn` (+1 counterclockwise). `size`
    is the known size along it in N or N m, None for an unknown or a letter.
    A normal that acts somewhere on a face is two parts: its size, taken to act at the first end of the face
    (`spread` says that it may not), and with `.place` the torque it has about that end, as a couple.
    `twin` is the other end of a rope, of the same size, on the same system.
    """

    key: str
    force: str
    which: Which
    point: Point
    along: Vector | None
    turn: int
    one_way: bool
    unknown: bool
    size: float | None
    spread: bool = False
    twin: Part | None = None


@dataclass(frozen=True, slots=True)
class Advice:
    """A pivot (`point`) or an axis (`along`), with the keys of the unknowns it removes and leaves.

    `source` says where it comes from and `of` which forces make it; `drops_known` names known forces
    whose lines pass through the pivot, or that are square to the axis.
    """

    source: Source
    of: tuple[str, ...]
    point: Point | None
    along: Vector | None
    drops: tuple[str, ...]
    left: tuple[str, ...]
    drops_known: tuple[str, ...]


def vanishes(force: ActingForce) -> bool:
    """Whether an unknown is nothing whatever the loads: about to lift off or go slack, or friction without any."""
    return force.about_to in ("lift", "slack") or (force.type == "friction" and force.mu == 0.0)


def parts_of(force: ActingForce) -> tuple[Part, ...]:
    """The scalars of one acting force; none of one that vanishes."""
    unknown = force.role == "unknown"
    if vanishes(force):
        return ()
    if force.along is None:
        size = None if force.couple_n_m is None else abs(force.couple_n_m)
        turn = force.drawn_sense or 1
        return (Part(force.id, force.id, "couple", force.point, None, turn, False, unknown, size),)
    if force.sought == "size and direction":
        right, up = force.x_axis
        x_sign, y_sign = force.along
        # Plus zero: no minus zero.
        across, along = (right * x_sign + 0.0, up * x_sign + 0.0), (-up * y_sign + 0.0, right * y_sign + 0.0)
        return (
            Part(f"{force.id}.x", force.id, "x", force.point, across, 0, False, True, None),
            Part(f"{force.id}.y", force.id, "y", force.point, along, 0, False, True, None),
        )
    if force.face is not None and not force.about_to.startswith("tip"):
        return _on_a_face(force, force.face, force.along)
    # Friction of a contact about to slip can only act against the motion.
    one_way = force.one_way or force.about_to.startswith("slip")
    return (Part(force.id, force.id, "size", force.point, force.along, 0, one_way, unknown, force.size_n),)


def _on_a_face(force: ActingForce, face: tuple[Point, Point], along: Vector) -> tuple[Part, ...]:
    """A normal somewhere on a face, or friction along it, without a word about where an answer puts them."""
    one_way = force.one_way or force.about_to.startswith("slip")
    if force.sought != "size and place":
        return (Part(force.id, force.id, "size", face[0], along, 0, one_way, True, None),)
    turn = 1 if cross(subtract(face[1], face[0]), along) > 0.0 else -1
    return (
        Part(force.id, force.id, "size", face[0], along, 0, one_way, True, None, True),
        Part(f"{force.id}{PLACE}", force.id, "place", face[0], None, turn, False, True, None),
    )


def parts(analysis: Analysis) -> tuple[Part, ...]:
    """The scalars of everything that acts, in the order of the readings.

    A rope over a pulley with both its ends on what is isolated has one size: its second end is the twin of the first.
    """
    every = tuple(part for reading in analysis.readings for part in parts_of(reading.force))
    if not any(reading.force.back for reading in analysis.readings):
        return every
    partners = {reading.force.id: reading.force.partner for reading in analysis.readings if reading.force.back}
    twins = {partners[part.force]: part for part in every if part.force in partners}
    here = {part.force for part in every}
    return tuple(
        replace(part, twin=twins[part.force]) if part.force in twins else part
        for part in every
        if partners.get(part.force) not in here
    )


def turning(part: Part, pivot: Point, lever_m: float) -> float:
    """The torque about a pivot per unit of a part (m, or ±1 for a couple); 0 when its line passes through."""
    if part.along is None:
        return float(part.turn)
    offset = subtract(part.point, pivot)
    arm = cross(offset, part.along)
    reach = DROPS_OUT_TOLERANCE * max(lever_m, math.hypot(*offset))
    if part.twin is not None:
        arm += turning(part.twin, pivot, lever_m)
    return 0.0 if abs(arm) <= reach else arm


def pushing(part: Part, axis: Vector) -> float:
    """The force along a unit axis per unit of a part; 0 when it is square to it, and for a couple."""
    if part.along is None:
        return 0.0
    share = dot(part.along, axis)
    if part.twin is not None:
        share += pushing(part.twin, axis)
    return 0.0 if abs(share) <= SQUARE_TOLERANCE else share


def rightwards(direction: Vector) -> Vector:
    """The same line's direction, pointing right (or straight up)."""
    if direction[0] < -SQUARE_TOLERANCE or (abs(direction[0]) <= SQUARE_TOLERANCE and direction[1] < 0.0):
        return (-direction[0] + 0.0, -direction[1] + 0.0)
    return direction


def advice(analysis: Analysis, extra: Sequence[Point] = ()) -> tuple[Advice, ...]:
    """Every pivot and axis worth a look, those that leave fewest unknowns first.

    `extra` are further points of the body (its ends, named points). A point about which no unknown
    drops out is left out.
    """
    every = parts(analysis)
    found = [each for each in candidates(analysis, extra) if each.drops or each.source in ("x", "y")]
    unknown = sum(part.unknown for part in every)
    found = [each for each in found if each.left or not unknown]
    return tuple(sorted(found, key=lambda each: len(each.left)))


def candidates(analysis: Analysis, extra: Sequence[Point] = (), reach: float = REACH_LEVERS) -> tuple[Advice, ...]:
    """All pivots and axes the unknowns suggest: supports, points, crossings, x, y, across."""
    every = parts(analysis)
    unknown = [part for part in every if part.unknown]
    lever = analysis.lever_m
    made: list[tuple[Source, tuple[str, ...], Point]] = []
    for part in unknown:
        if part.along is not None:
            _keep(made, "support", (part.force,), part.point, lever)
    for point in extra:
        _keep(made, "end", (), point, lever)
    for part in every:
        if not part.unknown and part.along is not None:
            _keep(made, "point", (part.force,), part.point, lever)
    home = unknown[0].point if unknown else analysis.pivot
    for index, first in enumerate(unknown):
        for second in unknown[index + 1 :]:
            if first.along is None or second.along is None or first.force == second.force:
                continue
            if first.spread or second.spread or first.twin or second.twin:  # these have no one line that is known
                continue
            where = line_crossing(first.point, first.along, second.point, second.along)
            if where is not None and distance(where, home) <= reach * lever:
                _keep(made, "crossing", (first.key, second.key), where, lever)
    if not made:  # nothing but couples: any point will do
        made.append(("point", (), analysis.pivot))
    axes: list[tuple[Source, tuple[str, ...], Vector]] = [
        ("x", (), analysis.x_axis),
        ("y", (), analysis.y_axis),
    ]
    for part in unknown:
        if part.along is not None and part.twin is None and all(pushing(part, axis) for _, _, axis in axes):
            axes.append(("across", (part.key,), rightwards(perpendicular(part.along))))
    return tuple(
        [_about(every, source, of, point, lever) for source, of, point in made]
        + [_along(every, source, of, axis) for source, of, axis in axes]
    )


def ends_of(sketch: Sketch, analysis: Analysis) -> tuple[Point, ...]:
    """The corners of the system's bodies, or the centre of a disc, and the named points on them, in the world."""
    bodies = [sketch.body(body_id) for body_id in analysis.bodies]
    named = [shape.world(body, point.place_m) for body in bodies for point in sketch.points if point.body == body.id]
    corners = [(body.origin_m,) if body.kind == "disc" else shape.axis(body) for body in bodies]
    return (*named, *(corner for each in corners for corner in each))


def about(analysis: Analysis, point: Point) -> Advice:
    """What drops out and what is left when torques are taken about any point."""
    return _about(parts(analysis), "point", (), point, analysis.lever_m)


def along(analysis: Analysis, axis: Vector) -> Advice:
    """What drops out and what is left when forces are summed along any unit axis."""
    named: Source = "x" if is_along(axis, analysis.x_axis) else "y" if is_along(axis, analysis.y_axis) else "across"
    return _along(parts(analysis), named, (), axis)


def is_along(first: Vector, second: Vector) -> bool:
    """Whether two unit vectors run along the same line, either way."""
    return abs(cross(first, second)) <= SQUARE_TOLERANCE


def is_far(each: Advice, every: Sequence[Part], lever_m: float) -> bool:
    """Whether a pivot lies so far off that a nearer one is easier to look at."""
    reach = FAR_LEVERS * lever_m
    return each.point is not None and all(distance(each.point, part.point) > reach for part in every)


def _keep(
    made: list[tuple[Source, tuple[str, ...], Point]], source: Source, of: tuple[str, ...], point: Point, lever: float
) -> None:
    """Add a point unless one at the same place is there already: the more natural source comes first."""
    reach = DROPS_OUT_TOLERANCE * max(lever, abs(point[0]), abs(point[1]))
    if all(distance(point, other) > reach for _, _, other in made):
        made.append((source, of, point))


def _about(every: Sequence[Part], source: Source, of: tuple[str, ...], point: Point, lever: float) -> Advice:
    shares = [(part, turning(part, point, lever)) for part in every]
    return _advice(shares, source, of, point, None)


def _along(every: Sequence[Part], source: Source, of: tuple[str, ...], axis: Vector) -> Advice:
    return _advice([(part, pushing(part, axis)) for part in every], source, of, None, axis)


def _advice(
    shares: list[tuple[Part, float]], source: Source, of: tuple[str, ...], point: Point | None, axis: Vector | None
) -> Advice:
    # Where a normal acts on its face is not known, so neither can it be known to drop out about a point.
    stays = point is not None
    return Advice(
        source,
        of,
        point,
        axis,
        tuple(
            part.key
            for part, share in shares
            if part.unknown and not share and not (part.spread and stays) and part.which != "place"
        ),
        tuple(part.key for part, share in shares if part.unknown and (share or (part.spread and stays))),
        tuple(part.force for part, share in shares if not part.unknown and not share),
    )

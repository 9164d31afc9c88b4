"""The equilibrium equations of one body as a scaled linear system, and what they say about each unknown.

Rows: forces along x and y, torque over a lever, all taken about a centre of the sketch's own. Both
come from the body and its unknowns only, so no answer depends on where the sketch lies, how large it
is, in which units its forces are, or where the user's pivot is.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from .. import linear
from ..geometry import Point
from ..program import ROUNDING_TOLERANCE, Bound
from . import conditions
from .reading import ActingForce

# Parts this small beside the largest force are the noise of the arithmetic itself; shown as they are
# they would turn an upright reaction by an invisible angle.
NOISE = 1e-13


@dataclass(frozen=True, slots=True)
class System:
    """The unit wrenches of the unknowns, the known wrench, and the scales.

    `owners` gives for each column the position of its force in the list and the part it is: "x", "y",
    "size", "couple" or "place". A couple's unknown is in newtons at the lever; so is a "place": the torque of a
    normal about the middle of its face. `known` is (ΣFx, ΣFy, Στ/lever) of the forces with numbers, `letters` the
    unit wrenches of those known as letters only.
    `bounds`: a column that is no larger, either way, than a factor times another one (friction, and a place on its
    face). `tied`: the position of a force that is a factor times another unknown, the column of that one, and the
    factor: friction about to slip, and the far end of a rope over a pulley. Its wrench is part of that column.
    `none`: positions of forces about to vanish, and of friction on a surface that has none.
    """

    centre: Point
    lever_m: float
    columns: tuple[tuple[float, float, float], ...]
    owners: tuple[tuple[int, str], ...]
    one_way: tuple[bool, ...]
    known: tuple[float, float, float]
    known_scale_n: float
    letters: tuple[tuple[float, float, float], ...]
    bounds: tuple[Bound, ...] = ()
    tied: tuple[tuple[int, int, float], ...] = ()
    none: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Answer:
    """What the equations say.

    `values` of the columns (newtons), None where not fixed or no balance exists; `fixed` whether
    statics fixes it at all. `consistent`: some values close the sums (None: it depends on letters).
    `wrong_way`: columns of one-way unknowns that no balance can spare from acting backwards. `beyond`: bounded
    columns that would have to be larger than their bound. `sample`: where many values close the sums, some that every
    support can give; empty otherwise.
    """

    factors: linear.Factor
    values: tuple[float | None, ...]
    fixed: tuple[bool, ...]
    consistent: bool | None
    wrong_way: tuple[int, ...]
    beyond: tuple[int, ...] = ()
    sample: tuple[float, ...] = ()


def assemble(acting: Sequence[ActingForce], corners: Sequence[Point]) -> System:
    """Set up the equations for the forces on a body with these corners (world)."""
    centre, lever_m = scales(acting, corners)
    columns: list[tuple[float, float, float]] = []
    owners: list[tuple[int, str]] = []
    one_way: list[bool] = []
    letters: list[tuple[float, float, float]] = []
    sizes: dict[str, int] = {}
    bounds: list[Bound] = []
    tied: list[tuple[int, int, float]] = []
    none: list[int] = []
    fx = fy = torque = scale = 0.0
    for position, force in enumerate(acting):
        x, y = (force.point[0] - centre[0]) / lever_m, (force.point[1] - centre[1]) / lever_m
        along = force.along
        if force.role == "known":
            if along is None:
                if force.couple_n_m is None:
                    letters.append((0.0, 0.0, float(force.drawn_sense)))
                else:
                    torque += force.couple_n_m / lever_m
                    scale += abs(force.couple_n_m) / lever_m
            elif force.size_n is None:
                letters.append((along[0], along[1], x * along[1] - y * along[0]))
            else:
                part_x, part_y = force.size_n * along[0], force.size_n * along[1]
                fx += part_x
                fy += part_y
                torque += x * part_y - y * part_x
                scale += force.size_n * max(1.0, abs(x) + abs(y))
        elif along is None:
            columns.append((0.0, 0.0, 1.0))
            owners.append((position, "couple"))
            one_way.append(False)
        elif force.about_to in ("lift", "slack") or force.mu == 0.0:
            none.append(position)
        elif force.normal and force.about_to.startswith("slip"):
            normal = sizes[force.normal]
            factor = force.mu or 0.0
            tied.append((position, normal, factor))
            _add(columns, normal, factor, (along[0], along[1], x * along[1] - y * along[0]))
        elif force.back and force.partner in sizes:  # a rope over a pulley with both of its bodies: one tension
            rope = sizes[force.partner]
            tied.append((position, rope, 1.0))
            _add(columns, rope, 1.0, (along[0], along[1], x * along[1] - y * along[0]))
        elif force.sought in ("size", "size and place"):
            sizes[force.id] = len(columns)
            columns.append((along[0], along[1], x * along[1] - y * along[0]))
            owners.append((position, "size"))
            one_way.append(force.one_way)
            if force.normal in sizes:
                bounds.append(Bound(sizes[force.id], sizes[force.normal], force.mu or 0.0))
            if force.sought == "size and place" and force.face is not None:
                half = math.dist(*force.face) / 2.0
                bounds.append(Bound(len(columns), sizes[force.id], half / lever_m))
                columns.append((0.0, 0.0, 1.0))
                owners.append((position, "place"))
                one_way.append(False)
        else:
            right, up = force.x_axis  # the two components act along the sketch's axes
            columns += [(right, up, x * up - y * right), (0.0 - up, right, x * right + y * up)]
            owners += [(position, "x"), (position, "y")]
            one_way += [False, False]
    return System(
        centre, lever_m, tuple(columns), tuple(owners), tuple(one_way), (fx, fy, torque), scale, tuple(letters),
        tuple(bounds), tuple(tied), tuple(none),
    )  # fmt: skip


def _add(columns: list[tuple[float, float, float]], index: int, factor: float, wrench: Sequence[float]) -> None:
    """Add so many times a wrench to a column."""
    x, y, torque = columns[index]
    columns[index] = (x + factor * wrench[0], y + factor * wrench[1], torque + factor * wrench[2])


def scales(acting: Sequence[ActingForce], corners: Sequence[Point]) -> tuple[Point, float]:
    """The centre torques are compared about, and the lever by which they are compared with forces.

    Centre: the mean of the points where unknown forces act (of all points when there are none). Lever:
    the reach of those points and of the body from there.
    """
    points = [force.point for force in acting if force.role == "unknown" and force.along is not None]
    if not points:
        points = [force.point for force in acting if force.along is not None] or list(corners)
    count = len(points)
    base_x, base_y = points[0]  # differences first, so that a far-away sketch loses no digits
    centre_x = base_x + sum(point[0] - base_x for point in points) / count
    centre_y = base_y + sum(point[1] - base_y for point in points) / count
    reach = max(math.hypot(point[0] - centre_x, point[1] - centre_y) for point in (*points, *corners))
    # Points that coincide but for the rounding of their coordinates have no lever between them.
    least = 1e-12 * max(abs(centre_x), abs(centre_y))
    return (centre_x, centre_y), max(reach, least) or 1.0


def answer(system: System) -> Answer:
    """Solve the system as far as statics goes."""
    factors = linear.factor(system.columns, 3)
    count = len(system.columns)
    right_side = [-part for part in system.known]
    values, left_over = linear.solve(factors, right_side)
    scale = max(system.known_scale_n, max(map(abs, values), default=0.0))
    fixed = [True] * count if factors.rank == count else linear.fixed_unknowns(factors)
    closes = left_over <= ROUNDING_TOLERANCE * scale
    consistent, known = _with_letters(system, factors, fixed, closes) if system.letters else (closes, fixed)
    if not consistent:
        return Answer(factors, (None,) * count, tuple(fixed), consistent, ())
    values = [0.0 if abs(value) <= NOISE * scale else value for value in values]
    wrong_way: tuple[int, ...] = ()
    if system.bounds and factors.rank < count and not system.letters:
        return _within_bounds(system, factors, fixed, values)
    sample: tuple[float, ...] = ()
    if any(system.one_way):
        # With letters in play, only what does not depend on them can be judged.
        choosing = factors.rank < count and not system.letters
        tried = conditions.program_of(system).outcome.values if choosing else values
        threshold = -ROUNDING_TOLERANCE * scale
        wrong_way = tuple(
            index
            for index, value in enumerate(tried)
            if system.one_way[index] and (choosing or known[index]) and value < threshold
        )
        if choosing and not wrong_way:
            sample = tuple(tried)
    beyond = tuple(
        bound.column
        for bound in system.bounds
        if known[bound.column]
        and known[bound.normal]
        and abs(values[bound.column]) > bound.factor * max(0.0, values[bound.normal]) + ROUNDING_TOLERANCE * scale
        and bound.normal not in wrong_way
    )
    shown = tuple(value if known[index] else None for index, value in enumerate(values))
    return Answer(factors, shown, tuple(fixed), consistent, wrong_way, beyond, sample)


def _within_bounds(system: System, factors: linear.Factor, fixed: list[bool], values: list[float]) -> Answer:
    """What no answer can spare, where there are many that close the sums, some of them bounded by others."""
    outcome = conditions.program_of(system).outcome
    wrong_way = tuple(column for column, short in enumerate(outcome.backward) if short)
    beyond = tuple(bound.column for bound, over in zip(system.bounds, outcome.excess, strict=True) if over)
    shown = tuple(value if known else None for value, known in zip(values, fixed, strict=True))
    sample = outcome.values if outcome.admissible else ()
    return Answer(factors, shown, tuple(fixed), True, wrong_way, beyond, sample)


def settled(system: System, answers: Answer) -> Answer:
    """The answer with the values of those unknowns that only one set of reactions within all conditions leaves."""
    if not answers.sample:
        return answers
    found = conditions.squeezed(system, answers.factors, answers.fixed, answers.sample)
    if not found:
        return answers
    values = tuple(found.get(column, value) for column, value in enumerate(answers.values))
    fixed = tuple(known or column in found for column, known in enumerate(answers.fixed))
    return replace(answers, values=values, fixed=fixed)


def _with_letters(
    system: System, factors: linear.Factor, fixed: list[bool], consistent: bool
) -> tuple[bool | None, list[bool]]:
    """Whether a balance exists, and which unknowns have a value, whatever sizes the letters stand for."""
    known = list(fixed)
    certain: bool | None = consistent
    for letter in system.letters:
        share, left_over = linear.solve(factors, letter)
        if left_over > ROUNDING_TOLERANCE:
            certain = None
        known = [was and abs(part) <= linear.FIXED_TOLERANCE for was, part in zip(known, share, strict=True)]
    return certain, known

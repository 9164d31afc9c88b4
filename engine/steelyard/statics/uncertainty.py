"""How sure the reactions are when measured numbers may be off: first order, and the worst case over the whole box.

First order: half-widths taken as independent, the root of the sum of squares of (derivative × half-width). The
derivatives are differences of the exact answers: for numbers that enter the loads alone a single difference is exact;
for lengths and angles of the layout a central difference of fourth order, whose error is estimated and reported.
Source: ISO/IEC Guide 98-3 (GUM), section 5.1, from memory.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ..document.paths import Number, number_at, with_number
from ..geometry import Vector, cross, dot, length
from ..model import Body, Couple, Force, Sketch, SpreadLoad, Support, Thing
from . import joined
from .solved import Solved, solved
from .worst_case import MOST_INPUTS, Corner, Extent, Measure, extents

Quantity = Literal["x", "y", "size", "direction", "couple"]

# The step of a difference, as a part of the sketch's size or of a radian: with fourth order its own error and that
# of rounding are then both about 1e-12 of what changes over such a length.
STEP = 1e-3
# Where a layout is nearly degenerate the step is too long for it: it is shortened until two steps agree so far.
AGREEMENT = 1e-9
SHORTENED = 0.1
MOST_SHORTENINGS = 4
_ROUNDING = 1e-15


@dataclass(frozen=True, slots=True)
class Share:
    """What one input adds: derivative × half-width, signed, and how far that may be off by the way it was found."""

    path: str
    change: float
    error: float


@dataclass(frozen=True, slots=True)
class Spread:
    """How sure one quantity of an unknown is. Newtons, N·m, degrees.

    x and y are along the sketch's axes. `half_width` is the first-order one and `error` how far it may be off by the
    way derivatives were found. `most` is the path of the input that adds most, "" when none adds anything. `extent`
    is the worst case over the box, None where it was not asked for or does not exist.
    """

    force: str
    symbol: str
    quantity: Quantity
    value: float
    half_width: float
    error: float
    most: str
    shares: tuple[Share, ...]
    extent: Extent | None = None


@dataclass(frozen=True, slots=True)
class Uncertainty:
    """The spreads of all unknowns with a value. `trouble` says why there are none, or why no worst case exists.

    `may_fail`: forces that would have to act the wrong way somewhere in the box, or be more than there can be: friction
    beyond μ times its normal, a normal beyond the end of its face (the id of the friction force, or of the normal).
    """

    inputs: tuple[Number, ...]
    half_widths: tuple[float, ...]
    spreads: tuple[Spread, ...]
    trouble: str
    may_fail: tuple[str, ...] = ()


# By force: derivative of its vector, and of its couple, with the error of each.
_Slopes = tuple[dict[str, tuple[Vector, float]], dict[str, tuple[float, float]]]


def uncertainty(
    sketch: Sketch, body_id: str | None = None, *, bodies: Sequence[str] | None = None, worst: bool = True
) -> Uncertainty | None:
    """How sure the reactions on one system are, chosen as `analyse` does; None when the sketch has no half-widths.

    What it is joined to is solved with it, so numbers of other bodies count too.

    `worst` also looks for the worst case over the box (two to the power of the number of inputs solves).
    """
    if not sketch.half_widths:
        return None
    inputs = tuple(number_at(sketch, each.path) for each in sketch.half_widths)
    widths = tuple(each.half_width for each in sketch.half_widths)
    system = joined.system_ids(sketch, body_id, bodies)
    here = solved(sketch, bodies=system)
    if not here.vectors and not here.couples:
        return Uncertainty(inputs, widths, (), "No reaction has a value to be unsure of.")
    if here.fails:
        return Uncertainty(inputs, widths, (), "There is no balance like this, so no reaction to be unsure of.")
    slopes = [_slopes(sketch, system, here, number) for number in inputs]
    for number, each in zip(inputs, slopes, strict=True):
        if each is None:
            return Uncertainty(inputs, widths, (), f"The least change of {number.path} changes what statics can tell.")
    spreads = _spreads(here, inputs, widths, [each for each in slopes if each is not None])
    if worst and len(inputs) > MOST_INPUTS:
        trouble = f"With more than {MOST_INPUTS} half-widths there are too many corners to look for the worst case."
        return Uncertainty(inputs, widths, spreads, trouble)
    if not worst:
        return Uncertainty(inputs, widths, spreads, "")
    return _with_extents(sketch, system, here, Uncertainty(inputs, widths, spreads, ""))


def _spreads(
    here: Solved, inputs: Sequence[Number], widths: Sequence[float], slopes: Sequence[_Slopes]
) -> tuple[Spread, ...]:
    made = []
    for force in here.acting:
        if force.id in here.vectors:
            vector = here.vectors[force.id]
            changes = [
                ((step[0] * width, step[1] * width), error * width)
                for (step, error), width in zip((each[0][force.id] for each in slopes), widths, strict=True)
            ]
            size = length(vector)
            made += [
                _spread(force.id, force.symbol, "x", vector[0], inputs, [(by[0], error) for by, error in changes]),
                _spread(force.id, force.symbol, "y", vector[1], inputs, [(by[1], error) for by, error in changes]),
            ]
            if size > 0.0:
                along = [(dot(vector, by) / size, error) for by, error in changes]
                made.append(_spread(force.id, force.symbol, "size", size, inputs, along))
            if size > 0.0 and force.sought == "size and direction":
                turned = [
                    (math.degrees(cross(vector, by) / size**2), math.degrees(error / size)) for by, error in changes
                ]
                angle = math.degrees(math.atan2(vector[1], vector[0])) % 360.0
                made.append(_spread(force.id, force.symbol, "direction", angle, inputs, turned))
        elif force.id in here.couples:
            changed = [
                (step * width, error * width)
                for (step, error), width in zip((each[1][force.id] for each in slopes), widths, strict=True)
            ]
            made.append(_spread(force.id, force.symbol, "couple", here.couples[force.id], inputs, changed))
    return tuple(made)


def _spread(
    force: str,
    symbol: str,
    quantity: Quantity,
    value: float,
    inputs: Sequence[Number],
    changes: Sequence[tuple[float, float]],
) -> Spread:
    shares = tuple(Share(number.path, by, error) for number, (by, error) in zip(inputs, changes, strict=True))
    total = math.hypot(*(share.change for share in shares))
    # |∂√Σs²| <= √Σ(∂s)², so the errors add up in the same way.
    error = math.hypot(*(share.error for share in shares))
    largest = max(shares, key=lambda share: abs(share.change))
    most = largest.path if abs(largest.change) > largest.error else ""
    return Spread(force, symbol, quantity, value, total, error, most, shares)


def _slopes(sketch: Sketch, system: Sequence[str], here: Solved, number: Number) -> _Slopes | None:
    """Derivatives of all reactions with one input; None when the least change of it changes the verdict."""
    lever = here.system.lever_m
    if enters_loads_alone(sketch, number):
        step = STEP * (abs(number.value) or (lever if number.kind == "length" else 1.0))
        there = solved(with_number(sketch, number, number.value + step), bodies=system)
        # A support at its limit gives way beyond it; its values go on as they were.
        same = there.vectors.keys() == here.vectors.keys() and there.couples.keys() == here.couples.keys()
        return _one_sided(here, there, step) if same else None
    step = STEP * {"length": lever, "angle": math.degrees(1.0)}.get(number.kind, abs(number.value) or 1.0)
    best: _Slopes | None = None
    for _ in range(MOST_SHORTENINGS):
        at = {
            times: solved(with_number(sketch, number, number.value + times * step), bodies=system)
            for times in (-4, -2, -1, 1, 2, 4)
        }
        if all(
            each.vectors.keys() == here.vectors.keys() and each.couples.keys() == here.couples.keys()
            for each in at.values()
        ):
            tried = _central(here, at, step)
            if best is None or _worst_error(tried) < _worst_error(best):
                best = tried
            if _worst_error(tried) * step <= AGREEMENT * STEP * _largest(here):
                break
        step *= SHORTENED
    return best


def _one_sided(here: Solved, there: Solved, step: float) -> _Slopes:
    """Exact for values that change in proportion, but for rounding."""
    rounding = _ROUNDING * _largest(here) / step
    vectors = {
        key: (((there.vectors[key][0] - x) / step, (there.vectors[key][1] - y) / step), rounding)
        for key, (x, y) in here.vectors.items()
    }
    return vectors, {key: ((there.couples[key] - value) / step, rounding) for key, value in here.couples.items()}


def _central(here: Solved, at: dict[int, Solved], step: float) -> _Slopes:
    """Fourth order; the error is that of the same with the double step, over 2⁴ − 1 (Richardson), and rounding."""
    rounding = _ROUNDING * _largest(here) / step

    def both(values: dict[int, float]) -> tuple[float, float]:
        fine = (8.0 * (values[1] - values[-1]) - (values[2] - values[-2])) / (12.0 * step)
        coarse = (8.0 * (values[2] - values[-2]) - (values[4] - values[-4])) / (24.0 * step)
        return fine, abs(fine - coarse) / 15.0 + rounding

    vectors = {}
    for key in here.vectors:
        (x, x_error), (y, y_error) = (both({times: at[times].vectors[key][row] for times in at}) for row in (0, 1))
        vectors[key] = ((x, y), math.hypot(x_error, y_error))
    return vectors, {key: both({times: at[times].couples[key] for times in at}) for key in here.couples}


def _worst_error(slopes: _Slopes) -> float:
    return max([error for _, error in slopes[0].values()] + [error for _, error in slopes[1].values()])


def _largest(here: Solved) -> float:
    sizes = [length(vector) for vector in here.vectors.values()] + [abs(value) for value in here.couples.values()]
    return max([here.system.known_scale_n, *sizes])


def enters_loads_alone(sketch: Sketch, number: Number) -> bool:
    """Whether the number changes only what is applied, and in proportion: every reaction is then linear in it."""
    if number.of == "settings":
        return True
    for entity in (*sketch.bodies, *sketch.supports, *sketch.loads):
        if entity.id == number.of:
            if isinstance(entity, Thing | Couple):
                return True
            if isinstance(entity, Force):
                return entity.role == "known" and number.key != "direction_deg"
            if isinstance(entity, SpreadLoad):
                return number.kind == "intensity"
            return isinstance(entity, Body) and number.key in ("mass_kg", "weight_n", "centre_m", "length_m")
    return False


def _runs_straight(sketch: Sketch, number: Number) -> bool:
    """Whether in this number alone every reaction's vector runs straight from end to end, so that corners bound it.

    By Cramer's rule every value is a ratio of two determinants. A place enters one support's column, in proportion,
    so both are linear in it; an angle of a line enters both as A cos + B sin. Either way (x, y) moves one way on a
    straight line. A rope or strut turns with its place and its far end: measured per length of rope its column is
    linear in them too, so the other forces run straight, with one denominator; and its own vector is what balances
    their sum and the loads, which is straight as well. Two columns that change in the torque of one body still make
    one row linear; where they change in two rows as well, or their directions both turn, it is not so: a joint of two
    unknowns between bodies, friction with its normal, a face, a rope over a pulley.
    """
    if enters_loads_alone(sketch, number):
        return True
    for entity in (*sketch.supports, *sketch.loads):
        if entity.id == number.of:
            if isinstance(entity, Support):
                two = entity.kind in ("pin", "fixed") or entity.mu is not None
                turned = entity.mu is not None and number.key == "normal_deg"
                between = entity.other is not None and two
                return not (between or turned or entity.face_m is not None or entity.over_m is not None)
            return isinstance(entity, Force) and entity.role == "unknown"
    return False


def _with_extents(sketch: Sketch, system: Sequence[str], here: Solved, found: Uncertainty) -> Uncertainty:
    """Add the worst case over the box to each spread."""
    box = []
    for number, width in zip(found.inputs, found.half_widths, strict=True):
        low = number.value - width
        box.append((max(0.0, low) if number.never_negative and number.value >= 0.0 else low, number.value + width))

    def at(values: Sequence[float]) -> Corner | None:
        changed = sketch
        for number, value in zip(found.inputs, values, strict=True):
            changed = with_number(changed, number, value)
        there = solved(changed, bodies=system)
        if there.vectors.keys() != here.vectors.keys() or there.couples.keys() != here.couples.keys():
            return None
        return Corner(there.vectors, there.couples, there.turn, there.along, there.spare)

    straight = tuple(
        here.turn != 0.0 and _runs_straight(sketch, number) and (number.kind != "angle" or width < 90.0)
        for number, width in zip(found.inputs, found.half_widths, strict=True)
    )
    measures = [Measure(spread.force, spread.quantity) for spread in found.spreads]
    one_way = tuple(force.id for force in here.acting if force.one_way and force.id in here.along)
    made = extents(at, box, [number.value for number in found.inputs], straight, measures, one_way)
    if made is None:
        return replace(found, trouble="Within these half-widths the supports may stop holding: there is no worst case.")
    found_extents, may_fail = made
    spreads = tuple(replace(spread, extent=extent) for spread, extent in zip(found.spreads, found_extents, strict=True))
    return replace(found, spreads=spreads, may_fail=may_fail)

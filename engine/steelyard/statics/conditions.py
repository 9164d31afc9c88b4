"""What one-way supports, friction and faces allow of the unknowns, beyond what the equations say.

Every condition is linear: a one-way force is not negative, a bounded unknown is within a factor of its normal. What
they leave is a convex set, looked at by the linear programs of `program`; for any number of rows.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from .. import linear
from ..program import Program

if TYPE_CHECKING:
    from ..program import Bound
    from .reading import ActingForce
from .system import System

# Beside the largest force, a range this narrow has one value: what is left of it is rounding.
ONE_VALUE = 1e-8
# Beside the largest force, a condition with no more room than this is met exactly.
TIGHT = 1e-9

Form = Mapping[int, float]


class Unknowns(NamedTuple):
    """The unknowns of one body or of joined ones, alike: three rows a body.

    `owners`: the position of each column's force in `forces`, and its part. `tied`: as in `System`.
    """

    forces: Sequence[ActingForce]
    owners: Sequence[tuple[int, str]]
    columns: Sequence[Sequence[float]]
    one_way: Sequence[bool]
    bounds: Sequence[Bound]
    known: Sequence[float]
    known_scale_n: float
    tied: Sequence[tuple[int, int, float]]


def unknowns_of(acting: Sequence[ActingForce], system: System) -> Unknowns:
    """Those of one body."""
    return Unknowns(
        acting, system.owners, system.columns, system.one_way, system.bounds, system.known, system.known_scale_n,
        system.tied,
    )  # fmt: skip


def conditioned(system: System) -> bool:
    """Whether anything acts one way only, or is bounded."""
    return bool(system.bounds) or any(system.one_way)


@lru_cache(maxsize=64)
def program_of(system: System) -> Program:
    """The linear program of a system without letters, solved once."""
    right_side = [0.0 - part for part in system.known]
    return Program(system.columns, right_side, system.one_way, system.bounds, system.known_scale_n)


def forms(system: System) -> list[Form]:
    """Every condition as a linear form of the columns that must not be negative."""
    found: list[Form] = [{column: 1.0} for column, one_way in enumerate(system.one_way) if one_way]
    for bound in system.bounds:
        found += [{bound.normal: bound.factor, bound.column: sense} for sense in (1.0, -1.0)]
    return found


def value(form: Form, values: Sequence[float]) -> float:
    """A linear form of the columns."""
    return sum(factor * values[column] for column, factor in form.items())


def scale(system: System, values: Sequence[float]) -> float:
    """The largest force there is: what tolerances are parts of."""
    return max(system.known_scale_n, max(map(abs, values), default=0.0))


def squeezed(
    system: System, factors: linear.Factor, fixed: Sequence[bool], values: Sequence[float]
) -> dict[int, float]:
    """Columns that the equations leave open and the conditions give one value all the same, with that value.

    `values` are an admissible answer. Where the conditions it meets with nothing to spare are independent, the
    answers around it fill every open direction, and no range is looked at.
    """
    tight = TIGHT * scale(system, values)
    free = linear.null_space(factors)
    rates = [
        [value(form, vector) for vector in free]
        for form in forms(system)
        if abs(value(form, values)) <= tight * max(1.0, *form.values())
    ]
    rates = [rate for rate in rates if max(map(abs, rate)) > linear.FIXED_TOLERANCE]
    if len(rates) <= linear.factor(rates, len(free)).rank:
        return {}
    found: dict[int, float] = {}
    program = program_of(system)
    if not program.outcome.admissible:
        return found
    for column, known in enumerate(fixed):
        if not known:
            reach = program.range_of({column: 1.0})
            if reach.greatest.value - reach.least.value <= ONE_VALUE * scale(system, values):
                found[column] = 0.5 * (reach.greatest.value + reach.least.value)
    return found

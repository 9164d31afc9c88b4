"""What a program of statics says: whether something is admissible, and how far it reaches; no computation."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

# A linear form of the unknowns, by column.
Form = Mapping[int, float]


class Bound(NamedTuple):
    """|x[column]| <= factor · x[normal]: friction (factor μ), or the couple over a face (half its length / lever).

    `factor` is from 0 to inf; the normal must not be negative, whether or not it is marked one-way.
    """

    column: int
    normal: int
    factor: float


@dataclass(frozen=True, slots=True)
class Outcome:
    """Whether admissible values exist; such values, or else the least inadmissible ones and a proof that none exist.

    `values`, in newtons, always make A·x as near to b as elimination finds, within rounding when the equations have
    a solution; `left_over` is b − A·x, all zero when they have. When they have and nothing is admissible, `values`
    are those with the least total violation, in which a negative normal counts once, and a bound short of `factor`
    times the normal by what is missing over max(1, factor), once for each sense it is missing in.

    `backward[column]`: how far a one-way unknown is below zero. `excess[bound]`: how far |x| is above factor times
    the normal, a negative normal taken as zero. Both are zero where the condition holds within rounding.

    `motion` (None when admissible) is a virtual motion y, its largest part 1, with y·b < 0: every
    admissible set of unknowns does no negative work on it (y·A·x >= 0), so none can balance b (Farkas, 1902).
    """

    admissible: bool
    values: tuple[float, ...]
    left_over: tuple[float, ...]
    backward: tuple[float, ...]
    excess: tuple[float, ...]
    motion: tuple[float, ...] | None


@dataclass(frozen=True, slots=True)
class End:
    """One end of a range: its value in newtons, ±inf where there is none, and a set of admissible values.

    With an end, `values` reach it and `ray` is None. Without, values + s·ray is admissible for every s >= 0, balances
    the same b, and the form goes to the infinite `value`; the largest part of `ray` is 1.
    """

    value: float
    values: tuple[float, ...]
    ray: tuple[float, ...] | None


@dataclass(frozen=True, slots=True)
class Range:
    """The least and the greatest value of a linear form over all admissible answers."""

    least: End
    greatest: End

"""What an unknown can be when statics leaves one degree open: supports that act one way bound it.

All balances are x = x₀ + t·n with one free t. Each one-way unknown keeps t on one side, so the others
can only take values between two ends.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from .. import linear
from ..statics.advice import Part, pushing, turning
from ..statics.reading import Analysis

# A share of the free direction below this is rounding.
_NO_SHARE = 1e-9


@dataclass(frozen=True, slots=True)
class Range:
    """The least and most of a part along its drawn sense, in N or N m; infinite where nothing bounds it."""

    part: str
    least: float
    most: float


def ranges(analysis: Analysis, every: Sequence[Part]) -> tuple[Range, ...]:
    """The ranges of the unknowns that are not fixed, one degree being open; empty otherwise.

    Empty as well while a size is a letter, and where no value lets every one-way support hold.
    """
    unknown = [part for part in every if part.unknown]
    known = [part for part in every if not part.unknown]
    if analysis.supports.degree != 1 or any(part.size is None for part in known) or analysis.whole is not None:
        return ()
    # Friction and places on a face have bounds of another kind.
    if any(reading.force.mu is not None or reading.force.face is not None for reading in analysis.readings):
        return ()
    centre, lever = analysis.pivot, analysis.lever_m
    columns = [_column(part, centre, lever) for part in unknown]
    factors = linear.factor(columns, 3)
    free = linear.null_space(factors)
    if len(free) != 1:
        return ()
    applied = [0.0, 0.0, 0.0]
    for part in known:
        for row, share in enumerate(_column(part, centre, lever)):
            applied[row] -= share * (part.size or 0.0)
    start, _ = linear.solve(factors, applied)
    low, high = -math.inf, math.inf
    for part, value, share in zip(unknown, start, free[0], strict=True):
        if part.one_way and abs(share) > _NO_SHARE:
            bound = -value / share
            low, high = (max(low, bound), high) if share > 0.0 else (low, min(high, bound))
    if low > high:
        return ()
    found = []
    for part, value, share in zip(unknown, start, free[0], strict=True):
        if abs(share) > _NO_SHARE:
            ends = sorted((_clean(value, share * low), _clean(value, share * high)))
            found.append(Range(part.key, ends[0], ends[1]))
    return tuple(found)


def _clean(value: float, moved: float) -> float:
    """The sum of two numbers, zero when it is nothing but rounding."""
    total = value + moved
    return 0.0 if math.isfinite(total) and abs(total) <= _NO_SHARE * max(abs(value), abs(moved)) else total


def _column(part: Part, centre: tuple[float, float], lever: float) -> list[float]:
    torque = turning(part, centre, lever) / lever if part.along is not None else part.turn / lever
    return [pushing(part, (1.0, 0.0)), pushing(part, (0.0, 1.0)), torque]

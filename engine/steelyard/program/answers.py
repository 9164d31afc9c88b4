"""Which unknowns of A·x = b are admissible: one-way ones not negative, bounded ones within a share of a normal.

The caller scales the rows, so that all entries of A are pure numbers of order one; x and b are forces. All
tolerances are parts of the largest force, so no answer depends on the unit of force or on the size of a sketch.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .dictionary import Dictionary
from .elimination import Column, Eliminated, eliminate, entries

# Equations and conditions are kept within this part of the largest force: the rounding of the coordinates of a
# sketch a million times its own size away from the origin. A contact at its very limit is admissible.
ROUNDING_TOLERANCE = 1e-9

# A bound of so many times the normal cannot be told from none: what it asks of the normal is rounding. All that is
# left of it is that the normal is not negative.
NO_BOUND = 1.0 / ROUNDING_TOLERANCE

# A linear form of the unknowns, by column.
Form = Mapping[int, float]


@dataclass(frozen=True, slots=True)
class Bound:
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


def feasible(
    columns: Sequence[Column],
    right_side: Sequence[float],
    one_way: Sequence[bool],
    bounds: Sequence[Bound] = (),
    scale: float = 0.0,
) -> Outcome:
    """Whether A·x = b has an answer with x >= 0 for the one-way unknowns and all bounds kept; see `Outcome`.

    `columns` of A, dense or by row; `right_side` b, minus the known wrenches; `scale` the largest known force where
    it is more than the largest part of b (known forces may cancel). Any numbers of rows and columns, of any rank.
    """
    return Program(columns, right_side, one_way, bounds, scale).outcome


def ranges(
    columns: Sequence[Column],
    right_side: Sequence[float],
    one_way: Sequence[bool],
    bounds: Sequence[Bound] = (),
    scale: float = 0.0,
    forms: Sequence[Form] | None = None,
) -> tuple[Range, ...]:
    """The range of each linear form of the unknowns (of each unknown, when none are given); empty when infeasible."""
    program = Program(columns, right_side, one_way, bounds, scale)
    if not program.outcome.admissible:
        return ()
    wanted: Sequence[Form] = [{index: 1.0} for index in range(len(columns))] if forms is None else forms
    return tuple(program.range_of(form) for form in wanted)


class Program:
    """One system with its conditions: `outcome` found once, ranges then from there."""

    __slots__ = (
        "_allowed",
        "_bounds", "_columns", "_eliminated", "_one_way", "_right_side", "_scale", "_slacks", "_start", "outcome",
    )  # fmt: skip

    def __init__(
        self,
        columns: Sequence[Column],
        right_side: Sequence[float],
        one_way: Sequence[bool],
        bounds: Sequence[Bound] = (),
        scale: float = 0.0,
    ) -> None:
        self._scale = max(scale, max(map(abs, right_side), default=0.0)) or 1.0
        self._right_side = [part / self._scale for part in right_side]
        self._columns = [entries(column) for column in columns]
        self._one_way = list(one_way)
        self._bounds = tuple(bounds)
        for bound in bounds:
            self._one_way[bound.normal] = True
        # Slacks follow the unknowns: (bound, sense), with the slack (factor·normal − sense·x) / max(1, factor).
        self._slacks = [(bound, sense) for bound in bounds if bound.factor < NO_BOUND for sense in (1.0, -1.0)]
        tied = {bound.column for bound in bounds}
        sooner = [not way and index not in tied for index, way in enumerate(self._one_way)]
        self._eliminated = eliminate(columns, self._right_side, sooner)
        self._start = self._dictionary(self._eliminated)
        self._allowed = [0.0] * len(self._start.rows)
        self.outcome = self._outcome()

    def _dictionary(self, eliminated: Eliminated) -> Dictionary:
        """The unknowns and the slacks in terms of the unknowns that elimination left over."""
        count = len(self._columns)
        rows: list[dict[int, float] | None] = [None] * count
        constants = [0.0] * count
        for row, column in eliminated.pivots.items():
            rows[column] = {index: -value for index, value in eliminated.rows[row].items()}
            constants[column] = eliminated.right_side[row]
        start = Dictionary(rows, constants, list(self._one_way))
        for bound, sense in self._slacks:
            start.add(self._slack_form(bound, sense), True)
        return start

    @staticmethod
    def _slack_form(bound: Bound, sense: float) -> dict[int, float]:
        most = max(1.0, bound.factor)
        return {bound.normal: bound.factor / most, bound.column: -sense / most}

    def _outcome(self) -> Outcome:
        left = [0.0 if row in self._eliminated.pivots else part for row, part in enumerate(self._eliminated.right_side)]
        prices = self._start.least_violation()
        values = self._refined(self._start)
        limit = ROUNDING_TOLERANCE * max(1.0, max(map(abs, values), default=0.0))
        if max(map(abs, left), default=0.0) > limit:
            left_over = self._left_over(values)
            return self._made(False, values, left_over, limit, self._eliminated.combined([-part for part in left]))
        short = max((-self._condition(index, values) for index in self._conditioned()), default=0.0)
        motion = None if short <= limit else self._motion(prices)
        if motion is None:
            # What the conditions lack within rounding is allowed, so that no range starts from outside.
            for index in self._conditioned():
                self._allowed[index] = self._start.shift(index)
        return self._made(motion is None, values, [0.0] * len(left), limit, motion)

    def _conditioned(self) -> list[int]:
        return [index for index, condition in enumerate(self._start.conditioned) if condition]

    def _condition(self, index: int, values: Sequence[float]) -> float:
        """The value of a quantity, unknown or slack, from the unknowns."""
        count = len(self._columns)
        if index < count:
            return values[index]
        bound, sense = self._slacks[index - count]
        return (bound.factor * values[bound.normal] - sense * values[bound.column]) / max(1.0, bound.factor)

    def _motion(self, prices: Mapping[int, float]) -> list[float]:
        """The motion on which each condition's force does the work that its price says: yᵀ·A = Σ price·condition."""
        work = [0.0] * len(self._columns)
        for index, price in prices.items():
            if index < len(work):
                work[index] += price
            else:
                for column, factor in self._slack_form(*self._slacks[index - len(work)]).items():
                    work[column] += price * factor
        weights = [0.0] * len(self._right_side)
        for row, column in self._eliminated.pivots.items():
            weights[row] = work[column]
        return self._eliminated.combined(weights)

    def _made(
        self,
        admissible: bool,
        values: Sequence[float],
        left_over: Sequence[float],
        limit: float,
        motion: Sequence[float] | None,
    ) -> Outcome:
        backward = [-value if way and value < -limit else 0.0 for way, value in zip(self._one_way, values, strict=True)]
        excess = []
        for bound in self._bounds:
            most = max(1.0, bound.factor)
            over = abs(values[bound.column]) - bound.factor * max(0.0, values[bound.normal])
            excess.append(over if bound.factor < NO_BOUND and over / most > limit else 0.0)
        if motion is not None:
            most = max(map(abs, motion))
            motion = [part / most for part in motion]
        return Outcome(
            admissible,
            self._in_newtons(values),
            self._in_newtons(left_over),
            self._in_newtons(backward),
            self._in_newtons(excess),
            None if motion is None else tuple(motion),
        )

    def _in_newtons(self, parts: Sequence[float]) -> tuple[float, ...]:
        return tuple(part * self._scale for part in parts)

    def _left_over(self, values: Sequence[float]) -> list[float]:
        left = list(self._right_side)
        for column, value in zip(self._columns, values, strict=True):
            if value:
                for row, part in column:
                    left[row] -= part * value
        return left

    def _refined(self, dictionary: Dictionary) -> list[float]:
        """The unknowns at a corner, corrected by what the equations and the parameters' conditions have left over.

        Many exchanges lose digits; the corner is known by which quantities are zero there (iterative refinement).
        """
        values = [
            constant - allowed
            for constant, allowed in zip(dictionary.constants, self._allowed[: len(self._columns)], strict=False)
        ]
        wanted = {index: -self._allowed[index] for index, row in enumerate(dictionary.rows) if row is None}
        self._correct(values, self._left_over(values), wanted, dictionary)
        return values

    def _correct(
        self, values: list[float], left_over: Sequence[float], wanted: Mapping[int, float], dictionary: Dictionary
    ) -> None:
        """Move the unknowns by what is left over of the equations, then the parameters to their wanted values."""
        count = len(values)
        change = self._eliminated.reduced(left_over)
        for row, column in self._eliminated.pivots.items():
            values[column] += change[row]
        for parameter, value in wanted.items():
            off = value - self._condition(parameter, values)
            if not off:
                continue
            for index, rate in dictionary.effects(parameter):
                if index < count:
                    values[index] += rate * off
            if parameter < count:
                values[parameter] = value

    def _ray(self, dictionary: Dictionary, parameter: int, sense: float) -> tuple[float, ...]:
        """How the unknowns change as a parameter moves, the largest by 1."""
        ray = [0.0] * len(self._columns)
        for index, rate in dictionary.effects(parameter):
            if index < len(ray):
                ray[index] = sense * rate
        if parameter < len(ray):
            ray[parameter] = sense
        wanted = {index: sense * (index == parameter) for index, row in enumerate(dictionary.rows) if row is None}
        left = [0.0] * len(self._right_side)
        for column, value in zip(self._columns, ray, strict=True):
            for row, part in column:
                left[row] -= part * value
        self._correct(ray, left, wanted, dictionary)
        most = max(map(abs, ray))
        return tuple(part / most for part in ray)

    def range_of(self, form: Form) -> Range:
        """The range of a linear form (by column) over all admissible answers; there must be one."""
        if not self.outcome.admissible:
            raise ValueError("No range: nothing is admissible.")
        start = self._start.copy()
        sought = start.add(form, False)
        if not start.rows[sought]:
            values = self.outcome.values
            end = End(sum(factor * values[index] for index, factor in form.items()), values, None)
            return Range(end, end)
        return Range(self._end(form, start.copy(), sought, -1.0), self._end(form, start, sought, 1.0))

    def _end(self, form: Form, dictionary: Dictionary, sought: int, sense: float) -> End:
        way = dictionary.greatest(sought, sense)
        values = self._in_newtons(self._refined(dictionary))
        if way is None:
            return End(sum(factor * values[index] for index, factor in form.items()), values, None)
        return End(math.copysign(math.inf, sense), values, self._ray(dictionary, *way))

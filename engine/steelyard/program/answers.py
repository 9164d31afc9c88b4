"""Which unknowns of A·x = b are admissible: one-way ones not negative, bounded ones within a share of a normal.

The caller scales the rows, so that all entries of A are pure numbers of order one; x and b are forces. All
tolerances are parts of the largest force, so no answer depends on the unit of force or on the size of a sketch.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Mapping, Sequence

from .dictionary import Dictionary
from .elimination import Column, Eliminated, eliminate, entries
from .results import Bound, End, Form, Outcome, Range
from .table import Table

# Equations and conditions are kept within this part of the largest force: the rounding of the coordinates of a
# sketch a million times its own size away from the origin. A contact at its very limit is admissible.
ROUNDING_TOLERANCE = 1e-9

# A bound of so many times the normal cannot be told from none: what it asks of the normal is rounding. All that is
# left of it is that the normal is not negative.
NO_BOUND = 1.0 / ROUNDING_TOLERANCE

# So many of the corners found last are kept, to seek the next end from the nearest of them.
CORNERS = 16


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
        "_bounds",
        "_columns",
        "_corners",
        "_eliminated",
        "_one_way",
        "_right_side",
        "_scale",
        "_slacks",
        "_start",
        "outcome",
    )

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
        self._allowed = [0.0] * len(self._start.conditioned)
        self.outcome = self._outcome()
        self._corners = deque([(self.outcome.values, self._start)], maxlen=CORNERS)

    def _dictionary(self, eliminated: Eliminated) -> Dictionary:
        """The unknowns and the slacks in terms of the unknowns that elimination left over."""
        count = len(self._columns)
        solved = set(eliminated.pivots.values())
        parameters = [index for index in range(count) if index not in solved]
        rows: list[list[float] | None] = [None] * count
        constants = [0.0] * count
        for row, column in eliminated.pivots.items():
            shares = eliminated.rows[row]
            rows[column] = [-shares.get(index, 0.0) for index in parameters]
            constants[column] = eliminated.right_side[row]
        start = Dictionary(Table(rows, constants, parameters), list(self._one_way))
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
            for constant, allowed in zip(dictionary.now.constants, self._allowed[: len(self._columns)], strict=False)
        ]
        wanted = [-self._allowed[index] for index in dictionary.now.parameters]
        self._correct(values, self._left_over(values), wanted, dictionary)
        return values

    def _correct(
        self, values: list[float], left_over: Sequence[float], wanted: Sequence[float], dictionary: Dictionary
    ) -> None:
        """Move the unknowns by what is left over of the equations, then the parameters to their wanted values."""
        count = len(values)
        change = self._eliminated.reduced(left_over)
        for row, column in self._eliminated.pivots.items():
            values[column] += change[row]
        for place, (parameter, value) in enumerate(zip(dictionary.now.parameters, wanted, strict=True)):
            off = value - self._condition(parameter, values)
            if not off:
                continue
            for index, rate in dictionary.now.effects(place):
                if index < count:
                    values[index] += rate * off
            if parameter < count:
                values[parameter] = value

    def _ray(self, dictionary: Dictionary, place: int, sense: float) -> tuple[float, ...]:
        """How the unknowns change as a parameter moves, the largest by 1."""
        ray = [0.0] * len(self._columns)
        for index, rate in dictionary.now.effects(place):
            if index < len(ray):
                ray[index] = sense * rate
        parameter = dictionary.now.parameters[place]
        if parameter < len(ray):
            ray[parameter] = sense
        wanted = [sense if index == parameter else 0.0 for index in dictionary.now.parameters]
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
        least, greatest = self._end(form, -1.0), self._end(form, 1.0)
        # Both are admissible within rounding; at a single value, rounding may have changed their order.
        return Range(least, greatest) if least.value <= greatest.value else Range(greatest, least)

    def _end(self, form: Form, sense: float) -> End:
        """One end, sought from the corner that is furthest that way of those found last."""
        corner = max(self._corners, key=lambda found: sense * _value(form, found[0]))
        here = corner[1].copy()
        sought = here.add(form, False)
        if not any(here.first.rows[sought] or ()):  # equilibrium alone fixes it
            return End(_value(form, self.outcome.values), self.outcome.values, None)
        way = here.greatest(sought, sense)
        here.drop()
        values = self._in_newtons(self._refined(here))
        self._corners.append((values, here))
        if way is None:
            return End(_value(form, values), values, None)
        return End(math.copysign(math.inf, sense), values, self._ray(here, *way))


def _value(form: Form, values: Sequence[float]) -> float:
    return sum(factor * values[index] for index, factor in form.items())

"""A linear program as a dictionary: every quantity written in terms of a few that are zero for now.

The quantities are the unknowns and the slacks of their conditions. As many of them are parameters, all zero, as the
equations leave free; each other one is constant + Σ coefficient·parameter. An exchange of a parameter with another
quantity leads from corner to corner of what is admissible: the simplex method (Dantzig), seen from the side where
statics is small. A sketch has few unknowns more than equations, whatever their number.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

# Quantities are scaled to a largest force of one: what is below this is the noise of the arithmetic.
NOISE = 1e-13

# Coefficients below this part of the largest one of their parameter neither stop it nor are exchanged with it.
PIVOT_TOLERANCE = 1e-11

# A parameter that changes the sought quantity by less than this part of its largest effect does not change it.
RATE_TOLERANCE = 1e-10

# A coefficient that keeps less than this part of itself in an exchange has lost too many digits.
KEPT = 1e-4

# Exchanges for each quantity after which something is wrong; a few are usual.
EXCHANGES = 50

Row = dict[int, float]


class Dictionary:
    """The quantities: `rows` and `constants` by index (the row of a parameter is None, its constant zero).

    `conditioned` quantities must not be negative. `first` is the same as it was before any exchange. A row is never
    changed in place, so that copies share them.
    """

    __slots__ = ("conditioned", "constants", "first_constants", "first_rows", "rows")

    def __init__(self, rows: list[Row | None], constants: list[float], conditioned: list[bool]) -> None:
        self.rows = rows
        self.constants = constants
        self.conditioned = conditioned
        self.first_rows = list(rows)
        self.first_constants = list(constants)

    def copy(self) -> Dictionary:
        """One that can be changed without changing this one."""
        made = Dictionary(list(self.rows), list(self.constants), list(self.conditioned))
        made.first_rows = list(self.first_rows)
        made.first_constants = list(self.first_constants)
        return made

    def add(self, form: Mapping[int, float], condition: bool) -> int:
        """One more quantity, a linear form of the others; its index."""
        row, constant = _written(form, self.rows, self.constants)
        first_row, first_constant = _written(form, self.first_rows, self.first_constants)
        self.rows.append(row)
        self.constants.append(constant)
        self.conditioned.append(condition)
        self.first_rows.append(first_row)
        self.first_constants.append(first_constant)
        return len(self.rows) - 1

    def shift(self, index: int) -> float:
        """Count a quantity from its present value instead, where that is negative; by how much it is more then."""
        change = -self.constants[index]
        if change <= 0.0:
            return 0.0
        self.constants[index] = 0.0
        if self.first_rows[index] is None:
            for other, row in enumerate(self.first_rows):
                if row is not None:
                    self.first_constants[other] -= change * row.get(index, 0.0)
        else:
            self.first_constants[index] += change
        return change

    def exchange(self, entering: int, leaving: int) -> None:
        """Make the parameter `entering` a quantity with a row, and `leaving` a parameter in its place."""
        if not _exchange(self.rows, self.constants, entering, leaving):
            self._afresh()

    def _afresh(self) -> None:
        """The same parameters again, straight from the first ones, the largest coefficients first.

        A corner passed on the way, with a contact that grips a million times its normal, has large coefficients, and
        what is left of them further on is rounding. The way by the largest coefficients has no such corner.
        """
        rows, constants = list(self.first_rows), list(self.first_constants)
        entering = [index for index, row in enumerate(rows) if row is None and self.rows[index] is not None]
        leaving = [index for index, row in enumerate(self.rows) if row is None and rows[index] is not None]
        while leaving:
            best, place = 0.0, (0, 0)
            for index in leaving:
                row = rows[index] or {}
                for parameter in entering:
                    size = abs(row.get(parameter, 0.0))
                    if size > best:
                        best, place = size, (parameter, index)
            if not best:  # the corner was one by rounding only: nothing better is known of it
                return
            _exchange(rows, constants, *place)
            entering.remove(place[0])
            leaving.remove(place[1])
        self.rows, self.constants = rows, constants

    def effects(self, parameter: int) -> list[tuple[int, float]]:
        """The quantities that a parameter moves, and how fast."""
        return [(index, row[parameter]) for index, row in enumerate(self.rows) if row is not None and parameter in row]

    def least_violation(self) -> dict[int, float]:
        """Move to where the negative parts of the conditioned quantities are least in total; their price there.

        The price of a quantity is what the total would lose if it were one greater there: one for those still
        negative, for the parameters between zero and one. Each conditioned quantity is split into a forward and a
        backward part, the backward one at a cost of one; every corner is then allowed, and no first phase is needed.
        """
        backward = [
            condition and constant < -NOISE
            for condition, constant in zip(self.conditioned, self.constants, strict=True)
        ]
        by_order = False  # Bland's rule (1977): after a step of no length, so that no corner comes twice in a circle
        for _ in range(EXCHANGES * len(self.rows)):
            prices: dict[int, float] = {}
            worst = 0.0
            for index, is_backward in enumerate(backward):
                row = self.rows[index]
                if is_backward and row is not None:
                    worst = max(worst, -self.constants[index])
                    for parameter, value in row.items():
                        prices[parameter] = prices.get(parameter, 0.0) - value
            if worst <= NOISE:
                return {}
            entering = self._worth_entering(prices, by_order)
            if entering is None:
                sure = {index: price for index, price in prices.items() if self.conditioned[index] and price > 0.0}
                return sure | {index: 1.0 for index, is_backward in enumerate(backward) if is_backward}
            parameter, sense = entering
            leaving, step = self._first_stop(parameter, sense, backward, by_order)
            if leaving is None:  # a total that is never negative cannot fall for ever
                raise ArithmeticError("The least violation was lost to rounding.")
            by_order = step <= NOISE
            backward[leaving] = False
            self.exchange(parameter, leaving)
            backward[parameter] = self.conditioned[parameter] and sense < 0.0
        raise ArithmeticError("The least violation was not reached.")

    def _worth_entering(self, prices: dict[int, float], by_order: bool) -> tuple[int, float] | None:
        """The parameter and the sense that make the total fall: the fastest, or the first by order."""
        best: tuple[int, float] | None = None
        fastest = RATE_TOLERANCE
        for parameter in sorted(prices) if by_order else prices:
            price = prices[parameter]
            gain = -price if price < 0.0 else price - (1.0 if self.conditioned[parameter] else 0.0)
            if gain > fastest:
                best = (parameter, 1.0 if price < 0.0 else -1.0)
                if by_order:
                    return best
                fastest = gain
        return best

    def _first_stop(
        self, parameter: int, sense: float, backward: Sequence[bool] | None, by_order: bool
    ) -> tuple[int | None, float]:
        """The conditioned quantity that reaches zero first as a parameter moves, and how far it moves; None: never.

        `backward` quantities are negative and stop it on their way up, all others on their way down. Of several at
        once the one that changes fastest, whose exchange loses the fewest digits; by order, the first.
        """
        effects = self.effects(parameter)
        least = PIVOT_TOLERANCE * max((abs(rate) for _, rate in effects), default=0.0)
        stops = []
        nearest = math.inf
        for index, rate in effects:
            if not self.conditioned[index]:
                continue
            rate *= sense
            room = self.constants[index]
            if backward is not None and backward[index]:
                rate, room = -rate, -room
            if rate >= -least:
                continue
            distance = max(0.0, room) / -rate
            stops.append((distance, -rate, index))
            nearest = min(nearest, distance)
        if not stops:
            return None, math.inf
        near = nearest * (1.0 + NOISE) + NOISE
        tied = [stop for stop in stops if stop[0] <= near]
        if by_order:
            return min(stop[2] for stop in tied), nearest
        return max(tied, key=lambda stop: stop[1])[2], nearest

    def greatest(self, sought: int, sense: float) -> tuple[int, float] | None:
        """Move to where a quantity without condition is greatest (sense +1) or least (−1), all conditions kept.

        The parameter and its sense along which it has no end, or None when it has one. The conditions must hold
        to begin with; what a condition lacks by rounding is left as it is.
        """
        by_order = False
        for _ in range(EXCHANGES * len(self.rows)):
            row = self.rows[sought]
            assert row is not None
            best: tuple[int, float] | None = None
            fastest = 0.0
            for parameter in sorted(row) if by_order else row:
                rate = sense * row[parameter]
                if rate < 0.0 and self.conditioned[parameter]:
                    continue
                if abs(rate) > fastest and self._counts(parameter, abs(rate)):
                    best, fastest = (parameter, math.copysign(1.0, rate)), abs(rate)
                    if by_order:
                        break
            if best is None:
                return None
            leaving, step = self._first_stop(*best, None, by_order)
            if leaving is None:
                return best
            by_order = step <= NOISE
            self.exchange(best[0], leaving)
        raise ArithmeticError("The end of a range was not reached.")

    def _counts(self, parameter: int, rate: float) -> bool:
        """Whether an effect is more than the rounding of the largest one of its parameter."""
        return rate > RATE_TOLERANCE * max(abs(other) for _, other in self.effects(parameter))


def _written(form: Mapping[int, float], rows: Sequence[Row | None], constants: Sequence[float]) -> tuple[Row, float]:
    """A linear form of the quantities in terms of the parameters."""
    total: Row = {}
    constant = 0.0
    for index, factor in form.items():
        row = rows[index]
        if row is None:
            total[index] = total.get(index, 0.0) + factor
            continue
        constant += factor * constants[index]
        for parameter, value in row.items():
            total[parameter] = total.get(parameter, 0.0) + factor * value
    return {parameter: value for parameter, value in total.items() if value}, constant


def _exchange(rows: list[Row | None], constants: list[float], entering: int, leaving: int) -> bool:
    """Exchange a parameter with a quantity; False when coefficients lost digits by it."""
    row = rows[leaving]
    assert row is not None
    pivot = row[entering]
    made = {index: -value / pivot for index, value in row.items() if index != entering}
    made[leaving] = 1.0 / pivot
    constant = -constants[leaving] / pivot
    whole = True
    for index, other in enumerate(rows):
        if other is None or entering not in other or index == leaving:
            continue
        after = other.copy()
        share = after.pop(entering)
        for parameter, value in made.items():
            was = after.get(parameter, 0.0)
            now = was + share * value
            size = abs(was)
            if abs(now) > KEPT * size:
                after[parameter] = now
            elif abs(now) > NOISE * size:
                after[parameter] = now
                whole = False
            else:
                after.pop(parameter, None)
        rows[index] = after
        constants[index] += share * constant
    rows[entering], rows[leaving] = made, None
    constants[entering], constants[leaving] = constant, 0.0
    return whole

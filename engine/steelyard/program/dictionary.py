"""A linear program as a dictionary: every quantity written in terms of a few that are zero for now.

The quantities are the unknowns and the slacks of their conditions. As many of them are parameters, all zero, as the
equations leave free; each other one is constant + Σ coefficient·parameter. An exchange of a parameter with another
quantity leads from corner to corner of what is admissible: the simplex method (Dantzig), seen from the side where
statics is small. A sketch has few unknowns more than equations, whatever their number.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from .table import LARGE, NOISE, Table

# Coefficients of a condition below this are no way to reach it: conditions are of order one.
PIVOT_TOLERANCE = 1e-11

# A parameter that changes the sought quantity by less than this part of its largest effect does not change it.
RATE_TOLERANCE = 1e-10

# After coefficients have grown so many times, what is below this part of the growth is rounding. The limit keeps
# what a contact still asks of its normal whose friction may be a million times that.
ROUNDING = 1e-15
MOST_GROWTH = 1e8

# Exchanges for each quantity after which something is wrong; a few are usual.
EXCHANGES = 50


class Dictionary:
    """The quantities: `now`, and `first` as it was before any exchange.

    `conditioned` quantities must not be negative.
    """

    __slots__ = ("conditioned", "first", "growth", "now")

    def __init__(self, first: Table, conditioned: list[bool]) -> None:
        self.first = first
        self.now = first.copy()
        self.conditioned = conditioned
        self.growth = 1.0

    def copy(self) -> Dictionary:
        """One that can be changed without changing this one."""
        made = Dictionary(self.first.copy(), list(self.conditioned))
        made.now = self.now.copy()
        made.growth = self.growth
        return made

    def add(self, form: Mapping[int, float], condition: bool) -> int:
        """One more quantity, a linear form of the others; its index."""
        self.first.add(form)
        self.now.add(form)
        self.conditioned.append(condition)
        return len(self.conditioned) - 1

    def drop(self) -> None:
        """Forget the quantity added last, one without condition."""
        for table in (self.first, self.now):
            table.rows.pop()
            table.constants.pop()
        self.conditioned.pop()

    def shift(self, index: int) -> float:
        """Count a quantity from its present value instead, where that is negative; by how much it is more then."""
        change = -self.now.constants[index]
        if change <= 0.0:
            return 0.0
        self.now.constants[index] = 0.0
        first = self.first
        if first.rows[index] is None:
            for other, rate in first.effects(first.parameters.index(index)):
                first.constants[other] -= change * rate
        else:
            first.constants[index] += change
        return change

    def exchange(self, place: int, leaving: int) -> None:
        """Exchange the parameter at a place with a quantity.

        A corner with large coefficients is one where a contact grips a million times its normal, or nearly not a
        corner. What follows it has lost digits, and is written again straight from the first dictionary.
        """
        was_large = self.growth > LARGE
        self.growth = self.now.exchange(place, leaving)
        if was_large or self.growth > LARGE:
            self._write_again()

    def rounding(self) -> float:
        """Coefficients below this are rounding."""
        return ROUNDING * min(self.growth, MOST_GROWTH)

    def _write_again(self) -> None:
        """The same parameters straight from the first ones, exchanged by the largest coefficients first."""
        made = self.first.copy()
        leaving = {index for index, row in enumerate(self.now.rows) if row is None and made.rows[index] is not None}
        places = [place for place, index in enumerate(made.parameters) if self.now.rows[index] is not None]
        growth = 1.0
        while leaving:
            best, chosen = 0.0, (0, 0)
            for index in leaving:
                row = made.rows[index] or ()
                for place in places:
                    size = abs(row[place])
                    if size > best:
                        best, chosen = size, (place, index)
            if best <= NOISE:  # the corner is one by rounding only: nothing better is known of it
                return
            growth = max(growth, made.exchange(*chosen))
            places.remove(chosen[0])
            leaving.discard(chosen[1])
        self.now, self.growth = made, growth

    def least_violation(self) -> dict[int, float]:
        """Move to where the negative parts of the conditioned quantities are least in total; their price there.

        The price of a quantity is what the total would lose if it were one greater there: one for those still
        negative, for the parameters between zero and one. Each conditioned quantity is split into a forward and a
        backward part, the backward one at a cost of one; every corner is then allowed, and no first phase is needed.
        """
        backward = self._negative()
        written_again = False
        by_order = False  # Bland's rule (1977): after a step of no length, so that no corner comes twice in a circle
        for _ in range(EXCHANGES * (1 + len(backward))):
            prices = [0.0] * len(self.now.parameters)
            worst = 0.0
            for index, is_backward in enumerate(backward):
                row = self.now.rows[index]
                if is_backward and row is not None:
                    worst = max(worst, -self.now.constants[index])
                    prices = [price - value for price, value in zip(prices, row, strict=True)]
            entering = self._worth_entering(prices, by_order) if worst > NOISE else None
            if entering is None:
                if self.growth > LARGE and not written_again:
                    self._write_again()
                    written_again = True
                    backward = self._negative()
                    continue
                return self._prices(prices, backward) if worst > NOISE else {}
            place, sense = entering
            parameter = self.now.parameters[place]
            leaving, step = self._first_stop(place, sense, backward, by_order)
            if leaving is None:  # a total that is never negative cannot fall for ever
                raise ArithmeticError("The least violation was lost to rounding.")
            by_order = step <= NOISE
            backward[leaving] = False
            self.exchange(place, leaving)
            backward[parameter] = self.conditioned[parameter] and sense < 0.0
        raise ArithmeticError("The least violation was not reached.")

    def _negative(self) -> list[bool]:
        constants = zip(self.conditioned, self.now.constants, strict=True)
        return [condition and constant < -NOISE for condition, constant in constants]

    def _prices(self, prices: Sequence[float], backward: Sequence[bool]) -> dict[int, float]:
        found = {index: 1.0 for index, is_backward in enumerate(backward) if is_backward}
        for index, price in zip(self.now.parameters, prices, strict=True):
            if self.conditioned[index] and price > 0.0:
                found[index] = price
        return found

    def _worth_entering(self, prices: Sequence[float], by_order: bool) -> tuple[int, float] | None:
        """The place and the sense that make the total fall: the fastest, or the first quantity by order."""
        gains = []
        for place, price in enumerate(prices):
            index = self.now.parameters[place]
            gain = -price if price < 0.0 else price - (1.0 if self.conditioned[index] else 0.0)
            if gain > max(RATE_TOLERANCE, self.rounding()):
                gains.append((gain, index, place, 1.0 if price < 0.0 else -1.0))
        if not gains:
            return None
        best = min(gains, key=lambda gain: gain[1]) if by_order else max(gains)
        return best[2], best[3]

    def _strongest(self, effects: Sequence[tuple[int, float]]) -> float:
        """The largest effect on a quantity with a condition, else on any.

        Normals and slacks are of one size; a friction force may be a million times larger, and must not hide them.
        """
        conditioned = [abs(rate) for index, rate in effects if self.conditioned[index]]
        return max(conditioned) if conditioned else max((abs(rate) for _, rate in effects), default=0.0)

    def _first_stop(
        self, place: int, sense: float, backward: Sequence[bool] | None, by_order: bool
    ) -> tuple[int | None, float]:
        """The conditioned quantity that reaches zero first as a parameter moves, and the largest change till then.

        None when nothing stops it. `backward` quantities are negative and stop it on their way up, all others on
        their way down. Of those that pass zero by rounding only (Harris, 1973) it is the one that changes fastest,
        whose exchange loses the fewest digits; by order, the first.
        """
        effects = self.now.effects(place)
        most = self._strongest(effects)
        stops = []
        near = math.inf
        for index, rate in effects:
            if not self.conditioned[index]:
                continue
            rate *= -sense
            room = self.now.constants[index]
            if backward is not None and backward[index]:
                rate, room = -rate, -room
            if rate <= max(PIVOT_TOLERANCE, self.rounding()):
                continue
            room = max(0.0, room)
            stops.append((room / rate, rate, index))
            near = min(near, (room + NOISE) / rate)
        if not stops:
            return None, math.inf
        tied = [stop for stop in stops if stop[0] <= near]
        best = min(tied, key=lambda stop: stop[2]) if by_order else max(tied, key=lambda stop: stop[1])
        return best[2], best[0] * most

    def greatest(self, sought: int, sense: float) -> tuple[int, float] | None:
        """Move to where a quantity without condition is greatest (sense +1) or least (−1), all conditions kept.

        The place of the parameter and its sense along which it has no end, or None when it has one. The conditions
        must hold to begin with.
        """
        by_order = False
        for _ in range(EXCHANGES * (1 + len(self.conditioned))):
            way = self._way(sought, sense, by_order)
            if way is None:
                return None
            leaving, step = self._first_stop(*way, None, by_order)
            if leaving is None:
                return way
            by_order = step <= NOISE
            self.exchange(way[0], leaving)
        raise ArithmeticError("The end of a range was not reached.")

    def _way(self, sought: int, sense: float, by_order: bool) -> tuple[int, float] | None:
        """The place and the sense of the parameter that makes the sought quantity grow: the fastest, or by order."""
        row = self.now.rows[sought]
        assert row is not None
        rates = []
        for place, (index, value) in enumerate(zip(self.now.parameters, row, strict=True)):
            rate = sense * value
            if rate > 0.0 or (rate < 0.0 and not self.conditioned[index]):
                rates.append((-index if by_order else abs(rate), place, rate))
        for _, place, rate in sorted(rates, reverse=True):
            if abs(rate) > max(RATE_TOLERANCE * self._strongest(self.now.effects(place)), self.rounding()):
                return place, math.copysign(1.0, rate)
        return None

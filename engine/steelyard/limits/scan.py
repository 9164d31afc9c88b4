"""One number of a sketch on its way between two ends: solved at samples, and as smooth functions of it."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import partial
from typing import NamedTuple

from .. import document, linear
from ..document.paths import number_at, with_number
from ..errors import SteelyardError
from ..model import Sketch
from ..program import Bound, Outcome
from ..statics import conditions
from ..statics.equilibrium import analyse
from ..statics.reach import off_middle
from ..statics.reading import ActingForce, SupportsVerdict
from ..statics.solved import Solved, determinant, solved
from .roots import NARROW, Function, lowest, roots

# Samples across the interval. The functions sampled are polynomials and sines of low degree in the number, so a few
# hundred part all their roots but those that lie together, and these show as one dip.
SAMPLES = 256
# Of the interval: the coefficient of friction that stands for none.
NEXT_TO_NONE = 1e-12


class Unknown(NamedTuple):
    """One number to be found: its force, the part it is, and whether it can act one way only."""

    force: ActingForce
    part: str
    one_way: bool


def wrong(outcome: Outcome, bounds: Sequence[Bound]) -> float:
    """By how much, at the least, conditions are broken in all, in newtons."""
    over = zip(bounds, outcome.excess, strict=True)
    return sum(outcome.backward) + sum(excess / max(1.0, bound.factor) for bound, excess in over)


class Scan:
    """One number on its way from end to end, solved at every sample once."""

    def __init__(self, sketch: Sketch, path: str, low: float, high: float, system: Sequence[str]) -> None:
        if not (math.isfinite(low) and math.isfinite(high) and low < high):
            message = f"The interval must run from a smaller to a larger number: got {low:g} to {high:g}."
            raise SteelyardError("limits.interval", "", message, "Give its two ends in order.")
        self.sketch = sketch
        self.ids = tuple(system)
        self.number = number_at(sketch, path)
        for end in (low, high):
            if self.number.never_negative and end < 0.0:
                message = f"`{self.number.path}` must be zero or more: got {end:g}."
                raise SteelyardError("limits.interval", self.number.path, message, "It is a size.")
            document.check(with_number(sketch, self.number, end))
        self.low, self.high = low, high
        self.span = high - low
        self.places = [low + self.span * count / SAMPLES for count in range(SAMPLES)] + [high]
        self._known: dict[float, Solved] = {}
        self.middle = 0.5 * (low + high)
        self._prepare()

    def _prepare(self) -> None:
        middle = self.at(self.middle)
        # One centre and lever for all samples, so that what is sampled is smooth.
        self.centre = middle.system.centre
        self.lever = middle.system.lever_m
        self.count = len(middle.system.columns)
        self.equations = 3
        # A size known by letter only may be anything: then nothing is said of reactions and balance.
        self.lettered = bool(middle.system.letters)
        self.square = self.count == 3 and self._holds_somewhere()

    def _holds_somewhere(self) -> bool:
        return any(abs(self.turn(place)) > linear.RANK_TOLERANCE for place in self.places[:: SAMPLES // 32])

    def at(self, place: float) -> Solved:
        """The system with the number at a place."""
        found = self._known.get(place)
        if found is None:
            found = self._known[place] = solved(self.changed(place), bodies=self.ids)
        return found

    def supports(self, place: float) -> SupportsVerdict:
        """The verdict with the number at a place."""
        return analyse(self.changed(place), bodies=self.ids).supports

    def changed(self, place: float) -> Sketch:
        """The sketch with the number at a place; no friction at all is next to none, so that the unknowns stay."""
        if self.number.key == "mu":
            place = max(place, NEXT_TO_NONE * self.span)
        return with_number(self.sketch, self.number, place)

    def unknowns(self) -> list[Unknown]:
        """The unknowns whose values are `value(0, …)`, `value(1, …)` and so on."""
        middle = self.at(self.middle)
        return [
            Unknown(middle.acting[position], part, only)
            for (position, part), only in zip(middle.system.owners, middle.system.one_way, strict=True)
        ]

    def status(self, place: float) -> tuple[object, ...]:
        """Equal at two places as long as statics says the same there but for the values."""
        return self.at(place).status

    def concerns(self, index: int) -> bool:
        """Whether an unknown acts on the system itself, or can end the balance of what it is joined to."""
        return 0 <= index < self.count

    def forces(self, place: float) -> dict[str, ActingForce]:
        """All forces that a verdict may name."""
        return {force.id: force for force in self.at(place).acting}

    def scale_n(self, place: float) -> float:
        """What the known forces add up to, their signs left aside."""
        return self.at(place).system.known_scale_n

    def consistent(self, place: float) -> bool | None:
        """Whether some values of the unknowns close the sums."""
        return self.at(place).answers.consistent

    def left_over(self, place: float) -> float:
        """What no values of the unknowns can take from the sums, in newtons."""
        here = self.at(place)
        return linear.solve(here.answers.factors, [-part for part in here.system.known])[1]

    def hold(self, place: float) -> float:
        """The least singular value of the columns: how far they are from losing their hold."""
        return linear.singular_values(self.at(place).answers.factors)[2]

    def crossings(self, function: Function) -> list[float]:
        """All roots of a smooth function."""
        return roots(function, self.places, [function(place) for place in self.places])

    def columns(self, place: float) -> list[tuple[float, float, float]]:
        """The columns about the one centre and lever, then the known wrench."""
        here = self.at(place)
        shift_x, shift_y = here.system.centre[0] - self.centre[0], here.system.centre[1] - self.centre[1]
        moved = []
        for x, y, torque in (*here.system.columns, here.system.known):
            moved.append((x, y, (torque * here.system.lever_m + shift_x * y - shift_y * x) / self.lever))
        return moved

    def turn(self, place: float) -> float:
        """The determinant of three columns: zero where they cannot hold the body."""
        return determinant(tuple(self.columns(place)[:3]))

    def numerator(self, index: int, place: float) -> float:
        """Cramer's numerator of one unknown: its value times the determinant."""
        *columns, known = self.columns(place)
        columns[index] = (-known[0], -known[1], -known[2])
        return determinant(tuple(columns))

    def excess(self, force: str, part: str, wanted: float) -> Function:
        """A function that is zero where a reaction has the value wanted."""
        if part in ("place", "use"):
            return self._excess_of_bound(force, part, wanted)
        unknowns = self.unknowns()
        indices = {each.part: index for index, each in enumerate(unknowns) if each.force.id == force}
        if not indices or (part and part not in indices):
            ids = dict.fromkeys(each.force.id for each in unknowns)
            named = f"{force}.{part}" if part else force
            message = f'The reaction must be one of the unknowns: got "{named}".'
            raise SteelyardError("limits.force", force, message, f"They are {', '.join(ids) or 'none'}.")
        if part or len(indices) == 1:
            index = indices[part] if part else next(iter(indices.values()))
            return partial(self.excess_of_one, index, wanted / self.unit(index))
        return partial(self._excess_of_size, indices["x"], indices["y"], wanted)

    def bounds(self) -> tuple[Bound, ...]:
        """The bounds among the unknowns: friction, and places on faces."""
        return self.at(self.middle).system.bounds

    def factor(self, number: int, place: float) -> float:
        """The factor of a bound with the number at a place, in the unit of `numerator`."""
        return self.at(place).system.bounds[number].factor

    def room(self, number: int, sense: float, place: float) -> float:
        """How far an unknown is from its bound on one side, times the determinant: negative beyond, if that is not."""
        column, normal, _ = self.bounds()[number]
        pressed = self.factor(number, place) * self.numerator(normal, place)
        return pressed - sense * self.numerator(column, place)

    def _excess_of_bound(self, force: str, part: str, wanted: float) -> Function:
        """Zero where a normal acts so far (m) from the middle of its face, or where so much of a limit is used."""
        unknowns = self.unknowns()
        for number, (column, _, _) in enumerate(self.bounds()):
            each = unknowns[column]
            if each.force.id == force and (part == "use" or each.part == "place") and self.square:
                if part == "use":
                    return partial(self._excess_of_use, number, wanted)
                return partial(self._excess_of_place, number, wanted)
        message = f'The {part} must be that of a rough contact or a face with one answer: got "{force}".'
        raise SteelyardError("limits.force", force, message, "Name a friction force, or the normal on a face.")

    def _excess_of_use(self, number: int, wanted: float, place: float) -> float:
        column, normal, _ = self.bounds()[number]
        value, pressed = self.numerator(column, place), self.factor(number, place) * self.numerator(normal, place)
        return (value - wanted * pressed) * (value + wanted * pressed)

    def _excess_of_place(self, number: int, wanted: float, place: float) -> float:
        column, normal, _ = self.bounds()[number]
        here = self.forces(place)[self.unknowns()[column].force.id]
        assert here.face is not None
        half = math.dist(*here.face) / 2.0
        share = math.copysign(wanted / half, off_middle(here, 1.0, 1.0) * wanted)
        return self.numerator(column, place) - share * self.factor(number, place) * self.numerator(normal, place)

    def unit(self, index: int) -> float:
        """What one of `value` is in N or N·m."""
        return self.lever if self.at(self.middle).system.owners[index][1] == "couple" else 1.0

    def excess_of_one(self, index: int, wanted: float, place: float) -> float:
        if self.square:
            return self.numerator(index, place) - wanted * self.turn(place)
        value = self.value(index, place)
        return math.nan if value is None else value - wanted

    def _excess_of_size(self, x: int, y: int, wanted: float, place: float) -> float:
        # Squares, because a size itself has a corner where it is zero.
        if self.square:
            return self.numerator(x, place) ** 2 + self.numerator(y, place) ** 2 - (wanted * self.turn(place)) ** 2
        first, second = self.value(x, place), self.value(y, place)
        return math.nan if first is None or second is None else first**2 + second**2 - wanted**2

    def value(self, index: int, place: float) -> float | None:
        here = self.at(place)
        value = here.answers.values[index]
        couple = here.system.owners[index][1] == "couple"
        return value * here.system.lever_m / self.lever if couple and value is not None else value

    def loses_hold(self, place: float) -> bool:
        """Whether the columns are dependent here, but for rounding: no reaction has a value then."""
        factors = self.at(place).answers.factors
        return factors.rank < 3 or linear.weakest(factors)[0] <= 1e-7

    def wrongness(self, place: float) -> float:
        """By how much, at the least, one-way unknowns must act the wrong way in all, in newtons."""
        here = self.at(place)
        return wrong(conditions.program_of(here.system).outcome, here.system.bounds)

    def touching(self, function: Callable[[float], float], limit: float) -> list[float]:
        """Where a function that is never negative comes to zero, seen as the least of its samples about there."""
        values = [function(place) for place in self.places]
        if all(value <= limit for value in values):
            return []
        found = []
        for index, value in enumerate(values):
            before, after = values[max(0, index - 1)], values[min(SAMPLES, index + 1)]
            # A zero between samples leaves the least of them no higher than the way to the higher of its neighbours.
            if value <= min(before, after) and value <= 2.0 * (max(before, after) - value):
                left, right = self.places[max(0, index - 1)], self.places[min(SAMPLES, index + 1)]
                place, least = lowest(function, left, right, 1e-13 * self.span)
                if least <= limit:
                    found.append(place)
        return found

    def last_same(self, left: float, right: float) -> float:
        """The last place, going right, at which the verdict is still that of the left end."""
        status = self.status(left)
        while right - left > NARROW * self.span:
            middle = 0.5 * (left + right)
            if not left < middle < right:
                break
            if self.status(middle) == status:
                left = middle
            else:
                right = middle
        return left

"""One equation of balance as signed terms: torques about a point, or forces along an axis.

Each term knows its symbols, their values in display units, and the plain number its unknown is
multiplied by, so that the symbols can always be checked against the geometry.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ..geometry import Point, Vector, perpendicular, subtract
from ..model import TorqueForm
from ..statics import axes
from ..statics.advice import SQUARE_TOLERANCE, Part, is_along, pushing, turning
from ..statics.moments import DROPS_OUT_TOLERANCE
from .expression import ONE, ZERO, Equation, Expression, Symbol, cosine, product, sine, substitute, total
from .figures import Display, Known
from .letters import Letters


@dataclass(frozen=True, slots=True)
class Term:
    """sign · factor · symbol, of one part; `share` is sign · factor as a number (m, or none)."""

    sign: int
    factor: Expression
    symbol: Symbol
    part: str
    force: str
    share: float

    @property
    def written(self) -> Expression:
        """Factor and symbol, as they stand in the equation."""
        return product(self.factor, self.symbol)


@dataclass(frozen=True, slots=True)
class Balance:
    """An equation: the terms add up to zero.

    Either `point` (torques about it) or `axis` (forces along it). `known` holds what the geometric
    symbols are worth. `dropped` are keys of parts without a term.
    """

    point: Point | None
    axis: Vector | None
    terms: tuple[Term, ...]
    known: dict[Symbol, Known]
    dropped: tuple[str, ...]

    @property
    def unit_is_torque(self) -> bool:
        """Whether the terms are torques."""
        return self.point is not None

    def parts(self) -> tuple[str, ...]:
        """Keys of the parts with a term, each once."""
        return tuple(dict.fromkeys(term.part for term in self.terms))

    def share(self, key: str) -> float:
        """What one unit of a part adds to the sum."""
        return math.fsum(term.share for term in self.terms if term.part == key)


@dataclass(frozen=True, slots=True)
class Writer:
    """How equations are written: letters, display units, form of a torque, positive sense of turning, x axis."""

    letters: Letters
    display: Display
    form: TorqueForm
    counterclockwise_positive: bool
    lever_m: float
    x_axis: Vector = axes.LEVEL

    def torques(self, every: Sequence[Part], point: Point) -> Balance:
        """The torques of all parts about a point, unknowns first."""
        known: dict[Symbol, Known] = {}
        terms: list[Term] = []
        dropped: list[str] = []
        for part in _unknowns_first(every):
            arms = [(end, turning(end, point, self.lever_m)) for end in _ends(part)]
            for end, arm in arms:
                if arm:
                    own: dict[Symbol, Known] = {}
                    made = self._torque(end, point, arm, own)
                    terms.extend(_beside(made, own, known) if end is not arms[0][0] else made)
                    known.update(own)
            if not any(arm for _, arm in arms) and not part.spread:
                dropped.append(part.key)
        return Balance(point, None, tuple(terms), known, tuple(dropped))

    def forces(self, every: Sequence[Part], axis: Vector) -> Balance:
        """The forces of all parts along a unit axis, unknowns first."""
        known: dict[Symbol, Known] = {}
        terms: list[Term] = []
        dropped: list[str] = []
        for part in _unknowns_first(every):
            shares = [(end, pushing(end, axis)) for end in _ends(part)]
            if not any(share for _, share in shares):
                dropped.append(part.key)
            for end, share in shares:
                if not share:
                    continue
                own: dict[Symbol, Known] = {}
                factor = self._share_along(end, axis, share, own)
                sign = 1 if share > 0.0 else -1
                exact = float(sign) if factor == ONE else share
                made = [Term(sign, factor, self.letters.part(end), part.key, end.force, exact)]
                terms.extend(_beside(made, own, known) if end is not shares[0][0] else made)
                known.update(own)
        return Balance(None, axis, tuple(terms), known, tuple(dropped))

    def _share_along(self, part: Part, axis: Vector, share: float, known: dict[Symbol, Known]) -> Expression:
        assert part.along is not None
        if is_along(axis, self.x_axis):
            return self._slope(part, 0, known)
        if is_along(axis, perpendicular(self.x_axis)):
            return self._slope(part, 1, known)
        if abs(share) >= 1.0 - 1e-15:
            return ONE
        across = part.along[0] * axis[1] - part.along[1] * axis[0]
        if abs(across) <= SQUARE_TOLERANCE:
            return ONE
        symbol = self.letters.tilt(part)
        known[symbol] = Known(math.degrees(math.atan2(abs(across), abs(share))), "deg")
        return cosine(symbol)

    def _slope(self, part: Part, coordinate: int, known: dict[Symbol, Known]) -> Expression:
        """cos θ or sin θ of a part's line; 1 when it runs along the coordinate axis."""
        assert part.along is not None
        along = axes.along(part.along, self.x_axis)
        if abs(along[1 - coordinate]) <= SQUARE_TOLERANCE:
            return ONE
        symbol = self.letters.slope(part)
        known[symbol] = Known(math.degrees(math.atan2(abs(along[1]), abs(along[0]))), "deg")
        return cosine(symbol) if coordinate == 0 else sine(symbol)

    def _torque(self, part: Part, point: Point, arm: float, known: dict[Symbol, Known]) -> list[Term]:
        positive = 1 if self.counterclockwise_positive else -1
        sign = positive if arm > 0.0 else -positive
        symbol = self.letters.part(part)
        if part.which == "place":  # the size of the normal times where it acts
            return [Term(sign, self.letters.force(part.force), symbol, part.key, part.force, float(sign))]
        if part.along is None:
            return [Term(sign, ONE, symbol, part.key, part.force, float(sign))]
        per_metre, unit = self.display.per_metre, self.display.length
        offset = subtract(part.point, point)
        if self.form == "components":
            return self._crossed(part, offset, positive, known)
        if self.form == "square":
            reach = math.hypot(*offset)
            distance = self.letters.distance(part)
            known[distance] = Known(reach * per_metre, unit)
            factor: Expression = distance
            along = offset[0] * part.along[0] + offset[1] * part.along[1]
            if abs(along) > SQUARE_TOLERANCE * reach:
                angle = self.letters.opening(part)
                known[angle] = Known(math.degrees(math.atan2(abs(arm), abs(along))), "deg")
                factor = product(distance, sine(angle))
            return [Term(sign, factor, symbol, part.key, part.force, positive * arm)]
        length = self.letters.arm(part)
        known[length] = Known(abs(arm) * per_metre, unit)
        return [Term(sign, length, symbol, part.key, part.force, positive * arm)]

    def _crossed(self, part: Part, offset: Vector, positive: int, known: dict[Symbol, Known]) -> list[Term]:
        """x·F_y − y·F_x; x and y, along the axes, keep their signs, the components are written with the drawn ones."""
        assert part.along is not None
        terms = []
        offset, along = axes.along(offset, self.x_axis), axes.along(part.along, self.x_axis)
        nothing = DROPS_OUT_TOLERANCE * max(self.lever_m, math.hypot(*offset))
        for name, coordinate, other, turn in (("x", offset[0], 1, 1), ("y", offset[1], 0, -1)):
            share = along[other]
            if abs(coordinate) <= nothing or abs(share) <= SQUARE_TOLERANCE:
                continue
            place = self.letters.place(part, name)
            known[place] = Known(coordinate * self.display.per_metre, self.display.length)
            factor = product(place, self._slope(part, other, known))
            sign = positive * turn * (1 if share > 0.0 else -1)
            terms.append(
                Term(sign, factor, self.letters.part(part), part.key, part.force, positive * turn * coordinate * share)
            )
        return terms


def renamed(balance: Balance, like: Balance) -> Balance:
    """An equation of one system in the keys that another has for the same unknowns."""
    keys = {term.symbol: term.part for term in like.terms}
    terms = tuple(replace(term, part=keys.get(term.symbol, term.part)) for term in balance.terms)
    return replace(balance, terms=terms)


def apart(first: Balance, second: Balance) -> Balance:
    """The second of two equations that stand together: where an arm or angle of it is not that of the first.

    The same letter then gets a second index, so that it means one thing in both.
    """
    other = _clashing(second.known, first.known)
    if not other:
        return second
    terms = tuple(replace(term, factor=substitute(term.factor, other)) for term in second.terms)
    return replace(
        second, terms=terms, known={other.get(symbol, symbol): each for symbol, each in second.known.items()}
    )


def _clashing(known: Mapping[Symbol, Known], taken: Mapping[Symbol, Known]) -> dict[Symbol, Symbol]:
    """Letters that mean another length or angle than they do already, each with the letter it gets instead."""
    return {
        symbol: Symbol(symbol.base, f"{symbol.index},2", symbol.of, symbol.italic_index)
        for symbol, each in known.items()
        if symbol in taken and not math.isclose(taken[symbol].value, each.value, rel_tol=1e-12)
    }


def _beside(terms: Sequence[Term], own: dict[Symbol, Known], known: Mapping[Symbol, Known]) -> list[Term]:
    """The terms of the second end of a rope, with letters of their own where those of the first mean something else."""
    other = _clashing(own, known)
    for symbol, instead in other.items():
        own[instead] = own.pop(symbol)
    return [replace(term, factor=substitute(term.factor, other)) for term in terms]


def _ends(part: Part) -> tuple[Part, ...]:
    """The part, or both ends of a rope that pulls twice; they are written under the key of the first."""
    if part.twin is None:
        return (part,)
    return (replace(part, twin=None), replace(part.twin, key=part.key))


def _unknowns_first(every: Sequence[Part]) -> list[Part]:
    return sorted(every, key=lambda part: not part.unknown)


def sum_equation(balance: Balance, *, two_sided: bool = False) -> Equation:
    """The equation in symbols: a sum that is zero, or what acts one way equal to what acts the other."""
    signed = [(term.sign, term.written) for term in balance.terms]
    if not two_sided:
        return Equation(total(tuple(signed)), ZERO)
    left = tuple((1, written) for sign, written in signed if sign > 0)
    right = tuple((1, written) for sign, written in signed if sign < 0)
    return Equation(total(left), total(right))

"""Which symbol stands for what: the user's names for forces, d r x y for lengths, θ β φ for angles.

An underscore starts an index: "R_A". Two forces with the same name are told apart by a number, and
a letter the user already gave to a force is never used for a length or an angle.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from ..model import Settings
from ..statics.advice import Part
from ..statics.reading import Analysis
from .expression import Symbol

_SPARE = {"d": "ℓ", "ℓ": "λ", "r": "ρ", "x": "ξ", "y": "η", "θ": "ψ", "β": "γ", "φ": "χ", "L": "b", "c": "e", "e": "h"}


class Letters:
    """The symbols of one sketch."""

    def __init__(self, named: Sequence[tuple[str, str]], arm: str = "d") -> None:
        self._arm = arm
        self._forces: dict[str, Symbol] = {}
        self._made: dict[tuple[str, str, str, str, bool], Symbol] = {}
        taken: set[Symbol] = set()
        for place, (force_id, name) in enumerate(named):
            base, index = split(name)
            same = [at for at, (_, other) in enumerate(named) if split(other) == (base, index)]
            number = same.index(place) + 1
            symbol = Symbol(base, index, force_id)
            if len(same) > 1:
                symbol = Symbol(base, f"{index}{number}", force_id)
            while symbol in taken:
                number += 1
                symbol = Symbol(base, f"{index}{number}", force_id)
            taken.add(symbol)
            self._forces[force_id] = symbol
        self._bases = {symbol.base for symbol in taken}

    def force(self, force_id: str) -> Symbol:
        """The symbol of a force or couple."""
        return self._forces[force_id]

    def part(self, part: Part) -> Symbol:
        """The symbol of a size, a component (R_x) or a couple."""
        return self.component(part.force, part.which) if part.which in ("x", "y") else self._forces[part.force]

    def component(self, force_id: str, axis: str) -> Symbol:
        """A component along x or y: R_x; R_A gives R_Ax."""
        return self._kept("component", axis, force_id)

    def arm(self, part: Part) -> Symbol:
        """The moment arm of a part: d, or the letter the settings choose; r⊥ is an r with a sign below."""
        return self._of("r", part, sign="⊥") if self._arm == "r⊥" else self._of(self._arm, part)

    def distance(self, part: Part) -> Symbol:
        """The distance r from the pivot to the point of application."""
        return self._of("r", part)

    def place(self, part: Part, axis: str) -> Symbol:
        """The coordinate x or y of the point of application, seen from the pivot."""
        return self._of(axis, part, whole=True)

    def slope(self, part: Part) -> Symbol:
        """The acute angle θ between a line of action and the x axis."""
        return self._of("θ", part)

    def tilt(self, part: Part) -> Symbol:
        """The acute angle β between a line of action and a sloping axis."""
        return self._of("β", part)

    def opening(self, part: Part) -> Symbol:
        """The acute angle φ between r and the line of action."""
        return self._of("φ", part)

    def loaded(self, force_id: str) -> Symbol:
        """The length L over which a load is spread."""
        return self._kept("L", "", force_id, "", True)

    def centroid(self, force_id: str) -> Symbol:
        """How far c the centroid of a load diagram is from where it starts."""
        return self._kept("c", "", force_id, "", True)

    def direction(self, force_id: str) -> Symbol:
        """The acute angle θ of a whole force found from its components."""
        whole = self._forces[force_id]
        return Symbol(self._spare("θ"), whole.base + whole.index, force_id, italic_index=not whole.index)

    def _of(self, base: str, part: Part, *, whole: bool = False, sign: str = "") -> Symbol:
        return self._kept(base, part.which, part.force, sign, whole)

    def _kept(self, base: str, which: str, force_id: str, sign: str = "", whole: bool = False) -> Symbol:
        """Made once: what is the very same is told to be the same without being looked into."""
        key = (base, which, force_id, sign, whole)
        symbol = self._made.get(key)
        if symbol is None:
            symbol = self._made[key] = self._new(base, which, force_id, sign, whole)
        return symbol

    def _new(self, base: str, which: str, force_id: str, sign: str, whole: bool) -> Symbol:
        force = self._forces[force_id]
        if base == "component":
            return Symbol(force.base, force.index + which, force_id, italic_index=not force.index)
        named = self._kept("component", which, force_id) if which in ("x", "y") and not whole else force
        index = sign + named.base + named.index
        return Symbol(self._spare(base), index, force_id, italic_index=not force.index)

    def _spare(self, base: str) -> str:
        while base in self._bases and base in _SPARE:
            base = _SPARE[base]
        return base


def letters_of(analysis: Analysis, settings: Settings) -> Letters:
    """The symbols of an analysis; the same ones for as long as its forces keep their names."""
    return _letters(tuple((each.force.id, each.force.symbol) for each in analysis.readings), settings.arm_letter)


@lru_cache(8)
def _letters(named: tuple[tuple[str, str], ...], arm: str) -> Letters:
    return Letters(named, arm)


def split(symbol: str) -> tuple[str, str]:
    """A name as base and index; a name without letters on both sides of the underscore is all base."""
    base, _, index = symbol.partition("_")
    return (base, index) if base and index else (symbol or "F", "")

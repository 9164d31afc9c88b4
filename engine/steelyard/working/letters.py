"""Which symbol stands for what: the user's names for forces, d r x y for lengths, θ β φ for angles.

An underscore starts an index: "R_A". Two forces with the same name are told apart by a number, and
a letter the user already gave to a force is never used for a length or an angle.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..statics.advice import Part
from ..statics.reading import ActingForce
from .expression import Symbol

_SPARE = {"d": "ℓ", "ℓ": "λ", "r": "ρ", "x": "ξ", "y": "η", "θ": "ψ", "β": "γ", "φ": "χ"}


class Letters:
    """The symbols of one sketch."""

    def __init__(self, forces: Iterable[ActingForce], arm: str = "d") -> None:
        self._arm = arm
        self._forces: dict[str, Symbol] = {}
        taken: set[Symbol] = set()
        listed = list(forces)
        for force in listed:
            base, index = split(force.symbol)
            same = [other for other in listed if split(other.symbol) == (base, index)]
            number = same.index(force) + 1
            symbol = Symbol(base, index, force.id)
            if len(same) > 1:
                symbol = Symbol(base, f"{index}{number}", force.id)
            while symbol in taken:
                number += 1
                symbol = Symbol(base, f"{index}{number}", force.id)
            taken.add(symbol)
            self._forces[force.id] = symbol
        self._bases = {symbol.base for symbol in taken}

    def force(self, force_id: str) -> Symbol:
        """The symbol of a force or couple."""
        return self._forces[force_id]

    def part(self, part: Part) -> Symbol:
        """The symbol of a size, a component (R_x) or a couple."""
        return self.component(part.force, part.which) if part.which in ("x", "y") else self._forces[part.force]

    def component(self, force_id: str, axis: str) -> Symbol:
        """A component along x or y: R_x; R_A gives R_Ax."""
        whole = self._forces[force_id]
        return Symbol(whole.base, whole.index + axis, force_id, italic_index=not whole.index)

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

    def direction(self, force_id: str) -> Symbol:
        """The acute angle θ of a whole force found from its components."""
        whole = self._forces[force_id]
        return Symbol(self._spare("θ"), whole.base + whole.index, force_id, italic_index=not whole.index)

    def _of(self, base: str, part: Part, *, whole: bool = False, sign: str = "") -> Symbol:
        named = self._forces[part.force] if whole else self.part(part)
        plain = not self._forces[part.force].index
        return Symbol(self._spare(base), sign + named.base + named.index, part.force, italic_index=plain)

    def _spare(self, base: str) -> str:
        while base in self._bases and base in _SPARE:
            base = _SPARE[base]
        return base


def split(symbol: str) -> tuple[str, str]:
    """A name as base and index; a name without letters on both sides of the underscore is all base."""
    base, _, index = symbol.partition("_")
    return (base, index) if base and index else (symbol or "F", "")

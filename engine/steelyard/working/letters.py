"""Which symbol stands for what: the user's names for forces, d r x y for lengths, θ β φ for angles.

An underscore starts an index: "R_A". Two forces with the same name are told apart by a number, and
a letter the user already gave to a force is never used for a length or an angle.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

from ..model import Sketch
from ..statics.advice import Part
from ..statics.isolate import acting_forces
from ..statics.reading import ActingForce, Analysis
from .expression import Symbol

_SPARE = {
    "a": "u",
    "d": "ℓ",
    "ℓ": "λ",
    "r": "ρ",
    "x": "ξ",
    "y": "η",
    "θ": "ψ",
    "β": "γ",
    "φ": "χ",
    "L": "b",
    "c": "e",
    "e": "h",
}


class Letters:
    """The symbols of one sketch."""

    def __init__(
        self,
        named: Sequence[tuple[str, str]],
        arm: str = "d",
        rough: Sequence[tuple[str, str]] = (),
        partners: Mapping[str, str] | None = None,
    ) -> None:
        """`named` are forces with their names, `rough` friction forces with the name of their coefficient.

        `partners` gives the force that has the symbol already, for one that is the same unknown on another body.
        """
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
        for force_id, first in (partners or {}).items():
            symbol = self._forces[first]
            self._forces[force_id] = Symbol(symbol.base, symbol.index, force_id, symbol.italic_index)
        self._rough = self._coefficients(rough)
        self._rough.update({force_id: self._rough[first] for force_id, first in (partners or {}).items()
                            if first in self._rough})  # fmt: skip
        self._bases = {symbol.base for symbol in (*taken, *self._rough.values())}

    def _coefficients(self, rough: Sequence[tuple[str, str]]) -> dict[str, Symbol]:
        """μ where there is one; of several with the same name each with the index of its friction force."""
        names = [name for _, name in rough]
        made: dict[str, Symbol] = {}
        for force_id, name in rough:
            base, index = split(name)
            if names.count(name) > 1:
                of = self._forces[force_id]
                index += of.base + of.index
            made[force_id] = Symbol(base, index, force_id)
        return made

    def force(self, force_id: str) -> Symbol:
        """The symbol of a force or couple."""
        return self._forces[force_id]

    def part(self, part: Part) -> Symbol:
        """The symbol of a size, a component (R_x), a couple, or a place on a face."""
        if part.which == "place":
            return self.on_face(part.force)
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

    def on_face(self, force_id: str) -> Symbol:
        """How far along its face, from the first end, a normal acts: a."""
        return self._kept("a", "", force_id, "", True)

    def rough(self, force_id: str) -> Symbol:
        """The coefficient of friction of the contact that a friction force belongs to: μ."""
        return self._rough[force_id]

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


def letters_for(sketch: Sketch, analysis: Analysis) -> Letters:
    """The symbols of a system; where others are joined to it, of the forces on all of them."""
    forces = [reading.force for reading in analysis.readings]
    if analysis.whole is not None:
        joined = [force for body_id in analysis.whole.bodies for force in acting_forces(sketch, body_id)]
        own = {force.id for force in forces}
        forces = [*joined, *(force for force in forces if force.id not in {each.id for each in joined} and own)]
    return letters_of(sketch, forces)


def letters_of(sketch: Sketch, forces: Iterable[ActingForce]) -> Letters:
    """The symbols of the forces on one or several bodies; the same ones for as long as they keep their names.

    Forces that are partners, or two ends of one rope, have one symbol between them.
    """
    forces = list({force.id: force for force in forces}.values())
    here = {force.id for force in forces}
    same = tuple((force.id, force.partner) for force in forces if force.back and force.partner in here)
    twice = {force_id for force_id, _ in same}
    named = tuple((force.id, force.symbol) for force in forces if force.id not in twice)
    names = {support.id: support.mu_symbol for support in sketch.supports if support.mu is not None}
    rough = tuple((force.id, names[force.entity]) for force in forces if force.normal and force.id not in twice)
    return _letters(named, sketch.settings.arm_letter, rough, same)


@lru_cache(8)
def _letters(
    named: tuple[tuple[str, str], ...], arm: str, rough: tuple[tuple[str, str], ...], same: tuple[tuple[str, str], ...]
) -> Letters:
    return Letters(named, arm, rough, dict(same))


def split(symbol: str) -> tuple[str, str]:
    """A name as base and index; a name without letters on both sides of the underscore is all base."""
    base, _, index = symbol.partition("_")
    return (base, index) if base and index else (symbol or "F", "")

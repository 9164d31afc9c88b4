"""Sentences for the working: the words of the settings, lists, directions, and names of points."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence

from ..geometry import Point, Vector, cross, distance, dot
from ..model import Settings, Sketch, Thing
from ..statics import axes, shape
from ..statics.advice import Advice, is_along
from ..statics.pivot import name_of, pivot_point, place_of, second_name, second_point
from ..statics.reading import ActingForce, Analysis
from .expression import Number, Symbol
from .figures import UNITS, Display, digits, local, number
from .letters import Letters
from .record import Fact, Run, Sentence

Piece = str | Symbol | Number | Sequence["Piece"]

# A part of a direction below this share is not worth a word.
_NO_SHARE = 1e-6
_SAME_PLACE = 1e-9
_AFTER_NOUN = re.compile(r" (?:of|on|in|at|to|under|over|by|with|from|behind|below|above|beside|near|around) ")
_PLURALS = frozenset(("feet", "people", "men", "women", "children", "teeth", "crew"))
_NAMES_AXIS = "along "
_AXIS_NAME = re.compile(r"(?<=along [+−])([xy])\b")


def sentence(*pieces: Piece, fact: Fact | None = None, comma: bool = False) -> Sentence:
    """A sentence from words, symbols and numbers."""
    return Sentence(tuple(_runs(pieces, comma)), fact)


def _runs(pieces: Iterable[Piece], comma: bool) -> Iterable[Run]:
    for piece in pieces:
        if isinstance(piece, str):
            if _NAMES_AXIS not in piece:
                if piece:
                    yield Run(piece)
                continue
            # The names of axes slope wherever they stand: "along +x".
            for index, part in enumerate(_AXIS_NAME.split(piece)):
                if part:
                    yield Run(part, "symbol" if index % 2 else "word")
        elif isinstance(piece, Symbol):
            yield Run(piece.base, "symbol", piece.of)
            if piece.index:
                yield Run(piece.index, "sub", piece.of, piece.italic_index)
        elif isinstance(piece, Number):
            unit = UNITS[piece.unit].written if piece.unit else ""
            space = "" if piece.unit in ("", "deg") else "\u00a0"
            yield Run(local(piece.text, comma=comma) + space + unit)
        else:
            yield from _runs(piece, comma)


def listed(items: Sequence[Piece], joint: str = "and") -> list[Piece]:
    """ "a, b and c"."""
    pieces: list[Piece] = []
    for index, item in enumerate(items):
        if index:
            pieces.append(f" {joint} " if index == len(items) - 1 else ", ")
        pieces.append(item)
    return pieces


def is_plural(name: str) -> bool:
    """Whether a name reads as several: "hands", "bolts of the rail", "rope and chain"; "truss" does not.

    English without a dictionary: the last letter of the noun before any "of" or "under", and a few exceptions.
    """
    noun = _AFTER_NOUN.split(name.strip().lower())[0].split(" ")[-1]
    return " and " in f" {name} " or noun in _PLURALS or (noun.endswith("s") and not noun.endswith(("ss", "us", "is")))


def counted(count: int, one: str, many: str) -> str:
    """ "One unknown", "Two unknowns"."""
    words = ("No", "One", "Two", "Three", "Four", "Five", "Six")
    word = words[count] if count < len(words) else str(count)
    return f"{word} {one if count == 1 else many}"


def direction_words(vector: Vector, *, above: bool = False) -> str:
    """Which way a vector points: "up", "to the left", "up and to the left"; "nowhere" for none.

    Seen from `above`, up is up the page.
    """
    size = math.hypot(vector[0], vector[1])
    if size == 0.0:
        return "nowhere"
    across = "" if abs(vector[0]) <= _NO_SHARE * size else "to the right" if vector[0] > 0.0 else "to the left"
    upright = "" if abs(vector[1]) <= _NO_SHARE * size else "up" if vector[1] > 0.0 else "down"
    if above and upright:
        upright += " the page"
    return " and ".join(word for word in (upright, across) if word)


class Voice:
    """The words and names of one sketch."""

    def __init__(
        self, sketch: Sketch, analysis: Analysis, letters: Letters, display: Display, bodies: tuple[str, ...] = ()
    ) -> None:
        self.sketch = sketch
        self.analysis = analysis
        self.bodies = bodies or analysis.bodies
        self.letters = letters
        self.display = display
        self.settings: Settings = sketch.settings
        self.comma = sketch.settings.decimal_comma
        self._places: tuple[tuple[Point, str], ...] | None = None
        self.forces: dict[str, ActingForce] = {reading.force.id: reading.force for reading in analysis.readings}

    def say(self, *pieces: Piece, fact: Fact | None = None) -> Sentence:
        """A sentence with the sketch's decimal mark."""
        return sentence(*pieces, fact=fact, comma=self.comma)

    def symbol(self, key: str) -> Symbol:
        """The symbol of a part's key: "hinge.x" is R_x, "quay.place" where on its face a normal acts."""
        force, _, axis = key.partition(".")
        if axis == "place":
            return self.letters.on_face(force)
        return self.letters.component(force, axis) if axis in ("x", "y") else self.letters.force(force)

    def symbols(self, keys: Iterable[str]) -> list[Piece]:
        """Symbols of parts in a list, both components of one force said as the force."""
        keys = list(keys)
        said: list[Piece] = []
        for key in keys:
            force, _, axis = key.partition(".")
            whole = axis and f"{force}.x" in keys and f"{force}.y" in keys
            piece = self.letters.force(force) if whole else self.symbol(key)
            if piece not in said:
                said.append(piece)
        return listed(said)

    def turn(self, sense: int) -> str:
        """counterclockwise, or the word the settings choose; clockwise."""
        return self.settings.counterclockwise_word if sense > 0 else "clockwise"

    @property
    def tilted(self) -> bool:
        """Whether the axes are turned out of the level."""
        return not axes.is_level(self.analysis.x_axis)

    def direction(self, vector: Vector, *, aside: str = "") -> str:
        """Which way a vector points; along tilted axes by their name first: "along +x (up the slope)".

        With `aside`, as between brackets: "along +x, up the slope".
        """
        words = self.points(vector)
        size = math.hypot(*vector)
        if not self.tilted or size == 0.0:
            return words
        for name, axis in (("x", self.analysis.x_axis), ("y", self.analysis.y_axis)):
            if abs(cross(vector, axis)) <= _NO_SHARE * size:
                sign = "+" if dot(vector, axis) > 0.0 else "−"
                along = f"along {sign}{name}"
                return f"{along}{aside}{self.ways(vector)}" if aside else f"{along} ({self.ways(vector)})"
        return words

    def ways(self, vector: Vector) -> str:
        """Which way a vector along an axis points, without the axis's name; up or down the slope along a tilted x."""
        nothing = _NO_SHARE * math.hypot(*vector)
        slanting = min(abs(vector[0]), abs(vector[1])) > nothing
        slope = slanting and abs(cross(vector, self.analysis.x_axis)) <= nothing
        if not slope or self.settings.seen_from == "above":
            return self.points(vector)
        return "up the slope" if vector[1] > 0.0 else "down the slope"

    @property
    def level(self) -> str:
        """What angles are measured from where the axes are not tilted: seen from above nothing is level."""
        return "the x direction" if self.settings.seen_from == "above" else "the level"

    def points(self, vector: Vector) -> str:
        """Which way a vector points on the page."""
        return direction_words(vector, above=self.settings.seen_from == "above")

    def agent(self, force_id: str) -> list[Piece]:
        """What exerts a force: "the hinge"; its symbol when nobody named it."""
        by = self._by(force_id)
        return [f"the {by}"] if by else [self.letters.force(force_id)]

    def _by(self, force_id: str) -> str:
        """What exerts a force; at either end of a rope or strut between two bodies, that itself."""
        force = self.forces[force_id]
        if force.partner and force.type in ("tension", "strut"):
            support = next((each for each in self.sketch.supports if each.id == force.entity), None)
            if support is not None and support.kind in ("rope", "strut"):
                return support.agent or support.kind
        return force.by

    def body_name(self) -> str:
        """What is isolated: "the ladder", "the beam and the strut"."""
        names = [f"the {body.name or body.kind.replace('-', ' ')}" for body in map(self.sketch.body, self.bodies)]
        if self.bodies == self.analysis.bodies:
            taken = [
                load.name for load in self.sketch.loads if isinstance(load, Thing) and load.id in self.analysis.system
            ]
            names += [f"the {name or 'thing'}" for name in taken]
        return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"

    def does(self, force_id: str, one: str, many: str) -> str:
        """A verb for what exerts a force: "the hinge acts", "the hands act"."""
        return many if is_plural(self._by(force_id)) else one

    def amount(self, value: float, unit: str, figures: int | None = None) -> Number:
        """A displayed number in the sketch's figures."""
        shown = self.display.figures if figures is None else figures
        return Number(value, digits(value, shown), unit)

    def place(self, point: Point) -> list[Piece]:
        """A point's name: a named point, the pivot's letter, an end, a point of application, else coordinates."""
        name = self.point_name(point)
        if name:
            return [name]
        held = [reading.force for reading in self.analysis.readings if reading.force.role == "unknown"]
        for force in held:
            if force.face is not None and not force.about_to.startswith("tip"):
                # Where on its face a force acts is to be found, and so names no point.
                if any(self._same(end, point) for end in force.face):
                    return ["the end of the face at ", *self.coordinates(point)]
            elif force.along is not None and self._same(force.point, point):
                return ["the point where ", self.letters.force(force.id), " acts"]
        for body in map(self.sketch.body, self.bodies):
            if any(self._same(end, point) for end in shape.ends(body)) and not body.has_area:
                return ["the end at ", *self.coordinates(point)]
        for reading in self.analysis.readings:
            if reading.force.face is not None:
                continue
            if reading.force.along is not None and self._same(reading.force.point, point):
                return ["the point where ", self.letters.force(reading.force.id), " acts"]
        return [f"the {self.settings.pivot_word} ", *self.coordinates(point)]

    def point_name(self, point: Point) -> str:
        """The letter or phrase that names a point, or nothing."""
        return next((name for where, name in self._named() if self._same(where, point)), "")

    def _named(self) -> tuple[tuple[Point, str], ...]:
        """Every place that has a name: named points, the pivot, the second pivot."""
        if self._places is None:
            places = [(place_of(self.sketch, each.id), each.name) for each in self.sketch.points]
            places.append((pivot_point(self.sketch), name_of(self.sketch)))
            places.append((second_point(self.sketch), second_name(self.sketch)))
            self._places = tuple((where, name) for where, name in places if where is not None and name)
        return self._places

    def coordinates(self, point: Point) -> list[Piece]:
        """ "(4.11 m, 0 m)", to one figure more than results."""
        per, unit = self.display.per_metre, self.display.length
        nothing = 1e-9 * max(self.analysis.lever_m, 1e-300)
        shown = [0.0 if abs(value) <= nothing else value * per for value in point]
        figures = self.display.figures
        between = "; " if self.comma else ", "
        return ["(", number(shown[0], unit, figures), between, number(shown[1], unit, figures), ")"]

    def where(self, advice: Advice) -> list[Piece]:
        """A pivot in words; a crossing of lines says of which."""
        assert advice.point is not None
        if not self.point_name(advice.point) and advice.source == "crossing" and advice.of:
            lines = listed([self.symbol(key) for key in advice.of])
            return ["the crossing of ", *lines, " at ", *self.coordinates(advice.point)]
        return self.place(advice.point)

    def axis_words(self, axis: Vector, advice: Advice | None = None) -> list[Piece]:
        """An axis in words: x, y, or square to a force's line."""
        if is_along(axis, self.analysis.x_axis):
            return [Symbol("x")]
        if is_along(axis, self.analysis.y_axis):
            return [Symbol("y")]
        if advice is not None and advice.of:
            return ["the axis square to ", self.symbol(advice.of[0])]
        angle = math.degrees(math.atan2(axis[1], axis[0]))
        return ["the axis at ", number(angle, "deg", self.display.figures + 1)]

    def _same(self, first: Point, second: Point) -> bool:
        reach = _SAME_PLACE * max(self.analysis.lever_m, abs(first[0]), abs(first[1]))
        return distance(first, second) <= reach

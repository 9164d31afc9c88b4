"""Pieces of a problem's sentences: numbers or letters for what is measured, and where things are on a body."""

from __future__ import annotations

import math

from ..geometry import Point, Vector, distance, subtract
from ..model import AddedPiece, Body, Given, Sketch
from ..picture import given_words
from ..statics import measuring, shape
from ..units import Kind, unit_of, write_exact
from ..working.expression import Symbol
from ..working.letters import split
from ..working.phrases import Piece, direction_words

_SAME_PLACE = 1e-9
_LEVEL = 1e-9


class Place:
    """Where things are on one body, in words; a letter stands for a number where a given has only a letter."""

    def __init__(self, sketch: Sketch, body: Body) -> None:
        self.sketch = sketch
        self.body = body
        self.settings = sketch.settings
        # Distances on a disc are told from its centre.
        self.start, self.end = (body.origin_m, body.origin_m) if body.kind == "disc" else shape.ends(body)
        self.above = sketch.settings.seen_from == "above"
        self._known: set[str] = set()

    def number(self, value: float, kind: Kind) -> str:
        """A value with its unit, as typed where it is short."""
        return given_words.number_words(value, kind, self.settings)

    def length(self, first: Point, second: Point, measured: str = "straight") -> Piece:
        """A distance between two points, or along x or y: its letter, its number, or both."""
        for given in self.sketch.givens:
            if given.kind != "length" or not given.letter:
                continue
            found = measuring.length(self.sketch, given)
            ends = {self._same(found.start, first) and self._same(found.end, second)}
            ends.add(self._same(found.start, second) and self._same(found.end, first))
            level = measured == "straight" or self._level(first, second, measured)
            if True in ends and (given.measured == measured or (given.measured == "straight" and level)):
                return self._lettered(given, found.value_m, "length")
        x, y = subtract(second, first)
        value = {"straight": math.hypot(x, y), "across": abs(x), "upright": abs(y)}[measured]
        return self.number(value, "length")

    def _level(self, first: Point, second: Point, measured: str) -> bool:
        """Whether a distance along x or y is the whole distance."""
        x, y = (abs(part) for part in subtract(second, first))
        return (y if measured == "across" else x) <= _LEVEL * max(x, y)

    def _lettered(self, given: Given, value: float, kind: Kind) -> Piece:
        symbol = Symbol(*split(given.letter))
        return [symbol, " = ", self.number(value, kind)] if given.number else symbol

    def angle(self, line: str, edge: int, along: Vector) -> Piece:
        """How steep a line is: "12° to the horizontal", with the letter or the other line of a given that says it."""
        for given in self.sketch.givens:
            if given.kind == "angle" and not given.other and line in (given.line, given.second_line):
                own = given.edge if given.line == line else given.second_edge
                if own != edge:
                    continue
                value = measuring.angle(self.sketch, given).value_deg
                shown: Piece = self._lettered(given, value, "angle") if given.letter else self.number(value, "angle")
                if given.second_line is None:
                    return [shown, f" to {given_words.axis_words(given.against == 'vertical', self.settings)}"]
                if given.line == line:
                    return [shown, f" to the {given_words.line_words(self.sketch, given.second_line)}"]
        for given in self.sketch.givens:
            if given.kind == "slope" and (given.line, given.edge) == (line, edge):
                rise, run, _ = given_words.leg_words(measuring.slope(self.sketch, given), self.settings)
                return [f"a slope of {rise} : {run}"]
        acute = math.degrees(math.atan2(abs(along[1]), abs(along[0])))
        return [self.number(acute, "angle"), f" to {given_words.axis_words(False, self.settings)}"]

    def steep(self, line: str) -> bool:
        """Whether some given says how steep a line is."""
        angles = any(given.kind == "angle" and not given.other and given.line == line for given in self.sketch.givens)
        return angles or any(given.kind == "slope" and given.line == line for given in self.sketch.givens)

    def way(self, along: Vector) -> str:
        """Which way something points, without its angle; seen from above, up is up the page."""
        return direction_words(along, above=self.above)

    def towards(self, line: str, edge: int, along: Vector) -> list[Piece]:
        """Which way something points: "straight down", "up and to the left at 30° to the horizontal"."""
        words = self.way(along)
        if " and " in words:
            return [f"{words} at ", self.angle(line, edge, along)]
        return [f"straight {words}" if words in ("up", "down") else words]

    def at(self, point: Point) -> list[Piece]:
        """Where on the body: "at A", "at its left end", "4 m from A", "at B, 2.8 m from A"."""
        kind, pieces = self._spot(point)
        return pieces if kind == "away" else ["at ", *pieces]

    def from_(self, point: Point) -> list[Piece]:
        """The same after "from", ready for what follows."""
        kind, pieces = self._spot(point)
        return {"away": ["from a point ", *pieces], "apposed": ["from ", *pieces, ","]}.get(kind, ["from ", *pieces])

    def to(self, point: Point) -> list[Piece]:
        """The same after "to"."""
        kind, pieces = self._spot(point)
        return ["to a point ", *pieces] if kind == "away" else ["to ", *pieces]

    def spot(self, point: Point, name: str) -> list[Piece]:
        """A place of a body that is called by its name here: "the right leg at B", "the upper end of the mast"."""
        named = given_words.point_name(self.sketch, point)
        end = self._end_words(point).removeprefix("its ")
        if named:
            return [f"{name} at {named}"]
        if end:
            return [f"the {end} of {name}"]
        if self.body.kind == "bar":
            return [f"{name}, ", self.length(self.start, point), f" from its {self._end_words(self.start)[4:]}"]
        return [name]

    def _spot(self, point: Point) -> tuple[str, list[Piece]]:
        """A place: "named" or an end, "apposed" for a name with where it is, "away" for so far from an end."""
        name = given_words.point_name(self.sketch, point)
        if name and name in self._known:
            return "named", [name]
        if name:
            self._known.add(name)
        end = self._end_words(point)
        if end:
            return "named", [f"{end} {name}".strip()]
        if self.body.kind == "bar":
            told: list[Piece] = [self.length(self.start, point), " from ", *self.origin()]
        else:
            told = self.from_start(point)
        return ("apposed", [f"{name}, ", *told]) if name else ("away", told)

    def origin(self) -> list[Piece]:
        """The end that distances are told from."""
        name = given_words.point_name(self.sketch, self.start)
        if name and name in self._known:
            return [name]
        if name:
            self._known.add(name)
        return [f"{self._end_words(self.start)} {name}".strip()]

    def from_start(self, point: Point) -> list[Piece]:
        """So far across and up from where the body begins."""
        x, y = subtract(point, self.start)
        size = math.hypot(x, y)
        parts: list[list[Piece]] = []
        if abs(x) > _LEVEL * size:
            side = "to the right of" if x > 0.0 else "to the left of"
            parts.append([self.length(self.start, point, "across"), f" {side} "])
        if abs(y) > _LEVEL * size:
            over, under = ("up the page from", "down the page from") if self.above else ("above", "below")
            parts.append([self.length(self.start, point, "upright"), f" {over if y > 0.0 else under} "])
        if not parts:
            return self.origin()
        said = [*parts[0], *self.origin()]
        return said if len(parts) == 1 else [*said, " and ", *parts[1], "it"]

    def _end_words(self, point: Point) -> str:
        """Which end, bend or corner of the body this is; "" when it is none."""
        if self.body.kind == "disc":
            return self._disc_words(point)
        corners = shape.axis(self.body)
        index = next((index for index, corner in enumerate(corners) if self._same(corner, point)), None)
        if index is None:
            return ""
        if self.body.kind == "plate":
            return f"its {_nth(index)} corner"
        if self.body.kind == "bent-bar":
            if index in (0, len(corners) - 1):
                return "its first end" if index == 0 else "its other end"
            return "its bend" if len(corners) == 3 else f"its {_nth(index - 1)} bend"
        x, y = subtract(corners[1 - index], point)
        if abs(y) > abs(x) and not self.above:
            return "its lower end" if y > 0.0 else "its upper end"
        return "its left end" if x > 0.0 else "its right end"

    def _disc_words(self, point: Point) -> str:
        """The centre of a disc, and the four points of its rim that have a name."""
        (x, y), radius = self.body.origin_m, self.body.radius_m
        # Seen from above nothing is low or high.
        named = {"its centre": (0.0, 0.0), "its rightmost point": (radius, 0.0), "its leftmost point": (-radius, 0.0)}
        if not self.above:
            named |= {"its lowest point": (0.0, -radius), "its highest point": (0.0, radius)}
        return next((words for words, off in named.items() if self._same((x + off[0], y + off[1]), point)), "")

    def corners(self) -> str:
        """The corners of a plate in the world, as coordinates."""
        return self._points(shape.axis(self.body))

    def holes(self) -> list[str]:
        """The holes of a plate or disc, where they are and how large, in the world."""
        placed = shape.placing(self.body)
        found = [f"a hole with corners at {self._points(tuple(map(placed, hole)))}" for hole in self.body.holes_m]
        return found + [
            f"a round hole of radius {self.number(hole.radius_m, 'length')} with its centre at "
            f"{self._coordinates(placed(hole.centre_m))}"
            for hole in self.body.round_holes
        ]

    def pieces(self) -> list[str]:
        """The pieces fixed to the body: what each is, its mass, and where its centre is in the world."""
        return [
            f"{self._piece(piece)}of mass {self.number(piece.mass_kg, 'mass')} with its centre at "
            f"{self._coordinates(shape.world(self.body, piece.centre_m))}"
            for piece in self.body.pieces
        ]

    def _piece(self, piece: AddedPiece) -> str:
        if piece.radius_m > 0.0:
            return f"a uniform disc of radius {self.number(piece.radius_m, 'length')}, "
        if piece.height_m > 0.0:
            sides = f"{self.number(piece.width_m, 'length')} by {self.number(piece.height_m, 'length')}"
            return f"a uniform rectangle, {sides}, "
        return f"a uniform bar, {self.number(piece.width_m, 'length')} long, " if piece.width_m else "a small piece "

    def _points(self, points: tuple[Point, ...]) -> str:
        said = [self._coordinates(point) for point in points]
        return f"{', '.join(said[:-1])} and {said[-1]}"

    def _coordinates(self, point: Point) -> str:
        comma = "; " if self.settings.decimal_comma else ", "
        x, y = (given_words.number_words(self._clean(part), "length", self.settings) for part in point)
        unit = f"\u00a0{unit_of('length', self.settings)}"
        return f"({x.removesuffix(unit)}{comma}{y.removesuffix(unit)}){unit}"

    def _clean(self, value: float) -> float:
        """A coordinate without the dust of turning."""
        rounded = round(value, 12)
        return rounded + 0.0 if abs(value - rounded) < 1e-12 else value

    def gravity(self) -> str:
        """g as it is set, with its unit."""
        return write_exact(self.settings.g_m_s2, "acceleration", self.settings)

    def _same(self, first: Point, second: Point) -> bool:
        reach = _SAME_PLACE * max(1.0, abs(first[0]), abs(first[1]))
        return distance(first, second) <= reach


_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")


def _nth(index: int) -> str:
    return _ORDINALS[index] if index < len(_ORDINALS) else f"{index + 1}th"


def with_article(name: str) -> str:
    """ "an oar", "a gangway", "a uniform bar"."""
    first = name.lower()
    vowel = first[:1] in "aeiou" and not first.startswith(("uni", "use", "eu", "one"))
    return f"{'an' if vowel else 'a'} {name}"


def capital(name: str) -> str:
    """A sentence's first letter."""
    return name[:1].upper() + name[1:]

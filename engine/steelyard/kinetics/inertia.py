"""Mass and moment of inertia of a body from its shape, taken as uniform.

kg, kg·m², metres of the world. Sources: slender rod m·L²/12; parallel axes (Huygens and Steiner); polar second moments
of areas (`area`), all as any dynamics text prints them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..geometry import Point, distance
from ..model import AddedPiece, Body
from ..statics import area, shape


@dataclass(frozen=True, slots=True)
class Inertia:
    """A mass, its centre in the world, and its moment of inertia about that centre."""

    mass_kg: float
    centre_m: Point
    moment_kg_m2: float

    def about(self, point_m: Point) -> float:
        """The moment of inertia about another point: parallel axes."""
        return self.moment_kg_m2 + self.mass_kg * distance(self.centre_m, point_m) ** 2

    def with_masses(self, masses: Sequence[tuple[float, Point]]) -> Inertia:
        """The same together with point masses (kg, place in the world) that move with it."""
        total = self.mass_kg + sum(mass for mass, _ in masses)
        shift = [sum(mass * (place[axis] - self.centre_m[axis]) for mass, place in masses) / total for axis in (0, 1)]
        centre = (self.centre_m[0] + shift[0], self.centre_m[1] + shift[1])
        moment = self.about(centre) + sum(mass * distance(place, centre) ** 2 for mass, place in masses)
        return Inertia(total, centre, moment)


def mass_of(body: Body, g_m_s2: float) -> float | None:
    """The body's mass; None where it is neglected or a letter only. A weight is divided by g."""
    if body.weight_symbol_only:
        return None
    if body.weight_n is not None:
        return body.weight_n / g_m_s2 or None
    return body.total_mass_kg or None


def inertia(body: Body, g_m_s2: float) -> Inertia | None:
    """Mass, centre and moment of inertia; None for a body without a mass in numbers.

    Pieces fixed to it are added by parallel axes. With a centre set by hand the mass is taken to be spread about that
    centre as the uniform shape's is about its own.
    """
    mass = mass_of(body, g_m_s2)
    if mass is None:
        return None
    centre = shape.centre_place(body)
    if not body.pieces:
        return Inertia(mass, shape.world(body, centre), mass * radius_of_gyration(body) ** 2)
    own = body.mass_kg or 0.0
    moment = own * (radius_of_gyration(body) ** 2 + distance(shape.own_centre_place(body), centre) ** 2)
    moment += sum(_of_piece(piece) + piece.mass_kg * distance(piece.centre_m, centre) ** 2 for piece in body.pieces)
    return Inertia(mass, shape.world(body, centre), moment)


def _of_piece(piece: AddedPiece) -> float:
    """About its own centre: disc m r²/2, rectangle m (b² + h²)/12, which is a slender bar's without h."""
    if piece.radius_m > 0.0:
        return piece.mass_kg * piece.radius_m**2 / 2.0
    return piece.mass_kg * (piece.width_m**2 + piece.height_m**2) / 12.0


def radius_of_gyration(body: Body) -> float:
    """Of the uniform shape about its own centre: moment of inertia = mass · radius². Zero for a mere point."""
    if body.kind == "bar":
        return body.length_m / math.sqrt(12.0)
    squared = _path(shape.places(body)) if body.kind == "bent-bar" else _plate(body)
    return math.sqrt(max(0.0, squared))


def _path(corners: Sequence[Point]) -> float:
    """A thin polyline: each piece a slender rod, moved to the common centre."""
    pieces = [(distance(start, end), start, end) for start, end in pairwise(corners)]
    total = sum(piece for piece, _, _ in pieces)
    if total == 0.0:
        return 0.0
    base = corners[0]
    # Differences from the first corner, so that a path far from its frame's origin loses no digits.
    middles = [
        (piece, ((start[0] + end[0]) / 2.0 - base[0], (start[1] + end[1]) / 2.0 - base[1]))
        for piece, start, end in pieces
    ]
    centre = (
        sum(piece * middle[0] for piece, middle in middles) / total,
        sum(piece * middle[1] for piece, middle in middles) / total,
    )
    return sum(piece * (piece**2 / 12.0 + distance(middle, centre) ** 2) for piece, middle in middles) / total


def _plate(body: Body) -> float:
    """A plate or disc of even thickness, its holes taken away, about what is left's centroid."""
    whole = area.together(area.patches(body))
    return whole.polar_m4 / whole.area_m2 if whole.area_m2 > 0.0 else 0.0

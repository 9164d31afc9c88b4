"""Random systems as sketches make them: one to three bodies, held by all kinds of supports, often awkwardly placed."""

import math
import random
from typing import NamedTuple

from steelyard.program import Bound

LARGE = (1e3, 1e6, 1e8)
PINS = ("pin", "rope", "roller", "contact", "contact", "rough", "rough", "face", "face", "couple")


class System(NamedTuple):
    """The arguments of the engine's own functions, in their order."""

    columns: list[list[float]]
    right_side: list[float]
    one_way: list[bool]
    bounds: list[Bound]


def wrench(point, direction) -> tuple[float, float, float]:
    """A force of one newton at a point, about the origin."""
    return direction[0], direction[1], point[0] * direction[1] - point[1] * direction[0]


def system(seed: int) -> System:
    """The same system for the same seed."""
    draw = random.Random(seed)
    bodies = draw.choice((1, 1, 1, 2, 3))
    made = System([], [0.0] * (3 * bodies), [], [])
    points, directions = _places(draw, 4 * bodies)
    for _ in range(draw.randint(2, 4) + 2 * (bodies - 1)):
        body = draw.randrange(bodies)
        partner = (body + 1) % bodies if bodies > 1 and draw.random() < 0.5 else None
        _hold(made, draw, body, partner, draw.choice(points), directions())
    known = _loads(made, draw, bodies, points, directions)
    unit = draw.choice((1.0, 1.0, 1.0, 1e-6, 1e6))
    return made._replace(right_side=[-unit * part for part in known])


def _places(draw: random.Random, count: int):
    """Points and a source of directions: anywhere, on a grid, all in one point, all parallel or at right angles."""
    style = draw.random()
    if style < 0.15:  # points that coincide
        points = [(draw.randint(-2, 2) / 2, draw.randint(-2, 2) / 2) for _ in range(count)]
    elif style < 0.25:  # all lines through one point
        points = [(0.3, 0.2)] * count
    else:
        points = [(draw.uniform(-1, 1), draw.uniform(-1, 1)) for _ in range(count)]

    def directions() -> tuple[float, float]:
        if style < 0.35:
            angle = draw.choice((0.0, 0.5, 1.0, 1.5)) * math.pi
        elif style < 0.42:  # all parallel
            angle = math.pi / 4
        else:
            angle = draw.uniform(-math.pi, math.pi)
        return math.cos(angle), math.sin(angle)

    return points, directions


def _hold(made: System, draw: random.Random, body: int, partner: int | None, point, along) -> None:
    def put(unit, one_way: bool) -> int:
        column = [0.0] * len(made.right_side)
        column[3 * body : 3 * body + 3] = unit
        if partner is not None:
            column[3 * partner : 3 * partner + 3] = [-part for part in unit]
        made.columns.append(column)
        made.one_way.append(one_way)
        return len(made.columns) - 1

    kind = draw.choice(PINS)
    if kind == "pin":
        put(wrench(point, (1.0, 0.0)), False)
        put(wrench(point, (0.0, 1.0)), False)
    elif kind == "couple":
        put((0.0, 0.0, 1.0), False)
    else:
        normal = put(wrench(point, along), kind != "roller")
        if kind in ("rough", "face"):
            friction = put(wrench(point, (-along[1], along[0])), False)
            usual = draw.uniform(0.05, 1.2)
            made.bounds.append(Bound(friction, normal, draw.choice((0.0, usual, usual, usual, draw.choice(LARGE)))))
        if kind == "face":
            couple = put((0.0, 0.0, 1.0), False)
            made.bounds.append(Bound(couple, normal, draw.choice((0.0, draw.uniform(0.01, 0.5)))))


def _loads(made: System, draw: random.Random, bodies: int, points, directions) -> list[float]:
    known = [0.0] * (3 * bodies)
    kind = draw.random()
    if kind < 0.05:  # no loads
        return known
    if kind < 0.25:  # balanced by an answer with ropes just slack and contacts just at their limits
        values = [draw.choice((0.0, draw.random())) if way else draw.uniform(-1, 1) for way in made.one_way]
        for bound in made.bounds:
            values[bound.column] = draw.choice((-1, 0, 1, 1)) * min(bound.factor, 1e3) * values[bound.normal]
        return [
            -sum(value * column[row] for value, column in zip(values, made.columns, strict=True))
            for row in range(3 * bodies)
        ]
    for body in range(bodies):
        if kind < 0.3:  # couples only
            known[3 * body + 2] = draw.uniform(-1, 1)
            continue
        for _ in range(draw.randint(1, 2)):
            size = draw.choice((1.0, 10.0, draw.random()))
            for row, part in enumerate(wrench(draw.choice(points), directions())):
                known[3 * body + row] += size * part
    return known

"""The equilibrium equations assembled a second time, straight from the sketch, with numpy.

Nothing of the engine's statics is used: places, directions and wrenches are worked out here again.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from steelyard.model import Body, Couple, Force, Load, RoundHole, Sketch, SpreadLoad, Support, Thing

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Reference:
    """Columns (Fx, Fy, torque about `about` over `lever`) of the unknowns, their names, and the known wrench."""

    columns: Array
    names: tuple[tuple[str, str], ...]
    known: Array
    lever: float
    about: Array


def world(body: Body, place: tuple[float, float]) -> Array:
    """A place on the body in the world."""
    turn = np.radians(body.angle_deg)
    matrix = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    return np.array(body.origin_m) + matrix @ np.array(place)


def unit(angle_deg: float) -> Array:
    """Unit vector at an angle."""
    return np.array([np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))])


def corners(body: Body) -> Array:
    """The shape's corners in the world; four points of the rim of a disc."""
    if body.kind == "disc":
        return np.array([world(body, tuple(body.radius_m * unit(90.0 * turn))) for turn in range(4)])
    places = ((0.0, 0.0), (body.length_m, 0.0)) if body.kind == "bar" else body.points_m
    return np.array([world(body, place) for place in places])


def centre_of_mass(body: Body) -> Array:
    """Of the shape and of what is fixed to it, each by its mass."""
    masses = [body.mass_kg or 0.0, *(piece.mass_kg for piece in body.pieces)]
    centres = [centre_of_shape(body), *(world(body, piece.centre_m) for piece in body.pieces)]
    return np.average(centres, axis=0, weights=masses) if body.pieces else centres[0]


def centre_of_shape(body: Body) -> Array:
    """By summing small pieces: exact for straight edges, since each piece is a segment or a triangle fan."""
    if body.kind == "bar":
        return world(body, (body.length_m / 2, 0.0))
    points = np.array(body.points_m)
    if body.kind == "bent-bar":
        lengths = np.linalg.norm(np.diff(points, axis=0), axis=1)
        return world(body, tuple(((points[1:] + points[:-1]) / 2 * lengths[:, None]).sum(0) / lengths.sum()))
    first, area = np.zeros(2), 0.0
    for hole in body.round_holes:
        area -= np.pi * hole.radius_m**2
        first -= np.pi * hole.radius_m**2 * np.array(hole.centre_m)
    if body.kind == "disc":
        return world(body, tuple(first / (area + np.pi * body.radius_m**2)))
    for polygon, sign in [(points, 1.0), *((np.array(hole), -1.0) for hole in body.holes_m)]:
        after = np.roll(polygon, -1, axis=0)
        cross = polygon[:, 0] * after[:, 1] - polygon[:, 1] * after[:, 0]
        turned = sign * np.sign(cross.sum())
        area += turned * cross.sum() / 2
        first += turned * ((polygon + after) * cross[:, None]).sum(0) / 6
    return world(body, tuple(first / area))


def assemble(sketch: Sketch) -> Reference:
    """The equations of the first body, torques about the middle of its corners."""
    body = sketch.bodies[0]
    shape = corners(body)
    about = shape.mean(axis=0)
    lever = float(np.linalg.norm(shape - about, axis=1).max())
    columns: list[Array] = []
    names: list[tuple[str, str]] = []
    known = np.zeros(3)

    def wrench(point: Array, force: Array) -> Array:
        arm = point - about
        return np.array([force[0], force[1], (arm[0] * force[1] - arm[1] * force[0]) / lever])

    def unknown(name: str, point: Array, both: bool, along: Array) -> None:
        if both:
            columns.extend([wrench(point, np.array([1.0, 0.0])), wrench(point, np.array([0.0, 1.0]))])
            names.extend([(name, "x"), (name, "y")])
        else:
            columns.append(wrench(point, along))
            names.append((name, "size"))

    down = np.array([0.0, -1.0])
    g = sketch.settings.g_m_s2
    fixed = sum(piece.mass_kg for piece in body.pieces)
    weight = body.weight_n if body.weight_n is not None else ((body.mass_kg or 0.0) + fixed) * g
    known += wrench(centre_of_mass(body), weight * down)
    for load in sketch.loads:
        if isinstance(load, SpreadLoad):
            for point, force in small_forces(load, body):
                known += wrench(point, force)
            continue
        point = world(body, load.place_m)
        if isinstance(load, Thing):
            known += wrench(point, (load.mass_kg or 0.0) * g * down)
        elif isinstance(load, Couple):
            if load.role == "unknown":
                columns.append(np.array([0.0, 0.0, 1.0]))
                names.append((load.id, "couple"))
            else:
                known[2] += (1 if load.counterclockwise else -1) * (load.couple_n_m or 0.0) / lever
        elif isinstance(load, Force):
            if load.role == "unknown":
                unknown(load.id, point, load.sought == "size and direction", unit(load.direction_deg))
            else:
                known += wrench(point, (load.size_n or 0.0) * unit(load.direction_deg))
    for support in sketch.supports:
        point = world(body, support.place_m)
        along = _line(support, point)
        if support.face_m is not None:  # a normal at the middle of the face, and a couple for where it really acts
            end = world(body, support.face_m)
            square = np.array([point[1] - end[1], end[0] - point[0]]) / np.linalg.norm(end - point)
            along, point = square * np.sign(square @ along), (point + end) / 2.0
            columns.append(np.array([0.0, 0.0, 1.0]))
            names.append((support.id, "place"))
        unknown(support.id, point, support.kind in ("pin", "fixed"), along)
        if support.mu:
            unknown(f"{support.id}-friction", point, False, np.array([along[1], -along[0]]))
        if support.kind == "fixed":
            columns.append(np.array([0.0, 0.0, 1.0]))
            names.append((f"{support.id}-couple", "couple"))
    matrix = np.array(columns).T if columns else np.zeros((3, 0))
    return Reference(matrix, tuple(names), known, lever, about)


# Nodes and weights on [0, 1] that integrate any polynomial of a load diagram and its moment exactly.
NODES, WEIGHTS = (np.polynomial.legendre.leggauss(3)[0] + 1.0) / 2.0, np.polynomial.legendre.leggauss(3)[1] / 2.0


def small_forces(load: SpreadLoad, body: Body) -> list[tuple[Array, Array]]:
    """A spread load as many small forces along its line (points and newtons), never as one resultant."""
    start, end = world(body, load.start_m), world(body, load.end_m)
    way = end - start
    length = float(np.linalg.norm(way))
    right = np.array([way[1], -way[0]]) / length
    acts = {"across": right, "angle": unit(load.direction_deg)}.get(load.acts, np.array([0.0, -1.0]))
    first, last = load.start_n_per_m or 0.0, load.end_n_per_m or 0.0
    return [
        (start + node * way, weight * length * (first + node * (last - first)) * acts)
        for node, weight in zip(NODES, WEIGHTS, strict=True)
    ]


def _line(support: Support, point: Array) -> Array:
    if support.anchor_m is None:
        return unit(support.normal_deg)
    along = np.array(support.anchor_m) - point
    size = np.linalg.norm(along)
    return along / size if size > 1e-9 else unit(support.normal_deg)


def solve(reference: Reference) -> dict[tuple[str, str], float]:
    """Least-squares values of the unknowns, couples in newton metres."""
    values = np.linalg.lstsq(reference.columns, -reference.known, rcond=None)[0]
    return {
        name: float(value * (reference.lever if name[1] == "couple" else 1.0))
        for name, value in zip(reference.names, values, strict=True)
    }


def _turned(load: Load, turn_deg: float) -> Load:
    """A load turned with its body; straight down is then at an angle."""
    if isinstance(load, SpreadLoad) and load.acts != "across":
        held = load.direction_deg if load.acts == "angle" else 270.0
        return replace(load, acts="angle", direction_deg=held + turn_deg)
    return replace(load, direction_deg=load.direction_deg + turn_deg) if isinstance(load, Force) else load


def moved(sketch: Sketch, turn_deg: float, dx: float, dy: float) -> Sketch:
    """The sketch turned about the origin and then moved, everything on it alike; directions of loads turn too.

    Gravity stays upright: give it a sketch without weights when turning.
    """
    cosine, sine = unit(turn_deg)

    def carried(point: tuple[float, float]) -> tuple[float, float]:
        return (
            float(point[0] * cosine - point[1] * sine + dx),
            float(point[0] * sine + point[1] * cosine + dy),
        )

    return replace(
        sketch,
        bodies=tuple(
            replace(body, origin_m=carried(body.origin_m), angle_deg=body.angle_deg + turn_deg)
            for body in sketch.bodies
        ),
        supports=tuple(
            replace(
                support,
                normal_deg=support.normal_deg + turn_deg,
                anchor_m=None if support.anchor_m is None else carried(support.anchor_m),
            )
            for support in sketch.supports
        ),
        loads=tuple(_turned(load, turn_deg) for load in sketch.loads),
        pivot=None if sketch.pivot is None else replace(sketch.pivot, place_m=carried(sketch.pivot.place_m)),
    )


def resized(sketch: Sketch, length: float, force: float) -> Sketch:
    """The sketch with every length and every force multiplied by a number."""

    def longer(point: tuple[float, float]) -> tuple[float, float]:
        return (point[0] * length, point[1] * length)

    def grown(value: float | None, factor: float) -> float | None:
        return None if value is None else value * factor

    resized_bodies = tuple(
        replace(
            body,
            origin_m=longer(body.origin_m),
            length_m=body.length_m * length,
            radius_m=body.radius_m * length,
            round_holes=tuple(RoundHole(longer(hole.centre_m), hole.radius_m * length) for hole in body.round_holes),
            points_m=tuple(map(longer, body.points_m)),
            holes_m=tuple(tuple(map(longer, hole)) for hole in body.holes_m),
            mass_kg=grown(body.mass_kg, force),
            pieces=tuple(
                replace(
                    piece,
                    centre_m=longer(piece.centre_m),
                    mass_kg=piece.mass_kg * force,
                    radius_m=piece.radius_m * length,
                    width_m=piece.width_m * length,
                )
                for piece in body.pieces
            ),
            weight_n=grown(body.weight_n, force),
        )
        for body in sketch.bodies
    )
    resized_loads = []
    for load in sketch.loads:
        if isinstance(load, SpreadLoad):
            ends = {key: grown(getattr(load, key), force / length) for key in ("start_n_per_m", "end_n_per_m")}
            resized_loads.append(replace(load, start_m=longer(load.start_m), end_m=longer(load.end_m), **ends))
            continue
        placed = replace(load, place_m=longer(load.place_m))
        if isinstance(placed, Force):
            placed = replace(placed, size_n=grown(placed.size_n, force))
        elif isinstance(placed, Couple):
            placed = replace(placed, couple_n_m=grown(placed.couple_n_m, force * length))
        else:
            placed = replace(placed, mass_kg=grown(placed.mass_kg, force))
        resized_loads.append(placed)
    return replace(
        sketch,
        bodies=resized_bodies,
        supports=tuple(
            replace(
                support,
                place_m=longer(support.place_m),
                anchor_m=None if support.anchor_m is None else longer(support.anchor_m),
            )
            for support in sketch.supports
        ),
        loads=tuple(resized_loads),
        points=tuple(replace(point, place_m=longer(point.place_m)) for point in sketch.points),
        pivot=None if sketch.pivot is None else replace(sketch.pivot, place_m=longer(sketch.pivot.place_m)),
    )

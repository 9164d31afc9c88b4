"""Rough sketches at random, and what they allow, written a second time with numpy and scipy's HiGHS.

A contact is written by its extreme forces here: full friction one way or the other, at one end of its face or the
other; every force it can give is a sum of these. Nothing of the engine's statics is used.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

import numpy as np
import reference
from numpy.typing import NDArray
from scipy.optimize import linprog
from steelyard.model import Body, Couple, Force, Load, Sketch, Support, Thing

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Rough:
    """Generators (Fx, Fy, torque about the world's origin), which of them act one way, and the known wrench.

    `sizes[id]` is the linear form of the generators that gives the force with this id along its drawn line (of a pin:
    `id.x` and `id.y`), `places[id]` the one that gives the torque of a normal about the middle of its face over the
    sense of the face.
    """

    columns: Array
    one_way: tuple[bool, ...]
    known: Array
    sizes: dict[str, Array]
    places: dict[str, Array]


def assemble(sketch: Sketch) -> Rough:
    """The first body's equations."""
    body = sketch.bodies[0]
    columns: list[Array] = []
    one_way: list[bool] = []
    forms: dict[str, dict[int, float]] = {}
    places: dict[str, dict[int, float]] = {}

    def add(point: Array, force: Array, only: bool, couple: float = 0.0) -> int:
        columns.append(np.array([force[0], force[1], point[0] * force[1] - point[1] * force[0] + couple]))
        one_way.append(only)
        return len(columns) - 1

    for support in sketch.supports:
        point = reference.world(body, support.place_m)
        if support.kind == "pin":
            forms[f"{support.id}.x"] = {add(point, np.array([1.0, 0.0]), False): 1.0}
            forms[f"{support.id}.y"] = {add(point, np.array([0.0, 1.0]), False): 1.0}
            continue
        if support.kind in ("rope", "roller"):
            along = reference._line(support, point)
            forms[support.id] = {add(point, along, not support.two_way): 1.0}
            continue
        normal = reference.unit(support.normal_deg)
        ends = [point]
        if support.face_m is not None:
            ends.append(reference.world(body, support.face_m))
            way = (ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0])
            square = np.array([-way[1], way[0]])
            normal = square if square @ normal > 0.0 else -square
        right = np.array([normal[1], -normal[0]])
        size: dict[int, float] = {}
        friction: dict[int, float] = {}
        place: dict[int, float] = {}
        for end, side in zip(ends, (-1.0, 1.0), strict=False):
            for sense in (1.0, -1.0) if support.mu else (0.0,):
                mu = (support.mu or 0.0) * sense
                index = add(end, normal + mu * right, True)
                size[index] = 1.0
                friction[index] = mu
                place[index] = side
        forms[support.id] = size
        if support.mu is not None:
            forms[f"{support.id}-friction"] = friction
        if support.face_m is not None:
            half = float(np.linalg.norm(ends[1] - ends[0])) / 2.0
            places[support.id] = {index: side * half for index, side in place.items()}
    known = np.zeros(3)
    g = sketch.settings.g_m_s2
    down = np.array([0.0, -1.0])

    def load(point: Array, force: Array) -> None:
        known[:] += [force[0], force[1], point[0] * force[1] - point[1] * force[0]]

    load(reference.centre_of_mass(body), (body.weight_n or 0.0) * down)
    for each in sketch.loads:
        at = reference.world(body, each.place_m)
        if isinstance(each, Thing):
            load(at, (each.mass_kg or 0.0) * g * down)
        elif isinstance(each, Couple):
            known[2] += (1.0 if each.counterclockwise else -1.0) * (each.couple_n_m or 0.0)
        elif isinstance(each, Force):
            load(at, (each.size_n or 0.0) * reference.unit(each.direction_deg))
    count = len(columns)

    def dense(form: dict[int, float]) -> Array:
        row = np.zeros(count)
        for index, share in form.items():
            row[index] = share
        return row

    return Rough(
        np.array(columns).T,
        tuple(one_way),
        known,
        {name: dense(form) for name, form in forms.items()},
        {name: dense(form) for name, form in places.items()},
    )


def violation(rough: Rough) -> float:
    """How far the sums are from closing at the least, beside the loads: zero when something admissible closes them."""
    scale = np.abs(rough.known).max()
    slacks = np.hstack([np.eye(3), -np.eye(3)])
    found = linprog(
        np.concatenate([np.zeros(len(rough.one_way)), np.ones(6)]),
        A_eq=np.hstack([rough.columns, slacks]),
        b_eq=-rough.known / scale,
        bounds=[*_bounds(rough), *[(0, None)] * 6],
        method="highs",
        options={"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10},
    )
    assert found.status == 0
    return float(found.fun)


def extreme(rough: Rough, form: Array, sense: float) -> float:
    """The greatest (sense +1) or least (−1) value of a form, in newtons; infinite where there is none."""
    scale = np.abs(rough.known).max()
    found = linprog(
        -sense * form,
        A_eq=rough.columns,
        b_eq=-rough.known / scale,
        bounds=_bounds(rough),
        method="highs",
        options={"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10},
    )
    if found.status in (3, 4):  # unbounded
        return sense * np.inf
    assert found.status == 0, found.message
    return -sense * float(found.fun) * scale


def extreme_ratio(rough: Rough, top: Array, bottom: Array, sense: float) -> float:
    """The greatest or least of one form over another that is positive (Charnes and Cooper, 1962)."""
    # y = t·x with bottom·y = 1: A·y + t·known = 0.
    scale = np.abs(rough.known).max()
    found = linprog(
        -sense * np.append(top, 0.0),
        A_eq=np.vstack([np.hstack([rough.columns, rough.known[:, None] / scale]), np.append(bottom, 0.0)]),
        b_eq=[0.0, 0.0, 0.0, 1.0],
        bounds=[*_bounds(rough), (0, None)],
        method="highs",
        options={"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10},
    )
    assert found.status == 0, found.message
    return -sense * float(found.fun)


def _bounds(rough: Rough) -> list[tuple[float | None, None]]:
    return [(0.0 if only else None, None) for only in rough.one_way]


def random_sketch(seed: int) -> Sketch:
    """A bar or a plate on rough and smooth contacts, on a face, on ropes; pushed, turned and loaded."""
    chance = Random(seed)
    plate = seed % 3 == 0
    if plate:
        width, height = chance.uniform(0.5, 2.0), chance.uniform(0.5, 2.5)
        corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
        body = Body("thing", "plate", "crate", (0.0, 0.0), chance.uniform(-25, 25), points_m=corners, weight_n=100.0)
    else:
        width, height = chance.uniform(2.0, 5.0), 0.0
        turn = chance.uniform(-80, 80)
        body = Body("thing", "bar", "ladder", (0.0, 0.0), turn, length_m=width, weight_n=chance.uniform(20, 200))
    up = body.angle_deg + 90.0 if plate else 90.0
    supports = []
    if plate:
        mu = chance.choice([None, 0.0, chance.uniform(0.05, 1.2)])
        supports.append(Support("base", "contact", "thing", (0.0, 0.0), "N", "deck", up, face_m=(width, 0.0), mu=mu))
        if chance.random() < 0.5:
            mu = chance.choice([None, chance.uniform(0.05, 0.8)])
            supports.append(Support("side", "contact", "thing", (0.0, height * 0.8), "S", "wall", up - 90.0, mu=mu))
    else:
        for index in range(chance.choice([1, 2, 2, 2, 3])):
            mu = chance.choice([None, chance.uniform(0.05, 1.0), chance.uniform(0.05, 1.0)])
            place = (width * chance.choice([0.0, 1.0, chance.random()]), 0.0)
            angle = chance.choice([90.0, 0.0, 180.0, body.angle_deg + 90.0, chance.uniform(0, 180)])
            supports.append(Support(f"foot{index}", "contact", "thing", place, f"N_{index}", "quay", angle, mu=mu))
    more = chance.random()
    at = (width * chance.random(), height * chance.random())
    if more < 0.35:
        anchor = (chance.uniform(-4, 6), chance.uniform(-2, 6))
        supports.append(Support("stay", "rope", "thing", at, "T", "mast", anchor_m=anchor))
    elif more < 0.5:
        supports.append(Support("hinge", "pin", "thing", at, "R", "hinge"))
    elif more < 0.6:
        supports.append(Support("wheel", "roller", "thing", at, "W", "rail", chance.uniform(0, 360)))
    loads: list[Load] = []
    if chance.random() < 0.6:
        size, angle = chance.uniform(1, 120), chance.uniform(0, 360)
        loads.append(Force("push", "thing", at, "P", size_n=size, direction_deg=angle))
    if chance.random() < 0.4:
        loads.append(Thing("load", "thing", (width * chance.random(), height), "Q", "chest", chance.uniform(1, 20)))
    if chance.random() < 0.3:
        sense = chance.random() < 0.5
        loads.append(Couple("turn", "thing", at, "C", couple_n_m=chance.uniform(1, 80), counterclockwise=sense))
    return Sketch(bodies=(body,), supports=tuple(supports), loads=tuple(loads))

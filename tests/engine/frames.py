"""Random structures of joined bars, and their equilibrium written straight in numpy: three dense rows a body.

Nothing here comes from the engine's statics: where a place is, which way a support pushes and what a joint does to
its two bodies are worked out again from the sketch.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from steelyard.model import Body, Couple, Force, Sketch, Support, Thing

G = 9.81


def place(body: Body, at: tuple[float, float]) -> np.ndarray:
    """A place on a body, in the world."""
    turn = math.radians(body.angle_deg)
    cosine, sine = math.cos(turn), math.sin(turn)
    return np.array(body.origin_m) + np.array([[cosine, -sine], [sine, cosine]]) @ np.array(at)


def way(angle_deg: float) -> np.ndarray:
    """A unit vector."""
    return np.array([math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))])


class Column(NamedTuple):
    """One unknown: its name, and the forces (couples) that one unit of it does to bodies."""

    key: tuple[str, str]
    pushes: list[tuple[str, np.ndarray, np.ndarray]]
    turns: list[tuple[str, float]]
    one_way: bool


@dataclass
class Dense:
    """A·x + b = 0, three rows a body (torques about the origin), and the names of its columns."""

    bodies: list[str]
    keys: list[tuple[str, str]]
    one_way: list[bool]
    matrix: np.ndarray
    applied: np.ndarray

    def rank(self) -> int:
        """By singular values, torques counted about a point of each body's own and over its own size."""
        if not self.keys:
            return 0
        return int(np.linalg.matrix_rank(self.matrix, tol=1e-7))


def columns_of(sketch: Sketch, support: Support) -> list[Column]:
    """The unknowns a support stands for."""
    body = sketch.body(support.body)
    at = place(body, support.place_m)

    def pair(key: str, force: np.ndarray, one_way: bool = False) -> Column:
        pushes = [(support.body, at, force)]
        if support.other is not None:
            pushes.append((support.other, at, -force))
        return Column((support.id, key), pushes, [], one_way)

    if support.kind in ("pin", "fixed"):
        found = [pair("x", np.array([1.0, 0.0])), pair("y", np.array([0.0, 1.0]))]
        if support.kind == "fixed":
            turns = [(support.body, 1.0)] + ([] if support.other is None else [(support.other, -1.0)])
            found.append(Column((f"{support.id}-couple", "couple"), [], turns, False))
        return found
    if support.kind in ("rope", "strut"):
        far = np.array(support.anchor_m)
        if support.other is not None:
            far = place(sketch.body(support.other), support.anchor_m)
        towards = far if support.over_m is None else np.array(support.over_m)
        force = (towards - at) / np.linalg.norm(towards - at)
        pushes = [(support.body, at, force)]
        if support.other is not None:
            back = (at if support.over_m is None else np.array(support.over_m)) - far
            pushes.append((support.other, far, back / np.linalg.norm(back)))
        return [Column((support.id, "size"), pushes, [], support.kind == "rope")]
    found = [pair("size", way(support.normal_deg), support.kind == "contact" or not support.two_way)]
    if support.mu is not None:
        friction = pair("size", way(support.normal_deg - 90.0))
        found.append(friction._replace(key=(f"{support.id}-friction", "size")))
    return found


def dense(sketch: Sketch, *, taken: tuple[str, ...] = ()) -> Dense:
    """The equations of all bodies."""
    names = [body.id for body in sketch.bodies]
    columns = [column for support in sketch.supports for column in columns_of(sketch, support)]
    matrix = np.zeros((3 * len(names), len(columns)))
    applied = np.zeros(3 * len(names))

    def add(row: np.ndarray, body_id: str, at: np.ndarray, force: np.ndarray) -> None:
        start = 3 * names.index(body_id)
        row[start : start + 2] += force
        row[start + 2] += at[0] * force[1] - at[1] * force[0]

    for index, column in enumerate(columns):
        for body_id, at, force in column.pushes:
            add(matrix[:, index], body_id, at, force)
        for body_id, turn in column.turns:
            matrix[3 * names.index(body_id) + 2, index] += turn
    for body in sketch.bodies:
        if body.weight_n:
            add(applied, body.id, place(body, (body.length_m / 2.0, 0.0)), np.array([0.0, -body.weight_n]))
    for load in sketch.loads:
        at = place(sketch.body(load.body), load.place_m)
        if isinstance(load, Force):
            add(applied, load.body, at, load.size_n * way(load.direction_deg))
        elif isinstance(load, Thing):
            add(applied, load.body, at, np.array([0.0, -load.mass_kg * G]))
        elif isinstance(load, Couple):
            applied[3 * names.index(load.body) + 2] += load.couple_n_m * (1 if load.counterclockwise else -1)
    # Torques about the middle of each body, so that a far one is judged like any other.
    for index, body in enumerate(sketch.bodies):
        x, y = place(body, (body.length_m / 2.0, 0.0))
        for table in (matrix, applied):
            table[3 * index + 2] -= x * table[3 * index + 1] - y * table[3 * index]
    return Dense(names, [column.key for column in columns], [column.one_way for column in columns], matrix, applied)


def random_frame(seed: int, *, bodies: int | None = None, balanced: bool = False) -> Sketch:
    """A tree of bars joined by all kinds of joints, held here and there; with `balanced`, mostly just enough."""
    chance = random.Random(seed)
    count = bodies or chance.randint(2, 7)
    bars: list[Body] = []
    supports: list[Support] = []
    loads: list[Force | Couple | Thing] = []
    free = 0
    for index in range(count):
        name = f"bar{index}"
        length = round(chance.uniform(0.5, 5.0), 2)
        angle = round(chance.uniform(-180.0, 180.0), 1)
        weight = chance.choice([None, round(chance.uniform(10.0, 500.0), 1)])
        bar = Body(name, "bar", f"bar {index}", (0.0, 0.0), angle, length_m=length, weight_n=weight)
        free += 3
        if index:
            parent = chance.choice(bars)
            on_parent = (round(chance.uniform(0.0, parent.length_m), 2), 0.0)
            on_this = (chance.choice([0.0, length, round(chance.uniform(0.0, length), 2)]), 0.0)
            where = place(parent, on_parent)
            start = where - (place(bar, on_this) - np.array(bar.origin_m))
            bar = Body(
                name, "bar", bar.name, (float(start[0]), float(start[1])), angle, length_m=length, weight_n=weight
            )
            kind = chance.choice(["pin", "pin", "pin", "pin", "fixed", "contact"])
            free -= {"pin": 2, "fixed": 3, "contact": 1}[kind]
            normal = round(chance.uniform(0.0, 359.0), 1)
            supports.append(
                Support(f"join{index}", kind, name, on_this, f"J{index}", other=parent.id, normal_deg=normal)
            )
            if chance.random() < 0.2:
                far = (round(chance.uniform(0.0, parent.length_m), 2), 0.0)
                over = None
                if chance.random() < 0.5:
                    over = (round(chance.uniform(-6, 6), 2), round(chance.uniform(6, 9), 2))
                kind = "rope" if over else chance.choice(["rope", "strut"])
                mine = (round(chance.uniform(0.0, length), 2), 0.0)
                supports.append(
                    Support(f"line{index}", kind, name, mine, f"T{index}", anchor_m=far, other=parent.id, over_m=over)
                )
                free -= 1
        bars.append(bar)
        if chance.random() < 0.7:
            spot = (round(chance.uniform(0.0, length), 2), 0.0)
            loads.append(
                chance.choice(
                    [
                        Force(f"load{index}", name, spot, "P", size_n=round(chance.uniform(1, 900), 1),
                              direction_deg=round(chance.uniform(0, 360), 1)),
                        Couple(f"load{index}", name, spot, "C", couple_n_m=round(chance.uniform(0, 400), 1)),
                        Thing(f"load{index}", name, spot, "N", "crate", round(chance.uniform(1, 90), 1)),
                    ]
                )
            )  # fmt: skip
    for index in range(3 * count):
        enough = free <= 0
        if enough and (balanced or chance.random() < 0.6):
            break
        bar = chance.choice(bars)
        spot = (round(chance.uniform(0.0, bar.length_m), 2), 0.0)
        kinds = ["roller", "strut"] if free == 1 and balanced else ["pin", "roller", "roller", "strut"]
        kind = chance.choice(kinds)
        anchor = (round(chance.uniform(-9, 9), 2), round(chance.uniform(-9, -7), 2)) if kind == "strut" else None
        supports.append(
            Support(f"hold{index}", kind, bar.id, spot, f"H{index}", normal_deg=round(chance.uniform(0, 359), 1),
                    two_way=kind == "roller", anchor_m=anchor)
        )  # fmt: skip
        free -= 2 if kind == "pin" else 1
    return Sketch(bodies=tuple(bars), supports=tuple(supports), loads=tuple(loads))

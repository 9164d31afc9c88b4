"""Joined bodies: the curve from 1 to 30 bodies, from 10 to 1000 forces on them, and against dense numpy."""

import math
import sys
import timeit
from pathlib import Path

import numpy as np
from row import Row, at_most
from steelyard.model import Body, Force, Sketch, Support
from steelyard.statics import analyse

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "engine"))

import frames

BODIES = (1, 2, 5, 10, 20, 30)
FORCES = (10, 30, 100, 300, 1000)
ROUNDS = 15
# Half a frame of a 60 Hz screen, natively: the browser's own share and slower arithmetic take the rest.
ALLOWED_MS = 8.0


def rows() -> list[Row]:
    """Each of so many bodies against each of two, so many forces on ten, and a chain of thirty."""
    micro = 1e6
    seconds = {count: _quickest(chain(count)) for count in BODIES}
    each = seconds[2] / 2
    found = []
    for count in BODIES:
        measured = seconds[count] / count
        ratio = measured / each
        against = f"{each * micro:.4g} µs (each of 2)"
        found.append(
            Row(f"each of {count} joined bodies", f"{measured * micro:.4g} µs", against, ratio, "≤ 1.5", ratio <= 1.5)
        )
    loaded = {count: _quickest(chain(10, count)) for count in FORCES}
    for count in FORCES[1:]:
        text = f"{loaded[FORCES[0]] * 1e3:.4g} ms (with {FORCES[0]})"
        ratio, goal = loaded[count] / loaded[FORCES[0]], count / FORCES[0]
        name = f"10 joined bodies with {count} forces"
        found.append(Row(name, f"{loaded[count] * 1e3:.4g} ms", text, ratio, f"≤ {goal:g}", ratio <= goal))
    thirty = chain(30)
    made = frames.dense(thirty)
    expected = np.linalg.solve(made.matrix, -made.applied)[made.keys.index(("wall", "y"))]
    np.testing.assert_allclose(analyse(thirty).reading("wall").components_n[1], expected, rtol=1e-7)
    dense = min(timeit.repeat(lambda: _dense(thirty), number=1, repeat=ROUNDS))
    found.append(at_most("30 joined bodies", seconds[30] * 1e3, dense * 1e3, 1.0, "ms", "dense rows and SVD in numpy"))
    found.append(at_most("30 joined bodies", seconds[30] * 1e3, ALLOWED_MS, 1.0, "ms", "what is allowed"))
    return found


def chain(count: int, forces: int = 0) -> Sketch:
    """Bars pinned end to end from a wall, each on a roller, and forces spread over them."""
    bodies, supports = [], [Support("wall", "pin", "bar0", (0.0, 0.0), "A")]
    x = y = 0.0
    for index in range(count):
        angle = 30.0 * math.sin(1.3 * index)
        bodies.append(Body(f"bar{index}", "bar", f"bar {index}", (x, y), angle, length_m=1.0, weight_n=10.0 + index))
        x += math.cos(math.radians(angle))
        y += math.sin(math.radians(angle))
        if index:
            supports.append(Support(f"pin{index}", "pin", f"bar{index - 1}", (1.0, 0.0), "C", other=f"bar{index}"))
        supports.append(Support(f"foot{index}", "roller", f"bar{index}", (0.6, 0.0), "N", two_way=True))
    loads = tuple(
        Force(
            f"load{index}", f"bar{index % count}", (index / forces, 0.0), "F", size_n=5.0 + index, direction_deg=260.0
        )
        for index in range(forces)
    )
    return Sketch(bodies=tuple(bodies), supports=tuple(supports), loads=loads)


def _dense(sketch: Sketch) -> None:
    made = frames.dense(sketch)
    np.linalg.svd(made.matrix)
    np.linalg.lstsq(made.matrix, -made.applied, rcond=1e-9)


def _quickest(sketch: Sketch) -> float:
    return min(timeit.repeat(lambda: analyse(sketch), number=1, repeat=ROUNDS))

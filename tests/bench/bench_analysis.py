"""The analysis of one body: against the same written straight in numpy, its growth with forces, and the import."""

import math
import os
import subprocess
import sys
import time
import timeit
from pathlib import Path

import numpy as np
from row import Row, at_most
from steelyard.model import Body, Force, Settings, Sketch, Support
from steelyard.statics import analyse
from steelyard.statics.conditions import program_of

ENGINE = Path(__file__).resolve().parents[2] / "engine"
ROUNDS, IMPORTS = 25, 9
GROWTH = (10, 30, 100, 300, 1000)


def rows() -> list[Row]:
    """Analysis against numpy, the curve from 10 to 1000 forces, and the import of the engine."""
    sketch = sketch_with(12)
    _check_the_same(sketch)
    # Measured by turns, so that a busy moment of the machine hits both alike.
    ours, numpys = [], []
    for _ in range(ROUNDS):
        ours.append(_seconds(lambda: analyse(sketch)))
        numpys.append(_seconds(lambda: with_numpy(sketch)))
    micro = 1e6
    found = [
        at_most(
            "analysis of one body, 12 forces",
            min(ours) * micro,
            min(numpys) * micro,
            1.0,
            "µs",
            "the same in numpy",
        )
    ]
    seconds = {count: _quickest(sketch_with(count)) for count in GROWTH}
    each = seconds[GROWTH[0]] / GROWTH[0]
    for count in GROWTH[1:]:
        measured, against = seconds[count] / count * micro, f"{each * micro:.4g} µs (each of {GROWTH[0]})"
        found.append(
            Row(
                f"each of {count} forces",
                f"{measured:.4g} µs",
                against,
                measured / each / micro,
                "≤ 1",
                measured <= each * micro,
            )
        )
    found += _rough_rows()
    import_ms = min(_import_seconds() for _ in range(IMPORTS)) * 1e3
    found.append(at_most("import of the engine, native", import_ms, 60.0, 1.0, "ms", "what is allowed"))
    return found


def _rough_rows() -> list[Row]:
    """A ladder with friction beside a smooth one: what each pointer move costs while its foot is dragged."""
    smooth, rough, slips = _quickest(ladder(None)), _quickest(ladder(0.4)), _quickest(ladder(0.1))
    micro, against = 1e6, "a smooth one, held by a rope"
    return [
        at_most("analysis of a ladder rough at both ends", rough * micro, smooth * micro, 3.0, "µs", against),
        at_most("analysis of one that slips, and how", slips * micro, smooth * micro, 6.0, "µs", against),
    ]


def ladder(mu: float | None) -> Sketch:
    """A ladder on a quay and against a hull, rough at both ends; or smooth and held by a rope at its foot."""
    body = Body("ladder", "bar", "ladder", (0.0, 0.0), 60.0, length_m=4.0, weight_n=200.0)
    foot = Support("foot", "contact", "ladder", (0.0, 0.0), "N", "quay", 90.0, mu=mu)
    top = Support("top", "contact", "ladder", (4.0, 0.0), "S", "hull", 180.0, mu=mu)
    rope = Support("rope", "rope", "ladder", (0.0, 0.0), "T", anchor_m=(3.0, 0.0))
    return Sketch(bodies=(body,), supports=(foot, top) if mu else (foot, top, rope))


def sketch_with(count: int) -> Sketch:
    """A gangway with this many forces on it: its weight, a hinge (one force), a rope, and arrows."""
    body = Body("gangway", "bar", "gangway", (0.0, 0.0), -12.0, length_m=6.0, mass_kg=120.0)
    arrows = tuple(
        Force(f"force{i}", "gangway", (6.0 * i / count, 0.0), "F", size_n=100.0 + i, direction_deg=200.0 + i % 150)
        for i in range(count - 3)
    )
    hinge = Support("hinge", "pin", "gangway", (0.0, 0.0), "R")
    rope = Support("rope", "rope", "gangway", (5.2, 0.0), "T", anchor_m=(1.2, 3.2))
    return Sketch(bodies=(body,), supports=(hinge, rope), loads=arrows, settings=Settings(g_m_s2=9.80665))


def with_numpy(sketch: Sketch) -> dict[str, object]:
    """The same answers from the same sketch: reactions, rank, feet, arms, senses, torques, residual, all as arrays.

    For known arrows, pins, ropes and rollers in any number.
    """
    body, supports, loads = sketch.bodies[0], sketch.supports, sketch.loads
    turn = math.radians(body.angle_deg)
    frame = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    places = [(body.length_m / 2, 0.0), *(load.place_m for load in loads), *(held.place_m for held in supports)]
    points = np.array(places) @ frame.T + np.array(body.origin_m)
    angles = np.radians([270.0, *(load.direction_deg for load in loads)])
    sizes = np.array([body.mass_kg * sketch.settings.g_m_s2, *(load.size_n for load in loads)])
    known = sizes[:, None] * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    first = len(known)
    lines, owners = [], []
    for index, held in enumerate(supports, first):
        if held.kind == "pin":
            lines += [(1.0, 0.0), (0.0, 1.0)]
            owners += [index, index]
        else:
            line = np.array(held.anchor_m) - points[index] if held.kind == "rope" else _unit(held.normal_deg)
            lines.append(line / np.linalg.norm(line))
            owners.append(index)
    directions = np.array(lines)
    pivot = points[first]
    away = points - pivot
    lever = np.linalg.norm(away, axis=1).max()
    at = away[owners]
    matrix = np.empty((3, len(owners)))
    matrix[:2] = directions.T
    matrix[2] = (at[:, 0] * directions[:, 1] - at[:, 1] * directions[:, 0]) / lever
    arms = away[:first]
    wrench = np.array([*known.sum(0), (arms[:, 0] * known[:, 1] - arms[:, 1] * known[:, 0]).sum() / lever])
    rank = np.linalg.matrix_rank(matrix, rtol=1e-9)
    values = np.linalg.lstsq(matrix, -wrench, rcond=None)[0]
    forces = np.concatenate([known, np.zeros((len(supports), 2))])
    np.add.at(forces, owners, values[:, None] * directions)
    size = np.linalg.norm(forces, axis=1)
    along = forces / np.where(size > 0.0, size, 1.0)[:, None]
    signed = away[:, 0] * along[:, 1] - away[:, 1] * along[:, 0]
    feet = pivot + signed[:, None] * np.stack([along[:, 1], -along[:, 0]], axis=1)
    return {
        "rank": rank,
        "forces": forces,
        "sizes": size,
        "directions_deg": np.degrees(np.arctan2(forces[:, 1], forces[:, 0])) % 360.0,
        "feet": feet,
        "arms": np.abs(signed),
        "senses": np.sign(signed),
        "drops_out": np.abs(signed) <= 1e-9 * lever,
        "torques": signed * size,
        "from_x": -away[:, 1] * forces[:, 0],
        "from_y": away[:, 0] * forces[:, 1],
        "residual": np.array([*forces.sum(0), (signed * size).sum()]),
    }


def _unit(angle_deg: float):
    turn = math.radians(angle_deg)
    return np.array([math.cos(turn), math.sin(turn)])


def _check_the_same(sketch: Sketch) -> None:
    """Both must answer alike, or the ratio compares nothing."""
    expected, analysis = with_numpy(sketch), analyse(sketch)
    torques = [reading.turning.torque_n_m for reading in analysis.readings]
    sizes = [reading.size_n for reading in analysis.readings]
    np.testing.assert_allclose(sizes, expected["sizes"], rtol=1e-9)
    np.testing.assert_allclose(torques, expected["torques"], rtol=1e-9, atol=1e-6)


def _quickest(sketch: Sketch) -> float:
    def anew() -> None:
        program_of.cache_clear()  # at each pointer move the sketch is another one
        analyse(sketch)

    return min(_seconds(anew, 20) for _ in range(5))


def _seconds(call, number: int = 100) -> float:
    """Processor time of one call: what else the machine is doing does not count."""
    return timeit.timeit(call, timer=time.process_time, number=number) / number


def _import_seconds() -> float:
    """Processor time of importing the engine's door in a fresh interpreter, its own start not counted."""
    script = "import time; t = time.process_time(); import steelyard.bridge; print(time.process_time() - t)"
    environment = {**os.environ, "PYTHONPATH": str(ENGINE)}
    done = subprocess.run([sys.executable, "-c", script], env=environment, capture_output=True, text=True, check=True)
    return float(done.stdout)

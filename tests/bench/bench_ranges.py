"""All ranges under friction: ours against scipy's HiGHS on the same programs, and the curve from 1 to 30 bodies."""

import math
import time
from itertools import pairwise

import numpy as np
from row import Row, at_most
from scipy.optimize import linprog
from steelyard.program import Bound, Program

ROUNDS = 5
BODIES = (1, 3, 10, 30)

# A force at a point of one body, in the rows of that body.
Wrench = dict[int, float]


def rows() -> list[Row]:
    """Both measured by turns in one run, so that a busy moment of the machine hits both alike."""
    found = []
    for name, system in (
        ("ranges of 4 unknowns: ladder, rough at both ends", ladder()),
        ("ranges of 8 unknowns: crate on two faces and two ropes", crate()),
        ("ranges of 42 unknowns: 10 planks end to end on rough sleepers", planks(10)),
    ):
        _check_the_same(system)
        ours, theirs = [], []
        for _ in range(ROUNDS):
            ours.append(_seconds(all_ranges, system))
            theirs.append(_seconds(with_highs, system))
        found.append(at_most(name, min(ours) * 1e3, min(theirs) * 1e3, 1.0, "ms", "HiGHS"))
    for count in BODIES:
        system = planks(count)
        feasible = min(_seconds(lambda made: Program(*made), system) for _ in range(ROUNDS)) * 1e3
        whole = min(_seconds(all_ranges, system) for _ in range(3 if count > 10 else ROUNDS)) * 1e3
        name = f"{count} planks: is there an admissible answer"
        found.append(at_most(name, feasible, 16.0, 1.0, "ms", "a frame"))
        name = f"{count} planks: ranges of all {len(system[0])} unknowns"
        found.append(Row(name, f"{whole:.4g} ms", "", None, "measured curve", None))
    return found


def all_ranges(system) -> list[tuple[float, float]]:
    """Least and greatest of every unknown."""
    program = Program(*system)
    ends = [program.range_of({index: 1.0}) for index in range(len(system[0]))]
    return [(found.least.value, found.greatest.value) for found in ends]


def with_highs(system) -> list[tuple[float, float]]:
    """The same from scipy: the arrays made once, then two programs for each unknown."""
    columns, right_side, one_way, bounds = system
    count = len(columns)
    equal = np.zeros((len(right_side), count))
    for index, column in enumerate(columns):
        for row, part in column.items():
            equal[row, index] = part
    least = np.zeros((2 * len(bounds), count))
    for place, bound in enumerate(bounds):
        least[2 * place : 2 * place + 2, bound.normal] = -bound.factor
        least[2 * place : 2 * place + 2, bound.column] = 1.0, -1.0
    limits = [(0.0 if way else None, None) for way in one_way]
    ends = []
    for index in range(count):
        found = []
        for sense in (1.0, -1.0):
            cost = np.zeros(count)
            cost[index] = sense
            best = linprog(cost, least, np.zeros(len(least)), equal, right_side, limits)
            found.append(sense * best.fun if best.status == 0 else -sense * math.inf)
        ends.append((found[0], found[1]))
    return ends


def _wrench(body: int, away, along) -> Wrench:
    """A force of one newton at `away` from the body's middle, metres."""
    return {3 * body: along[0], 3 * body + 1: along[1], 3 * body + 2: away[0] * along[1] - away[1] * along[0]}


def ladder():
    """A ladder on a rough quay and a rough wall, a load on it."""
    columns = [
        _wrench(0, (-1.0, -2.0), (0.0, 1.0)),
        _wrench(0, (-1.0, -2.0), (1.0, 0.0)),
        _wrench(0, (1.0, 2.0), (-1.0, 0.0)),
        _wrench(0, (1.0, 2.0), (0.0, 1.0)),
    ]
    return columns, [0.0, 300.0, 20.0], [True, False, True, False], [Bound(1, 0, 0.4), Bound(3, 2, 0.2)]


def crate():
    """A crate that stands on one face and leans against another, held by two ropes."""
    columns = []
    bounds = []
    for away, along in (((0.0, -0.5), (0.0, 1.0)), ((0.6, 0.0), (-1.0, 0.0))):
        normal = len(columns)
        columns += [_wrench(0, away, along), _wrench(0, away, (-along[1], along[0])), {2: 1.0}]
        bounds += [Bound(normal + 1, normal, 0.35), Bound(normal + 2, normal, 0.3)]
    columns += [_wrench(0, (-0.6, 0.5), (-0.6, 0.8)), _wrench(0, (0.6, 0.5), (0.8, 0.6))]
    one_way = [True, False, False, True, False, False, True, True]
    return columns, [-60.0, 250.0, 15.0], one_way, bounds


def planks(count: int):
    """Planks pinned end to end and to the quay, each on a rough sleeper: four unknowns a plank, and two more pins."""
    ends = [(float(place), 0.3 * math.sin(1.7 * place)) for place in range(count + 1)]
    middles = [((here[0] + there[0]) / 2, (here[1] + there[1]) / 2) for here, there in pairwise(ends)]
    columns: list[Wrench] = []
    for place, pin in enumerate(ends):
        for along in ((1.0, 0.0), (0.0, 1.0)):
            column: Wrench = {}
            for body, sense in ((place, 1.0), (place - 1, -1.0)):
                if 0 <= body < count:
                    away = (pin[0] - middles[body][0], pin[1] - middles[body][1])
                    column |= _wrench(body, away, (sense * along[0], sense * along[1]))
            columns.append(column)
    one_way = [False] * len(columns)
    bounds = []
    for body in range(count):
        bounds.append(Bound(len(columns) + 1, len(columns), 0.4))
        columns += [_wrench(body, (0.1, -0.05), (0.0, 1.0)), _wrench(body, (0.1, -0.05), (1.0, 0.0))]
        one_way += [True, False]
    loads = [part for body in range(count) for part in (0.0, 100.0 + 10.0 * body, 0.0)]
    return columns, [loads[0] - 30.0, *loads[1:]], one_way, bounds


def _check_the_same(system) -> None:
    """Both must answer alike, or the ratio compares nothing."""
    np.testing.assert_allclose(all_ranges(system), with_highs(system), rtol=1e-7, atol=1e-7 * max(system[1]))


def _seconds(call, system) -> float:
    """Processor time of one call: what else the machine is doing does not count."""
    start = time.process_time()
    call(system)
    return time.process_time() - start

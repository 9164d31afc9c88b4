"""One torque in three forms: F times its arm, r times the part of F across it, x·F_y − y·F_x."""

from __future__ import annotations

import math
from typing import NamedTuple

from ..geometry import Point, Vector, dot, perpendicular, subtract


class Lever(NamedTuple):
    """What the three forms are made of, about one pivot.

    `distance_m` is r, from the pivot to the point of application; `across_n` the part of the force square to r,
    positive when it turns counterclockwise. `x_m`, `y_m` are the point as seen from the pivot, `x_n`, `y_n` the
    parts of the force, along the axes; `from_y_n_m` is x·F_y and `from_x_n_m` is −y·F_x.
    """

    distance_m: float
    across_n: float
    x_m: float
    y_m: float
    x_n: float
    y_n: float
    from_y_n_m: float
    from_x_n_m: float


def lever(pivot: Point, point: Point, vector: Vector, x_axis: Vector = (1.0, 0.0)) -> Lever:
    """The lever of a force `vector` (N) at a point (m) about a pivot; `x_axis` is the unit vector of the x axis.

    From r × F with F split along and across r, and along the two axes. At the pivot itself all of it is zero.
    """
    offset = subtract(point, pivot)
    y_axis = perpendicular(x_axis)
    x, y = dot(offset, x_axis), dot(offset, y_axis)
    x_n, y_n = dot(vector, x_axis), dot(vector, y_axis)
    distance = math.hypot(*offset)
    from_y, from_x = x * y_n + 0.0, -y * x_n + 0.0  # no minus zero
    across = 0.0 if distance == 0.0 else (offset[0] * vector[1] - offset[1] * vector[0]) / distance
    return Lever(distance, across, x, y, x_n, y_n, from_y, from_x)

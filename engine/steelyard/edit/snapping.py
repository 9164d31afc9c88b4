"""Where a hand that is nearly somewhere means to be: points before crossings before directions before round sizes.

What is caught stays caught until the hand is farther away than where it was caught, so nothing flickers
at the border. Everything returned is exact to the digits it is labelled with.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from ..geometry import Point, cross, direction, distance, dot, subtract
from ..units import Shown, factor_of, write_exact
from .change import tidy

SnapKind = Literal["point", "crossing", "direction", "round", "free"]
DIRECTION_STEP_DEG = 15.0


@dataclass(frozen=True, slots=True)
class Spot:
    """A point worth catching: what it is called, and the entity it belongs to ("" for none)."""

    point: Point
    label: str
    target: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """A direction from the origin worth catching: "along the bar", "45°"."""

    angle_deg: float
    label: str


@dataclass(frozen=True, slots=True)
class Candidates:
    """What can be caught. `origin` and `lines` only where something is drawn from a point; `step` a round
    size in shown units (0: none), `factor` one shown unit in metres."""

    points: tuple[Spot, ...] = ()
    crossings: tuple[Spot, ...] = ()
    origin: Point | None = None
    lines: tuple[Line, ...] = ()
    step: float = 0.0
    factor: float = 1.0
    unit: str = "m"


@dataclass(frozen=True, slots=True)
class Snapped:
    """The caught point. `angle_deg` and `length_m` are exact where the catch knows them."""

    point: Point
    kind: SnapKind
    label: str = ""
    target: str = ""
    angle_deg: float | None = None
    length_m: float | None = None


def round_step(step_m: float, settings: Shown) -> float:
    """The smallest of 1, 2, 5 × a power of ten, in shown length units, that is not below a step in metres."""
    return step_at_least(step_m / factor_of("length", settings)) if step_m > 0.0 else 0.0


def step_at_least(value: float) -> float:
    """The smallest of 1, 2 or 5 times a power of ten that is not below a positive value."""
    power = math.floor(math.log10(value))
    for factor in (1, 2, 5):
        step = float(f"{factor}e{power}")
        if step >= value * (1.0 - 1e-9):
            return step
    return float(f"1e{power + 1}")


def round_to(value: float, step: float, factor: float = 1.0) -> float:
    """The nearest multiple of a step in shown units, in stored units, exact to the digits shown."""
    if step <= 0.0:
        return value
    count = round(value / factor / step)
    shown = float(f"{count * step:.12g}")
    return float(f"{shown * factor:.15g}") + 0.0


def compass(origin_angle_deg: float | None = None, name: str = "") -> tuple[Line, ...]:
    """All directions every 15°, and along and across a body that lies at an angle of its own."""
    lines = [Line(turn * DIRECTION_STEP_DEG, f"{turn * DIRECTION_STEP_DEG:g}°") for turn in range(24)]
    if origin_angle_deg is not None and abs(math.remainder(origin_angle_deg, DIRECTION_STEP_DEG)) > 1e-9:
        words = ("along", "square to", "along", "square to")
        own = [Line((origin_angle_deg + 90.0 * turn) % 360.0, f"{words[turn]} {name}") for turn in range(4)]
        lines = own + lines
    return tuple(lines)


def snap(
    point: Point, candidates: Candidates, catch_m: float, release_m: float, previous: Snapped | None = None
) -> Snapped:
    """The point caught, or the point itself ("free") when nothing is near or `catch_m` is 0."""
    if catch_m <= 0.0:
        return Snapped(point, "free")
    for kind, spots in (("point", candidates.points), ("crossing", candidates.crossings)):
        caught = _nearest_spot(point, spots, catch_m, release_m, previous)
        if caught is not None:
            return Snapped(caught.point, "point" if kind == "point" else "crossing", caught.label, caught.target)
    if candidates.origin is not None:
        caught_line = _nearest_line(point, candidates, catch_m, release_m, previous)
        if caught_line is not None:
            return _on_line(point, candidates.origin, caught_line, candidates)
    if candidates.step > 0.0:
        across = round_to(point[0], candidates.step, candidates.factor)
        up = round_to(point[1], candidates.step, candidates.factor)
        return Snapped((across, up), "round", "")
    return Snapped(point, "free")


def _nearest_spot(
    point: Point, spots: tuple[Spot, ...], catch_m: float, release_m: float, previous: Snapped | None
) -> Spot | None:
    best: Spot | None = None
    best_gap = math.inf
    for spot in spots:
        gap = distance(point, spot.point)
        held = previous is not None and previous.point == spot.point and previous.kind in ("point", "crossing")
        # What is held counts as nearer by the width of the border, and lets go later.
        if gap <= (release_m if held else catch_m) and gap - (release_m - catch_m if held else 0.0) < best_gap:
            best, best_gap = spot, gap - (release_m - catch_m if held else 0.0)
    return best


def _nearest_line(
    point: Point, candidates: Candidates, catch_m: float, release_m: float, previous: Snapped | None
) -> Line | None:
    assert candidates.origin is not None
    arm = subtract(point, candidates.origin)
    best: Line | None = None
    best_gap = math.inf
    for line in candidates.lines:
        along = direction(line.angle_deg)
        if dot(arm, along) <= 0.0:
            continue
        gap = abs(cross(along, arm))
        held = previous is not None and previous.kind == "direction" and previous.angle_deg == line.angle_deg
        if gap <= (release_m if held else catch_m) and gap - (release_m - catch_m if held else 0.0) < best_gap:
            best, best_gap = line, gap - (release_m - catch_m if held else 0.0)
    return best


def _on_line(point: Point, origin: Point, line: Line, candidates: Candidates) -> Snapped:
    along = direction(line.angle_deg)
    length = max(0.0, dot(subtract(point, origin), along))
    if candidates.step > 0.0:
        length = round_to(length, candidates.step, candidates.factor)
    end = (tidy(origin[0] + length * along[0]), tidy(origin[1] + length * along[1]))
    return Snapped(end, "direction", line.label, "", line.angle_deg, length)


def label_length(length_m: float, settings: Shown) -> str:
    """A length for the label of a catch: "4.0 m" is "4 m"; the digits are exact."""
    return write_exact(length_m, "length", settings)

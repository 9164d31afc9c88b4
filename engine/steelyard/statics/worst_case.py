"""The least and greatest of each reaction while measured numbers range over a box.

What is guaranteed. Where each input alone moves a force along a straight line (see `uncertainty`), every value in the
box lies in the convex hull of the values at its corners; the corners then bound x, y and couples exactly, and the
greatest size, and the direction when the hull leaves out zero; the least size when the nearest corner is the hull's
nearest point. Such an end is `sure`. Any other end is the most extreme of all corners and of a search from there along
each input, in steps and then by golden section: it is reached, but a narrow extreme between the steps is not excluded.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import NamedTuple

from ..geometry import Vector, cross, dot, length

# Beyond so many inputs there are too many corners to visit.
MOST_INPUTS = 12
# Of an input's range, for the search: steps across it, then golden sections between two of them.
STEPS = 8
SECTIONS = 14
SWEEPS = 3
_GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0


class Corner(NamedTuple):
    """The reactions at one point of the box, and the determinant of their columns (0 when there are not three).

    `spare`: how far bounded forces are from their limits, negative beyond.
    """

    vectors: dict[str, Vector]
    couples: dict[str, float]
    turn: float
    along: dict[str, float]
    spare: dict[str, float]


class Measure(NamedTuple):
    """What to bound: a force's "x", "y", "size", "direction" or "couple"."""

    force: str
    quantity: str


@dataclass(frozen=True, slots=True)
class Extent:
    """The least and greatest value over the box, and of each whether it is sure to be the end (else: reached)."""

    least: float
    greatest: float
    least_sure: bool
    greatest_sure: bool


At = Callable[[Sequence[float]], Corner | None]
Box = Sequence[tuple[float, float]]


def extents(
    at: At,
    box: Box,
    middle: Sequence[float],
    straight: Sequence[bool],
    measures: Sequence[Measure],
    one_way: Sequence[str],
) -> tuple[list[Extent], tuple[str, ...]] | None:
    """The extents of all measures, and which forces act the wrong way, or beyond their limit, somewhere.

    None when the supports stop holding at a corner or on the way between two. `middle` is the sketch as it is;
    `straight` says of each input whether it alone moves every force along a straight line.
    """
    at = _remembered(at)
    here = at(middle)
    if here is None:
        return None
    places = list(itertools.product(*box))
    corners: list[Corner] = []
    for place in places:
        corner = at(place)
        if corner is None or corner.turn * here.turn < 0.0 or (here.turn and not corner.turn):
            return None
        corners.append(corner)
    failing = [each for each in one_way if min(corner.along[each] for corner in corners) < 0.0]
    for each, spare in here.spare.items():
        if spare >= 0.0 and each not in failing and min(corner.spare.get(each, 0.0) for corner in corners) < 0.0:
            failing.append(each)
    search = _Search(at, box, middle, straight, places, corners, here)
    return [_extent(search, measure) for measure in measures], tuple(failing)


class _Search(NamedTuple):
    """What the bounds of every measure are looked for in."""

    at: At
    box: Box
    middle: Sequence[float]
    straight: Sequence[bool]
    places: Sequence[Sequence[float]]
    corners: Sequence[Corner]
    here: Corner


def _remembered(at: At) -> At:
    """The same, but each place is solved once: the searches cross many times."""
    known: dict[tuple[float, ...], Corner | None] = {}

    def remembered(place: Sequence[float]) -> Corner | None:
        key = tuple(place)
        if key not in known:
            known[key] = at(key)
        return known[key]

    return remembered


def _extent(search: _Search, measure: Measure) -> Extent:
    box, places, corners, here = search.box, search.places, search.corners, search.here

    def value(place: Sequence[float]) -> float | None:
        corner = search.at(place)
        return None if corner is None else _value(corner, measure, here)

    values = [_value(corner, measure, here) for corner in corners]
    straight = all(search.straight)
    least_sure, greatest_sure = straight, straight
    if straight and measure.quantity in ("size", "direction"):
        vectors = [corner.vectors[measure.force] for corner in corners]
        nearest = min(vectors, key=length)
        # The hull leaves out zero, and its nearest point is this corner, when it lies beyond the line square to it.
        beyond = length(nearest) > 0.0 and all(dot(each, nearest) >= dot(nearest, nearest) for each in vectors)
        if measure.quantity == "size":
            least_sure = beyond
        else:
            least_sure = greatest_sure = beyond or _in_a_half_plane(vectors)
    ends = []
    for sign, sure in ((-1.0, least_sure), (1.0, greatest_sure)):
        best = max(range(len(values)), key=lambda index: sign * values[index])
        if sure:
            ends.append(values[best])
            continue
        # Where the end may lie inside only because others turn, the straight inputs still end at their ends.
        ends_only = search.straight if measure.quantity in ("x", "y", "couple") else (False,) * len(box)
        searched = [_climbed(value, box, start, sign, ends_only) for start in (places[best], search.middle)]
        ends.append(sign * max([sign * values[best], *(sign * each for each in searched)]))
    return Extent(ends[0], ends[1], least_sure, greatest_sure)


def _in_a_half_plane(vectors: Sequence[Vector]) -> bool:
    """Whether all vectors lie strictly to one side of a line through zero."""
    return any(
        all(cross(edge, each) > 0.0 or (cross(edge, each) == 0.0 and dot(edge, each) > 0.0) for each in vectors)
        for edge in vectors
    ) and all(length(each) > 0.0 for each in vectors)


def _value(corner: Corner, measure: Measure, here: Corner) -> float:
    if measure.quantity == "couple":
        return corner.couples[measure.force]
    vector = corner.vectors[measure.force]
    if measure.quantity == "size":
        return length(vector)
    if measure.quantity == "direction":
        # Counted on from where it is, so that no turn is lost at 360°.
        middle = here.vectors[measure.force]
        turned = math.degrees(math.atan2(cross(middle, vector), dot(middle, vector)))
        return math.degrees(math.atan2(middle[1], middle[0])) % 360.0 + turned
    return vector["xy".index(measure.quantity)]


def _climbed(
    value: Callable[[Sequence[float]], float | None],
    box: Box,
    start: Sequence[float],
    sign: float,
    ends_only: Sequence[bool],
) -> float:
    """The greatest (sign +1) or least (−1) value found by going along one input after the other."""
    place = list(start)

    def gain(index: int, to: float) -> float:
        found = value([*place[:index], to, *place[index + 1 :]])
        return -math.inf if found is None else sign * found

    best = gain(0, place[0])
    for _ in range(SWEEPS):
        before = best
        for index, (low, high) in enumerate(box):
            if ends_only[index]:
                best, place[index] = max((best, place[index]), (gain(index, low), low), (gain(index, high), high))
            else:
                best, place[index] = _along(partial(gain, index), low, high, (best, place[index]))
        if best <= before + 1e-12 * abs(before):
            break
    return sign * best


def _along(gain: Callable[[float], float], low: float, high: float, best: tuple[float, float]) -> tuple[float, float]:
    """The best gain and place on one input's range: steps across it, then golden sections about the best step."""
    step = (high - low) / STEPS
    steps = [low + step * count for count in range(STEPS + 1)]
    best = max(best, max((gain(to), to) for to in steps))
    left, right = max(low, best[1] - step), min(high, best[1] + step)
    first, second = right - _GOLDEN * (right - left), left + _GOLDEN * (right - left)
    first_gain, second_gain = gain(first), gain(second)
    for _ in range(SECTIONS):
        if first_gain > second_gain:
            right, second, second_gain = second, first, first_gain
            first = right - _GOLDEN * (right - left)
            first_gain = gain(first)
        else:
            left, first, first_gain = first, second, second_gain
            second = left + _GOLDEN * (right - left)
            second_gain = gain(second)
    return max(best, (first_gain, first), (second_gain, second))

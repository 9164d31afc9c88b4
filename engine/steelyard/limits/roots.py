"""All roots of a smooth function on an interval, touching ones too, from samples, bisection and slopes.

A sign change between two samples is bisected to the last digits. Where samples come near zero and turn back, the
turning point is looked for: it may dip through zero (two roots) or touch it (one). What is not seen is a dip that no
sample feels: more roots between two samples than one dip makes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

# Of the interval: a bracket this narrow is a point.
NARROW = 1e-14
# Of the largest value on the interval: a turning point this near to zero touches it.
TOUCHES = 1e-12
# Beside the values at its ends, what is left at a bisected sign change of a continuous function is nothing; at a jump
# or a pole it is not.
JUMP = 1e-6
# For slopes: of the interval.
_STEP = 1e-4
_GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0

Function = Callable[[float], float]


def roots(function: Function, places: Sequence[float], values: Sequence[float]) -> list[float]:
    """The roots between samples, ascending; `values` are the function at `places`, which ascend.

    A function that is zero at every sample has none: it says nothing. So has one that is not a number somewhere
    between two samples.
    """
    span = places[-1] - places[0]
    largest = max(map(abs, values), default=0.0)
    if span <= 0.0 or not largest > 0.0 or not math.isfinite(largest):
        return []
    tiny = TOUCHES * largest
    found: list[float] = []
    for index, (place, value) in enumerate(zip(places, values, strict=True)):
        if abs(value) <= tiny and not _beside_nothing(values, index, tiny):
            found.append(_settled(function, place, places, index))
        elif index and value * values[index - 1] < 0.0 and min(abs(value), abs(values[index - 1])) > tiny:
            crossing = bisected(function, places[index - 1], place, values[index - 1], NARROW * span)
            if crossing is not None:
                found.append(crossing)
    for index in range(1, len(places) - 1):
        here, before, after = values[index], values[index - 1], values[index + 1]
        turning = before * here > 0.0 and after * here > 0.0 and abs(here) <= min(abs(before), abs(after))
        # On a level stretch rounding turns back and forth.
        dips = max(abs(before), abs(after)) - abs(here) > tiny
        if turning and dips and abs(here) > tiny:
            found += _turning(function, places[index - 1], places[index + 1], here, tiny, span)
    found.sort()
    return [root for index, root in enumerate(found) if not index or root - found[index - 1] > 1e-9 * span]


def bisected(function: Function, low: float, high: float, at_low: float, width: float) -> float | None:
    """Where the sign changes between two places, to within a width; None when it jumps there instead."""
    start = max(abs(at_low), abs(function(high)))
    for _ in range(200):
        middle = 0.5 * (low + high)
        if high - low <= width or not low < middle < high:
            break
        value = function(middle)
        if not math.isfinite(value):
            return None
        if value == 0.0:
            return middle
        if value * at_low > 0.0:
            low, at_low = middle, value
        else:
            high = middle
    middle = 0.5 * (low + high)
    return middle if max(abs(function(low)), abs(function(high))) <= JUMP * start else None


def lowest(function: Function, low: float, high: float, width: float) -> tuple[float, float]:
    """The place of the least value between two places, by golden section, and that value."""
    first, second = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
    at_first, at_second = function(first), function(second)
    while high - low > width:
        if at_first <= at_second:
            high, second, at_second = second, first, at_first
            first = high - _GOLDEN * (high - low)
            at_first = function(first)
        else:
            low, first, at_first = first, second, at_second
            second = low + _GOLDEN * (high - low)
            at_second = function(second)
        if not low < first < second < high:
            break
    return (first, at_first) if at_first <= at_second else (second, at_second)


def _beside_nothing(values: Sequence[float], index: int, tiny: float) -> bool:
    """Whether the function is zero over a whole stretch here: then no place in it is a root of its own."""
    return any(0 <= other < len(values) and abs(values[other]) <= tiny for other in (index - 1, index + 1))


def _settled(function: Function, place: float, places: Sequence[float], index: int) -> float:
    """A sample that is a root but for rounding, moved to where the sign changes when it does so right beside it."""
    step = 1e-6 * (places[-1] - places[0])
    low, high = max(places[0], place - step), min(places[-1], place + step)
    at_low, at_high = function(low), function(high)
    if at_low * at_high < 0.0:
        crossing = bisected(function, low, high, at_low, NARROW * (places[-1] - places[0]))
        return place if crossing is None else crossing
    return place


def _turning(function: Function, low: float, high: float, here: float, tiny: float, span: float) -> list[float]:
    """The roots about a turning point between two places: none, one that touches, or two that it dips through."""
    sign = 1.0 if here > 0.0 else -1.0
    place, value = lowest(lambda at: sign * function(at), low, high, 1e-9 * span)
    if value < -tiny:
        ends = ((low, place), (place, high))
        crossings = [bisected(function, start, end, function(start), NARROW * span) for start, end in ends]
        return [crossing for crossing in crossings if crossing is not None]
    if value > tiny:
        return []
    # A place of least value is known to the root of rounding only; the slope changes sign there and tells it better.
    reach = min(10.0 * _STEP * span, 0.5 * (high - low))
    start, end = place - reach, place + reach
    step = _STEP * span
    # The slope is sampled within reach of the interval: at its very ends nothing can turn.

    def slope(at: float) -> float:
        return (
            8.0 * (function(at + step) - function(at - step)) - function(at + 2 * step) + function(at - 2 * step)
        ) / step

    at_start = slope(start)
    if at_start * slope(end) >= 0.0:
        return [place]
    found = bisected(slope, start, end, at_start, NARROW * span)
    return [place if found is None else found]

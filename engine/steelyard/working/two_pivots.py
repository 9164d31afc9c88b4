"""The same about any point: both torque sums with all their terms, and how one follows from the other."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..geometry import Point, subtract
from ..model import Sketch
from ..statics import advice as advising
from ..statics import axes
from ..statics.reading import Analysis, ForceReading
from .desk import Desk, Options, title_of
from .expression import Equation, Symbol, product, total
from .figures import Known, put_in
from .record import Fact, Line, Sentence, Step
from .sums import sum_step, sum_symbol


@dataclass(frozen=True, slots=True)
class TwoPivots:
    """The sum about each pivot, the line that leads from one to the other, and what they show."""

    first: Step
    second: Step
    change: Step | None
    sentence: Sentence


def two_pivots(
    sketch: Sketch, analysis: Analysis, first: Point, second: Point, *, options: Options | None = None
) -> TwoPivots | None:
    """Both sums for the forces as they stand: known, guessed, else solved.

    None while an unknown has neither a guess nor a single value, or a size is a letter.
    """
    desk = Desk(sketch, analysis, options or Options())
    fx = fy = 0.0
    for reading in analysis.readings:
        vector = _stands(reading)
        if vector is None or not _put_values(desk, reading, vector):
            return None
        fx, fy = fx + vector[0], fy + vector[1]
    steps = []
    for point in (first, second):
        each = advising.about(analysis, point)
        steps.append(sum_step(desk, desk.balance(each), "check", title_of(desk, each)))
    values = [step.known[sum_symbol(desk, desk.balance(advising.about(analysis, point)))].value
              for step, point in zip(steps, (first, second), strict=True)]  # fmt: skip
    scale = math.fsum(math.hypot(*(_stands(reading) or (0.0, 0.0))[:2]) for reading in analysis.readings)
    pushes = math.hypot(fx, fy) > 1e-9 * scale
    change = _change(desk, first, second, fx, fy, values) if pushes else None
    return TwoPivots(steps[0], steps[1], change, _said(desk, first, second, pushes, values, (fx, fy)))


def _stands(reading: ForceReading) -> tuple[float, float, float] | None:
    """Components and couple of a force as it stands."""
    force = reading.force
    if force.guess is not None:
        return (force.guess[0], force.guess[1], 0.0)
    if force.guess_couple_n_m is not None:
        return (0.0, 0.0, force.guess_couple_n_m)
    if reading.vector is not None:
        return (reading.vector[0], reading.vector[1], 0.0)
    if reading.couple_n_m is not None:
        return (0.0, 0.0, reading.couple_n_m)
    return None


def _put_values(desk: Desk, reading: ForceReading, vector: tuple[float, float, float]) -> bool:
    """Values for the parts; False when a guess is off the line its force must act along."""
    for part in advising.parts_of(reading.force):
        unit = desk.unit(part)
        if part.along is None:
            value = vector[2] * part.turn
        else:
            value = vector[0] * part.along[0] + vector[1] * part.along[1]
            if part.which == "size":
                across = vector[0] * part.along[1] - vector[1] * part.along[0]
                if abs(across) > 1e-9 * math.hypot(vector[0], vector[1]):
                    return False
        desk.values[desk.letters.part(part)] = Known(value * desk.display.factor(unit), unit)
    return True


def _change(desk: Desk, first: Point, second: Point, fx: float, fy: float, values: list[float]) -> Step:
    """Στ about the second = Στ about the first + x ΣF_y − y ΣF_x, (x, y) being the first seen from the second.

    From r_second = r_first + (first − second) in every r × F.
    """
    letter = "τ" if desk.voice.settings.turning_word == "torque" else "M"
    one, two = (Symbol(f"Σ{letter}", _named(desk, point, str(number))) for number, point in ((1, first), (2, second)))
    x, y = Symbol("x"), Symbol("y")
    sum_x, sum_y = Symbol("ΣF", "x", italic_index=True), Symbol("ΣF", "y", italic_index=True)
    positive = 1 if desk.writer.counterclockwise_positive else -1
    per, length, force = desk.display.per_metre, desk.display.length, desk.display.force
    apart = axes.along(subtract(first, second), desk.analysis.x_axis)
    fx, fy = axes.along((fx, fy), desk.analysis.x_axis)
    known = {
        one: Known(values[0], desk.display.torque),
        x: Known(apart[0] * per, length),
        y: Known(apart[1] * per, length),
        sum_x: Known(fx * desk.display.per_newton, force),
        sum_y: Known(fy * desk.display.per_newton, force),
    }
    right = total(((1, one), (positive, product(x, sum_y)), (-positive, product(y, sum_x))))
    scale = abs(values[0]) + abs(known[x].value * known[sum_y].value) + abs(known[y].value * known[sum_x].value)
    worked = put_in(right, known, desk.display.torque, desk.display.figures, scale=scale)
    known[two] = Known(worked.result.value, desk.display.torque)
    lines = (
        Line("equation", Equation(two, right)),
        Line("numbers", Equation(None, worked.numbers)),
        Line("value", Equation(two, worked.result)),
    )
    title = desk.voice.say("From one point to the other")
    return Step("check", title, lines=lines, known=known)


def _named(desk: Desk, point: Point, otherwise: str) -> str:
    return desk.voice.point_name(point) or otherwise


def _said(
    desk: Desk, first: Point, second: Point, pushes: bool, values: list[float], force: tuple[float, float]
) -> Sentence:
    word = desk.voice.settings.turning_word
    closed = all(value == 0.0 for value in values)
    data = {"first": first, "second": second, "pushes": pushes, "values": tuple(values), "force": force}
    fact = Fact("two-pivots", data)
    if pushes:
        return desk.voice.say(
            f"The forces do not add up to zero, so the {word} sum changes from point to point.", fact=fact
        )
    if closed:
        return desk.voice.say("Different term by term, and both zero: with balance any point will do.", fact=fact)
    return desk.voice.say(
        "The forces add up to zero and a couple is left: its sum is the same about every point.", fact=fact
    )

"""The step before any sum: each spread load replaced by one force, the area of its diagram, at its centroid."""

from __future__ import annotations

from collections.abc import Iterator

from ..model import Sketch, SpreadLoad
from ..statics import shape, spread
from ..statics.reading import Analysis
from .desk import Desk
from .expression import Equation, Expression, Number, Quotient, Sum, Symbol, product
from .figures import Known, put_in
from .letters import split
from .record import Fact, Line, Step

TWO, THREE = Number(2.0, "2"), Number(3.0, "3")
_DIAGRAM = {"uniform": "a rectangle", "rising": "a triangle", "falling": "a triangle", "sloping": "a trapezium"}
_WHERE = {
    "uniform": "half-way along",
    "rising": "two thirds of the way to its high end",
    "falling": "one third of the way from its high end",
    "sloping": "nearer its high end",
}


def replaced(desk: Desk) -> Iterator[Step]:
    """One step for each spread load on the body."""
    for load in spread_loads(desk.voice.sketch, desk.analysis):
        yield replace_one(desk, load)


def spread_loads(sketch: Sketch, analysis: Analysis) -> list[SpreadLoad]:
    """The spread loads that act on the body, in their order."""
    acting = {reading.force.id for reading in analysis.readings}
    return [load for load in sketch.loads if isinstance(load, SpreadLoad) and load.id in acting]


def replace_one(desk: Desk, load: SpreadLoad) -> Step:
    """The step of one spread load."""
    voice, letters = desk.voice, desk.letters
    force = letters.force(load.id)
    form = spread.form_of(load)
    length, place = letters.loaded(load.id), letters.centroid(load.id)
    known = {length: Known(load.length_m * voice.display.per_metre, voice.display.length)}
    heights = _heights(desk, load, form, known)
    area, centroid = _area(form, heights, length), _centroid(form, heights, length)
    lines = list(_lines(desk, force, area, known, voice.display.force))
    if (size := load.size_n) is not None:
        known[force] = Known(abs(size) * voice.display.per_newton, voice.display.force)
    if size != 0.0:
        lines += _lines(desk, place, centroid, known, voice.display.length)
    title = voice.say("Replace the spread load by its resultant ", force)
    body = voice.sketch.body(load.body)
    start = shape.world(body, load.start_m)
    who = "Its own weight" if load.acts == "weight" else f"The load of the {load.agent}" if load.agent else "The load"
    why = voice.say(
        f"{who} is spread over a length ", length, f": its diagram is {_DIAGRAM[form]}. To a rigid body it does",
        f" what one force does: the area of the diagram, along a line through its centroid, {_WHERE[form]}.",
        fact=Fact("resultant", {"force": load.id, "form": form, "length_m": load.length_m, "start": start}),
    )  # fmt: skip
    starts = voice.say("From its start at ", *voice.coordinates(start), ", ", place, " is measured along the body.")
    said = () if size == 0.0 else (starts,)
    return Step("replace", title, (why,), lines=tuple(lines), remarks=said, known=known)


def _heights(desk: Desk, load: SpreadLoad, form: spread.Form, known: dict[Symbol, Known]) -> tuple[Symbol, ...]:
    """The letters of the heights of the diagram, one or two, with what they are worth."""
    display = desk.voice.display
    base, index = split(load.spread_symbol)
    start, end = load.start_n_per_m, load.end_n_per_m
    made = [(Symbol(base, index, load.id), start if form == "falling" else end)]
    if form == "sloping":
        made = [(Symbol(base, index + at, load.id), value) for at, value in (("a", start), ("b", end))]
    for symbol, value in made:
        if value is not None:
            known[symbol] = Known(abs(value) * display.factor(display.intensity), display.intensity)
    return tuple(symbol for symbol, _ in made)


def _area(form: spread.Form, heights: tuple[Symbol, ...], length: Symbol) -> Expression:
    """w L, w L / 2, or (w_a + w_b) L / 2."""
    if form == "uniform":
        return product(heights[0], length)
    if form == "sloping":
        return Quotient(product(Sum(((1, heights[0]), (1, heights[1]))), length), TWO)
    return Quotient(product(heights[0], length), TWO)


def _centroid(form: spread.Form, heights: tuple[Symbol, ...], length: Symbol) -> Expression:
    """L / 2, 2 L / 3, L / 3, or (w_a + 2 w_b) L / (3 (w_a + w_b))."""
    if form == "uniform":
        return Quotient(length, TWO)
    if form == "rising":
        return Quotient(product(TWO, length), THREE)
    if form == "falling":
        return Quotient(length, THREE)
    first, last = heights
    above = product(Sum(((1, first), (1, product(TWO, last)))), length)
    return Quotient(above, product(THREE, Sum(((1, first), (1, last)))))


def _lines(desk: Desk, letter: Symbol, right: Expression, known: dict[Symbol, Known], unit: str) -> Iterator[Line]:
    """Symbols, then numbers and the value where every symbol has one."""
    yield Line("given", Equation(letter, right))
    if desk.options.symbols_only:
        return
    try:
        worked = put_in(right, known, unit, desk.voice.display.figures)
    except KeyError:
        return
    yield Line("numbers", Equation(None, worked.numbers))
    yield Line("value", Equation(letter, worked.result))
    known[letter] = Known(worked.result.value, unit)

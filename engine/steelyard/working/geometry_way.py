"""Three forces by geometry: their lines meet in one point, and head to tail they close a triangle."""

from __future__ import annotations

import math

from ..geometry import Vector
from ..model import Sketch
from ..statics.kept import parts_of
from ..statics.reading import ActingForce, Analysis
from ..statics.theorems import Theorem, theorems
from .desk import Desk, Options
from .expression import Equation, Quotient, Symbol, product, sine
from .figures import Known, put_in
from .phrases import Piece
from .record import Fact, Line, Sentence, Step

# Below this angle between two of the lines (its sine) the triangle is a line and the law of sines says nothing.
_FLAT = 1e-6


def by_geometry(sketch: Sketch, analysis: Analysis, *, options: Options | None = None) -> tuple[Step, ...]:
    """The alternative working for three forces; empty where it does not apply.

    It applies when the lines of a known force (or several taken together) and of one unknown cross, and
    the third force has neither size nor direction given.
    """
    theorem = next((each for each in theorems(analysis) if each.kind == "three-forces"), None)
    if theorem is None or theorem.point is None or theorem.direction is None:
        return ()
    desk = Desk(sketch, analysis, options or Options())
    lined = next(
        (
            reading.force
            for reading in analysis.readings
            if reading.force.role == "unknown" and reading.force.id in theorem.forces
            if reading.force.id != theorem.implies
        ),
        None,
    )
    load = _load(desk, theorem)
    if lined is None or theorem.line is None or load is None:
        return ()
    vector, size, symbol, letters = load
    along = _closing(vector, theorem.line, theorem.direction)
    if along is None:
        return ()
    steps = [_head_to_tail(desk, theorem, letters), _directions(desk, theorem, lined.id, along[1])]
    if lined.one_way and along[0] != lined.along:
        fact = Fact("impossible", {"failing": (lined.id,)})
        said = desk.voice.say("The triangle closes only with ", desk.letters.force(lined.id),
                              " acting the other way, which it cannot.", fact=fact)  # fmt: skip
        steps.append(Step("theorem", desk.voice.say("Close it"), remarks=(said,)))
        return tuple(steps)
    steps.append(_close(desk, theorem, lined, vector, size, symbol, along))
    return tuple(steps)


def _load(desk: Desk, theorem: Theorem) -> tuple[Vector, float | None, Symbol, tuple[str, ...]] | None:
    """Direction and size (display units) of the known force, or of the known forces together."""
    if theorem.merged:
        applied = desk.analysis.applied
        assert applied is not None
        size = math.hypot(applied.fx_n, applied.fy_n)
        direction = (applied.fx_n / size, applied.fy_n / size)
        return direction, size * desk.display.per_newton, _together(desk), theorem.merged
    known = [desk.parts[name] for name in theorem.forces if name in desk.parts and not desk.parts[name].unknown]
    if len(known) != 1 or known[0].along is None:
        return None
    size_n = known[0].size
    shown = None if size_n is None else size_n * desk.display.per_newton
    return known[0].along, shown, desk.letters.force(known[0].force), (known[0].force,)


def _together(desk: Desk) -> Symbol:
    """A letter for the known forces taken together that no force has yet."""
    taken = {desk.letters.force(reading.force.id) for reading in desk.analysis.readings}
    return next(symbol for letter in "SQLKUVXYZ" if (symbol := Symbol(letter)) not in taken)


def _closing(load: Vector, first: Vector, second: Vector) -> tuple[Vector, Vector] | None:
    """The senses of two directions with which a triangle closes on a load; None when it is flat.

    load + a·first + b·second = 0, by Cramer's rule; the senses make a and b positive.
    """
    turn = first[0] * second[1] - first[1] * second[0]
    if abs(turn) < _FLAT:
        return None
    a = -(load[0] * second[1] - load[1] * second[0]) / turn
    b = -(first[0] * load[1] - first[1] * load[0]) / turn
    if abs(a) < _FLAT or abs(b) < _FLAT:
        return None
    if a < 0.0:
        first = (-first[0] + 0.0, -first[1] + 0.0)
    if b < 0.0:
        second = (-second[0] + 0.0, -second[1] + 0.0)
    return first, second


def _head_to_tail(desk: Desk, theorem: Theorem, known: tuple[str, ...]) -> Step:
    names = desk.voice.symbols(known)
    if not theorem.merged:
        said: list[Sentence] = [desk.voice.say(*names, " is known: draw it first.")]
    else:
        assert desk.analysis.applied is not None
        at = desk.analysis.applied.line_point
        assert at is not None
        fact = Fact("merged", {"forces": known, "point": at})
        together = " are known: together they are one force "
        where = [" whose line passes through ", *desk.voice.coordinates(at), "."]
        said = [desk.voice.say(*names, together, _together(desk), *where, fact=fact)]
    return Step("theorem", desk.voice.say("Head to tail"), why=tuple(said))


def _directions(desk: Desk, theorem: Theorem, lined: str, towards: Vector) -> Step:
    assert theorem.point is not None
    fact = Fact("concurrent", {"point": theorem.point, "force": theorem.implies, "direction": towards})
    implied = desk.letters.force(theorem.implies)
    pieces: list[Piece] = [
        "Three forces that are not parallel hold a body still only if their lines meet in one point: here at ",
        *desk.voice.coordinates(theorem.point), ". So ", implied, " runs along the line from its point to there.",
    ]  # fmt: skip
    line = desk.voice.say(desk.letters.force(lined), " runs along its own line.")
    return Step(
        "theorem", desk.voice.say("Directions of the other two"), why=(line, desk.voice.say(*pieces, fact=fact))
    )


def _close(
    desk: Desk,
    theorem: Theorem,
    lined: ActingForce,
    load: Vector,
    size: float | None,
    symbol: Symbol,
    along: tuple[Vector, Vector],
) -> Step:
    """T / sin(load, R) = R / sin(load, T) = load / sin(T, R): the law of sines in the triangle of forces."""
    first, second = along
    angles = {
        Symbol("α"): _between(load, second), Symbol("β"): _between(load, first), Symbol("γ"): _between(first, second)
    }  # fmt: skip
    known = {name: Known(angle, "deg") for name, angle in angles.items()}
    alpha, beta, gamma = angles
    if size is not None:
        known[symbol] = Known(size, desk.display.force)
    lines: list[Line] = []
    remarks: list[Sentence] = []
    for force_id, angle, vector in ((lined.id, alpha, first), (theorem.implies, beta, second)):
        named = desk.letters.force(force_id)
        right = Quotient(product(symbol, sine(angle)), sine(gamma))
        lines.append(Line("solved", Equation(named, right)))
        if size is not None:
            worked = put_in(right, known, desk.display.force, desk.display.figures)
            lines.append(Line("numbers", Equation(None, worked.numbers)))
            lines.append(Line("value", Equation(named, worked.result), underlined=True))
            known[named] = Known(worked.result.value, desk.display.force)
        fact = Fact("direction", {"force": force_id, "vector": vector})
        remarks.append(desk.voice.say(named, f" acts {desk.voice.points(vector)}.", fact=fact))
    one, two = desk.letters.force(lined.id), desk.letters.force(theorem.implies)
    why = desk.voice.say(
        "The triangle closes. ", alpha, " is the angle between ", symbol, " and ", two, ", ", beta, " between ", symbol,
        " and ", one, ", ", gamma, " between ", one, " and ", two,
        "; each force is as the sine of the angle between the other two.",
    )  # fmt: skip
    implied = (f"{theorem.implies}.x", f"{theorem.implies}.y")
    return Step(
        "theorem", desk.voice.say("Close it"), (why,), None, tuple(lines), tuple(remarks),
        finds=(*parts_of(lined), *implied), known=known,
    )  # fmt: skip


def _between(first: Vector, second: Vector) -> float:
    """The angle between two directions, 0 to 180 degrees."""
    turn = first[0] * second[1] - first[1] * second[0]
    return math.degrees(math.atan2(abs(turn), first[0] * second[0] + first[1] * second[1]))

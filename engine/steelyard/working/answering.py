"""The end of a working: whole forces from their components, the check, and the answer in a sentence."""

from __future__ import annotations

import math

from ..geometry import add, scale
from ..statics.advice import Advice, vanishes
from ..statics.signs import Settled
from .desk import Desk, title_of
from .expression import Equation, Expression, Function, Negation, Quotient, Root, Square, Sum, Symbol
from .faces import place_words
from .figures import Known, put_in
from .phrases import Piece, listed
from .planner import Plan
from .record import Fact, Line, Sentence, Step
from .remarks import way
from .sums import sum_step

# A component this small beside the other does not turn the force by anything readable.
_STRAIGHT = 1e-9


def combined(desk: Desk, found: set[str]) -> list[Step]:
    """Size and direction of each force found as two components."""
    steps = []
    for reading in desk.analysis.readings:
        force_id = reading.force.id
        if f"{force_id}.x" in found and f"{force_id}.y" in found and (step := _whole(desk, force_id)) is not None:
            steps.append(step)
    return steps


def _whole(desk: Desk, force_id: str) -> Step | None:
    """R = √(R_x² + R_y²) and its angle; None when one component is zero or a letter."""
    x, y = (desk.letters.component(force_id, axis) for axis in ("x", "y"))
    whole = desk.letters.force(force_id)
    formula = Root(Sum(((1, Square(x)), (1, Square(y)))))
    title = desk.voice.say("Size and direction of ", whole)
    if x not in desk.values or y not in desk.values:
        senses = [desk.settled.get(f"{force_id}.{axis}") for axis in ("x", "y")]
        if any(state and state.sign == 0 for state in senses):
            return None
        formal = [Line("solved", Equation(whole, formula))]
        if senses[0] and senses[1]:
            # The acute angle: components that act against the way they were drawn are turned round first.
            across, up = (each if state.sign > 0 else Negation(each)
                          for each, state in ((x, senses[0]), (y, senses[1])))  # fmt: skip
            formal.append(Line("solved", Equation(desk.letters.direction(force_id), _slope(up, across))))
        return Step("combine", title, lines=tuple(formal), known=dict(desk.values))
    parts = (desk.values[x].value, desk.values[y].value)
    if min(abs(parts[0]), abs(parts[1])) <= _STRAIGHT * max(abs(parts[0]), abs(parts[1]), 1e-300):
        desk.values[whole] = Known(math.hypot(*parts), desk.display.force)
        return None
    known = dict(desk.values)
    size = put_in(formula, known, desk.display.force, desk.display.figures)
    # The acute angle: components that came out negative are turned round first.
    upright, level = (symbol if value > 0.0 else Negation(symbol) for symbol, value in ((y, parts[1]), (x, parts[0])))
    angle = desk.letters.direction(force_id)
    slope = _slope(upright, level)
    turned = put_in(slope, known, "deg", max(desk.display.figures, 3))
    desk.values[whole] = known[whole] = Known(size.result.value, desk.display.force)
    known[angle] = Known(turned.result.value, "deg")
    lines = (
        Line("solved", Equation(whole, formula)),
        Line("numbers", Equation(None, size.numbers)),
        Line("value", Equation(whole, size.result), underlined=True),
        Line("solved", Equation(angle, slope)),
        Line("numbers", Equation(None, turned.numbers)),
        Line("value", Equation(angle, turned.result), underlined=True),
    )
    vector = _vector(desk, force_id)
    fact = Fact("direction", {"force": force_id, "vector": vector})
    assert vector is not None
    from_axis: list[Piece] = ["the ", Symbol("x"), " axis"] if desk.voice.tilted else [desk.voice.level]
    said = f" acts {desk.voice.points(vector)}, "
    remark = desk.voice.say(whole, said, turned.result, " from ", *from_axis, ".", fact=fact)
    return Step("combine", title, lines=lines, remarks=(remark,), known=known)


def _slope(up: Expression, across: Expression) -> Expression:
    return Function("arctan", Quotient(up, across))


def _vector(desk: Desk, force_id: str) -> tuple[float, float] | None:
    """A force found, in display units; None when a part has no number."""
    keys = (f"{force_id}.x", f"{force_id}.y")
    if keys[0] in desk.parts:
        values = [desk.values.get(desk.letters.component(force_id, axis)) for axis in ("x", "y")]
        alongs = [desk.parts[key].along for key in keys]
        if values[0] is None or values[1] is None or alongs[0] is None or alongs[1] is None:
            return None
        return add(scale(alongs[0], values[0].value), scale(alongs[1], values[1].value))
    part = desk.parts[force_id]
    value = desk.values.get(desk.letters.force(force_id))
    if value is None or part.along is None:
        return None
    return (value.value * part.along[0], value.value * part.along[1])


def check(desk: Desk, advice: Advice) -> Step | None:
    """Torques about another point, every term with its value: the sum must come out as nothing."""
    balance = desk.balance(advice)
    if not balance.terms or any(term.symbol not in desk.values for term in balance.terms):
        return None
    title = title_of(desk, advice, "Check: ")
    return sum_step(
        desk, balance, "check", title, (desk.voice.say("An equation not used yet; every term has its value."),)
    )


def answer(desk: Desk, made: Plan) -> Step:
    """Every force found, said in a sentence with its unit."""
    sentences: list[Sentence] = []
    # Whether a balance is possible is told by the values.
    failing = () if desk.options.symbols_only else desk.analysis.supports.failing
    for reading in desk.analysis.readings:
        force = reading.force
        if force.role == "unknown" and not failing:
            sentences.extend(_answer_of(desk, force.id, made.unfound))
    if made.unfound and not failing:
        fact = Fact("not-fixed", {"keys": made.unfound})
        sentences.append(
            desk.voice.say("Statics alone does not fix ", *desk.voice.symbols(made.unfound), ".", fact=fact)
        )
    if failing:
        sentences.append(_impossible(desk, failing))
    elif desk.laws and desk.analysis.supports.kind == "mechanism" and not desk.analysis.supports.balanced_as_it_stands:
        fact = Fact("not-about-to", {"laws": tuple(law.force for law in desk.laws)})
        sentences.append(
            desk.voice.say("So it would stay at rest, but it is not on the point of sliding as was asked.", fact=fact)
        )
    return Step("answer", desk.voice.say("Answer"), remarks=tuple(sentences), known=dict(desk.values))


def _impossible(desk: Desk, failing: tuple[str, ...]) -> Sentence:
    """What no support can do: push where it can only pull, more friction than μN, press beyond a face."""
    voice = desk.voice
    fact = Fact("impossible", {"failing": failing})
    beyond = {lack.force: lack.kind for lack in desk.analysis.supports.lacks}
    said: list[list[Piece]] = []
    wrong = [force_id for force_id in failing if beyond.get(force_id, "sense") == "sense"]
    if wrong:
        said.append([*voice.symbols(wrong), " cannot act the way it would have to"])
    for force_id in failing:
        force = voice.forces.get(force_id)
        if beyond.get(force_id) == "friction" and force is not None:
            limit: list[Piece] = [desk.letters.rough(force_id), "\u2009", desk.letters.force(force.normal)]
            said.append([desk.letters.force(force_id), " cannot be more than ", *limit])
        elif beyond.get(force_id) in ("friction", "place"):
            where = " cannot act beyond its face" if beyond[force_id] == "place" else " cannot be so large"
            said.append([desk.letters.force(force_id), where])
    return voice.say("No balance is possible: ", *listed(said), ".", fact=fact)


def _answer_of(desk: Desk, force_id: str, unfound: tuple[str, ...]) -> list[Sentence]:
    """The answer about one force; of one that is not fixed whole, the parts that are."""
    voice = desk.voice
    keys = [key for key in desk.parts if desk.parts[key].force == force_id]
    if any(key in unfound for key in keys):
        return [_part_of(desk, key) for key in keys if key not in unfound]
    symbol = desk.letters.force(force_id)
    if not keys:  # about to vanish; or the second end of a rope, whose size is said with the first
        gone = vanishes(voice.forces[force_id])
        return [voice.say(symbol, " is zero.", fact=Fact("vanished", {"force": force_id}))] if gone else []
    agent = voice.agent(force_id)
    part = desk.parts[keys[0]]
    if part.which == "couple":
        value = desk.values.get(symbol)
        if value is None or desk.options.symbols_only:
            return [_by_senses(desk, keys)]
        sense = voice.turn(part.turn if value.value >= 0.0 else -part.turn)
        fact = Fact("answer", {"force": force_id, "couple": value.value * part.turn})
        turns = voice.does(force_id, "turns", "turn")
        turning: list[Piece] = [f" {turns} it {sense} with ", symbol, " = ", voice.amount(abs(value.value), value.unit)]
        if value.value == 0.0:
            return [voice.say(symbol, " is zero.", fact=fact)]
        return [voice.say(*_capital(agent), *turning, ".", fact=fact)]
    vector = _vector(desk, force_id)
    if vector is None or desk.options.symbols_only:
        return [_by_senses(desk, keys)]
    size = math.hypot(*vector)
    fact = Fact("answer", {"force": force_id, "vector": vector})
    if size == 0.0:
        return [voice.say(symbol, " is zero.", fact=fact)]
    amount = voice.amount(size, desk.display.force)
    acts = voice.does(force_id, "acts", "act")
    pieces: list[Piece] = [*_capital(agent), f" {acts} with ", symbol, " = ", amount, f", {voice.points(vector)}"]
    if min(abs(vector[0]), abs(vector[1])) > _STRAIGHT * size:
        angle = math.degrees(math.atan2(abs(vector[1]), abs(vector[0])))
        pieces += [", at ", voice.amount(angle, "deg", max(3, desk.display.figures)), f" to {voice.level}"]
    pieces += place_words(desk, force_id)
    return [voice.say(*pieces, ".", fact=fact)]


def _part_of(desk: Desk, key: str) -> Sentence:
    """One component that is fixed while the other is not: its size and the way it acts."""
    voice, part = desk.voice, desk.parts[key]
    symbol = voice.symbol(key)
    value = desk.values.get(symbol)
    if value is None or desk.options.symbols_only:
        return _by_senses(desk, [key])
    sign = (value.value > 0.0) - (value.value < 0.0)
    fact = Fact("sign", {"part": key, "sign": sign, "one_way": part.one_way})
    if sign == 0:
        return voice.say(symbol, " is zero.", fact=fact)
    return voice.say(
        symbol, " = ", voice.amount(abs(value.value), value.unit), f" {way(voice, part, sign)}.", fact=fact
    )


def _by_senses(desk: Desk, keys: list[str]) -> Sentence:
    """Without numbers: which way each part must act as far as geometry settles it."""
    voice = desk.voice
    pieces: list[Piece] = []
    known: list[tuple[str, int, bool]] = []
    for key in keys:
        part = desk.parts[key]
        if part.which == "place":
            continue
        state = desk.settled.get(key)
        if state is None and part.one_way and voice.forces[part.force].type == "friction":
            state = Settled(1, False)
        if pieces:
            pieces.append("; ")
        if state is None:
            pieces += ["which way ", voice.symbol(key), " acts depends on sizes"]
        elif state.sign == 0:
            pieces += [voice.symbol(key), " is zero"]
        else:
            bound = "acts" if state.strict else "can only act"
            pieces += [voice.symbol(key), f" {bound} {way(voice, desk.parts[key], state.sign)}"]
        known.append((key, 0 if state is None else state.sign, state is not None))
    return voice.say(*_capital(pieces), ".", fact=Fact("answer-senses", {"senses": tuple(known)}))


def _capital(agent: list[Piece]) -> list[Piece]:
    first = agent[0]
    return [first[0].upper() + first[1:], *agent[1:]] if isinstance(first, str) else agent

"""One equation of a working as a step: why this one, the sum, solved for its unknown, and what the value says."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from ..statics.advice import Advice
from ..statics.signs import sense_of
from . import faces, friction, remarks
from .desk import Desk, title_of
from .expression import ZERO, Equation, Expression, Symbol
from .figures import NOTHING, Known, put_in
from .laws import Law
from .phrases import Piece, counted
from .planner import Move
from .record import Fact, Line, Sentence, Step
from .solving import pair_solved_for, solved_for
from .terms import Balance, apart, renamed, sum_equation


def single(desk: Desk, move: Move, heading: str = "") -> Step:
    """One sum, solved for the unknown it finds, if it finds one; `heading` says of what."""
    balance = desk.balance(move.advice, move.laws)
    lines = [Line("equation", sum_equation(balance, two_sided=desk.two_sided))]
    said: list[Sentence] = []
    known = desk.known(balance)
    if move.finds:
        key = move.finds[0]
        solved = solved_for(balance, key)
        _solve_lines(desk, balance, key, solved, known, lines, said)
    return Step(
        "sum", title_of(desk, move.advice, headed(heading)), tuple(_why(desk, move, balance)), desk.sense(balance),
        tuple(lines), tuple(said), balance.point, balance.axis, move.finds, (), known,
    )  # fmt: skip


def _solve_lines(
    desk: Desk, balance: Balance, key: str, solved: Expression, known: dict[Symbol, Known], lines: list[Line],
    said: list[Sentence], laws: Sequence[Law] = (),
) -> None:  # fmt: skip
    """Solved for the unknown, numbers put in, the value, and what its sign says."""
    part = desk.parts[key]
    symbol = desk.letters.part(part)
    if part.which == "place":
        pressing = desk.values.get(desk.letters.force(part.force))
        if pressing is not None and pressing.value == 0.0:
            said.append(faces.nothing_presses(desk, part, _rest(desk, balance, known)))
            return
    if solved != ZERO or lines[-1].equation != Equation(symbol, ZERO):
        lines.append(Line("solved", Equation(symbol, solved)))
    desk.solved[symbol] = solved
    scale = _scale(balance, key, known, desk)
    try:
        worked = put_in(solved, known, desk.unit(part), desk.display.figures, scale=scale)
    except KeyError:  # a size is a letter only
        said.extend(_by_geometry(desk, balance, key, laws))
        return
    desk.values[symbol] = known[symbol] = Known(worked.result.value, desk.unit(part))
    if solved != ZERO:
        lines.append(Line("numbers", Equation(None, worked.numbers)))
    lines.append(Line("value", Equation(symbol, worked.result), underlined=True))
    if desk.options.symbols_only:
        said.extend(_by_geometry(desk, balance, key, laws))
    elif part.which == "place":
        said.append(faces.of_place(desk, part, worked.result.value))
    else:
        said.append(remarks.of_value(desk.voice, part, worked.result.value))


def _rest(desk: Desk, balance: Balance, known: Mapping[Symbol, Known]) -> float:
    """What the known terms of a sum add up to, in its unit; nothing while one is a letter or nothing but rounding."""
    terms = [term for term in balance.terms if desk.parts[term.part].which != "place"]
    if any(term.symbol not in known for term in terms):
        return 0.0
    sizes = [math.copysign(desk.worth(balance, term, known), term.share * known[term.symbol].value) for term in terms]
    rest = math.fsum(sizes)
    return 0.0 if abs(rest) <= NOTHING * math.fsum(map(abs, sizes)) else rest


def _by_geometry(desk: Desk, balance: Balance, key: str, laws: Sequence[Law]) -> list[Sentence]:
    """What geometry says of the sense: from this sum, and where this one cannot, from the sum that can."""
    part = desk.parts[key]
    if part.which == "place":
        return [faces.place_in_letters(desk, part)]
    shares = {name: balance.share(name) for name in balance.parts()}
    others = {name: state for name, state in desk.settled.items() if name != key}
    verdict = sense_of(key, shares, desk.parts, others)
    sides = remarks.compared(balance, verdict, desk.parts, others)
    told = remarks.of_geometry(desk.voice, part, verdict, balance.point, balance.axis, sides)
    if laws and told.fact is not None:
        put = tuple((law.force, law.of) for law in laws)
        told = replace(told, fact=Fact(told.fact.kind, {**told.fact.data, "put": put}))
    said = [told]
    reason = desk.reasons.get(key)
    if verdict.kind != "certain" and reason is not None:
        said.append(remarks.elsewhere(desk.voice, part, reason))
    return said


def _scale(balance: Balance, key: str, known: dict[Symbol, Known], desk: Desk) -> float:
    """How large the terms are that make up an unknown, in its own unit."""
    own = abs(balance.share(key)) * desk.length_factor(balance, key)
    part = desk.parts[key]
    if part.which == "place":
        pressing = known.get(desk.letters.force(part.force))
        own *= 1.0 if pressing is None else abs(pressing.value)
    sizes = [desk.worth(balance, term, known) for term in balance.terms if term.part != key and term.symbol in known]
    return math.fsum(sizes) / own


def headed(heading: str) -> str:
    """What a title begins with: of which body a sum is."""
    return f"{heading[:1].upper()}{heading[1:]}: " if heading else ""


def together(desk: Desk, move: Move, other_desk: Desk | None = None, heading: str = "") -> Step:
    """Two equations with the same two unknowns, solved as a pair; the first may be of another system."""
    assert move.partner is not None
    first = (other_desk or desk).balance(move.partner, move.laws)
    second = apart(first, desk.balance(move.advice, move.laws))
    known = desk.known(first, second)
    two_sided = desk.two_sided
    lines = [Line("equation", sum_equation(each, two_sided=two_sided)) for each in (first, second)]
    said: list[Sentence] = []
    key, other = move.finds
    if other_desk is not None:
        first = renamed(first, second)
    _solve_lines(desk, second, key, pair_solved_for(first, second, key, other), known, lines, said, move.laws)
    _solve_lines(desk, second, other, solved_for(second, other), known, lines, said, move.laws)
    names = desk.voice.symbols((key, other))
    fact = Fact("together", {"keys": move.finds, "point": second.point, "axis": second.axis})
    put = friction.put_in_words(desk, move.laws)
    why = desk.voice.say(
        *put,
        "This one leaves the same two unknowns, ",
        *names,
        ". Two equations, two unknowns: solve them together.",
        fact=fact,
    )
    return Step(
        "together", title_of(desk, move.advice, headed(heading)), (why, *_drop_sentences(desk, second, move.advice)),
        desk.sense(second), tuple(lines), tuple(said), second.point, second.axis, move.finds, (), known,
    )  # fmt: skip


def _why(desk: Desk, move: Move, balance: Balance) -> list[Sentence]:
    voice = desk.voice
    sentences = _drop_sentences(desk, balance, move.advice)
    left = move.left
    put = tuple((law.force, law.of) for law in move.laws)
    fact = Fact("left", {"keys": left, "point": balance.point, "axis": balance.axis, "put": put})
    names: Sequence[Piece] = voice.symbols(left)
    if len(left) == 1:
        sentences.append(voice.say("One unknown is left: ", *names, ".", fact=fact))
        return sentences
    sentences.append(voice.say(f"{counted(len(left), 'unknown is', 'unknowns are')} left: ", *names, ".", fact=fact))
    if move.better is not None:
        fewer = Fact("better", {"point": move.better.point, "axis": move.better.along, "left": move.better.left})
        if move.better.point is not None:
            where: list[Piece] = [voice.settings.pivot_word, " ", *voice.where(move.better)]
        else:
            assert move.better.along is not None
            where = ["sum along ", *voice.axis_words(move.better.along, move.better)]
        only = voice.symbols(move.better.left)
        sentences.append(voice.say("The ", *where, " would leave only ", *only, ". This one is put aside.", fact=fewer))
    elif move.paired and move.laws:
        names = friction.put_in_words(desk, move.laws)
        sentences.append(voice.say(*names, "A second equation is needed."))
    elif move.paired:
        word = voice.settings.pivot_word
        sentences.append(voice.say(f"No {word} or axis within reach leaves only one; a second equation is needed."))
    else:
        sentences.append(voice.say("Put aside until one of them is known."))
    return sentences


def _drop_sentences(desk: Desk, balance: Balance, advice: Advice) -> list[Sentence]:
    """Which forces drop out, and why."""
    voice = desk.voice
    dropped = [key for key in balance.dropped if desk.parts[key].along is not None]
    if not dropped:
        return []
    fact = Fact("drops", {"keys": tuple(dropped), "point": balance.point, "axis": balance.axis})
    names = voice.symbols(dropped)
    single = len(names) == 1
    if balance.point is not None:
        lines = "The line of " if single else "The lines of "
        verb = "passes" if single else "pass"
        where = _short_place(desk, advice)
        return [voice.say(lines, *names, f" {verb} through ", *where, f", so {_they(single)} out.", fact=fact)]
    verb = "has" if single else "have"
    assert balance.axis is not None
    axis = voice.axis_words(balance.axis, advice)
    return [voice.say(*names, f" {verb} no part along ", *axis, f", so {_they(single)} out.", fact=fact)]


def _they(single: bool) -> str:
    return "it drops" if single else "they drop"


def _short_place(desk: Desk, advice: Advice) -> list[Piece]:
    """A pivot's name, or "this point" when the title already gave its coordinates."""
    assert advice.point is not None
    name = desk.voice.point_name(advice.point)
    return [name] if name else ["this point"]

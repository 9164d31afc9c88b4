"""Arguing with a guess as a person would: direction first, size second, one component at a time.

A component is argued from one sum in which everything else acts one way whatever its size; where there
is no such sum, from numbers that are known; else it depends on sizes, and the comparison is named.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..geometry import Vector
from ..model import Sketch
from ..statics.advice import Advice, Part, ends_of
from ..statics.argument import Judged, Judgement, Verdict, guess_along, judge, net_of_others, turned
from ..statics.reading import Analysis
from ..statics.signs import Reason, SenseVerdict, Settled, known_sense, shares_of
from .desk import Desk, Options
from .phrases import Piece
from .record import Fact, Sentence
from .remarks import compared, way


@dataclass(frozen=True, slots=True)
class Stage:
    """The argument about one component (or size, or couple) of the guessed unknown.

    `sign`: +1 must act as drawn, −1 against, 0 none or not settled. `agrees`: whether the guess acts
    so; None when nothing is settled or nothing is guessed. `sum` is the sum argued from.
    """

    part: str
    verdict: Verdict
    sign: int
    strict: bool
    agrees: bool | None
    sum: Advice
    sentences: tuple[Sentence, ...]


@dataclass(frozen=True, slots=True)
class Argument:
    """The argument about one unknown, and what the page can do about its guess.

    `caution` says first when no balance is possible at all. `turn` is the guess after the next step of
    the argument, in newtons (`turn_couple` in newton metres); None when nothing is left to turn.
    """

    force: str
    caution: Sentence | None
    stages: tuple[Stage, ...]
    turn: Vector | None
    turn_couple: float | None


def argue(sketch: Sketch, analysis: Analysis, force_id: str, *, options: Options | None = None) -> Argument:
    """The argument about one unknown force or couple; KeyError when it does not act here."""
    desk = Desk(sketch, analysis, options or Options())
    judgement = judge(analysis, force_id, ends_of(sketch, analysis))
    stages = tuple(_stage(desk, judged, judgement) for judged in judgement.stages)
    turn, turn_couple = turned(analysis, judgement)
    return Argument(force_id, _caution(desk), stages, turn, turn_couple)


def _stage(desk: Desk, judged: Judged, judgement: Judgement) -> Stage:
    part = judged.part
    if part.one_way:
        said = [_one_way(desk, part)]
    elif judged.found is None:
        symbol = desk.voice.symbol(part.key)
        said = [
            desk.voice.say("Every sum that has ", symbol, " in it has the other component too, which is not settled.")
        ]
    else:
        said = _sentences(desk, judged, judged.found, judgement)
    if judged.agrees is not None:
        said.append(_on_guess(desk, part, judged.sign, judged.agrees))
    return Stage(part.key, judged.verdict, judged.sign, judged.strict, judged.agrees, judged.sum, tuple(said))


def _outweigh(keys: Sequence[str]) -> str:
    return " outweighs " if len(keys) == 1 else " outweigh "


def _caution(desk: Desk) -> Sentence | None:
    """Said before anything else where no guess can lead to balance; with answers kept back nobody knows yet."""
    if desk.voice.sketch.answers == "kept":
        return None
    supports = desk.analysis.supports
    fact = Fact("caution", {"kind": supports.kind, "failing": supports.failing})
    if supports.kind == "impossible":
        names = desk.voice.symbols(supports.failing)
        return desk.voice.say("There is no balance like this: ", *names, " would have to do what it cannot.", fact=fact)
    if supports.kind == "mechanism" and not supports.balanced_as_it_stands:
        return desk.voice.say("Nothing here can hold it still, whatever this force is.", fact=fact)
    return None


def _sentences(desk: Desk, judged: Judged, verdict: SenseVerdict, judgement: Judgement) -> list[Sentence]:
    part, each, kind, sign, shares = judged.part, judged.sum, judged.verdict, judged.sign, judged.shares
    settled, reasons = judgement.settled, judgement.reasons
    voice = desk.voice
    said: list[Sentence] = []
    others = [key for key in shares if key != part.key]
    for key in others:
        other = desk.parts[key]
        if other.one_way:
            said.append(_one_way(desk, other))
        elif other.unknown and key in reasons:
            said.append(_settled_by(desk, other, settled[key], reasons[key]))
    place: list[Piece] = (
        ["about ", *voice.where(each)]
        if each.point is not None
        else ["along ", *voice.axis_words(each.along or (1.0, 0.0), each)]
    )
    symbol = voice.symbol(part.key)
    data = {
        "part": part.key, "verdict": kind, "sign": sign, "strict": verdict.strict, "point": each.point,
        "axis": each.along, "others": tuple(others), "for_drawn": verdict.for_drawn,
        "against_drawn": verdict.against_drawn, "unsure": verdict.unsure,
    }  # fmt: skip
    fact = Fact("must", data)
    if kind == "open":
        said.append(
            voice.say("It depends on sizes, and on which way ", *voice.symbols(verdict.unsure), " acts.", fact=fact)
        )
        return said
    sides = compared(desk.balance(each), verdict, desk.parts, settled) if kind == "depends" else None
    if sides is not None:
        said.append(
            voice.say(
                "It depends on sizes: ", *place, ", ", symbol, f" acts {way(voice, part, 1)} if ", *sides[0],
                " is larger than ", *sides[1], f", else {way(voice, part, -1)}.", fact=fact,
            )
        )  # fmt: skip
        return said
    if kind == "depends":
        said.append(
            voice.say(
                "It depends on sizes: ", *place, ", ", symbol, f" acts {way(voice, part, 1)} if ",
                *voice.symbols(verdict.for_drawn), _outweigh(verdict.for_drawn), *voice.symbols(verdict.against_drawn),
                f", else {way(voice, part, -1)}.", fact=fact,
            )
        )  # fmt: skip
        return said
    if not others:
        said.append(voice.say("Nothing else has a term ", *place, ", so ", symbol, " must be zero.", fact=fact))
        return said
    if kind == "numbers":
        said.append(_by_numbers(desk, part, each, shares, sign, place, fact))
        return said
    if sign == 0:
        said.append(voice.say("All the other terms ", *place, " are zero, so ", symbol, " must be zero.", fact=fact))
        return said
    what = "has a part" if each.point is None else "turns"
    unless = "" if verdict.strict else ", unless they are all zero"
    act = way(voice, part, sign)
    said.append(
        voice.say(
            "Besides ", symbol, ", only ", *voice.symbols(others), f" {what if len(others) == 1 else _plural(what)} ",
            *place, f": {_they_act(desk, others, each, settled)}; so ", symbol, f" must act {act}{unless}.", fact=fact,
        )
    )  # fmt: skip
    return said


def _plural(what: str) -> str:
    return {"has a part": "have a part", "turns": "turn"}[what]


def _they_act(desk: Desk, others: Sequence[str], each: Advice, settled: Mapping[str, Settled]) -> str:
    """Which way the others act in a sum, all alike."""
    shares = shares_of(each, desk.parts, desk.analysis.lever_m)
    for key in others:
        state = known_sense(desk.parts[key], settled.get(key))
        if state is not None and state.sign:
            turned = shares[key] * state.sign
            if each.point is not None:
                return desk.voice.turn(1 if turned > 0.0 else -1)
            assert each.along is not None
            return desk.voice.direction((each.along[0] * turned, each.along[1] * turned))
    return "not at all"


def _by_numbers(
    desk: Desk, part: Part, each: Advice, shares: Mapping[str, float], sign: int, place: list[Piece], fact: Fact
) -> Sentence:
    voice = desk.voice
    net = net_of_others(desk.parts, part.key, shares)
    symbol = voice.symbol(part.key)
    names = voice.symbols([key for key in shares if key != part.key])
    if sign == 0:
        return voice.say(*names, " cancel ", *place, ", so ", symbol, " must be zero.", fact=fact)
    unit = desk.display.torque if each.point is not None else desk.display.force
    amount = voice.amount(abs(net) * desk.display.factor(unit), unit)
    if each.point is not None:
        sense = voice.turn(1 if net > 0.0 else -1)
    else:
        assert each.along is not None
        sense = voice.direction((each.along[0] * net, each.along[1] * net))
    # In symbols only the sizes decide as well, but are not said.
    given: list[Piece] = ["act"] if desk.options.symbols_only else ["give ", amount]
    return voice.say(
        "Here the numbers decide: ", *place, ", ", *names, " together ", *given, f" {sense}; so ", symbol,
        f" must act {way(voice, part, sign)}.", fact=fact,
    )  # fmt: skip


def _one_way(desk: Desk, part: Part) -> Sentence:
    voice = desk.voice
    kinds = {support.id: support.kind for support in voice.sketch.supports}
    if voice.forces[part.force].type == "friction":
        fact = Fact("one-way", {"part": part.key, "along": part.along})
        return voice.say("It is about to slide, and friction is against that, so ", voice.symbol(part.key),
                         f" acts {way(voice, part, 1)}, whatever its size.", fact=fact)  # fmt: skip
    kind = kinds.get(voice.forces[part.force].entity, "")
    can = {"rope": "A rope can only pull", "contact": "A contact can only push", "roller": "This roller can only push"}
    start = can.get(kind, "It can act only one way")
    fact = Fact("one-way", {"part": part.key, "along": part.along})
    return voice.say(
        f"{start}, so ", voice.symbol(part.key), f" acts {way(voice, part, 1)}, whatever its size.", fact=fact
    )


def _settled_by(desk: Desk, part: Part, state: Settled, reason: Reason) -> Sentence:
    voice = desk.voice
    each = reason.advice
    place: list[Piece] = (
        [f"{voice.settings.turning_word}s about ", *voice.where(each)]
        if each.point is not None
        else ["forces along ", *voice.axis_words(each.along or (1.0, 0.0), each)]
    )
    data = {"part": part.key, "sign": state.sign, "strict": state.strict, "point": each.point, "axis": each.along}
    fact = Fact("settled", data)
    does = f" must act {way(voice, part, state.sign)}" if state.sign else " must be zero"
    return voice.say(voice.symbol(part.key), does, " (", *place, ").", fact=fact)


def _on_guess(desk: Desk, part: Part, sign: int, agrees: bool) -> Sentence:
    voice = desk.voice
    symbol = voice.symbol(part.key)
    along = guess_along(desk.voice.forces[part.force], part) or 0.0
    drawn = (along > 0.0) - (along < 0.0)
    fact = Fact("guess", {"part": part.key, "guess": drawn, "sign": sign, "agrees": agrees})
    if agrees:
        return voice.say("Your ", symbol, " does so." if sign else " is zero.", fact=fact)
    if drawn == 0:
        return voice.say("Your guess has no part there yet.", fact=fact)
    return voice.say("Your ", symbol, f" acts {way(voice, part, drawn)}. Turn it.", fact=fact)

"""Arguing with a guess as a person would: direction first, size second, one component at a time.

A component is argued from one sum in which everything else acts one way whatever its size; where there
is no such sum, from numbers that are known; else it depends on sizes, and the comparison is named.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from ..geometry import Vector
from ..model import Sketch
from ..statics import advice as advising
from ..statics.advice import Advice, Part
from ..statics.reading import Analysis
from ..statics.signs import Reason, SenseVerdict, Settled, known_sense, sense_of, settle, shares_of
from .desk import Desk, Options
from .phrases import Piece, direction_words
from .record import Fact, Sentence
from .remarks import way
from .steps import ends_of

Verdict = Literal["certain", "numbers", "depends", "open"]

# A guess with less than this share along a component has no part there.
_NO_PART = 1e-6
_RANK: dict[Verdict, int] = {"certain": 0, "numbers": 1, "depends": 2, "open": 3}


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
class Stretch:
    """A size that closes one sum with the direction kept: along "x" or "y", or "turning" about the pivot."""

    closes: Literal["x", "y", "turning"]
    size: float
    vector: Vector | None
    couple_n_m: float | None


@dataclass(frozen=True, slots=True)
class Argument:
    """The argument about one unknown, and what the page can do about its guess.

    `caution` says first when no balance is possible at all. `turn` is the guess after the next step of
    the argument, in newtons (`turn_couple` in newton metres); None when nothing is left to turn.
    `stretches` come after that; they need the answer and are empty where it is not fixed.
    """

    force: str
    caution: Sentence | None
    stages: tuple[Stage, ...]
    turn: Vector | None
    turn_couple: float | None
    stretches: tuple[Stretch, ...]


def argue(sketch: Sketch, analysis: Analysis, force_id: str, *, options: Options | None = None) -> Argument:
    """The argument about one unknown force or couple; KeyError when it does not act here."""
    desk = Desk(sketch, analysis, options or Options())
    own = [part for part in desk.parts.values() if part.force == force_id and part.unknown]
    if not own:
        raise KeyError(force_id)
    choices = advising.candidates(analysis, ends_of(sketch, analysis))
    settled, reasons = settle(choices, desk.parts, analysis.lever_m, {part.key for part in own})
    stages: list[Stage] = []
    for part in own:
        stage = _stage(desk, part, own, choices, settled, reasons)
        if stage.verdict == "certain":
            settled[part.key] = Settled(stage.sign, stage.strict)
        stages.append(stage)
    turn, turn_couple = _turn(desk, own, stages)
    caution = _caution(desk)
    settled_way = turn is None and turn_couple is None
    return Argument(
        force_id, caution, tuple(stages), turn, turn_couple, _stretches(desk, force_id) if settled_way else ()
    )


def _stage(
    desk: Desk, part: Part, own: Sequence[Part], choices: Sequence[Advice], settled: Mapping[str, Settled],
    reasons: Mapping[str, Reason],
) -> Stage:  # fmt: skip
    if part.one_way:
        return _own_way(desk, part)
    ranked: list[tuple[tuple[int, int, int], Advice, Verdict, SenseVerdict, dict[str, float]]] = []
    for position, each in enumerate(choices):
        shares = shares_of(each, desk.parts, desk.analysis.lever_m)
        if part.key not in shares:
            continue
        waiting = [other.key for other in own if other.key != part.key and other.key in shares]
        if any(key not in settled for key in waiting):
            continue
        verdict = sense_of(part.key, shares, desk.parts, settled)
        kind: Verdict = verdict.kind
        if kind != "certain" and _all_numbers(desk, part.key, shares):
            kind = "numbers"
        # The sum along the component's own axis is the first a person looks at, then the fewest other terms.
        level = {"x": "level", "y": "upright"}.get(part.which)
        plain = 0 if each.source == level else 1
        ranked.append(((_RANK[kind], plain, len(shares) * 100 + position), each, kind, verdict, shares))
    if not ranked:  # every sum with this part has the other component too: argue from its own axis as it is
        level_axis: Vector = (1.0, 0.0) if part.which == "x" else (0.0, 1.0)
        each = advising.along(desk.analysis, level_axis)
        return Stage(part.key, "open", 0, False, None, each, ())
    _, each, kind, verdict, shares = min(ranked, key=lambda item: item[0])
    sign = verdict.sign if kind == "certain" else 0
    strict = verdict.strict
    if kind == "numbers":
        net = -_net(desk, part.key, shares) / shares[part.key]
        sign, strict = (net > 0.0) - (net < 0.0), True
    agrees = _agrees(desk, part, sign) if kind in ("certain", "numbers") else None
    said = _sentences(desk, part, each, kind, verdict, shares, sign, settled, reasons)
    if agrees is not None:
        said.append(_on_guess(desk, part, sign, agrees))
    return Stage(part.key, kind, sign, strict, agrees, each, tuple(said))


def _outweigh(keys: Sequence[str]) -> str:
    return " outweighs " if len(keys) == 1 else " outweigh "


def _caution(desk: Desk) -> Sentence | None:
    """Said before anything else where no guess can lead to balance."""
    supports = desk.analysis.supports
    fact = Fact("caution", {"kind": supports.kind, "failing": supports.failing})
    if supports.kind == "impossible":
        names = desk.voice.symbols(supports.failing)
        return desk.voice.say(
            "There is no balance like this: ", *names, " would have to act the way it cannot.", fact=fact
        )
    if supports.kind == "mechanism" and not supports.balanced_as_it_stands:
        return desk.voice.say("Nothing here can hold it still, whatever this force is.", fact=fact)
    return None


def _own_way(desk: Desk, part: Part) -> Stage:
    """A rope or a contact needs no sum: it acts one way only."""
    each = advising.about(desk.analysis, desk.analysis.pivot)
    said = [_one_way(desk, part)]
    agrees = _agrees(desk, part, 1)
    if agrees is not None:
        said.append(_on_guess(desk, part, 1, agrees))
    return Stage(part.key, "certain", 1, False, agrees, each, tuple(said))


def _all_numbers(desk: Desk, key: str, shares: Mapping[str, float]) -> bool:
    return all(desk.parts[other].size is not None for other in shares if other != key)


def _net(desk: Desk, key: str, shares: Mapping[str, float]) -> float:
    """What the others add up to, zero when it is rounding only."""
    terms = [share * (desk.parts[other].size or 0.0) for other, share in shares.items() if other != key]
    net = math.fsum(terms)
    return 0.0 if abs(net) <= 1e-12 * math.fsum(abs(term) for term in terms) else net


def guess_along(desk: Desk, part: Part) -> float | None:
    """The guess's size along a part as drawn (newtons or newton metres); None without a guess."""
    force = desk.voice.forces[part.force]
    if part.along is None:
        return None if force.guess_couple_n_m is None else force.guess_couple_n_m * part.turn
    if force.guess is None:
        return None
    along = force.guess[0] * part.along[0] + force.guess[1] * part.along[1]
    return 0.0 if abs(along) <= _NO_PART * math.hypot(*force.guess) else along


def _agrees(desk: Desk, part: Part, sign: int) -> bool | None:
    along = guess_along(desk, part)
    return None if along is None else (along > 0.0) - (along < 0.0) == sign


def _sentences(
    desk: Desk, part: Part, each: Advice, kind: Verdict, verdict: SenseVerdict, shares: Mapping[str, float], sign: int,
    settled: Mapping[str, Settled], reasons: Mapping[str, Reason],
) -> list[Sentence]:  # fmt: skip
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
            return direction_words((each.along[0] * turned, each.along[1] * turned))
    return "not at all"


def _by_numbers(
    desk: Desk, part: Part, each: Advice, shares: Mapping[str, float], sign: int, place: list[Piece], fact: Fact
) -> Sentence:
    voice = desk.voice
    net = _net(desk, part.key, shares)
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
        sense = direction_words((each.along[0] * net, each.along[1] * net))
    return voice.say(
        "Here the numbers decide: ", *place, ", ", *names, " together give ", amount, f" {sense}; so ", symbol,
        f" must act {way(voice, part, sign)}.", fact=fact,
    )  # fmt: skip


def _one_way(desk: Desk, part: Part) -> Sentence:
    voice = desk.voice
    kinds = {support.id: support.kind for support in voice.sketch.supports}
    kind = kinds.get(part.force, "")
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
    along = guess_along(desk, part) or 0.0
    drawn = (along > 0.0) - (along < 0.0)
    fact = Fact("guess", {"part": part.key, "guess": drawn, "sign": sign, "agrees": agrees})
    if agrees:
        return voice.say("Your ", symbol, " does so." if sign else " is zero.", fact=fact)
    if drawn == 0:
        return voice.say("Your guess has no part there yet.", fact=fact)
    return voice.say("Your ", symbol, f" acts {way(voice, part, drawn)}. Turn it.", fact=fact)


def _turn(desk: Desk, own: Sequence[Part], stages: Sequence[Stage]) -> tuple[Vector | None, float | None]:
    """The guess after the first stage it does not agree with: that part turned round, the size kept."""
    by_key = {part.key: part for part in own}
    for stage in stages:
        if stage.agrees is not False:
            continue
        part = by_key[stage.part]
        force = desk.voice.forces[part.force]
        if part.along is None:
            couple = force.guess_couple_n_m or 0.0
            return None, abs(couple) * stage.sign * part.turn + 0.0
        assert force.guess is not None
        size = math.hypot(*force.guess)
        if part.which == "size":
            return (part.along[0] * stage.sign * size + 0.0, part.along[1] * stage.sign * size + 0.0), None
        return _turned(force.guess, part, stage.sign, size), None
    return None, None


def _turned(guess: Vector, part: Part, sign: int, size: float) -> Vector:
    assert part.along is not None
    index = 0 if part.which == "x" else 1
    old = 0.0 if abs(guess[index]) <= _NO_PART * size else abs(guess[index])
    changed = list(guess)
    # A part not there yet opens 45° towards the side it must act on; one that must be zero goes.
    changed[index] = (old or abs(guess[1 - index])) * part.along[index] * sign + 0.0
    length = math.hypot(*changed)
    if length == 0.0:
        return (0.0, 0.0)
    return (changed[0] * size / length, changed[1] * size / length)


def _stretches(desk: Desk, force_id: str) -> tuple[Stretch, ...]:
    """Sizes that close one sum each, the direction of the guess kept."""
    reading = desk.analysis.reading(force_id)
    force = reading.force
    if not reading.fixed or reading.cannot:
        return ()
    if force.guess_couple_n_m is not None and reading.couple_n_m is not None:
        if force.guess_couple_n_m * reading.couple_n_m > 0.0:
            return (Stretch("turning", abs(reading.couple_n_m), None, reading.couple_n_m),)
        return ()
    if force.guess is None or reading.vector is None:
        return ()
    x, y = force.point[0] - desk.analysis.pivot[0], force.point[1] - desk.analysis.pivot[1]
    size = math.hypot(*force.guess)
    made: list[Stretch] = []
    sums: tuple[tuple[Literal["x", "y", "turning"], float, float, float], ...] = (
        ("x", force.guess[0], reading.vector[0], size),
        ("y", force.guess[1], reading.vector[1], size),
        (
            "turning",
            x * force.guess[1] - y * force.guess[0],
            x * reading.vector[1] - y * reading.vector[0],
            size * max(math.hypot(x, y), 1e-300),
        ),
    )
    for closes, now, wanted, scale in sums:
        if abs(now) > _NO_PART * scale and now * wanted > 0.0:
            factor = wanted / now
            vector = (force.guess[0] * factor, force.guess[1] * factor)
            made.append(Stretch(closes, size * factor, vector, None))
    return tuple(made)

"""What the sign of a result says about the drawn direction."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..geometry import Point, Vector
from ..statics.advice import Part
from ..statics.signs import Reason, SenseVerdict
from .phrases import Voice
from .record import Fact, Sentence


def of_value(voice: Voice, part: Part, value: float) -> Sentence:
    """Positive, negative or zero: what it means for this unknown."""
    symbol = voice.symbol(part.key)
    sign = (value > 0.0) - (value < 0.0)
    # Where some support cannot do its part, the others only would have to act so.
    acts = "would have to act" if voice.analysis.supports.failing else "acts"
    fact = Fact("sign", {"part": part.key, "sign": sign, "one_way": part.one_way})
    if sign == 0:
        return voice.say("Zero: ", symbol, " is not needed to hold this still.", fact=fact)
    if sign > 0:
        return voice.say("Positive: ", symbol, f" {acts} the way it was drawn, ", way(voice, part, 1), ".", fact=fact)
    if part.one_way:
        return voice.say(
            "Negative: ", symbol, f" would have to act {way(voice, part, -1)}, but {_cannot(voice, part)}. "
            "There is no balance like this.", fact=fact,
        )  # fmt: skip
    return voice.say(
        "Negative: the same size the other way: ", symbol, f" {acts} {way(voice, part, -1)}, not {way(voice, part, 1)} "
        "as drawn.", fact=fact,
    )  # fmt: skip


def of_geometry(voice: Voice, part: Part, verdict: SenseVerdict, point: Point | None, axis: Vector | None) -> Sentence:
    """What one sum, about a point or along an axis, says of a sense without numbers."""
    symbol = voice.symbol(part.key)
    data: dict[str, object] = {
        "part": part.key, "verdict": verdict.kind, "sign": verdict.sign, "strict": verdict.strict,
        "point": point, "axis": axis, "for_drawn": verdict.for_drawn, "against_drawn": verdict.against_drawn,
        "unsure": verdict.unsure,
    }  # fmt: skip
    fact = Fact("sense", data)
    if verdict.kind == "depends":
        return voice.say(
            "Depends on sizes: ", symbol, f" acts {way(voice, part, 1)} if {_terms(verdict.for_drawn)} of ",
            *voice.symbols(verdict.for_drawn),
            " is" if len(verdict.for_drawn) == 1 else " are together",
            f" larger than {_those(verdict.against_drawn)} of ",
            *voice.symbols(verdict.against_drawn),
            f", {way(voice, part, -1)} if smaller." if not part.one_way else "; else there is no balance.",
            fact=fact,
        )  # fmt: skip
    if verdict.kind == "open":
        return voice.say(
            "Depends on sizes: geometry does not settle which way ", *voice.symbols(verdict.unsure),
            " must act, so neither does it settle ", symbol, ".", fact=fact,
        )  # fmt: skip
    if verdict.sign == 0:
        return voice.say("Zero: nothing else has a term, so ", symbol, " is zero whatever the sizes.", fact=fact)
    others = voice.symbols(verdict.for_drawn or verdict.against_drawn)
    start = "Whatever the sizes, " if verdict.strict else "Whatever the sizes, unless all the others are zero, "
    if verdict.sign < 0 and part.one_way:
        return voice.say(
            start, symbol, f" would have to act {way(voice, part, -1)}, but {_cannot(voice, part)}. "
            "There is no balance like this.", fact=fact,
        )  # fmt: skip
    drawn = "as drawn" if verdict.sign > 0 else "against the way it was drawn"
    return voice.say(
        start,
        symbol,
        f" must act {way(voice, part, verdict.sign)}, {drawn}: it is all that opposes ",
        *others,
        ".",
        fact=fact,
    )


def _terms(keys: Sequence[str]) -> str:
    return "the term" if len(keys) == 1 else "the terms"


def _those(keys: Sequence[str]) -> str:
    return "that" if len(keys) == 1 else "those"


def elsewhere(voice: Voice, part: Part, reason: Reason) -> Sentence:
    """The sum that settles a sense this one leaves open."""
    advice, verdict = reason.advice, reason.verdict
    symbol = voice.symbol(part.key)
    if advice.point is not None:
        where = [f"{voice.settings.turning_word.capitalize()}s about ", *voice.where(advice), " settle it: "]
    else:
        assert advice.along is not None
        where = ["Forces along ", *voice.axis_words(advice.along, advice), " settle it: "]
    found = of_geometry(voice, part, verdict, advice.point, advice.along)
    others = verdict.for_drawn or verdict.against_drawn
    if verdict.sign == 0 or not others:
        return voice.say(*where, "there ", symbol, " has no opponent, so it is zero.", fact=found.fact)
    bound = "must act" if verdict.strict else "can only act"
    if verdict.sign < 0 and part.one_way:
        return found
    return voice.say(
        *where, "there ", symbol, " alone opposes ", *voice.symbols(others),
        f", so it {bound} {way(voice, part, verdict.sign)}.",
        fact=found.fact,
    )  # fmt: skip


def way(voice: Voice, part: Part, sign: int) -> str:
    """Which way a part acts with this sign, in words."""
    if part.along is None:
        return voice.turn(part.turn * sign)
    along: Vector = (part.along[0] * sign, part.along[1] * sign)
    return voice.direction(along)


def _cannot(voice: Voice, part: Part) -> str:
    kinds: Mapping[str, str] = {support.id: support.kind for support in voice.sketch.supports}
    return {
        "rope": "a rope cannot push",
        "contact": "a contact cannot pull",
        "roller": "this roller cannot pull",
    }.get(kinds.get(part.force, ""), "it can only act as drawn")

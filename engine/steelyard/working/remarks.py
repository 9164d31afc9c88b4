"""What the sign of a result says about the drawn direction."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..geometry import Point, Vector
from ..statics.advice import Part
from ..statics.signs import Reason, SenseVerdict, Settled, known_sense
from .expression import Expression, Function, Product, Symbol
from .phrases import Piece, Voice
from .record import Fact, Sentence
from .terms import Balance


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


Sides = tuple[list[Piece], list[Piece]]


def compared(
    balance: Balance, verdict: SenseVerdict, parts: Mapping[str, Part], settled: Mapping[str, Settled]
) -> Sides | None:
    """The two sides whose sizes decide a sense, as they stand in the equation: "d_W W" against "d_P P".

    None where a part acts against the way it was drawn: its term would be compared with the wrong sign.
    """
    for key in (*verdict.for_drawn, *verdict.against_drawn):
        state = known_sense(parts[key], settled.get(key))
        if state is None or state.sign < 0:
            return None
    return _terms_of(balance, verdict.for_drawn), _terms_of(balance, verdict.against_drawn)


def _terms_of(balance: Balance, keys: Sequence[str]) -> list[Piece]:
    """The terms of some parts added up, each with the sign of its part's first term taken out."""
    pieces: list[Piece] = []
    for key in keys:
        terms = [term for term in balance.terms if term.part == key]
        whole = 1 if balance.share(key) > 0.0 else -1
        for term in terms:
            sign = " + " if term.sign == whole else " − "
            if pieces:
                pieces.append(sign)
            elif sign == " − ":
                pieces.append("−")
            pieces += written_pieces(term.written)
    return pieces


def written_pieces(expression: Expression) -> list[Piece]:
    """A product of symbols and their sines or cosines as it stands in a sentence."""
    if isinstance(expression, Symbol):
        return [expression]
    if isinstance(expression, Function):
        return [f"{expression.name}\u2009", *written_pieces(expression.argument)]
    assert isinstance(expression, Product)
    pieces: list[Piece] = []
    for factor in expression.factors:
        pieces += ["\u2009", *written_pieces(factor)] if pieces else written_pieces(factor)
    return pieces


def of_geometry(
    voice: Voice, part: Part, verdict: SenseVerdict, point: Point | None, axis: Vector | None,
    sides: Sides | None = None,
) -> Sentence:  # fmt: skip
    """What one sum, about a point or along an axis, says of a sense without numbers; `sides` decide where sizes do."""
    symbol = voice.symbol(part.key)
    data: dict[str, object] = {
        "part": part.key, "verdict": verdict.kind, "sign": verdict.sign, "strict": verdict.strict,
        "point": point, "axis": axis, "for_drawn": verdict.for_drawn, "against_drawn": verdict.against_drawn,
        "unsure": verdict.unsure,
    }  # fmt: skip
    fact = Fact("sense", data)
    if verdict.kind == "depends" and sides is not None:
        smaller = "; else there is no balance." if part.one_way else f", {way(voice, part, -1)} if smaller."
        return voice.say(
            "Depends on sizes: ", symbol, f" acts {way(voice, part, 1)} if ", *sides[0], " is larger than ", *sides[1],
            smaller, fact=fact,
        )  # fmt: skip
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
    if voice.forces[part.force].type == "friction":
        return "about to slide, friction can only act against that"
    kinds: Mapping[str, str] = {support.id: support.kind for support in voice.sketch.supports}
    return {
        "rope": "a rope cannot push",
        "contact": "a contact cannot pull",
        "roller": "this roller cannot pull",
    }.get(kinds.get(voice.forces[part.force].entity, ""), "it can only act as drawn")

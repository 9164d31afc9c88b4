"""What rough contacts and faces add to a working: friction against what is there, where a normal acts, f = μN.

Friction at rest is as large as balance needs, up to μN; it is μN only where the body is said to be about to slip.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence

from ..statics.advice import Part
from ..statics.reading import ActingForce
from ..statics.structure import front_id
from .desk import Desk
from .expression import Equation, Expression, Negation, Number, Quotient, Symbol, product, reduced
from .faces import end_of_face
from .figures import Known, number, put_in
from .laws import Law, law_equation, law_factor
from .phrases import Piece
from .planner import Plan
from .record import Fact, Line, Sentence, Step

# A ratio this near to μ, or a place this near to an end (of its face), is at it.
_AT = 1e-9


def impending(desk: Desk, only: Collection[str] | None = None) -> Iterator[Step]:
    """One step for each motion that is said to be about to begin (`only` of these forces), and what it tells."""
    for reading in desk.analysis.readings:
        force = reading.force
        if only is not None and force.id not in only:
            continue
        if force.role != "unknown" or not force.about_to or (force.partner in desk.voice.forces and force.back):
            continue
        if force.about_to in ("lift", "slack") and not force.normal:
            yield _vanishing(desk, force)
        elif force.about_to.startswith("slip") and force.mu:
            yield _slipping(desk, force)
        elif force.about_to.startswith("tip") and not force.normal:
            yield _tipping(desk, force)


def _vanishing(desk: Desk, force: ActingForce) -> Step:
    voice = desk.voice
    symbol = desk.letters.force(force.id)
    fact = Fact("about-to", {"force": force.id, "about_to": force.about_to})
    gone: list[Piece] = [symbol]
    for reading in desk.analysis.readings:
        if reading.force.normal == force.id:
            gone += [", and with it ", desk.letters.force(reading.force.id)]
    word = "to go slack" if force.about_to == "slack" else "to lift off"
    does = "The rope just stops pulling" if force.about_to == "slack" else "The surface just stops pushing"
    why = voice.say(f"{does}, so ", *gone, " is zero.", fact=fact)
    desk.values[symbol] = Known(0.0, desk.display.force)
    line = Line("value", Equation(symbol, Number(0.0, "0", desk.display.force)))
    return Step("limit", voice.say(f"About {word}"), (why,), lines=(line,), finds=(force.id,), known=dict(desk.values))


def _slipping(desk: Desk, force: ActingForce) -> Step:
    voice = desk.voice
    assert force.along is not None
    law = next(law for law in desk.laws if law.force == force.id)
    symbol = desk.letters.force(force.id)
    moves = voice.direction((0.0 - force.along[0], 0.0 - force.along[1]))
    against = voice.direction(force.along)
    fact = Fact("slipping", {"force": force.id, "along": force.along})
    why = voice.say(
        f"The {_named(force.on)} is about to slide {moves}, so friction (", symbol, f") acts {against}, against that, "
        "and is as large as it can be.", fact=fact,
    )  # fmt: skip
    line = Line("given", law_equation(law, desk.letters))
    return Step("limit", voice.say("About to slide"), (why,), lines=(line,), known=_values(desk))


def _tipping(desk: Desk, force: ActingForce) -> Step:
    voice = desk.voice
    symbol = desk.letters.force(force.id)
    fact = Fact("tipping", {"force": force.id, "point": force.point})
    there = end_of_face(desk, force.point)
    why = voice.say(
        f"The {_named(force.on)} is about to tip over ", *there, ": that is the last point that still touches, so ",
        symbol, " acts there.", fact=fact,
    )  # fmt: skip
    return Step("limit", voice.say("About to tip"), (why,))


def at_its_most(desk: Desk, law: Law, key: str) -> Step:
    """f = μN with one of the two known: a fourth equation."""
    voice, letters = desk.voice, desk.letters
    first, second = letters.force(law.force), letters.force(law.of)
    lines, known = _by_law(desk, law, key)
    symbol = second if key == law.of else first
    said: list[Sentence] = []
    title = voice.say("Friction at its most")
    one = second if key == law.of else first
    why = voice.say(
        "About to slide, friction is ", letters.rough(law.force), " times the normal force: one more equation, and "
        "only ", one, " is left in it.", fact=Fact("law", {"force": law.force, "of": law.of, "finds": key}),
    )  # fmt: skip
    if symbol in desk.values and not desk.options.symbols_only:
        part = desk.parts[law.force]
        fact = Fact("sign", {"part": key, "sign": _sign(desk.values[symbol].value), "one_way": desk.parts[key].one_way})
        if desk.values[symbol].value > 0.0 and key == law.force:
            said.append(voice.say("Against the motion: ", first, f" acts {_way(desk, part)}.", fact=fact))
    return Step("sum", title, (why,), lines=tuple(lines), remarks=tuple(said), finds=(key,), known=known)


def member_law(desk: Desk, law: Law, key: str, name: str) -> Step:
    """The second end of a two-force member from the first."""
    lines, known = _by_law(desk, law, key)
    why = desk.voice.say(f"{name[:1].upper()}{name[1:]} is held by these two forces alone: they are equally large.")
    title = desk.voice.say(f"{name[:1].upper()}{name[1:]}: both ends alike")
    return Step("sum", title, (why,), lines=tuple(lines), finds=(key,), known=known)


def _by_law(desk: Desk, law: Law, key: str) -> tuple[list[Line], dict[Symbol, Known]]:
    """A law solved for one of its two, with its numbers where there are some."""
    letters = desk.letters
    first, second = letters.force(law.force), letters.force(law.of)
    symbol, right = first, product(law_factor(law, letters), second)
    lines = [Line("equation", law_equation(law, letters))]
    if key == law.of:
        symbol = second
        right = first if law.mu is None else Quotient(first, law_factor(law, letters))
        lines.append(Line("solved", Equation(symbol, right)))
    known = _values(desk)
    desk.solved[symbol] = right
    if all(each in known for each in (law_factor(law, letters), second if key == law.force else first)
           if isinstance(each, Symbol)):  # fmt: skip
        worked = put_in(right, known, desk.display.force, desk.display.figures)
        desk.values[symbol] = known[symbol] = Known(worked.result.value, desk.display.force)
        lines += [Line("numbers", Equation(None, worked.numbers))] if worked.numbers != worked.result else []
        lines.append(Line("value", Equation(symbol, worked.result), underlined=True))
    return lines, known


def put_in_words(desk: Desk, laws: Sequence[Law]) -> list[Piece]:
    """ "With f = μN put in: ", before a sum that has it; nothing without laws."""
    pieces: list[Piece] = []
    for law in laws:
        pieces += [", " if pieces else "With ", desk.letters.force(law.force), " = "]
        pieces += [] if law.mu is None else [desk.letters.rough(law.force), "\u2009"]
        pieces.append(desk.letters.force(law.of))
    return [*pieces, " put in: "] if pieces else []


def needed(desk: Desk, made: Plan) -> Iterator[Step]:
    """For each rough contact whose forces are found: what friction needs beside what is there."""
    used = {move.law.force for move in made.moves if move.law is not None and move.law.kind == "slip"}
    used |= {law.force for move in made.moves for law in move.laws}
    used |= {each.of[0] for move in made.moves for _, each in move.together if each.source == "law"}
    for key, part in desk.parts.items():
        force = desk.voice.forces[part.force]
        if not force.normal or force.mu is None or front_id(force) in used or key in made.unfound:
            continue
        if force.normal in desk.parts and force.normal not in made.unfound:
            yield _compared(desk, part, force)


def _compared(desk: Desk, part: Part, force: ActingForce) -> Step:
    voice, letters = desk.voice, desk.letters
    friction, normal, mu = letters.force(force.id), letters.force(force.normal), letters.rough(force.id)
    about = force.about_to.startswith("slip")
    title = voice.say("About to slide as it stands?" if about else "What friction needs, beside what is there")
    why = voice.say(
        "Friction is as large as balance needs, but never more than ", mu, "\u2009", normal, ": ", friction, " over ",
        normal, " is what it needs, ", mu, " what is there.",
    )  # fmt: skip
    values = desk.values
    if desk.options.symbols_only or friction not in values or normal not in values:
        return Step("friction", title, (why,), lines=_in_letters(desk, friction, normal, part.key),
                    remarks=(_least(desk, mu),), known=_values(desk))  # fmt: skip
    size, pressing = values[friction].value, values[normal].value
    if pressing <= 0.0:
        return Step("friction", title, (why,), remarks=(_unpressed(desk, part, size),))
    ratio = Quotient(friction if size >= 0.0 else Negation(friction), normal)
    known = _values(desk)
    worked = put_in(ratio, known, "", desk.display.figures)
    lines = [Line("numbers", Equation(ratio, worked.numbers))] if size else []
    lines.append(Line("value", Equation(ratio, worked.result), underlined=True))
    said = [_verdict(desk, part, force, abs(size) / pressing, mu, about=about)]
    if size and not desk.analysis.supports.failing and not about:
        along = _way(desk, part, 1 if size > 0.0 else -1)
        fact = Fact("sign", {"part": part.key, "sign": _sign(size), "one_way": False})
        said.append(voice.say(f"Friction acts {along} on the {_named(force.on)}.", fact=fact))
    return Step("friction", title, (why,), lines=tuple(lines), remarks=tuple(said), known=known)


def _verdict(desk: Desk, part: Part, force: ActingForce, ratio: float, mu: Symbol, *, about: bool) -> Sentence:
    voice = desk.voice
    most = force.mu or 0.0
    there: list[Piece] = [mu, " = ", number(most, "", desk.display.figures)]
    needs = voice.amount(ratio, "")
    at = abs(ratio - most) <= _AT * max(1.0, most)
    holds = at or ratio < most
    data = {"force": part.key, "needed": ratio, "mu": most, "holds": holds, "at": at}
    fact = Fact("friction", data)
    start: list[Piece] = [needs, " needed, ", *there, " there: "]
    if about and part.one_way and desk.values[desk.letters.force(part.force)].value < 0.0:
        return voice.say(
            f"Balance needs friction to act {_way(desk, part, -1)}, against what the sliding asks for: with these "
            "loads it is not about to slide that way.", fact=fact,
        )  # fmt: skip
    if about and not at:
        than = "less" if holds else "more"
        return voice.say(*start, f"{than} than that, so with these loads it is not on the point of sliding.", fact=fact)
    if at:
        return voice.say(*start, "just as much, so it is on the point of sliding.", fact=fact)
    if holds:
        return voice.say(*start, "no more than that, so friction holds.", fact=fact)
    return voice.say(*start, "more than that, so it cannot hold: it slips.", fact=fact)


def _unpressed(desk: Desk, part: Part, size: float) -> Sentence:
    voice = desk.voice
    fact = Fact("friction", {"force": part.key, "needed": math.inf if size else 0.0, "mu": 0.0, "holds": not size})
    if size == 0.0:
        return voice.say("Nothing presses there, and no friction is needed.", fact=fact)
    return voice.say("Nothing presses there, so there is no friction to hold it: it slips.", fact=fact)


def _in_letters(desk: Desk, friction: Symbol, normal: Symbol, key: str) -> tuple[Line, ...]:
    """f/N with what was found put in, where it comes out in what is given."""
    state = desk.settled.get(key)
    above: Expression = friction if state is None or state.sign >= 0 else Negation(friction)
    found = reduced(Quotient(above, normal), desk.solved)
    return (Line("solved", Equation(Quotient(above, normal), found)),) if found is not None else ()


def _least(desk: Desk, mu: Symbol) -> Sentence:
    return desk.voice.say(
        "It holds as long as that is no more than ", mu, ": it is the least ", mu, " that can hold it.",
        fact=Fact("least", {}),
    )  # fmt: skip


def _values(desk: Desk) -> dict[Symbol, Known]:
    return dict(desk.values)


def _sign(value: float) -> int:
    return (value > 0.0) - (value < 0.0)


def _way(desk: Desk, part: Part, sign: int = 1) -> str:
    assert part.along is not None
    return desk.voice.direction((part.along[0] * sign, part.along[1] * sign))


def _named(name: str) -> str:
    return name or "body"

"""The same unknown drawn one way and the other, side by side: same size, opposite sign, same physics."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..model import Sketch
from ..statics.advice import ends_of
from ..statics.reading import Analysis
from .desk import Desk, Options
from .one_equation import single
from .planner import plan
from .record import Fact, Sentence, Step
from .remarks import way
from .steps import chain


@dataclass(frozen=True, slots=True)
class BothWays:
    """One step with the part drawn as it is, one with it drawn the other way, and what they show together."""

    part: str
    as_drawn: Step
    other_way: Step
    sentence: Sentence


def both_ways(sketch: Sketch, analysis: Analysis, key: str, *, options: Options | None = None) -> BothWays | None:
    """Both cases for one part of an unknown; None for a one-way force, or where statics does not fix it."""
    desk = Desk(sketch, analysis, options or Options())
    part = desk.parts[key]
    if part.one_way or not part.unknown:
        return None
    made = plan(analysis, extra=ends_of(sketch, analysis), laws=desk.laws)
    alone = [move for move in made.moves if move.partner is None and move.law is None]
    move = next((move for move in alone if key in move.finds), None)
    if move is None or (analysis.supports.kind == "mechanism" and not analysis.supports.balanced_as_it_stands):
        return None
    for _ in chain(desk, made):  # each step leaves its value on the desk
        pass
    as_drawn = single(desk, move)
    value = desk.values.get(desk.letters.part(part))
    along = None if part.along is None else (-part.along[0] + 0.0, -part.along[1] + 0.0)
    desk.parts[key] = replace(part, along=along, turn=-part.turn)
    other_way = single(desk, move)
    first, second = way(desk.voice, part, 1), way(desk.voice, part, -1)
    fact = Fact("both-ways", {"part": key, "value": None if value is None else value.value})
    symbol = desk.voice.symbol(key)
    if value is None:
        said = desk.voice.say(
            "Drawn ", first, " or ", second, ", ", symbol, " changes its sign and nothing else.", fact=fact
        )
    elif value.value == 0.0:
        said = desk.voice.say("Drawn either way, ", symbol, " is zero.", fact=fact)
    else:
        truth = first if value.value > 0.0 else second
        said = desk.voice.say(
            "The same size with the opposite sign: drawn ",
            first,
            f" or {second}, ",
            symbol,
            f" acts {truth}.",
            fact=fact,
        )
    return BothWays(key, as_drawn, other_way, said)

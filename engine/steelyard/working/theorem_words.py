"""Theorems in a sentence each: the plain words first, the trade's word in brackets after them."""

from __future__ import annotations

from ..model import Sketch
from ..statics.reading import Analysis
from ..statics.theorems import Theorem, theorems
from .desk import Desk, Options
from .record import Fact, Sentence


def theorem_sentences(sketch: Sketch, analysis: Analysis) -> tuple[Sentence, ...]:
    """What the layout alone says of this body, one sentence a theorem."""
    desk = Desk(sketch, analysis, Options())
    return tuple(_say(desk, each) for each in theorems(analysis))


def _say(desk: Desk, theorem: Theorem) -> Sentence:
    voice = desk.voice
    data = {
        "kind": theorem.kind, "forces": theorem.forces, "implies": theorem.implies, "point": theorem.point,
        "direction": theorem.direction,
    }  # fmt: skip
    fact = Fact("theorem", data)
    names = voice.symbols(theorem.forces)
    match theorem.kind:
        case "two-force" if theorem.member:
            return voice.say(
                f"On {theorem.member} forces act at two points only (two-force body), so ", *names, " acts along the "
                "line that joins them.", fact=fact,
            )  # fmt: skip
        case "two-force":
            return voice.say(
                "Only ", *names, " act: they balance only along the line that joins their points, equal and opposite "
                "(two-force body).", fact=fact,
            )  # fmt: skip
        case "three-forces":
            assert theorem.point is not None
            implied = desk.letters.force(theorem.implies)
            taken = [*voice.symbols(theorem.merged), " count as one force. "] if theorem.merged else []
            only = "Three forces that are not parallel balance only if their lines meet in one point, so "
            where = [" runs through ", *voice.coordinates(theorem.point), " (concurrent forces)."]
            return voice.say(*taken, only, implied, *where, fact=fact)
        case "parallel":
            if not theorem.implies:
                return voice.say("All lines of action run the same way (parallel forces).", fact=fact)
            implied = desk.letters.force(theorem.implies)
            return voice.say("All the others run the same way, so ", implied, " does too (parallel forces).", fact=fact)
        case "couple":
            return voice.say(
                "The loads only turn it (a couple), so ",
                *names,
                " together must do no more than turn it back.",
                fact=fact,
            )
        case "symmetry":
            return voice.say("The loads act midway between ", *names, ", so each takes half (symmetry).", fact=fact)

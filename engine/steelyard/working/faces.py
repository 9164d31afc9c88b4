"""Where on its face a normal acts, in words, and whether that is on the face."""

from __future__ import annotations

import math

from ..geometry import Point
from ..statics.advice import PLACE, Part
from .desk import Desk
from .figures import number
from .phrases import Piece
from .record import Fact, Sentence

# A place this near to an end, in parts of its face, is at it.
_AT = 1e-9


def of_place(desk: Desk, part: Part, value: float) -> Sentence:
    """Where on its face a normal acts, and whether that is within it."""
    voice = desk.voice
    force = voice.forces[part.force]
    assert force.face is not None
    symbol = desk.letters.force(part.force)
    length = math.dist(*force.face) * desk.display.per_metre
    near, far = (end_of_face(desk, end) for end in force.face)
    fact = Fact("place", {"part": part.key, "value": value, "length": length,
                          "within": -_AT * length <= value <= length * (1.0 + _AT)})  # fmt: skip
    for end, at in ((near, 0.0), (far, length)):
        if abs(value - at) <= _AT * length:
            return voice.say(symbol, " acts just at ", *end, ": it is on the point of tipping over it.", fact=fact)
    face = number(length, desk.display.length, desk.display.figures)
    if 0.0 < value < length:
        shown = voice.amount(value, desk.display.length)
        return voice.say(
            symbol, " acts ", shown, " from ", *near, ", within the ", face, " face: it stands.", fact=fact
        )
    over = far if value > length else near
    return voice.say(
        symbol, " would have to act beyond ", *over, ", off the ", face, " face, where nothing presses: it tips over ",
        *over, ".", fact=fact,
    )  # fmt: skip


def place_in_letters(desk: Desk, part: Part) -> Sentence:
    """Without numbers: what the place must be for the body to stand."""
    voice = desk.voice
    force = voice.forces[part.force]
    assert force.face is not None
    near, far = (end_of_face(desk, end) for end in force.face)
    return voice.say(
        desk.letters.on_face(part.force), " is measured along the face from ", *near, " towards ", *far,
        ": it stands as long as that is a place on the face.",
    )  # fmt: skip


def nothing_presses(desk: Desk, part: Part, rest: float) -> Sentence:
    """A normal of no size acts nowhere; `rest` is what the other terms of the sum leave."""
    symbol = desk.letters.force(part.force)
    fact = Fact("presses-not", {"part": part.key, "rest": rest})
    if rest == 0.0:
        return desk.voice.say(symbol, " is zero: nothing presses on the face, so it acts nowhere.", fact=fact)
    positive = 1 if desk.writer.counterclockwise_positive else -1
    sense = desk.voice.turn(positive if rest > 0.0 else -positive)
    return desk.voice.say(
        symbol, f" is zero: nothing presses on the face to balance the rest of this sum, which turns it {sense}. There "
        "is no balance like this.", fact=fact,
    )  # fmt: skip


def place_words(desk: Desk, force_id: str) -> list[Piece]:
    """ ", 0.32 m from A along its face", where that has been found; nothing for another force."""
    key = f"{force_id}{PLACE}"
    found = desk.values.get(desk.letters.on_face(force_id)) if key in desk.parts else None
    face = desk.voice.forces[force_id].face
    if found is None or face is None:
        return []
    return [", ", desk.voice.amount(found.value, found.unit), " from ", *end_of_face(desk, face[0]), " along its face"]


def end_of_face(desk: Desk, point: Point) -> list[Piece]:
    """An end of a face by its name, or by where it is."""
    name = desk.voice.point_name(point)
    return [name] if name else ["the end of the face at ", *desk.voice.coordinates(point)]

"""Fields that carry answers and guesses. What the analysis does not hold gets no field: nothing to leak."""

from __future__ import annotations

from ..model import Guess, Settings, Sketch
from ..statics.reading import ForceReading
from ..units import write_quantity
from ..working.phrases import direction_words
from .item import Item, action, answer, quantity
from .words import sense_word, spoken_symbol


def of_reading(
    reading: ForceReading | None, settings: Settings, *, couple: bool = False, angle: bool = True
) -> list[Item]:
    """Size and angle of a solved unknown, or size and sense of a solved couple; empty when not fixed or kept back.

    `angle` false leaves out the angle of one whose own field says it, unless the answer points the other way.
    """
    if reading is None:
        return []
    said = spoken_symbol(reading.force.symbol)
    if couple:
        if reading.couple_n_m is None:
            return []
        size = write_quantity(abs(reading.couple_n_m), "couple", settings)
        sense = sense_word((reading.couple_n_m > 0) - (reading.couple_n_m < 0), settings)
        label = spoken_symbol(reading.force.symbol)
        return [answer("answer-couple", label, f"{size} {sense}".strip(), spoken=f"{said}, answer")]
    if reading.size_n is None:
        return []
    items = [
        answer(
            "answer-size", "size", write_quantity(reading.size_n, "force", settings), spoken=f"size of {said}, answer"
        )
    ]
    if reading.direction_deg is not None and (angle or reading.against_drawn):
        text = write_quantity(reading.direction_deg, "angle", settings)
        items.append(answer("answer-angle", "angle", text, spoken=f"angle of {said}, answer"))
    return items


def known_size(reading: ForceReading | None, settings: Settings) -> list[Item]:
    """The force a thing gives, m·g, as something found from its mass."""
    if reading is None or reading.size_n is None:
        return []
    return [answer("answer-size", "force", write_quantity(reading.size_n, "force", settings))]


def known_direction(reading: ForceReading, settings: Settings) -> list[Item]:
    """The direction of a weight, which nobody types."""
    if reading.direction_deg is None:
        return []
    return [answer("answer-angle", "angle", write_quantity(reading.direction_deg, "angle", settings))]


def parts(reading: ForceReading | None, settings: Settings) -> list[Item]:
    """The parts along x and y of a solved unknown."""
    if reading is None or reading.vector is None:
        return []
    said = spoken_symbol(reading.force.symbol)
    items = []
    for axis, value in zip("xy", reading.components_n, strict=True):
        if value is None:
            continue
        text = write_quantity(value, "force", settings)
        items.append(answer(f"answer-f{axis}", f"along {axis}", text, spoken=f"part of {said} along {axis}"))
    return items


def may_be_drawn(sketch: Sketch, reading: ForceReading) -> bool:
    """Whether the answer is shown for good: one found step by step while answers are kept back is not."""
    return sketch.answers == "shown" or reading.force.id in sketch.told


def turn_actions(sketch: Sketch, reading: ForceReading | None) -> list[Item]:
    """ "Draw it this way": offered where the answer points against the arrow as drawn, and may be drawn."""
    if reading is None or not (reading.against_drawn or any(reading.against_components)):
        return []
    if not may_be_drawn(sketch, reading):
        return []
    args: dict[str, object] = {"id": reading.force.entity, "key": "as_answered", "text": "true"}
    return [action("draw-this-way", "Draw it this way", "set", args)]


def friction(reading: ForceReading | None, settings: Settings) -> list[Item]:
    """Size and way of a solved friction force, under its own letter beside those of its normal."""
    if reading is None or reading.size_n is None or reading.vector is None:
        return []
    way = f" {direction_words(reading.vector)}" if reading.size_n > 0.0 else ""
    said = spoken_symbol(reading.force.symbol)
    text = write_quantity(reading.size_n, "force", settings)
    return [answer("answer-friction", said, text, spoken=f"friction {said}, answer,{way}")]


def guess_items(
    force_id: str, guess: Guess | None, settings: Settings, *, couple: bool = False, friction: bool = False
) -> list[Item]:
    """Size and direction of a guess, and the button that drops it; without one, the button that makes one."""
    key = "guess_couple" if couple else "friction_guess" if friction else "guess"
    if guess is None:
        label = "Guess the couple" if couple else "Guess the friction" if friction else "Guess it"
        return [action(f"make-{key}", label, "guess", {"id": force_id, "on": True})]
    if couple:
        items = [quantity(key, "guess", guess.couple_n_m, "couple", settings, spoken="guessed couple")]
    else:
        label, whose = ("friction", " of the friction") if friction else ("guess", "")
        items = [
            quantity(f"{key}_size", label, guess.size_n, "force", settings, spoken=f"guessed size{whose}"),
            quantity(f"{key}_angle", "at", guess.direction_deg, "angle", settings, spoken=f"guessed angle{whose}"),
        ]
    items.append(action(f"drop-{key}", "Drop guess", "guess", {"id": force_id, "on": False}))
    return items

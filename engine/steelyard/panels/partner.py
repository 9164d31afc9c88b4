"""The third-law partner in words, with its picture: same type, same size, agent and object swapped."""

from __future__ import annotations

from ..model import Sketch
from ..picture import partner as pictures
from ..picture.names import TYPE_WORDS
from ..statics import meeting
from ..statics.reading import Analysis, ForceReading
from .item import Item
from .parts import reading_of
from .words import symbol_runs

Data = dict[str, object]


def partner(sketch: Sketch, analysis: Analysis | None, force_id: str | None) -> Data | None:
    """`{of, symbol, name, sentence, title, picture}` of the partner of a force; None without one.

    `analysis` is the one that may be shown: what it does not hold, the partner does not say either.
    """
    reading = None if force_id is None else reading_of(analysis, force_id)
    if reading is None:
        return None
    name = partner_name(sketch, reading)
    picture = pictures.draw(sketch, reading, name)
    return {
        "of": reading.force.id,
        "symbol": symbol_runs(reading.force.symbol),
        "title": _on(sketch, reading),
        "name": name,
        "sentence": _sentence(sketch, reading),
        "picture": {
            "width": picture.width,
            "height": picture.height,
            "records": [record.as_data() for record in picture.records],
        },
    }


def other_body(reading: ForceReading) -> str:
    """What the partner acts on: the agent of the force."""
    return reading.force.by or "?"


def partner_name(sketch: Sketch, reading: ForceReading) -> str:
    """ "force by gangway on hinge, pin force, 1490 N, the other way"; nothing of it that is not known."""
    force = reading.force
    what = "couple" if force.along is None else "force"
    # Of its partner one says gravity: a weight is what the Earth does to the first body.
    kind = "gravity" if force.type == "gravity" else TYPE_WORDS[force.type]
    linked = pictures.partner_force(sketch, force)
    if linked is not None:
        parts = [f"{what} by {linked.by or '?'} on {linked.on or 'body'}"]
    else:
        parts = [f"{what} by {force.on or 'body'} on {other_body(reading)}"]
    if kind not in ("force", what) and not (what == "couple" and force.type == "other"):
        parts.append(kind)
    value = pictures.value_words(sketch, reading)
    if value:
        parts.append(value)
    return ", ".join([*parts, "the other way"])


def _on(sketch: Sketch, reading: ForceReading) -> str:
    """What the partner acts on: another body of the sketch where it is joined to one, else the agent."""
    linked = pictures.partner_force(sketch, reading.force)
    return other_body(reading) if linked is None else linked.on or "?"


def _sentence(sketch: Sketch, reading: ForceReading) -> str:
    force = reading.force
    on, by = force.on or "the body", other_body(reading)
    if force.type == "gravity":
        why = f"The Earth pulls the {on} down, so the {on} pulls the Earth up just as hard."
    else:
        why = "Same type, same size, the other way."
    far = meeting.other_body(sketch, force) if force.type in pictures.LINKS else None
    if far is not None:
        does = "pulls" if force.type == "tension" else "acts on"
        why += f" The {by} is light: it {does} the {far.name} just as hard."
    return f"{why} It acts on the {by}, so it never belongs in the picture of the {on}."


def partner_action(reading: ForceReading | None) -> list[Item]:
    """The button that shows the partner beside the board."""
    if reading is None:
        return []
    by = reading.force.by
    label = f"Its partner on the {by}" if by else "Its partner"
    return [
        {
            "key": "partner",
            "label": label,
            "kind": "show",
            "text": "",
            "unit": "",
            "show": {"partner": reading.force.id},
            "spoken": label,
        }
    ]
